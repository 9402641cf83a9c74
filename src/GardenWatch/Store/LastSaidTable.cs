using NodaTime;

namespace GardenWatch.Store;

/// <summary>How a job stood when a message last spoke of it, so that the next says only what changed.</summary>
public sealed record Said(string JobId, string Standing, Instant At);

public sealed class LastSaidTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO last_said (garden, job, standing, said_at) VALUES ($garden, $job, $standing, $at)
        ON CONFLICT DO NOTHING
        """;

    // With max(), SQLite takes the other columns from the row that holds it.
    private const string Select =
        """
        SELECT job, standing, max(said_at) FROM last_said
        WHERE garden = $garden AND said_at <= $asOf AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'last_said')
        GROUP BY job ORDER BY job
        """;

    public WriteOutcome Add(string garden, IReadOnlyCollection<Said> said) =>
        connection.Write(transaction => said.Sum(one => transaction.Run(
            Insert, ("$garden", garden), ("$job", one.JobId), ("$standing", one.Standing), ("$at", StoreText.Of(one.At)))));

    /// <summary>The last word on each job by an instant.</summary>
    public IReadOnlyList<Said> AsOf(string garden, Instant asOf) =>
        connection.Read(
            Select, row => new Said(row.GetString(0), row.GetString(1), StoreText.ToInstant(row.GetString(2))),
            ("$garden", garden), ("$asOf", StoreText.Of(asOf)));
}

using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What a garden's messages of one local date tell.</summary>
public sealed record ToldToday(string Garden, LastSaid Said, LocalDate On, Instant At);

/// <summary>What the messages have told, so that nothing is told twice and waiting days can be counted.</summary>
public sealed class LastSaidTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO last_said (garden, about, subject, standing, value, said_on, said_at)
        VALUES ($garden, $about, $subject, $standing, $value, $on, $at)
        ON CONFLICT DO NOTHING
        """;

    private const string Select =
        """
        SELECT about, subject, standing, value, min(said_on), max(said_on), max(said_at) FROM last_said
        WHERE garden = $garden AND said_at <= $asOf AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'last_said')
        GROUP BY about, subject
        """;

    /// <summary>Part of the transaction that stores the message which says it.</summary>
    /// <param name="said">Only what was said on <paramref name="on"/> is new.</param>
    internal static void Add(StoreConnection.Transaction transaction, string garden, LastSaid said, LocalDate on, Instant at)
    {
        foreach (var (job, what) in said.Jobs)
            if (what.LastOn == on)
                transaction.Run(Insert, ("$garden", garden), ("$about", "job"), ("$subject", job), ("$standing", Word(what.Standing)),
                    ("$value", what.Value), ("$on", StoreText.Of(on)), ("$at", StoreText.Of(at)));
        foreach (var (sowing, stage) in said.Stages)
            transaction.Run(Insert, ("$garden", garden), ("$about", "sowing"), ("$subject", sowing), ("$standing", stage),
                ("$value", null), ("$on", StoreText.Of(on)), ("$at", StoreText.Of(at)));
    }

    public LastSaid AsOf(string garden, Instant asOf)
    {
        var jobs = ImmutableDictionary.CreateBuilder<string, Said>();
        var stages = ImmutableDictionary.CreateBuilder<string, string>();
        // SQLite takes the other columns of a group from the row that has its max(said_at).
        var rows = connection.Read(
            Select,
            row => (About: row.GetString(0), Subject: row.GetString(1), Standing: row.GetString(2),
                Value: row.IsDBNull(3) ? (double?)null : row.GetDouble(3), First: StoreText.ToDate(row.GetString(4)), Last: StoreText.ToDate(row.GetString(5))),
            ("$garden", garden), ("$asOf", StoreText.Of(asOf)));
        foreach (var row in rows)
        {
            if (row.About == "job")
                jobs[row.Subject] = new(row.First, row.Last, StandingOf(row.Standing), row.Value);
            else
                stages[row.Subject] = row.Standing;
        }
        return new(jobs.ToImmutable(), stages.ToImmutable());
    }

    private static string Word(Standing standing) => standing.ToString().ToLowerInvariant();

    private static Standing StandingOf(string word) =>
        Enum.GetValues<Standing>().FirstOrDefault(standing => Word(standing) == word, Standing.Waiting);
}

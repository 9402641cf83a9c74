using NodaTime;

namespace GardenWatch.Store;

/// <summary>A planting, chore or bed that a plan once named, so that its id stays when the plan is edited.</summary>
public sealed record SubjectRow(string Id, string Kind, string Descriptor, Instant FirstSeen);

public sealed class SubjectTable(StoreConnection connection)
{
    // What a subject was first seen as dates its jobs; only its description follows the plan.
    private const string Upsert =
        """
        INSERT INTO subject (garden, id, kind, descriptor, first_seen) VALUES ($garden, $id, $kind, $descriptor, $seen)
        ON CONFLICT (garden, id) DO UPDATE SET kind = $kind, descriptor = $descriptor
        WHERE kind <> $kind OR descriptor <> $descriptor
        """;

    private const string Select =
        "SELECT id, kind, descriptor, first_seen FROM subject WHERE garden = $garden AND first_seen <= $asOf ORDER BY first_seen, id";

    /// <summary>All of a plan at once; Unchanged when nothing is new.</summary>
    public WriteOutcome Keep(string garden, IReadOnlyCollection<SubjectRow> subjects) =>
        connection.Write(transaction => subjects.Sum(subject => transaction.Run(
            Upsert, ("$garden", garden), ("$id", subject.Id), ("$kind", subject.Kind), ("$descriptor", subject.Descriptor),
            ("$seen", StoreText.Of(subject.FirstSeen)))));

    public IReadOnlyList<SubjectRow> AsOf(string garden, Instant asOf) =>
        connection.Read(
            Select,
            row => new SubjectRow(row.GetString(0), row.GetString(1), row.GetString(2), StoreText.ToInstant(row.GetString(3))),
            ("$garden", garden), ("$asOf", StoreText.Of(asOf)));
}

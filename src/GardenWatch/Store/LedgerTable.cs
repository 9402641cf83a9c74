using NodaTime;

namespace GardenWatch.Store;

/// <summary>What was done and left no message. What left one is in the outbox, and not told here again.</summary>
public sealed class LedgerTable(StoreConnection connection)
{
    public const string DigestSkipped = "digest skipped";
    /// <summary>None was due: the garden rests, or nobody is there.</summary>
    public const string DigestRested = "digest rested";
    public const string EveningLook = "evening look";
    public const string BackupMade = "backup";

    /// <summary>The garden of what is done for the whole house.</summary>
    public const string WholeHouse = "";

    // A row stamped ahead of the clock is one of a wrong clock: it gives way to what is done now.
    private const string Insert =
        """
        INSERT INTO ledger (garden, kind, occasion, at) VALUES ($garden, $kind, $occasion, $at)
        ON CONFLICT (garden, kind, occasion) DO UPDATE SET at = $at WHERE at > $at
        """;

    private const string Select =
        "SELECT garden, kind, occasion FROM ledger WHERE occasion >= $since AND at <= $asOf";

    private const string SelectGardens = "SELECT DISTINCT garden FROM ledger WHERE kind = $kind";

    private const string Newest = "SELECT max(occasion) FROM ledger WHERE garden = $garden AND kind = $kind AND at <= $asOf";

    public WriteOutcome Mark(string garden, string kind, LocalDate date, Instant at) =>
        connection.Write(
            Insert, ("$garden", garden), ("$kind", kind), ("$occasion", StoreText.Of(date)), ("$at", StoreText.Of(at)));

    public IReadOnlyList<(string Garden, string Kind, LocalDate Date)> Since(LocalDate date, Instant asOf) =>
        connection.Read(
            Select, row => (row.GetString(0), row.GetString(1), StoreText.ToDate(row.GetString(2))),
            ("$since", StoreText.Of(date)), ("$asOf", StoreText.Of(asOf)));

    /// <summary>Gardens for which something was ever done, by whatever clock.</summary>
    public IReadOnlyList<string> GardensWith(string kind) => connection.Read(SelectGardens, row => row.GetString(0), ("$kind", kind));

    public LocalDate? Last(string garden, string kind, Instant asOf) =>
        connection.Read(
            Newest, row => row.IsDBNull(0) ? (LocalDate?)null : StoreText.ToDate(row.GetString(0)),
            ("$garden", garden), ("$kind", kind), ("$asOf", StoreText.Of(asOf)))[0];
}

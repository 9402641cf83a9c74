using NodaTime;

namespace GardenWatch.Store;

/// <summary>A place's past years from the archive: which are done, and their hours, apart from forecasts.</summary>
public sealed class PastYearTable(StoreConnection connection)
{
    /// <summary>Of waits.</summary>
    public const string Kind = "past years";

    // What was refused may be there when it is asked for again; what is kept stays.
    private const string Upsert =
        """
        INSERT INTO past_year (place, year, fetched_at, host, refusal, body) VALUES ($place, $year, $fetched, $host, $refusal, $body)
        ON CONFLICT (place, year) DO UPDATE SET fetched_at = $fetched, host = $host, refusal = $refusal, body = $body
        WHERE past_year.body IS NULL
        """;

    private const string Done =
        "SELECT year FROM past_year WHERE place = $place AND (body IS NOT NULL OR fetched_at >= $refusedSince)";

    private const string KeptYears = "SELECT year FROM past_year WHERE place = $place AND body IS NOT NULL ORDER BY year";

    private const string Newest = "SELECT max(fetched_at) FROM past_year WHERE place = $place AND body IS NOT NULL";

    private const string Bodies = "SELECT body FROM past_year WHERE place = $place AND year > $after AND body IS NOT NULL ORDER BY year";

    private const string Asked = "SELECT count(*), max(fetched_at) FROM past_year WHERE fetched_at >= $since";

    public WriteOutcome Keep(string place, int year, Instant fetchedAt, string host, byte[] body) =>
        connection.Write(transaction =>
        {
            SideWaitTable.End(transaction, place, Kind);
            return Set(transaction, place, year, fetchedAt, host, null, body);
        });

    public WriteOutcome KeepRefusal(string place, int year, Instant fetchedAt, string host, string reason) =>
        connection.Write(transaction => Set(transaction, place, year, fetchedAt, host, reason, null));

    /// <summary>Years that are kept, and those refused since an instant.</summary>
    public IReadOnlySet<int> DoneOf(string place, Instant refusedSince) =>
        connection.Read(Done, row => row.GetInt32(0), ("$place", place), ("$refusedSince", StoreText.Of(refusedSince))).ToHashSet();

    public IReadOnlyList<int> KeptOf(string place) => connection.Read(KeptYears, row => row.GetInt32(0), ("$place", place));

    /// <summary>When a year was last kept; null when none is.</summary>
    public Instant? NewestKeptAt(string place) =>
        connection.Read(Newest, row => row.IsDBNull(0) ? (Instant?)null : StoreText.ToInstant(row.GetString(0)), ("$place", place))[0];

    /// <summary>The hours of the years after one, oldest first.</summary>
    public IReadOnlyList<byte[]> BodiesOf(string place, int afterYear) =>
        connection.Read(Bodies, row => row.GetFieldValue<byte[]>(0), ("$place", place), ("$after", afterYear));

    /// <summary>For the day's allowance: how many years of all places were asked for since an instant, and when the last.</summary>
    public (int Count, Instant? Last) AskedSince(Instant since) =>
        connection.Read(
            Asked, row => ((int)row.GetInt64(0), row.IsDBNull(1) ? (Instant?)null : StoreText.ToInstant(row.GetString(1))),
            ("$since", StoreText.Of(since)))[0];

    private static int Set(
        StoreConnection.Transaction transaction, string place, int year, Instant fetchedAt, string host, string? refusal, byte[]? body) =>
        transaction.Run(
            Upsert, ("$place", place), ("$year", year), ("$fetched", StoreText.Of(fetchedAt)), ("$host", host),
            ("$refusal", refusal), ("$body", body));
}

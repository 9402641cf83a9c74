using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What is known of a pull without its hours.</summary>
/// <param name="Kind">What was asked: "forecast", "ensemble", "past", "climate".</param>
/// <param name="Start">The first of its hours.</param>
/// <param name="Models">As asked of the host; what the pull is told apart by.</param>
public sealed record PullHeader(
    long Id, string Place, string Kind, Instant FetchedAt, Instant Start, int Hours, string Host, string Models);

/// <summary>Weather as it was fetched, kept whole and never changed; the series at an instant is the fold of pulls up to it.</summary>
public sealed class PullTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO pull (place, kind, fetched_at, starts_at, hours, host, models, body)
        VALUES ($place, $kind, $fetched, $starts, $hours, $host, $models, $body)
        ON CONFLICT DO NOTHING
        """;

    private const string NotSetAside = "id NOT IN (SELECT row FROM set_aside WHERE subject = 'pull')";

    private const string Headers =
        $"""
        SELECT id, place, kind, fetched_at, starts_at, hours, host, models FROM pull
        WHERE place = $place AND fetched_at <= $asOf AND {NotSetAside}
        ORDER BY fetched_at, id
        """;

    private const string Body = "SELECT body FROM pull WHERE id = $id";

    private const string Newest =
        $"SELECT place, max(fetched_at) FROM pull WHERE kind = $kind AND fetched_at <= $asOf AND {NotSetAside} GROUP BY place";

    private const string Thin =
        """
        DELETE FROM pull WHERE fetched_at < $before AND id NOT IN (
            SELECT id FROM (SELECT id, max(fetched_at) FROM pull GROUP BY place, kind, models, substr(fetched_at, 1, 10)))
        """;

    private const string Drop = "DELETE FROM pull WHERE fetched_at < $before AND kind = $kind";

    private const string SetWait =
        """
        INSERT INTO pull_wait (place, not_before, failures, reason) VALUES ($place, $notBefore, 1, $reason)
        ON CONFLICT (place) DO UPDATE SET not_before = $notBefore, failures = failures + 1, reason = $reason
        """;

    private const string EndWait = "DELETE FROM pull_wait WHERE place = $place";

    private const string Waits = "SELECT place, not_before, failures, reason FROM pull_wait";

    public WriteOutcome Add(
        string place, string kind, Instant fetchedAt, Instant start, int hours, string host, string models, byte[] body) =>
        connection.Write(transaction =>
        {
            int added = transaction.Run(
                Insert, ("$place", place), ("$kind", kind), ("$fetched", StoreText.Of(fetchedAt)),
                ("$starts", StoreText.Of(start)), ("$hours", hours), ("$host", host), ("$models", models), ("$body", body));
            transaction.Run(EndWait, ("$place", place));
            return added;
        });

    /// <summary>All that had been fetched by an instant, oldest first.</summary>
    public IReadOnlyList<PullHeader> AsOf(string place, Instant asOf) =>
        connection.Read(Headers, Header, ("$place", place), ("$asOf", StoreText.Of(asOf)));

    /// <summary>In the order asked for; an id that is gone is left out.</summary>
    public IReadOnlyList<(long Id, byte[] Body)> Bodies(IEnumerable<long> ids)
    {
        ArgumentNullException.ThrowIfNull(ids);
        var bodies = new List<(long, byte[])>();
        foreach (long id in ids)
        {
            foreach (byte[] body in connection.Read(Body, row => row.GetFieldValue<byte[]>(0), ("$id", id)))
                bodies.Add((id, body));
        }
        return bodies;
    }

    /// <summary>When each place's weather was last fetched.</summary>
    public IReadOnlyDictionary<string, Instant> NewestByPlace(string kind, Instant asOf) =>
        connection.Read(
            Newest, row => (Place: row.GetString(0), At: StoreText.ToInstant(row.GetString(1))), ("$kind", kind), ("$asOf", StoreText.Of(asOf)))
            .ToDictionary(newest => newest.Place, newest => newest.At);

    /// <summary>
    /// The rule: pulls since <paramref name="before"/> stay whole; of older ones the last of each day (UTC), place, kind and
    /// models stays, for looking back; older ones of <paramref name="droppedKinds"/> (members, which are large) go.
    /// </summary>
    public WriteOutcome Thinned(Instant before, params string[] droppedKinds) =>
        connection.Write(transaction =>
        {
            int gone = droppedKinds.Sum(kind => transaction.Run(Drop, ("$before", StoreText.Of(before)), ("$kind", kind)));
            return gone + transaction.Run(Thin, ("$before", StoreText.Of(before)));
        });

    /// <summary>A pull failed: not again before an instant (the service's own Retry-After, or a growing gap), also after a restart.</summary>
    public WriteOutcome Wait(string place, Instant notBefore, string reason) =>
        connection.Write(SetWait, ("$place", place), ("$notBefore", StoreText.Of(notBefore)), ("$reason", reason));

    public IReadOnlyDictionary<string, PullWait> WaitsByPlace() =>
        connection.Read(
            Waits,
            row => (Place: row.GetString(0), Wait: new PullWait(StoreText.ToInstant(row.GetString(1)), row.GetInt32(2), row.GetString(3))))
            .ToDictionary(wait => wait.Place, wait => wait.Wait);

    private static PullHeader Header(SqliteDataReader row) => new(
        row.GetInt64(0), row.GetString(1), row.GetString(2), StoreText.ToInstant(row.GetString(3)),
        StoreText.ToInstant(row.GetString(4)), row.GetInt32(5), row.GetString(6), row.GetString(7));
}

/// <summary>Why a place's weather is not asked for just now. Ends with the next pull that is stored.</summary>
public sealed record PullWait(Instant NotBefore, int Failures, string Reason);

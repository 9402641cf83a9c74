using NodaTime;

namespace GardenWatch.Store;

/// <summary>Member pulls: whole among the other pulls for a fortnight, then as spreads.</summary>
public sealed class MemberTable(StoreConnection connection)
{
    /// <summary>Of pulls and waits.</summary>
    public const string Kind = "ensemble";

    private const string NotSetAside = "id NOT IN (SELECT row FROM set_aside WHERE subject = 'pull')";

    private const string Insert =
        """
        INSERT INTO pull (place, kind, fetched_at, starts_at, hours, host, models, body)
        VALUES ($place, $kind, $fetched, $starts, $hours, $host, $model, $body)
        ON CONFLICT DO NOTHING
        """;

    private const string Newest =
        $"""
        SELECT fetched_at, body FROM pull
        WHERE place = $place AND kind = $kind AND fetched_at <= $asOf AND {NotSetAside}
        ORDER BY fetched_at DESC LIMIT 1
        """;

    private const string NewestAt =
        $"SELECT max(fetched_at) FROM pull WHERE place = $place AND kind = $kind AND fetched_at <= $asOf AND {NotSetAside}";

    private const string Count = "SELECT count(*) FROM pull WHERE kind = $kind AND fetched_at >= $since";

    private const string Whole =
        $"SELECT id, models, fetched_at FROM pull WHERE place = $place AND kind = $kind AND fetched_at < $before AND {NotSetAside} ORDER BY id";

    private const string Body = "SELECT body FROM pull WHERE id = $id";

    private const string Delete = "DELETE FROM pull WHERE id = $id";

    private const string InsertSpread =
        """
        INSERT INTO member_spread (place, model, fetched_at, body) VALUES ($place, $model, $fetched, $body)
        ON CONFLICT DO NOTHING
        """;

    private const string Spreads =
        "SELECT model, fetched_at, body FROM member_spread WHERE place = $place AND fetched_at <= $asOf ORDER BY fetched_at";

    public WriteOutcome Add(
        string place, string model, Instant fetchedAt, Instant start, int hours, string host, byte[] body) =>
        connection.Write(transaction =>
        {
            int added = transaction.Run(
                Insert, ("$place", place), ("$kind", Kind), ("$fetched", StoreText.Of(fetchedAt)), ("$starts", StoreText.Of(start)),
                ("$hours", hours), ("$host", host), ("$model", model), ("$body", body));
            Failpoints.Hit(Failpoints.MidMembers);
            SideWaitTable.End(transaction, place, Kind);
            return added;
        });

    /// <summary>The newest that had been fetched by an instant; null when there was none.</summary>
    public (Instant FetchedAt, byte[] Body)? NewestOf(string place, Instant asOf) =>
        connection.Read(
            Newest, row => ((Instant, byte[])?)(StoreText.ToInstant(row.GetString(0)), row.GetFieldValue<byte[]>(1)),
            ("$place", place), ("$kind", Kind), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    public Instant? NewestFetchedAt(string place, Instant asOf) =>
        connection.Read(
            NewestAt, row => row.IsDBNull(0) ? (Instant?)null : StoreText.ToInstant(row.GetString(0)),
            ("$place", place), ("$kind", Kind), ("$asOf", StoreText.Of(asOf)))[0];

    /// <summary>Pulls of all places, for the day's allowance.</summary>
    public int CountSince(Instant since) =>
        (int)connection.Read(Count, row => row.GetInt64(0), ("$kind", Kind), ("$since", StoreText.Of(since)))[0];

    /// <summary>Pulls that are due to be reduced to spreads, oldest first.</summary>
    public IReadOnlyList<(long Id, string Model, Instant FetchedAt)> WholeBefore(string place, Instant before) =>
        connection.Read(
            Whole, row => (row.GetInt64(0), row.GetString(1), StoreText.ToInstant(row.GetString(2))),
            ("$place", place), ("$kind", Kind), ("$before", StoreText.Of(before)));

    public byte[]? BodyOf(long id) => connection.Read(Body, row => row.GetFieldValue<byte[]>(0), ("$id", id)).FirstOrDefault();

    /// <summary>Puts the spreads of a pull in its place; a null body (a pull that can't be read) leaves nothing.</summary>
    public WriteOutcome Reduce(string place, long id, string model, Instant fetchedAt, byte[]? spreads) =>
        connection.Write(transaction =>
        {
            if (spreads is not null)
                transaction.Run(
                    InsertSpread, ("$place", place), ("$model", model), ("$fetched", StoreText.Of(fetchedAt)), ("$body", spreads));
            Failpoints.Hit(Failpoints.MidReduction);
            return transaction.Run(Delete, ("$id", id));
        });

    /// <summary>All that had been fetched by an instant, oldest first.</summary>
    public IReadOnlyList<(string Model, Instant FetchedAt, byte[] Body)> SpreadsOf(string place, Instant asOf) =>
        connection.Read(
            Spreads, row => (row.GetString(0), StoreText.ToInstant(row.GetString(1)), row.GetFieldValue<byte[]>(2)),
            ("$place", place), ("$asOf", StoreText.Of(asOf)));
}

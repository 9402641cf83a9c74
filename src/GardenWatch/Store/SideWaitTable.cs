using NodaTime;

namespace GardenWatch.Store;

/// <summary>Why a place's members or past years are not asked for just now; also after a restart.</summary>
public sealed class SideWaitTable(StoreConnection connection)
{
    private const string Upsert =
        """
        INSERT INTO side_wait (place, kind, not_before, failures, reason) VALUES ($place, $kind, $notBefore, 1, $reason)
        ON CONFLICT (place, kind) DO UPDATE SET not_before = $notBefore, failures = failures + 1, reason = $reason
        """;

    private const string Delete = "DELETE FROM side_wait WHERE place = $place AND kind = $kind";

    private const string Select = "SELECT not_before, failures, reason FROM side_wait WHERE place = $place AND kind = $kind";

    private const string Waiting = "SELECT DISTINCT kind FROM side_wait WHERE not_before > $now";

    public WriteOutcome Wait(string place, string kind, Instant notBefore, string reason) =>
        connection.Write(Upsert, ("$place", place), ("$kind", kind), ("$notBefore", StoreText.Of(notBefore)), ("$reason", reason));

    /// <summary>Null when nothing stands in the way.</summary>
    public PullWait? Find(string place, string kind) =>
        connection.Read(
            Select, row => new PullWait(StoreText.ToInstant(row.GetString(0)), row.GetInt32(1), row.GetString(2)),
            ("$place", place), ("$kind", kind)).FirstOrDefault();

    /// <summary>Kinds of which some place's are waited for.</summary>
    public IReadOnlySet<string> KindsWaiting(Instant now) =>
        connection.Read(Waiting, row => row.GetString(0), ("$now", StoreText.Of(now))).ToHashSet(StringComparer.Ordinal);

    /// <summary>With the transaction that keeps what was waited for.</summary>
    internal static void End(StoreConnection.Transaction transaction, string place, string kind) =>
        transaction.Run(Delete, ("$place", place), ("$kind", kind));
}

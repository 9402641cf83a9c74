using NodaTime;

namespace GardenWatch.Store;

/// <summary>
/// Rows stamped later than a clock that can be trusted. Reads as of now do not see them anyway; setting them aside keeps
/// them unseen when their time comes, and frees the key of a message so that the right one can be made.
/// </summary>
public sealed class SetAsideTable(StoreConnection connection)
{
    /// <summary>Clocks of a house differ a little, and a command may write while a round is at work.</summary>
    public static readonly Duration Tolerance = Duration.FromMinutes(10);

    private const string Pulls = "INSERT OR IGNORE INTO set_aside SELECT 'pull', id, $now FROM pull WHERE fetched_at > $limit";
    private const string Entries = "INSERT OR IGNORE INTO set_aside SELECT 'journal', id, $now FROM journal WHERE recorded_at > $limit";
    private const string SaidRows = "INSERT OR IGNORE INTO set_aside SELECT 'last_said', id, $now FROM last_said WHERE said_at > $limit";
    private const string Marks = "DELETE FROM ledger WHERE at > $limit";
    private const string Messages =
        """
        UPDATE outbox SET state = 'set aside', next_try_at = NULL, occasion = occasion || ' (set aside ' || id || ')'
        WHERE created_at > $limit AND state <> 'set aside'
        """;

    /// <summary>Only for a trusted now. Unchanged when nothing was ahead of it.</summary>
    public WriteOutcome LaterThan(Instant now)
    {
        var limit = ("$limit", (object?)StoreText.Of(now + Tolerance));
        var at = ("$now", (object?)StoreText.Of(now));
        return connection.Write(transaction =>
            transaction.Run(Pulls, limit, at) + transaction.Run(Entries, limit, at) + transaction.Run(SaidRows, limit, at)
            + transaction.Run(Marks, limit) + transaction.Run(Messages, limit));
    }

    public int Count() => (int)connection.Read(
        "SELECT (SELECT count(*) FROM set_aside) + (SELECT count(*) FROM outbox WHERE state = 'set aside')",
        row => row.GetInt64(0))[0];
}

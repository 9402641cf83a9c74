using System.Text;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>
/// A line for each accepted message, beside the database and outliving it: a restored backup of last night does not know
/// of this morning's digest, and would send it again.
/// </summary>
public sealed class SentLog(StoreFolder folder)
{
    private const string Remember =
        """
        INSERT INTO outbox (garden, addressee, kind, occasion, message_id, subject, created_at, expires_at, urgent, state, ended_at,
            last_reply, jobs, bytes)
        VALUES ($garden, $addressee, $kind, $occasion, $messageId, '', $at, $at, 0, 'sent', $at, 'from the sent log', '', zeroblob(0))
        ON CONFLICT (garden, addressee, kind, occasion) DO UPDATE SET
            state = 'sent', next_try_at = NULL, ended_at = $at, last_reply = 'from the sent log' WHERE state <> 'sent'
        """;

    private readonly Lock gate = new();

    public void Add(OutboxRow row, Instant at)
    {
        ArgumentNullException.ThrowIfNull(row);
        string line = string.Join('\t', StoreText.Of(at), Plain(row.Key.Garden), Plain(row.Key.Addressee), Plain(row.Key.Kind),
            Plain(row.Key.Occasion), Plain(row.MessageId)) + "\n";
        // Several messages are marked at once, and a second opener would be turned away.
        lock (gate)
            Append(line);
    }

    private void Append(string line)
    {
        try
        {
            using var file = new FileStream(folder.SentLog, StoreFolder.PrivateFile(FileMode.OpenOrCreate, FileShare.Read));
            file.Seek(0, SeekOrigin.End);
            file.Write(Encoding.UTF8.GetBytes(line));
            file.Flush(flushToDisk: true);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            // The database holds the mark; this line would count only after a restore, and a full disk must not stop the mail.
        }
    }

    /// <summary>Marks as sent what the log says was sent by now. Lines of a clock that ran ahead are passed over.</summary>
    public WriteOutcome ReadInto(StoreConnection connection, Instant now)
    {
        ArgumentNullException.ThrowIfNull(connection);
        if (!File.Exists(folder.SentLog))
            return new WriteOutcome.Unchanged();
        string limit = StoreText.Of(now);
        string[] lines = File.ReadAllLines(folder.SentLog);
        return connection.Write(transaction =>
        {
            int remembered = 0;
            foreach (string line in lines)
            {
                // The last line may have been cut by a power failure.
                if (line.Split('\t') is [var at, var garden, var addressee, var kind, var occasion, var messageId]
                    && string.CompareOrdinal(at, limit) <= 0)
                    remembered += transaction.Run(
                        Remember, ("$at", at), ("$garden", garden), ("$addressee", addressee), ("$kind", kind), ("$occasion", occasion),
                        ("$messageId", messageId));
            }
            return remembered;
        });
    }

    private static string Plain(string text) => text.ReplaceLineEndings(" ").Replace('\t', ' ');
}

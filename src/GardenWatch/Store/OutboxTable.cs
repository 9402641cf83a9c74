using GardenWatch.Planning.Plans;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>
/// Messages from made to accepted. Claimed in one transaction, sent outside of any, marked in another: killed at any
/// instant nothing is lost, and what may be doubled is doubled to the byte.
/// </summary>
public sealed class OutboxTable(StoreConnection connection, SentLog sentLog)
{
    /// <summary>A server that may have it is given time to deliver before it is offered the same bytes again.</summary>
    public static readonly Duration DoubtGap = Duration.FromMinutes(10);

    /// <summary>Times a message in doubt is offered again, when it was the other side that left it so.</summary>
    public const int DoubtTries = 2;

    private const int MostDoublings = 5;

    private const string Columns =
        """
        id, garden, addressee, kind, occasion, message_id, subject, bytes, created_at, expires_at, urgent, state, tries, doubts,
        next_try_at, ended_at, last_reply, jobs
        """;

    private const string Insert =
        """
        INSERT INTO outbox (garden, addressee, kind, occasion, message_id, subject, created_at, expires_at, urgent, fallback_for,
            state, next_try_at, jobs, bytes)
        VALUES ($garden, $addressee, $kind, $occasion, $messageId, $subject, $created, $expires, $urgent,
            coalesce($fallbackFor, (SELECT id FROM outbox WHERE garden = $garden AND addressee = $fallbackAddressee AND kind = $kind AND occasion = $occasion)),
            'pending', $nextTry, $jobs, $bytes)
        ON CONFLICT (garden, addressee, kind, occasion) DO NOTHING
        """;

    private const string SelectDue =
        $"""
        SELECT {Columns} FROM outbox
        WHERE state IN ('pending', 'in doubt') AND next_try_at <= $now AND expires_at > $now AND created_at <= $now
        ORDER BY urgent DESC, created_at, id
        """;

    private const string Claim =
        """
        UPDATE outbox SET state = 'sending', tries = tries + 1
        WHERE id = $id AND state IN ('pending', 'in doubt') AND next_try_at <= $now AND expires_at > $now
        """;

    // The marks do not insist on the claim: an urgent message may have gone out without one.
    private const string SetSent =
        "UPDATE outbox SET state = 'sent', next_try_at = NULL, ended_at = $now, last_reply = $reply WHERE id = $id AND state <> 'sent'";

    private const string SetRefused =
        "UPDATE outbox SET state = 'refused', next_try_at = NULL, ended_at = $now, last_reply = $reply WHERE id = $id AND state IN ('pending', 'sending', 'in doubt')";

    private const string SetLater =
        "UPDATE outbox SET state = 'pending', next_try_at = $nextTry, last_reply = $reply WHERE id = $id AND state IN ('pending', 'sending', 'in doubt')";

    private const string Doubt =
        """
        UPDATE outbox SET state = 'in doubt', doubts = doubts + 1, last_reply = $reply,
            next_try_at = CASE WHEN doubts < $tries THEN $nextTry END,
            ended_at = CASE WHEN doubts < $tries THEN NULL ELSE $now END
        """;

    private const string SetInDoubt = $"{Doubt} WHERE id = $id AND state IN ('pending', 'sending', 'in doubt')";

    private const string FindInDoubt =
        """
        UPDATE outbox SET state = 'in doubt', doubts = doubts + 1, last_reply = $reply,
            next_try_at = CASE WHEN urgent THEN $soon ELSE $later END
        WHERE state = 'sending' AND doubts BETWEEN $least AND $most
        """;

    // One in doubt for the last time is left so: it may well have arrived.
    private const string Expire =
        """
        UPDATE outbox SET state = 'expired', next_try_at = NULL, ended_at = $now
        WHERE state IN ('pending', 'in doubt') AND next_try_at IS NOT NULL AND expires_at <= $now
        """;

    // The first ways of a second one are all urgent messages of its occasion to people: a program that took one has reached nobody.
    private const string FirstWays =
        $"""
        SELECT 1 FROM outbox AS way
        WHERE way.garden = outbox.garden AND way.kind = outbox.kind AND way.occasion = outbox.occasion
            AND way.fallback_for IS NULL AND way.urgent AND way.addressee NOT IN ('{ChannelWords.Webhook}', '{ChannelWords.HomeHub}')
        """;

    private const string SkipFallbacks =
        $"""
        UPDATE outbox SET state = 'skipped', next_try_at = NULL, ended_at = $now
        WHERE state = 'pending' AND fallback_for IS NOT NULL AND NOT EXISTS ({FirstWays} AND way.state <> 'sent')
        """;

    private const string HastenFallbacks =
        $"""
        UPDATE outbox SET next_try_at = $now
        WHERE state = 'pending' AND fallback_for IS NOT NULL AND tries = 0 AND next_try_at > $now
            AND EXISTS ({FirstWays} AND way.state = 'refused')
        """;

    private const string SelectKeys =
        """
        SELECT garden, addressee, kind, occasion FROM outbox
        WHERE kind = $kind AND occasion >= $since AND created_at <= $asOf AND state <> 'set aside'
        """;

    private const string SelectGardens = "SELECT DISTINCT garden FROM outbox WHERE kind = $kind";

    // One that was ever in doubt may have come, and is not called undelivered.
    private const string SelectUndelivered =
        $"""
        SELECT occasion FROM outbox
        WHERE garden = $garden AND addressee = $addressee AND kind = '{MessageKind.Digest}' AND occasion >= $since
            AND state IN ('expired', 'refused') AND doubts = 0 AND ended_at <= $asOf
        """;

    private const string SelectLastSent =
        $"""
        SELECT {Columns} FROM outbox
        WHERE garden = $garden AND kind = $kind AND state = 'sent' AND ended_at <= $asOf ORDER BY ended_at DESC, id DESC LIMIT 1
        """;

    private const string SelectLastSentTo =
        $"""
        SELECT {Columns} FROM outbox
        WHERE garden = $garden AND addressee = $addressee AND kind IN ('{MessageKind.Digest}', '{MessageKind.Warning}') AND state = 'sent' AND ended_at <= $asOf
        ORDER BY ended_at DESC, id DESC LIMIT 1
        """;

    private const string SelectById = $"SELECT {Columns} FROM outbox WHERE id = $id";

    private const string SelectLastDigest =
        $"""
        SELECT {Columns} FROM outbox
        WHERE garden = $garden AND addressee = $addressee AND kind = '{MessageKind.Digest}' AND created_at < $before
            AND (state IN ('pending', 'sending', 'sent', 'in doubt') OR (state = 'expired' AND doubts > 0))
        ORDER BY created_at DESC, id DESC LIMIT 1
        """;

    private const string SelectByKey =
        $"SELECT {Columns} FROM outbox WHERE garden = $garden AND addressee = $addressee AND kind = $kind AND occasion = $occasion";

    private const string SelectByMessageId =
        $"SELECT {Columns} FROM outbox WHERE message_id = $id AND state <> 'set aside' AND created_at <= $asOf";

    // The part before the @ is of figures and letters alone, so that nothing in it is a pattern.
    private const string SelectByMark =
        $"SELECT {Columns} FROM outbox WHERE message_id >= $mark || '@' AND message_id < $mark || 'A' AND state <> 'set aside' AND created_at <= $asOf";

    private const string SelectRecent = $"SELECT {Columns} FROM outbox WHERE created_at <= $asOf ORDER BY created_at DESC, id DESC LIMIT $count";

    private const string EarliestExpiry =
        "SELECT min(expires_at) FROM outbox WHERE state IN ('pending', 'in doubt') AND next_try_at IS NOT NULL";

    private const string Lighten =
        """
        UPDATE outbox SET bytes = zeroblob(0)
        WHERE state IN ('sent', 'refused', 'expired', 'skipped', 'in doubt') AND ended_at < $before AND length(bytes) > 0
        """;

    private const string Standing =
        """
        SELECT
            (SELECT count(*) FROM outbox WHERE next_try_at IS NOT NULL),
            (SELECT min(created_at) FROM outbox WHERE next_try_at IS NOT NULL),
            (SELECT max(ended_at) FROM outbox WHERE state = 'sent'),
            (SELECT coalesce(last_reply, state) FROM outbox
             WHERE (state IN ('refused', 'expired', 'in doubt') OR (state = 'pending' AND tries > 0))
               AND coalesce(ended_at, created_at) > coalesce((SELECT max(ended_at) FROM outbox WHERE state = 'sent'), '')
             ORDER BY created_at DESC, id DESC LIMIT 1)
        """;

    /// <summary>The digests of one morning in one transaction, so that no addressee is forgotten by a death between two.</summary>
    public WriteOutcome Add(params IReadOnlyCollection<OutboxDraft> drafts) => Add(drafts, said: null);

    /// <summary>The same, and with it what these messages tell, so that neither is there without the other.</summary>
    public WriteOutcome Add(IReadOnlyCollection<OutboxDraft> drafts, ToldToday? said)
    {
        var outcome = connection.Write(transaction =>
        {
            int added = drafts.Sum(draft => transaction.Run(
                Insert, ("$garden", draft.Key.Garden), ("$addressee", draft.Key.Addressee), ("$kind", draft.Key.Kind),
                ("$occasion", draft.Key.Occasion), ("$messageId", draft.MessageId), ("$subject", draft.Subject),
                ("$created", StoreText.Of(draft.CreatedAt)), ("$expires", StoreText.Of(draft.ExpiresAt)), ("$urgent", draft.Urgent),
                ("$fallbackFor", draft.FallbackFor),
                ("$fallbackAddressee", draft.FallbackForKey?.Addressee), ("$nextTry", StoreText.Of(draft.NotBefore ?? draft.CreatedAt)),
                ("$jobs", draft.Jobs), ("$bytes", draft.Bytes)));
            if (said is not null && added > 0)
                LastSaidTable.Add(transaction, said.Garden, said.Said, said.On, said.At);
            Failpoints.Hit(Failpoints.BeforeDigestStored);
            return added;
        });
        Failpoints.Hit(Failpoints.AfterDigestStored);
        return outcome;
    }

    /// <summary>What may be sent now, urgent first, then as made.</summary>
    public IReadOnlyList<OutboxRow> Due(Instant now) => connection.Read(SelectDue, Row, ("$now", StoreText.Of(now)));

    /// <summary>Written: this process may send it. Unchanged: another did, or it is over.</summary>
    public WriteOutcome TryClaim(long id, Instant now) =>
        connection.Write(Claim, ("$id", id), ("$now", StoreText.Of(now)));

    public WriteOutcome MarkSent(OutboxRow row, string reply, Instant now)
    {
        ArgumentNullException.ThrowIfNull(row);
        var outcome = connection.Write(SetSent, ("$id", row.Id), ("$now", StoreText.Of(now)), ("$reply", reply));
        if (outcome.IsWritten)
            sentLog.Add(row, now);
        return outcome;
    }

    public WriteOutcome MarkRefused(long id, string reason, Instant now) =>
        connection.Write(SetRefused, ("$id", id), ("$now", StoreText.Of(now)), ("$reply", reason));

    public WriteOutcome MarkLater(long id, string reason, Instant nextTry) =>
        connection.Write(SetLater, ("$id", id), ("$nextTry", StoreText.Of(nextTry)), ("$reply", reason));

    /// <summary>Offered again after <see cref="DoubtGap"/>, at most <see cref="DoubtTries"/> times.</summary>
    public WriteOutcome MarkInDoubt(long id, string reason, Instant now) =>
        connection.Write(SetInDoubt, [("$id", id), .. DoubtValues(reason, now)]);

    /// <summary>
    /// At start: what this or an earlier process was sending when it died. Nobody knows whether it arrived, so it is offered
    /// again until it expires: no number of deaths loses a message. But with gaps that double from the third on, so that a
    /// machine that dies at each sending offers a digest seven times a morning at most; a warning can't wait so long.
    /// </summary>
    public WriteOutcome FindSendingAtStart(Instant now) =>
        connection.Write(transaction =>
        {
            int found = 0;
            for (int doubts = 0; doubts <= MostDoublings + 1; doubts++)
            {
                var later = DoubtGap * (1 << Math.Max(0, doubts - 1));
                found += transaction.Run(
                    FindInDoubt, ("$reply", "the service stopped while sending"), ("$soon", StoreText.Of(now + DoubtGap)),
                    ("$later", StoreText.Of(now + later)), ("$least", doubts), ("$most", doubts <= MostDoublings ? doubts : int.MaxValue));
            }
            return found;
        });

    /// <summary>
    /// Ends what is over: expired messages, and second ways once all are reached by the first. A second way to one whom the first
    /// can't ever reach becomes due.
    /// </summary>
    public WriteOutcome EndOverdue(Instant now) =>
        connection.Write(transaction =>
            transaction.Run(SkipFallbacks, ("$now", StoreText.Of(now))) + transaction.Run(HastenFallbacks, ("$now", StoreText.Of(now)))
            + transaction.Run(Expire, ("$now", StoreText.Of(now))));

    /// <summary>For which addressees and dates a message of a kind was made, whatever became of it.</summary>
    public IReadOnlyList<OutboxKey> Made(string kind, LocalDate since, Instant asOf) =>
        connection.Read(
            SelectKeys, row => new OutboxKey(row.GetString(0), row.GetString(1), row.GetString(2), row.GetString(3)),
            ("$kind", kind), ("$since", StoreText.Of(since)), ("$asOf", StoreText.Of(asOf)));

    /// <summary>Gardens for which a message of a kind was ever made, by whatever clock.</summary>
    public IReadOnlyList<string> GardensWith(string kind) => connection.Read(SelectGardens, row => row.GetString(0), ("$kind", kind));

    /// <summary>Dates whose digest surely did not reach an addressee, as it was known at an instant.</summary>
    public IReadOnlyList<LocalDate> Undelivered(string garden, string addressee, LocalDate since, Instant asOf) =>
        connection.Read(
            SelectUndelivered, row => StoreText.ToDate(row.GetString(0)),
            ("$garden", garden), ("$addressee", addressee), ("$since", StoreText.Of(since)), ("$asOf", StoreText.Of(asOf)));

    /// <summary>The message that "done 1" speaks of when the answer does not name one.</summary>
    public OutboxRow? LastSent(string garden, string kind, Instant asOf) =>
        connection.Read(SelectLastSent, Row, ("$garden", garden), ("$kind", kind), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    /// <summary>The same for what one addressee had: numbers differ where one gets some beds alone.</summary>
    public OutboxRow? LastSentTo(string garden, string addressee, Instant asOf) =>
        connection.Read(SelectLastSentTo, Row, ("$garden", garden), ("$addressee", addressee), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    /// <summary>The last digest before an instant that an addressee had, may have had or is still to have.</summary>
    public OutboxRow? LastDigestTo(string garden, string addressee, Instant before) =>
        connection.Read(SelectLastDigest, Row, ("$garden", garden), ("$addressee", addressee), ("$before", StoreText.Of(before))).FirstOrDefault();

    public OutboxRow? FindRow(long id) => connection.Read(SelectById, Row, ("$id", id)).FirstOrDefault();

    public OutboxRow? Find(OutboxKey key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return connection.Read(
            SelectByKey, Row, ("$garden", key.Garden), ("$addressee", key.Addressee), ("$kind", key.Kind), ("$occasion", key.Occasion))
            .FirstOrDefault();
    }

    /// <summary>By the whole Message-ID, without brackets.</summary>
    public OutboxRow? FindMessage(string messageId, Instant asOf) =>
        connection.Read(SelectByMessageId, Row, ("$id", messageId), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    /// <summary>By what stands before the @ of its Message-ID.</summary>
    public OutboxRow? FindMark(string mark, Instant asOf) =>
        connection.Read(SelectByMark, Row, ("$mark", mark), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    public IReadOnlyList<OutboxRow> Recent(int count, Instant asOf) =>
        connection.Read(SelectRecent, Row, ("$count", count), ("$asOf", StoreText.Of(asOf)));

    public Instant? NextExpiry() => connection.Read(EarliestExpiry, row => Moment(row, 0))[0];

    /// <summary>Drops the bytes of messages long over. Their keys and job numbers stay for good: they are what prevents a double.</summary>
    public WriteOutcome LightenBefore(Instant before) => connection.Write(Lighten, ("$before", StoreText.Of(before)));

    public OutboxStanding Stands() =>
        connection.Read(Standing, row => new OutboxStanding(row.GetInt32(0), Moment(row, 1), Moment(row, 2), Text(row, 3)))[0];

    private static (string Name, object? Value)[] DoubtValues(string reason, Instant now) =>
    [
        ("$reply", reason), ("$now", StoreText.Of(now)), ("$nextTry", StoreText.Of(now + DoubtGap)), ("$tries", DoubtTries),
    ];

    private static OutboxRow Row(SqliteDataReader row) => new(
        row.GetInt64(0), new(row.GetString(1), row.GetString(2), row.GetString(3), row.GetString(4)), row.GetString(5), row.GetString(6),
        row.GetFieldValue<byte[]>(7), StoreText.ToInstant(row.GetString(8)), StoreText.ToInstant(row.GetString(9)), row.GetInt64(10) != 0,
        State(row.GetString(11)), row.GetInt32(12), row.GetInt32(13), Moment(row, 14), Moment(row, 15), Text(row, 16), row.GetString(17));

    private static Instant? Moment(SqliteDataReader row, int column) =>
        row.IsDBNull(column) ? null : StoreText.ToInstant(row.GetString(column));

    private static string? Text(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static OutboxState State(string word) => word switch
    {
        "pending" => OutboxState.Pending,
        "sending" => OutboxState.Sending,
        "sent" => OutboxState.Sent,
        "refused" => OutboxState.Refused,
        "in doubt" => OutboxState.InDoubt,
        "expired" => OutboxState.Expired,
        "skipped" => OutboxState.Skipped,
        "set aside" => OutboxState.SetAside,
        _ => throw new InvalidDataException($"The outbox holds a message in the unknown state \"{word}\"."),
    };
}

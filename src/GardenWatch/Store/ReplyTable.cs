using NodaTime;

namespace GardenWatch.Store;

/// <summary>What became of a mail that named a message of ours.</summary>
public static class ReplyFate
{
    public const string Taken = "taken";
    /// <summary>It names a message that was never sent.</summary>
    public const string Forged = "forged";
    /// <summary>It names messages of several gardens.</summary>
    public const string Crossed = "crossed";
    public const string Old = "old";
    public const string Automatic = "automatic";
    public const string Bounced = "bounced";
    /// <summary>It could not be read.</summary>
    public const string Broken = "broken";
}

/// <summary>Whether an addressee wants messages from now on.</summary>
public enum MessageWish { AsBefore, Stop, Start }

/// <summary>A mail that was read as an answer.</summary>
/// <param name="MailId">Its Message-ID, or what stands for one.</param>
/// <param name="Message">What it answers.</param>
public sealed record TakenMail(string MailId, OutboxRow Message, MessageWish Wish);

/// <summary>A mail to an addressee that came back.</summary>
/// <param name="Reason">In the server's words; empty when it gave none.</param>
public sealed record Bounce(string Garden, string Addressee, Instant At, bool ForGood, string Reason);

/// <summary>Mails that came in: how far the mailbox was looked through, and what became of those that concern us.</summary>
public sealed class ReplyTable(StoreConnection connection)
{
    private const string Insert = "INSERT INTO reply_mail (mail, fate, outbox, at) VALUES ($mail, $fate, $outbox, $at) ON CONFLICT (mail) DO NOTHING";
    private const string SelectKnown = "SELECT 1 FROM reply_mail WHERE mail = $mail";
    private const string CountFates = "SELECT fate, count(*) FROM reply_mail WHERE at >= $since GROUP BY fate";
    private const string SelectFolder = "SELECT uid_validity, next_uid FROM reply_folder WHERE folder = $folder";

    private const string SetFolder =
        """
        INSERT INTO reply_folder (folder, uid_validity, next_uid) VALUES ($folder, $validity, $next)
        ON CONFLICT (folder) DO UPDATE SET uid_validity = $validity, next_uid = $next WHERE uid_validity <> $validity OR next_uid <> $next
        """;

    private const string SetBounce =
        """
        INSERT INTO bounce (garden, addressee, at, for_good, reason) VALUES ($garden, $addressee, $at, $forGood, $reason)
        ON CONFLICT (garden, addressee) DO UPDATE SET at = $at, for_good = $forGood, reason = $reason
        """;

    private const string ForgetBounce = "DELETE FROM bounce WHERE garden = $garden AND addressee = $addressee";
    private const string SelectBounces = "SELECT garden, addressee, at, for_good, reason FROM bounce WHERE at >= $since ORDER BY at, garden, addressee";
    private const string SetStopped = "INSERT INTO stopped (garden, addressee, at) VALUES ($garden, $addressee, $at) ON CONFLICT DO NOTHING";
    private const string ForgetStopped = "DELETE FROM stopped WHERE garden = $garden AND addressee = $addressee";
    private const string SelectStopped = "SELECT addressee FROM stopped WHERE garden = $garden ORDER BY addressee";

    public bool IsKnown(string mail) => connection.Read(SelectKnown, _ => true, ("$mail", mail)).Count > 0;

    /// <summary>Unchanged when it was there before.</summary>
    public WriteOutcome Add(string mail, string fate, long? outbox, Instant at) =>
        connection.Write(Insert, ("$mail", mail), ("$fate", fate), ("$outbox", outbox), ("$at", StoreText.Of(at)));

    /// <summary>For a mail that says nothing to write down; what it says is marked together with that (<see cref="AnswerTable.Add"/>). Unchanged when it was there before.</summary>
    public WriteOutcome AddTaken(TakenMail mail, Instant at) => connection.Write(transaction => AddTaken(transaction, mail, at));

    /// <summary>A person who answers gets our mail: what came back before is forgotten. Gives 0 when the mail was there before; then nothing is changed.</summary>
    internal static int AddTaken(StoreConnection.Transaction transaction, TakenMail mail, Instant at)
    {
        if (transaction.Run(Insert, ("$mail", mail.MailId), ("$fate", ReplyFate.Taken), ("$outbox", mail.Message.Id), ("$at", StoreText.Of(at))) == 0)
            return 0;
        var (garden, addressee) = (mail.Message.Key.Garden, mail.Message.Key.Addressee);
        transaction.Run(ForgetBounce, ("$garden", garden), ("$addressee", addressee));
        Wish(transaction, garden, addressee, mail.Wish, at);
        return 1;
    }

    /// <summary>What an addressee wishes from now on. Unchanged when it was so before.</summary>
    public WriteOutcome Wish(string garden, string addressee, MessageWish wish, Instant at) =>
        connection.Write(transaction => Wish(transaction, garden, addressee, wish, at));

    private static int Wish(StoreConnection.Transaction transaction, string garden, string addressee, MessageWish wish, Instant at) => wish switch
    {
        MessageWish.Stop => transaction.Run(SetStopped, ("$garden", garden), ("$addressee", addressee), ("$at", StoreText.Of(at))),
        MessageWish.Start => transaction.Run(ForgetStopped, ("$garden", garden), ("$addressee", addressee)),
        _ => 0,
    };

    public WriteOutcome AddBounce(string mail, OutboxRow row, bool forGood, string reason, Instant at) => connection.Write(transaction =>
    {
        int added = transaction.Run(Insert, ("$mail", mail), ("$fate", ReplyFate.Bounced), ("$outbox", row.Id), ("$at", StoreText.Of(at)));
        if (added > 0)
            transaction.Run(SetBounce, ("$garden", row.Key.Garden), ("$addressee", row.Key.Addressee), ("$at", StoreText.Of(at)), ("$forGood", forGood), ("$reason", reason));
        return added;
    });

    public IReadOnlyList<Bounce> BouncesSince(Instant since) => connection.Read(
        SelectBounces, row => new Bounce(row.GetString(0), row.GetString(1), StoreText.ToInstant(row.GetString(2)), row.GetInt64(3) != 0, row.GetString(4)),
        ("$since", StoreText.Of(since)));

    /// <summary>How many mails had each fate.</summary>
    public IReadOnlyDictionary<string, int> FatesSince(Instant since) =>
        connection.Read(CountFates, row => (Fate: row.GetString(0), Count: row.GetInt32(1)), ("$since", StoreText.Of(since)))
            .ToDictionary(each => each.Fate, each => each.Count, StringComparer.Ordinal);

    /// <summary>Null when the folder was never looked through, or was made anew.</summary>
    public uint? NextUid(string folder, uint validity) =>
        connection.Read(SelectFolder, row => (Validity: row.GetInt64(0), Next: row.GetInt64(1)), ("$folder", folder))
            .Where(found => found.Validity == validity).Select(found => (uint?)found.Next).FirstOrDefault();

    public WriteOutcome SetNextUid(string folder, uint validity, uint next) =>
        connection.Write(SetFolder, ("$folder", folder), ("$validity", (long)validity), ("$next", (long)next));

    /// <summary>Addressees of a garden who asked for no more messages.</summary>
    public IReadOnlyList<string> Stopped(string garden) => connection.Read(SelectStopped, row => row.GetString(0), ("$garden", garden));
}

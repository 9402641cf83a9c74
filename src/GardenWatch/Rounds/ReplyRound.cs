using System.Net.Sockets;
using GardenWatch.Messages.Replies;
using GardenWatch.Store;
using MailKit;
using MailKit.Security;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Reads answers from the mailbox as they come, for as long as the service runs. A line that breaks is made anew with growing gaps;
/// one mail that can't be read stops none of the others, and each is acted on once.
/// </summary>
/// <param name="open">A new line to the mailbox.</param>
/// <param name="folder">The name by which its progress is kept: account and folder.</param>
/// <param name="onDuty">The gardens of the last knock.</param>
public sealed class ReplyRound(
    GardenStore store, Func<IReplyInbox> open, string folder, TakeReply take, Func<IReadOnlyList<GardenOnDuty>> onDuty, IClock clock, TimeProvider time, ILogger logger)
{
    // A mailbox that was never looked through may hold years of mail.
    private const int FirstLookDays = 35;

    // A server that is restarted is back soon; one that locks out who asks too often wants to be left alone.
    private static readonly TimeSpan[] Gaps =
        [TimeSpan.FromSeconds(5), TimeSpan.FromSeconds(30), TimeSpan.FromMinutes(2), TimeSpan.FromMinutes(5), TimeSpan.FromMinutes(15), TimeSpan.FromMinutes(30)];

    // Before the first knock no garden is on duty, and what came while this was off is not to wait for the next mail. What waits longer
    // than a minute waits for something that takes its time: a network, a full disk.
    private static readonly TimeSpan LookAgainSoon = TimeSpan.FromSeconds(5), LookAgainLater = TimeSpan.FromMinutes(1);
    private const int MostLooksSoon = 12;

    private readonly ReplyReading _reading = new(store);
    private int _looksWithWaiting;
    private string? _troubleTold;

    /// <summary>Why the mailbox can't be read just now; null while it can.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Until it is stopped.</summary>
    public async Task Run(CancellationToken ct)
    {
        for (int failures = 0; !ct.IsCancellationRequested;)
        {
            try
            {
                var inbox = open();
                await using (inbox.ConfigureAwait(false))
                {
                    await inbox.Connect(ct).ConfigureAwait(false);
                    while (true)
                    {
                        bool more = await Look(inbox, ct).ConfigureAwait(false);
                        WentWell();
                        failures = 0;
                        if (!more)
                            await (LookAgainIn is { } wait ? Task.Delay(wait, time, ct) : inbox.News(ct)).ConfigureAwait(false);
                    }
                }
            }
            catch (OperationCanceledException) when (ct.IsCancellationRequested)
            {
                return;
            }
            // The outermost catch of what goes on by itself: whatever broke, the mailbox is tried again after a while.
            catch (Exception exception)
            {
                var gap = Gaps[Math.Min(failures++, Gaps.Length - 1)];
                Told(exception, gap);
                try
                {
                    await Task.Delay(gap, time, ct).ConfigureAwait(false);
                }
                catch (OperationCanceledException)
                {
                    return;
                }
            }
        }
    }

    /// <summary>While a mail has to wait, which no server tells the end of; null when none does.</summary>
    private TimeSpan? LookAgainIn => _looksWithWaiting switch { 0 => null, <= MostLooksSoon => LookAgainSoon, _ => LookAgainLater };

    /// <summary>Goes through what is new. True when there may be more at once.</summary>
    internal async Task<bool> Look(IReplyInbox inbox, CancellationToken ct)
    {
        var now = clock.GetCurrentInstant();
        uint? next = store.Replies.NextUid(folder, inbox.Validity);
        var mails = await inbox.From(next, now.InUtc().Date.PlusDays(-FirstLookDays), ct).ConfigureAwait(false);
        uint settled = next ?? 1;
        bool all = true;
        foreach (var mail in mails)
        {
            bool done = await IsSettled(inbox, mail, ct).ConfigureAwait(false);
            // One that has to wait is looked at again, and with it those behind it, which are known by then.
            all &= done;
            if (all)
                settled = mail.Uid + 1;
        }
        _looksWithWaiting = all ? 0 : _looksWithWaiting + 1;
        if (mails.Count > 0 && settled != next)
            store.Replies.SetNextUid(folder, inbox.Validity, settled);
        return all && mails.Count > 0;
    }

    /// <summary>False when it can't be acted on yet.</summary>
    private async Task<bool> IsSettled(IReplyInbox inbox, InboxMail mail, CancellationToken ct)
    {
        string id = ReplyReading.IdOf(mail.Headers);
        try
        {
            if (store.Replies.IsKnown(id))
                return true;
            var now = clock.GetCurrentInstant();
            switch (_reading.StandingOf(mail.Headers, now))
            {
                case MailStanding.Refused refused:
                    logger.ReplyRefused(refused.Fate);
                    return store.Replies.Add(id, refused.Fate, null, now) is not WriteOutcome.Failed;
                case MailStanding.FromProgram:
                    return await Returned(inbox, mail, id, ct).ConfigureAwait(false);
                case MailStanding.Reply reply:
                    return await Taken(inbox, mail, id, reply.Message, ct).ConfigureAwait(false);
                default:
                    return true;
            }
        }
        catch (OperationCanceledException) when (ct.IsCancellationRequested)
        {
            throw;
        }
        // A store that can't be read just now says nothing against the mail.
        catch (SqliteException exception)
        {
            logger.RepliesWait(exception.Message);
            return false;
        }
        catch (Exception exception) when (!IsOfTheLine(exception))
        {
            // A mail that breaks us would break us at each look.
            logger.ReplyBroke(exception);
            return store.Replies.Add(id, ReplyFate.Broken, null, clock.GetCurrentInstant()) is not WriteOutcome.Failed;
        }
    }

    private async Task<bool> Taken(IReplyInbox inbox, InboxMail mail, string id, OutboxRow row, CancellationToken ct)
    {
        if (onDuty().FirstOrDefault(each => each.Plan.GardenId == row.Key.Garden) is not { } garden)
            return false;
        using var fetched = await inbox.Fetch(mail, ct).ConfigureAwait(false);
        if (fetched is null)
            return store.Replies.Add(id, ReplyFate.Broken, row.Id, clock.GetCurrentInstant()) is not WriteOutcome.Failed;
        var read = new ReplyRead(row, id, ReplyReading.AnswersOf(fetched, row, garden, clock.GetCurrentInstant()), ReplyReading.PicturesOf(fetched, row));
        if (take(read, garden) is { } reason)
        {
            logger.ReplyWaits(row.Key.Garden, reason);
            return false;
        }
        // Marked together with what it says; this is for a mail that said nothing to write down.
        if (store.Replies.AddTaken(read.AsTaken(), clock.GetCurrentInstant()) is WriteOutcome.Failed)
            return false;
        logger.ReplyTaken(row.Key.Garden, read.Answers.Length, read.Pictures.Length);
        return true;
    }

    private async Task<bool> Returned(IReplyInbox inbox, InboxMail mail, string id, CancellationToken ct)
    {
        var now = clock.GetCurrentInstant();
        using var fetched = mail.Size > ImapInbox.LargeMail ? null : await inbox.Fetch(mail, ct).ConfigureAwait(false);
        if (fetched is not null && BouncedMail.Of(fetched.Message) is { } bounced && _reading.Returned(bounced, now) is { } row)
        {
            logger.MailCameBack(row.Key.Garden, bounced.Reason);
            return store.Replies.AddBounce(id, row, bounced.ForGood, bounced.Reason, now) is not WriteOutcome.Failed;
        }
        // Counted where it is about a message of ours; other people's newsletters are not.
        return MailReferences.Of(mail.Headers).All(reference => store.Outbox.FindMessage(reference, now) is null)
            || store.Replies.Add(id, ReplyFate.Automatic, null, now) is not WriteOutcome.Failed;
    }

    private static bool IsOfTheLine(Exception exception) => exception is IOException or SocketException or TimeoutException or OperationCanceledException
        or ProtocolException or CommandException or ServiceNotConnectedException or ServiceNotAuthenticatedException or ObjectDisposedException
        or AuthenticationException or SslHandshakeException;

    private void WentWell()
    {
        if (Trouble is not null)
            logger.MailboxReadAgain();
        Trouble = _troubleTold = null;
    }

    private void Told(Exception exception, TimeSpan gap)
    {
        Trouble = exception is AuthenticationException ? "the server refused the login; check user and password under replies" : exception.GetType().Name + ": " + exception.Message.ReplaceLineEndings(" ");
        if (_troubleTold != Trouble)
            logger.MailboxUnread(Trouble, gap);
        _troubleTold = Trouble;
    }
}

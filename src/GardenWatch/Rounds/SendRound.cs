using System.Collections.Concurrent;
using GardenWatch.Messages.Mail;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Takes what is due from the outbox: claim, send, mark. Addressees do not wait for each other: a few are sent to at once,
/// and one that hangs is given up after a while. May be called while an earlier call is still sending.
/// </summary>
/// <param name="send">Hands one message to its channel.</param>
/// <param name="jitter">0 to 1.</param>
/// <param name="afterDigest">Told that a digest was accepted (the heartbeat); null for nobody.</param>
public sealed class SendRound(
    OutboxTable outbox, Func<OutboxRow, CancellationToken, Task<SendOutcome>> send, IClock clock, Func<double> jitter, ILogger logger,
    Func<CancellationToken, Task>? afterDigest = null) : IDisposable
{
    public const int AtOnce = 4;

    /// <summary>RFC 5321 4.5.3.2.6 grants a server ten minutes after the final dot.</summary>
    public static readonly TimeSpan Deadline = TimeSpan.FromMinutes(11);

    private readonly SemaphoreSlim places = new(AtOnce);
    private readonly ConcurrentDictionary<long, bool> inFlight = new();
    // Sent by this process, but the disk was too full to write it down.
    private readonly ConcurrentDictionary<long, (OutboxRow Row, string Reply)> unmarked = new();
    private readonly ConcurrentDictionary<OutboxKey, bool> sentFromMemory = new();

    /// <summary>Once, before the first round: what was being sent when the last process ended is in doubt.</summary>
    public void FindSendingAtStart()
    {
        if (outbox.FindSendingAtStart(clock.GetCurrentInstant()).IsWritten)
            logger.SendingFoundAtStart(OutboxTable.DoubtGap);
    }

    /// <summary>Done when all that was due at the call has been tried.</summary>
    public async Task Run(CancellationToken ct)
    {
        WriteDownUnmarked();
        var now = clock.GetCurrentInstant();
        outbox.EndOverdue(now);
        var started = new List<Task>();
        foreach (var row in outbox.Due(now))
        {
            if (!unmarked.ContainsKey(row.Id) && inFlight.TryAdd(row.Id, true))
                started.Add(SendInTurn(row, ct));
        }
        await Task.WhenAll(started).ConfigureAwait(false);
    }

    /// <summary>
    /// A warning that saves a crop and for which the disk has no room: sent from memory, once while this process lives. A
    /// double after a restart is better than a killing frost that nobody was told of.
    /// </summary>
    public async Task<SendOutcome?> SendUnstored(OutboxDraft warning, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(warning);
        if (!warning.Urgent)
            throw new ArgumentException("Only an urgent message is sent without being stored.", nameof(warning));
        if (!sentFromMemory.TryAdd(warning.Key, true))
            return null;
        logger.SentWithoutClaim(warning.Key.Kind, warning.Key.Garden);
        var row = new OutboxRow(
            0, warning.Key, warning.MessageId, warning.Subject, warning.Bytes, warning.CreatedAt, warning.ExpiresAt, true,
            OutboxState.Sending, 1, 0, null, null, null, warning.Jobs);
        var outcome = await Handed(row, ct).ConfigureAwait(false);
        // Tried again by the next round when it surely has not arrived.
        if (outcome is SendOutcome.TryLater)
            sentFromMemory.TryRemove(warning.Key, out _);
        return outcome;
    }

    public void Dispose() => places.Dispose();

    private async Task SendInTurn(OutboxRow row, CancellationToken ct)
    {
        try
        {
            await places.WaitAsync(ct).ConfigureAwait(false);
            try
            {
                await SendOne(row, ct).ConfigureAwait(false);
            }
            finally
            {
                places.Release();
            }
        }
        catch (OperationCanceledException) when (ct.IsCancellationRequested)
        {
            // Stopping before the claim: the row is as it was.
        }
        finally
        {
            inFlight.TryRemove(row.Id, out _);
        }
    }

    private async Task SendOne(OutboxRow row, CancellationToken ct)
    {
        Failpoints.Hit(Failpoints.BeforeClaim);
        var claimed = outbox.TryClaim(row.Id, clock.GetCurrentInstant());
        if (claimed is WriteOutcome.Failed failed)
        {
            if (!row.Urgent)
            {
                logger.NotClaimed(failed.Sentence);
                return;
            }
            logger.SentWithoutClaim(row.Key.Kind, row.Key.Garden);
        }
        else if (!claimed.IsWritten)
        {
            return;
        }
        Failpoints.Hit(Failpoints.AfterClaim);
        var outcome = await Handed(row, ct).ConfigureAwait(false);
        Failpoints.Hit(Failpoints.AfterSend);
        Mark(row, outcome);
        Failpoints.Hit(Failpoints.AfterMark);
        if (outcome is SendOutcome.Accepted && row.Key.Kind == MessageKind.Digest && afterDigest is not null)
            await afterDigest(ct).ConfigureAwait(false);
    }

    private async Task<SendOutcome> Handed(OutboxRow row, CancellationToken ct)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(ct);
        deadline.CancelAfter(Deadline);
        try
        {
            // WaitAsync, because a channel that hangs may not listen to its token either.
            return await send(row, deadline.Token).WaitAsync(deadline.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            return new SendOutcome.InDoubt(ct.IsCancellationRequested ? "the service stopped while sending" : "no answer in eleven minutes");
        }
        // The round's outermost catch for one message: the others go on, and this one may or may not have arrived.
        catch (Exception exception)
        {
            logger.SendBroke(exception, row.Id);
            return new SendOutcome.InDoubt(exception.GetType().Name);
        }
    }

    private void Mark(OutboxRow row, SendOutcome outcome)
    {
        var now = clock.GetCurrentInstant();
        switch (outcome)
        {
            case SendOutcome.Accepted accepted:
                if (outbox.MarkSent(row, accepted.Reply, now) is WriteOutcome.Failed)
                    unmarked[row.Id] = (row, accepted.Reply);
                logger.Accepted(row.Id, row.Key.Kind, row.Key.Garden);
                break;
            case SendOutcome.Refused refused:
                outbox.MarkRefused(row.Id, refused.Reason, now);
                logger.Refused(row.Id, row.Key.Kind, row.Key.Garden, refused.Reason);
                break;
            case SendOutcome.TryLater later:
                var nextTry = now + Gaps.BeforeSending(row.Tries + 1, row.Urgent, row.ExpiresAt - now, jitter());
                outbox.MarkLater(row.Id, later.Reason, nextTry);
                logger.TriedInVain(row.Id, row.Key.Kind, row.Key.Garden, later.Reason, nextTry);
                break;
            case SendOutcome.InDoubt doubt:
                outbox.MarkInDoubt(row.Id, doubt.Reason, now);
                logger.InDoubt(row.Id, row.Key.Kind, row.Key.Garden, doubt.Reason);
                break;
        }
    }

    private void WriteDownUnmarked()
    {
        foreach (var (id, (row, reply)) in unmarked)
        {
            if (outbox.MarkSent(row, reply, clock.GetCurrentInstant()) is not WriteOutcome.Failed)
                unmarked.TryRemove(id, out _);
        }
    }
}

using System.Collections.Concurrent;
using GardenWatch.Messages.Mail;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Takes what is due from the outbox: claim, send, mark. Addressees do not wait for each other, nor what is urgent for what
/// is not; one that hangs is given up after a while. May be called while an earlier call is still sending.
/// </summary>
/// <param name="send">Hands one message to its channel.</param>
/// <param name="jitter">0 to 1.</param>
/// <param name="afterDigest">Told that a digest was accepted (the heartbeat); null for nobody.</param>
/// <param name="soonest">From when on a message may be tried that is due at an instant (quiet hours); null for at once.</param>
public sealed class SendRound(
    OutboxTable outbox, Func<OutboxRow, CancellationToken, Task<SendOutcome>> send, IClock clock, Func<double> jitter, ILogger logger,
    Func<CancellationToken, Task>? afterDigest = null, Func<OutboxRow, Instant, Instant>? soonest = null) : IDisposable
{
    /// <summary>To one addressee or channel, and as many urgent ones beside them: a household is few, but may have many gardens.</summary>
    public const int AtOnce = 2;

    /// <summary>RFC 5321 4.5.3.2.6 grants a server ten minutes after the final dot.</summary>
    public static readonly TimeSpan Deadline = TimeSpan.FromMinutes(11);

    // What hangs fills its own places and no other's.
    private readonly ConcurrentDictionary<(string Addressee, bool Urgent), SemaphoreSlim> places = new();
    private readonly ConcurrentDictionary<long, bool> inFlight = new();
    private readonly ConcurrentDictionary<long, Unwritten> unwritten = new();
    private readonly ConcurrentDictionary<OutboxKey, bool> sentFromMemory = new();
    private bool startSettled;
    private string? faultTold;

    /// <summary>What became of a message, while the disk is too full to write it down.</summary>
    private sealed record Unwritten(OutboxRow Row, SendOutcome Outcome, Instant At, Instant? NextTry);

    /// <summary>Done when all that was due at the call has been tried.</summary>
    public async Task Run(CancellationToken ct)
    {
        var now = clock.GetCurrentInstant();
        if (!startSettled)
            SettleStart(now);
        WriteDownUnwritten();
        outbox.EndOverdue(now);
        var started = new List<Task>();
        foreach (var row in outbox.Due(now))
        {
            if (!unwritten.ContainsKey(row.Id) && MayBeTried(row, now) && inFlight.TryAdd(row.Id, true))
                started.Add(SendInTurn(row, again: false, ct));
        }
        foreach (var (id, waits) in unwritten)
        {
            if (waits.Row.Urgent && waits.NextTry <= now && now < waits.Row.ExpiresAt && MayBeTried(waits.Row, now) && inFlight.TryAdd(id, true))
                started.Add(SendInTurn(waits.Row, again: true, ct));
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

    public void Dispose()
    {
        foreach (var place in places.Values)
            place.Dispose();
    }

    /// <summary>What the last process was sending when it ended is in doubt.</summary>
    private void SettleStart(Instant now)
    {
        var found = outbox.FindSendingAtStart(now);
        startSettled = found is not WriteOutcome.Failed;
        if (found.IsWritten)
            logger.SendingFoundAtStart(OutboxTable.DoubtGap);
    }

    /// <param name="again">Tried before by this process, which could not write it down.</param>
    private async Task SendInTurn(OutboxRow row, bool again, CancellationToken ct)
    {
        try
        {
            var place = places.GetOrAdd((row.Key.Addressee.ToLowerInvariant(), row.Urgent), _ => new(AtOnce));
            await place.WaitAsync(ct).ConfigureAwait(false);
            try
            {
                if (MayBeSent(row, again))
                    await SendOne(row, ct).ConfigureAwait(false);
            }
            finally
            {
                place.Release();
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

    /// <summary>Asked at each try, as quiet hours may have begun, or changed, since the last one failed.</summary>
    private bool MayBeTried(OutboxRow row, Instant now) => Soonest(row, now) <= now;

    private Instant Soonest(OutboxRow row, Instant at) => soonest?.Invoke(row, at) ?? at;

    /// <summary>Never without a claim, which is what prevents doubles; but a double is better than a crop lost in silence.</summary>
    private bool MayBeSent(OutboxRow row, bool again)
    {
        Failpoints.Hit(Failpoints.BeforeClaim);
        var claimed = outbox.TryClaim(row.Id, clock.GetCurrentInstant());
        Failpoints.Hit(Failpoints.AfterClaim);
        if (claimed is not WriteOutcome.Failed failed)
        {
            faultTold = null;
            return claimed.IsWritten || again;
        }
        if (row.Urgent)
            logger.SentWithoutClaim(row.Key.Kind, row.Key.Garden);
        else if (faultTold != failed.Sentence)
            logger.NotClaimed(faultTold = failed.Sentence);
        return row.Urgent;
    }

    private async Task SendOne(OutboxRow row, CancellationToken ct)
    {
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
        Instant? nextTry = outcome switch
        {
            SendOutcome.TryLater later => Soonest(
                row, now + Gaps.BeforeSending(row.Tries + 1, row.Urgent, row.ExpiresAt - now, jitter(), later.WaitAtLeast)),
            SendOutcome.InDoubt when row.Doubts < OutboxTable.DoubtTries => Soonest(row, now + OutboxTable.DoubtGap),
            _ => null,
        };
        var counted = row with { Tries = row.Tries + 1, Doubts = row.Doubts + (outcome is SendOutcome.InDoubt ? 1 : 0) };
        var marked = new Unwritten(counted, outcome, now, nextTry);
        if (IsWrittenDown(marked))
            unwritten.TryRemove(row.Id, out _);
        else
            unwritten[row.Id] = marked;
        Tell(row, outcome, nextTry);
    }

    private bool IsWrittenDown(Unwritten marked)
    {
        long id = marked.Row.Id;
        return marked.Outcome switch
        {
            SendOutcome.Accepted accepted => outbox.MarkSent(marked.Row, accepted.Reply, marked.At),
            SendOutcome.Refused refused => outbox.MarkRefused(id, refused.Reason, marked.At),
            SendOutcome.TryLater later => outbox.MarkLater(id, later.Reason, marked.NextTry!.Value),
            SendOutcome.InDoubt doubt => outbox.MarkInDoubt(id, doubt.Reason, marked.At),
            _ => throw new InvalidOperationException("A new outcome of sending needs its mark."),
        } is not WriteOutcome.Failed;
    }

    private void WriteDownUnwritten()
    {
        foreach (var (id, marked) in unwritten)
        {
            if (!inFlight.ContainsKey(id) && IsWrittenDown(marked))
                unwritten.TryRemove(id, out _);
        }
    }

    private void Tell(OutboxRow row, SendOutcome outcome, Instant? nextTry)
    {
        switch (outcome)
        {
            case SendOutcome.Accepted:
                logger.Accepted(row.Id, row.Key.Kind, row.Key.Garden);
                break;
            case SendOutcome.Refused refused:
                logger.Refused(row.Id, row.Key.Kind, row.Key.Garden, refused.Reason);
                break;
            case SendOutcome.TryLater later:
                logger.TriedInVain(row.Id, row.Key.Kind, row.Key.Garden, later.Reason, nextTry!.Value);
                break;
            case SendOutcome.InDoubt doubt:
                logger.InDoubt(row.Id, row.Key.Kind, row.Key.Garden, doubt.Reason, nextTry?.ToString() ?? "not again");
                break;
        }
    }
}

using System.Collections.Immutable;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// One knock of the scheduler: looks at files and clock, does what is due, hands over what waits. Whatever breaks is
/// logged and tried again at the next knock; nothing of it stops the rest.
/// </summary>
/// <param name="side">What must never hold a digest up.</param>
/// <param name="time">For the short wait that a digest allows it.</param>
/// <param name="clockWatch">Null when the time was named on the command line.</param>
public sealed class HouseRound(
    GardenStore store, Settings settings, GardensInForce gardens, GardenPlaces places, PullRound pulls, DigestRound digests,
    NoticeRound notices, MemberRound members, SideRounds side, SendRound sending, ClockWatch? clockWatch, IClock clock, TimeProvider time, Watchdog? watchdog, ILogger logger) : IDisposable
{
    // A digest is better with chances, and no worse for a few seconds. For all digests of a knock together.
    private static readonly TimeSpan MembersMayTake = TimeSpan.FromSeconds(10);
    private static readonly Duration AskClockEvery = Duration.FromMinutes(5);

    private readonly Dictionary<string, GardenPlace> _settled = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Instant> _settleAgainAt = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Instant> _lookedAt = new(StringComparer.Ordinal);
    private readonly List<Task> _underWay = [];
    private readonly CancellationTokenSource _givenUp = new();
    private Instant _askedClockAt = Instant.MinValue;
    private bool _hasWorked;
    private int _sideRunsSeen;
    private long _wentOnAt = time.GetTimestamp();

    /// <summary>For the health page; null before the first knock.</summary>
    public HealthState? Health { get; private set; }

    /// <summary>As of the last knock; none before the first, and none while the clock is not trusted.</summary>
    public IReadOnlyList<GardenOnDuty> OnDuty { get; private set; } = [];

    /// <summary>
    /// How long no part of a knock has come to its end. By a timer and not the clock, which may be set; grows without end when
    /// something hangs, or when the scheduler knocks no more.
    /// </summary>
    public TimeSpan SinceItWentOn => time.GetElapsedTime(Volatile.Read(ref _wentOnAt));

    public async Task Knock(CancellationToken ct)
    {
        WentOn();
        bool worked = await DoWhatIsDue(ct).ConfigureAwait(false);
        _underWay.RemoveAll(task => task.IsCompleted);
        GiveBackWhatWorkTook(worked);
        bool answers = store.Answers();
        watchdog?.TickFinished(answers);
        WentOn();
    }

    /// <summary>
    /// A forecast, fifty runs and thirty years leave tens of megabytes that nobody needs until the next hour, and an idle
    /// process gives the collector no reason to look. Once, at the first knock without work.
    /// </summary>
    private void GiveBackWhatWorkTook(bool worked)
    {
        int sideRuns = side.RunsEnded;
        bool works = worked || sideRuns != _sideRunsSeen;
        _sideRunsSeen = sideRuns;
        if (_hasWorked && !works)
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        _hasWorked = works;
    }

    private void WentOn() => Volatile.Write(ref _wentOnAt, time.GetTimestamp());

    /// <summary>Waits for what is being sent, for those who knock by hand.</summary>
    public Task SendingDone() => Task.WhenAll(_underWay);

    /// <summary>Waits for what goes on beside the knocks, for those who knock by hand.</summary>
    public Task SideDone() => side.Done();

    /// <summary>For a clean end, after the last knock: what is on its way gets so long to arrive, and is then marked as in doubt.</summary>
    public async Task EndSending(TimeSpan within)
    {
        _givenUp.CancelAfter(within);
        await side.Done().ConfigureAwait(false);
        await SendingDone().ConfigureAwait(false);
    }

    public void Dispose() => _givenUp.Dispose();

    /// <summary>Whether there was anything.</summary>
    private async Task<bool> DoWhatIsDue(CancellationToken ct)
    {
        var now = clock.GetCurrentInstant();
        gardens.Look(now);
        var verdict = clockWatch?.Verdict(store.NewestFact());
        var onDuty = new List<GardenOnDuty>();
        foreach (var garden in gardens.Gardens)
        {
            if (await Settled(garden, now, ct).ConfigureAwait(false) is { } settled)
                onDuty.Add(settled);
            WentOn();
        }
        // With a wrong clock nothing is stored, and what the calendar told would be.
        OnDuty = verdict is ClockVerdict.Untrusted ? [] : onDuty;
        if (verdict is ClockVerdict.Untrusted untrusted)
        {
            await AskWeatherServiceForTheTime(untrusted, onDuty, now, ct).ConfigureAwait(false);
            Remember(now, untrusted.Reason, onDuty);
            return false;
        }
        if (verdict is ClockVerdict.Trusted { FactsAhead: true })
            store.SetAside.LaterThan(now);

        side.Begin([.. onDuty.Select(garden => garden.Place).DistinctBy(place => place.Key)], HearDate, ct);
        var rounds = onDuty.Select(garden => RoundsOf(garden, now)).ToList();
        Task? membersSettled = null;
        bool worked = false;
        foreach (var due in Due.Rounds(
            StoredLedger.Of(store, PullRound.Kind, now) with { LookedAt = _lookedAt }, rounds, Duration.FromTimeSpan(settings.Weather.PullEvery), now))
        {
            if (due is DueRound.Digest or DueRound.EveningLook or DueRound.NewForecastLook)
                await (membersSettled ??= side.MembersSettled(MembersMayTake, time, ct)).ConfigureAwait(false);
            try
            {
                await Do(due, onDuty, rounds, ct).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (ct.IsCancellationRequested)
            {
                throw;
            }
            // The round's outermost catch: this one failed, the others go on, and it is due again at the next knock.
            catch (Exception exception)
            {
                logger.RoundBroke(exception, due.GetType().Name);
            }
            worked = true;
            WentOn();
        }
        Answer(onDuty);
        // Not awaited: a mail server that hangs must not keep the next knock from its work.
        _underWay.Add(Send(sending.Run));
        Remember(clock.GetCurrentInstant(), null, onDuty);
        return worked;
    }

    private void Answer(List<GardenOnDuty> onDuty)
    {
        try
        {
            notices.Run(onDuty, clock.GetCurrentInstant());
        }
        // As with the rounds: digests and warnings go out all the same.
        catch (Exception exception)
        {
            logger.RoundBroke(exception, nameof(NoticeRound));
        }
    }

    /// <summary>Not cut short by a stop: that is for <see cref="EndSending"/>.</summary>
    private async Task Send(Func<CancellationToken, Task> send)
    {
        try
        {
            await send(_givenUp.Token).ConfigureAwait(false);
        }
        // Nobody waits for this task before the end, so it is logged here.
        catch (Exception exception)
        {
            logger.RoundBroke(exception, nameof(Send));
        }
    }

    private async Task Do(DueRound due, List<GardenOnDuty> onDuty, List<GardenRounds> rounds, CancellationToken ct)
    {
        var now = clock.GetCurrentInstant();
        switch (due)
        {
            case DueRound.Expire:
                store.Outbox.EndOverdue(now);
                break;
            case DueRound.Pull pull:
                await pulls.Run(onDuty.First(garden => garden.Place.Key == pull.PlaceKey).Place, HearDate, ct).ConfigureAwait(false);
                break;
            case DueRound.Digest digest:
                var garden = Of(onDuty, digest.GardenId);
                var hours = rounds.First(of => of.GardenId == digest.GardenId);
                // A garden that was not known yet at its hour got its first digest as soon as it could.
                bool first = digest.First || (digest.Late && hours.KnownSince > digest.Window.Start);
                var timing = first ? DigestTiming.First : digest.Late ? DigestTiming.Late : DigestTiming.AtItsHour;
                Report(digests.Digest(garden, digest.Date, digest.Addressees, digest.Window, timing, now));
                LooksAt(garden, now);
                break;
            case DueRound.DigestSkipped skipped:
                Report(store.Ledger.Mark(skipped.GardenId, LedgerTable.DigestSkipped, skipped.Date, now));
                logger.DigestSkipped(skipped.GardenId, skipped.Date);
                break;
            case DueRound.EveningLook look:
                Look(Of(onDuty, look.GardenId), look.Date, evening: true, now);
                Report(store.Ledger.Mark(look.GardenId, LedgerTable.EveningLook, look.Date, now));
                break;
            case DueRound.NewForecastLook look:
                Look(Of(onDuty, look.GardenId), look.Date, look.Evening, now);
                break;
            case DueRound.Backup backup:
                if (store.Backup.Nightly(backup.Date, settings.BackupFolder) is BackupOutcome.Failed failed)
                    logger.NoBackup(failed.Sentence);
                store.Ledger.Mark(LedgerTable.WholeHouse, LedgerTable.BackupMade, backup.Date, now);
                // Before the pulls are thinned, which would take members whole.
                foreach (var place in onDuty.Select(garden => garden.Place).DistinctBy(place => place.Key))
                    Report(members.Reduce(place));
                store.Pulls.Thinned(now - WholePulls);
                store.Outbox.LightenBefore(now - WholeMessages);
                break;
            default:
                throw new InvalidOperationException($"No such round: {due}");
        }
    }

    private void LooksAt(GardenOnDuty garden, Instant now)
    {
        if (store.Pulls.NewestByPlace(PullRound.Kind, now).TryGetValue(garden.Place.Key, out var newest))
            _lookedAt[garden.Plan.GardenId] = newest;
    }

    private void Look(GardenOnDuty garden, LocalDate date, bool evening, Instant now)
    {
        // A warning that can't be stored goes out all the same: a double is better than silence.
        foreach (var unstored in digests.Look(garden, date, evening, now))
            _underWay.Add(Send(ct => sending.SendUnstored(unstored, ct)));
        // Only now: a look that broke is made again at the next knock.
        LooksAt(garden, now);
    }

    // Enough to replay a fortnight hour by hour; of older pulls one a day stays.
    private static readonly Duration WholePulls = Duration.FromDays(14);
    // What was sent stays on record for good; its text for as long as somebody may ask for it.
    private static readonly Duration WholeMessages = Duration.FromDays(60);

    private void Report(WriteOutcome outcome)
    {
        if (outcome is WriteOutcome.Failed failed)
            logger.NotStored(failed.Sentence);
    }

    private bool HearDate(Instant date)
    {
        clockWatch?.HeardDate(date);
        return clockWatch?.Verdict(store.NewestFact()) is not ClockVerdict.Untrusted;
    }

    private async Task AskWeatherServiceForTheTime(
        ClockVerdict.Untrusted untrusted, List<GardenOnDuty> onDuty, Instant now, CancellationToken ct)
    {
        var since = now - _askedClockAt;
        if (!untrusted.AskWeatherService || onDuty.Count == 0 || since < AskClockEvery && since > -AskClockEvery)
            return;
        _askedClockAt = now;
        await pulls.AskTime(onDuty[0].Place, date => clockWatch?.HeardDate(date), ct).ConfigureAwait(false);
    }

    private async Task<GardenOnDuty?> Settled(GardenInForce garden, Instant now, CancellationToken ct)
    {
        string key = $"{garden.Plan.GardenId} {garden.Plan.Place}";
        if (!_settled.TryGetValue(key, out var place))
        {
            if (_settleAgainAt.TryGetValue(key, out var at) && now < at)
                return null;
            switch (await places.Settle(garden.Plan.Place, now, ct).ConfigureAwait(false))
            {
                case PlaceOutcome.Settled settled:
                    _settled[key] = place = settled.Place;
                    break;
                case PlaceOutcome.Unclear unclear:
                    logger.PlaceUnknown(garden.Plan.GardenId, unclear.Sentence);
                    _settleAgainAt[key] = now + Duration.FromHours(1);
                    return null;
                case PlaceOutcome.OutOfReach away:
                    logger.PlaceUnknown(garden.Plan.GardenId, away.Sentence);
                    _settleAgainAt[key] = now + Duration.FromMinutes(5);
                    return null;
            }
        }
        var stopped = store.Replies.Stopped(garden.Plan.GardenId);
        bool HasStopped(string address) => stopped.Contains(address, StringComparer.OrdinalIgnoreCase);
        // A sitter who wants no messages is none: the gardener is told then of what would be lost.
        var plan = stopped.Count == 0 ? garden.Plan : garden.Plan with
        {
            Digest = garden.Plan.Digest with { To = garden.Plan.Digest.To.RemoveAll(told => HasStopped(told.Address)) },
            Away = [.. garden.Plan.Away.Select(away => away.Sitter is { } sitter && HasStopped(sitter) ? away with { Sitter = null } : away)],
        };
        return new(plan, place!, garden.Notes);
    }

    private GardenRounds RoundsOf(GardenOnDuty garden, Instant now) => new(
        garden.Plan.GardenId, garden.Place.Calendar.Zone, garden.Plan.Digest.At, settings.EveningLookAt,
        [.. garden.AddresseesOn(garden.Place.Calendar.DateOf(now)).Select(told => told.Address)], garden.Place.Key,
        store.Subjects.AsOf(garden.Plan.GardenId, now).Select(subject => (Instant?)subject.FirstSeen).Min() ?? now)
    {
        IsQuiet = garden.AddresseesOn(garden.Place.Calendar.DateOf(now)).Any(told => PushHours.Soonest(garden, told.Address, mayWake: false, now) > now),
        OwnHours = garden.Plan.Digest.To.Where(told => told.At is not null).ToImmutableDictionary(told => told.Address, told => told.At!.Value),
    };

    private static GardenOnDuty Of(List<GardenOnDuty> onDuty, string gardenId) =>
        onDuty.First(garden => garden.Plan.GardenId == gardenId);

    private void Remember(Instant now, string? clockDoubt, List<GardenOnDuty> onDuty)
    {
        var newest = store.Pulls.NewestByPlace(PullRound.Kind, now);
        var lastDigests = onDuty
            .Select(garden => store.Outbox.LastSent(garden.Plan.GardenId, MessageKind.Digest, now))
            .Select(row => row is null ? null : StoreText.TryDate(row.Key.Occasion))
            .ToList();
        Health = new(
            now, store.Answers(), clockDoubt,
            onDuty.Count == 0 ? null : onDuty.Min(garden => newest.TryGetValue(garden.Place.Key, out var at) ? at : (Instant?)null),
            lastDigests.Count == 0 ? null : lastDigests.Min(), store.Outbox.Stands())
        {
            MembersFetchedAt = onDuty.Count == 0 ? null : onDuty.Min(garden => store.Members.NewestFetchedAt(garden.Place.Key, now)),
            PastYears = onDuty.Count == 0 ? 0 : onDuty.Min(garden => store.Climates.YearsOf(garden.Place.Key, now)),
            Without = WithoutWhat(store.SideWaits.KindsWaiting(now)),
        };
    }

    private static List<string> WithoutWhat(IReadOnlySet<string> waits)
    {
        var without = new List<string>();
        if (waits.Contains(MemberTable.Kind))
            without.Add("the ensemble did not answer; the log tells why and when it is asked again");
        if (waits.Contains(PastYearTable.Kind))
            without.Add("the archive did not answer; the log tells why and when it is asked again");
        return without;
    }
}

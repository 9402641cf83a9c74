using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Store;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>Fetches the members of an ensemble when a new run is out, keeps them whole for a fortnight, then what verification needs.</summary>
public sealed class MemberRound(GardenStore store, EnsembleClient client, OpenMeteoOptions options, IClock clock, ILogger logger)
{
    // No ensemble is run more often than every six hours.
    private static readonly Duration LeastAge = Duration.FromHours(3);
    // The question whether a run is out costs nothing, but need not come with every knock.
    private static readonly Duration AskForRunsEvery = Duration.FromMinutes(30);
    private static readonly Duration WaitAfterFailure = Duration.FromMinutes(15);
    private static readonly Duration LongestWait = Duration.FromHours(3);
    private static readonly Duration KeptWhole = Duration.FromDays(14);

    private readonly Dictionary<string, Instant> _askedForRuns = new(StringComparer.Ordinal);

    /// <summary>Whether <see cref="Run"/> has anything to ask; costs a look into the store.</summary>
    public bool IsDue(GardenPlace place)
    {
        var now = clock.GetCurrentInstant();
        return HasAllowance(now)
            && !(store.SideWaits.Find(place.Key, MemberTable.Kind)?.NotBefore > now)
            && !(now - store.Members.NewestFetchedAt(place.Key, now) < LeastAge)
            && !(_askedForRuns.TryGetValue(place.Key, out var asked) && asked <= now && now - asked < AskForRunsEvery);
    }

    /// <summary>Null when the members are fresh in the store, or no new run is out; else why not, in a sentence.</summary>
    /// <param name="heardDate">Told the service's own clock; false when ours cannot be trusted by it, and then nothing is kept.</param>
    public async Task<string?> Run(GardenPlace place, Func<Instant, bool> heardDate, CancellationToken ct)
    {
        const string WrongClock = "The clock of this machine is not the weather service's; no members are kept until they agree.";
        var now = clock.GetCurrentInstant();
        if (!HasAllowance(now))
            return "What the members may cost in a day is used up; they are asked for again after midnight UTC.";

        _askedForRuns[place.Key] = now;
        var heard = await client.NewestRun(ct).ConfigureAwait(false);
        if (heard.ServerDate is { } runsDate && !heardDate(runsDate))
            return WrongClock;
        var run = (heard as Lookup<EnsembleRun>.Found)?.Value;
        if (!EnsembleRun.IsNew(run, store.Members.NewestFetchedAt(place.Key, now), now))
            return null;

        var outcome = await client.Pull(place.Calendar.Place, run, ct).ConfigureAwait(false);
        if (outcome.ServerDate is { } date && !heardDate(date))
            return WrongClock;
        switch (outcome)
        {
            case Lookup<MemberPull>.Found { Value: var pull }:
                var kept = store.Members.Add(
                    place.Key, pull.Model, pull.FetchedAt, pull.Start, pull.Hours, pull.Host, MemberPacking.Pack(pull));
                return kept is WriteOutcome.Failed failed ? failed.Sentence : null;
            case Lookup<MemberPull>.TryLater later:
                return Waits(place, later.NotBefore, later.Reason);
            case Lookup<MemberPull>.Refused refused:
                return Waits(place, null, refused.Reason);
            default:
                throw new InvalidOperationException($"No such outcome: {outcome}");
        }
    }

    /// <summary>
    /// Puts spreads in the place of members older than a fortnight; nightly, before pulls are thinned. Gives the first
    /// failure, or the last outcome.
    /// </summary>
    public WriteOutcome Reduce(GardenPlace place)
    {
        WriteOutcome outcome = new WriteOutcome.Unchanged();
        foreach (var (id, model, fetchedAt) in store.Members.WholeBefore(place.Key, clock.GetCurrentInstant() - KeptWhole))
        {
            byte[]? spreads = store.Members.BodyOf(id) is { } body && MemberPacking.Unpack(body, out _) is { } pull
                ? SpreadPacking.Pack(MemberSpread.Of(pull, place.Calendar))
                : null;
            outcome = store.Members.Reduce(place.Key, id, model, fetchedAt, spreads);
            if (outcome is WriteOutcome.Failed)
                break;
        }
        return outcome;
    }

    /// <summary>
    /// One series a member as they were known at an instant, and what they had to take from the main series; none where
    /// there are no members, or only stale ones.
    /// </summary>
    /// <param name="main">The series of the same place and instant.</param>
    public static (ImmutableArray<WeatherSeries> Members, ImmutableArray<WeatherVariable> Borrowed) Known(
        GardenStore store, GardenPlace place, WeatherSeries main, Instant asOf) =>
        store.Members.NewestOf(place.Key, asOf) is var (fetchedAt, body)
        && asOf - fetchedAt <= MemberFold.Life
        && MemberPacking.Unpack(body, out _) is { } newest
            ? (MemberFold.Members(main, newest), MemberFold.Borrowed(newest))
            : ([], []);

    private bool HasAllowance(Instant now) =>
        (store.Members.CountSince(CallWeight.DayStart(now)) + 1) * client.Weight <= options.EnsembleCallsPerDay;

    private string Waits(GardenPlace place, Instant? notBefore, string reason)
    {
        int failures = store.SideWaits.Find(place.Key, MemberTable.Kind)?.Failures ?? 0;
        var retryAt = notBefore ?? clock.GetCurrentInstant() + Duration.Min(WaitAfterFailure * (failures + 1), LongestWait);
        // The wait alone decides from here on, if it could be stored.
        if (store.SideWaits.Wait(place.Key, MemberTable.Kind, retryAt, reason).IsWritten)
            _askedForRuns.Remove(place.Key);
        logger.MembersFailed(reason, retryAt);
        return reason;
    }
}

using GardenWatch.Agronomy.Climate;
using GardenWatch.Store;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Fetches a place's past years, a year at a time and few a day, and reckons from them what is usual. What is done is in
/// the store, so it goes on where it was interrupted.
/// </summary>
public sealed class PastYearsRound(GardenStore store, ArchiveClient client, OpenMeteoOptions options, IClock clock, ILogger logger)
{
    /// <summary>Fewer years than this tell nothing of what is usual.</summary>
    public const int LeastYears = 5;

    private static readonly Duration WaitAfterFailure = Duration.FromHours(1);
    private static readonly Duration LongestWait = Duration.FromDays(1);
    // What the archive does not have, it may have later; and what refused was perhaps the address.
    private static readonly Duration RefusalLife = Duration.FromDays(7);

    // A store that takes nothing must not make the archive be asked with every knock.
    private Instant _notBefore = Instant.MinValue;

    /// <summary>Whether <see cref="Run"/> has anything to do; costs a look into the store.</summary>
    public bool IsDue(GardenPlace place)
    {
        var now = clock.GetCurrentInstant();
        return now >= _notBefore && (YearDue(place, now) is not null || IsClimateDue(place, now));
    }

    /// <summary>Fetches one year if one is due, and reckons the climate when no more come today. Null when all went well.</summary>
    /// <param name="heardDate">Told the service's own clock; false when ours cannot be trusted by it, and then nothing is kept.</param>
    public async Task<string?> Run(GardenPlace place, Func<Instant, bool> heardDate, CancellationToken ct)
    {
        string? fault = null;
        if (YearDue(place, clock.GetCurrentInstant()) is { } year)
        {
            var outcome = await client.Year(place.Calendar.Place, year, ct).ConfigureAwait(false);
            if (outcome.ServerDate is { } date && !heardDate(date))
                return "The clock of this machine is not the weather service's; no past years are kept until they agree.";
            fault = Keep(place, year, outcome);
        }
        var now = clock.GetCurrentInstant();
        return IsClimateDue(place, now) ? fault ?? Reckon(place, now) : fault;
    }

    /// <summary>What is usual at a place, as it was known at an instant; null when that is not known.</summary>
    public static ClimateSummary? Known(GardenStore store, GardenPlace place, Instant asOf) =>
        store.Climates.AsOf(place.Key, asOf) is { } climate ? ClimatePacking.Unpack(climate.Body) : null;

    private string? Keep(GardenPlace place, int year, Lookup<Pull> outcome)
    {
        switch (outcome)
        {
            case Lookup<Pull>.Found { Value: var pull }:
                var kept = store.PastYears.Keep(place.Key, year, pull.FetchedAt, pull.Host, PullPacking.Pack(pull));
                return Stored(kept);
            case Lookup<Pull>.TryLater later:
                return Waits(place, later.NotBefore, later.Reason);
            case Lookup<Pull>.Refused refused:
                store.PastYears.KeepRefusal(place.Key, year, clock.GetCurrentInstant(), options.Archive.Host, refused.Reason);
                return Waits(place, null, refused.Reason);
            default:
                throw new InvalidOperationException($"No such outcome: {outcome}");
        }
    }

    private int? YearDue(GardenPlace place, Instant now)
    {
        if (store.SideWaits.Find(place.Key, PastYearTable.Kind)?.NotBefore > now)
            return null;
        var (count, last) = store.PastYears.AskedSince(CallWeight.DayStart(now));
        return count >= options.PastYearsPerDay || now - last < Duration.FromTimeSpan(options.PastYearsPause)
            ? null
            : NextYear(place, now);
    }

    private int? NextYear(GardenPlace place, Instant now) =>
        ArchiveYears.Next(store.PastYears.DoneOf(place.Key, refusedSince: now - RefusalLife), options.PastYears, now);

    /// <summary>Years have come that are not in the climate, and no more come today.</summary>
    private bool IsClimateDue(GardenPlace place, Instant now)
    {
        if (store.PastYears.NewestKeptAt(place.Key) is not { } newest
            || (store.Climates.AsOf(place.Key, now) is { } climate && climate.MadeAt >= newest && ClimatePacking.Unpack(climate.Body) is not null)
            || store.PastYears.KeptOf(place.Key).Count(year => year > OldestWanted(now) - 1) < LeastYears)
            return false;
        return NextYear(place, now) is null
            || store.PastYears.AskedSince(CallWeight.DayStart(now)).Count >= options.PastYearsPerDay
            || store.SideWaits.Find(place.Key, PastYearTable.Kind)?.NotBefore > now;
    }

    private string? Reckon(GardenPlace place, Instant now)
    {
        var years = new List<Pull>();
        foreach (byte[] body in store.PastYears.BodiesOf(place.Key, afterYear: OldestWanted(now) - 1))
            if (PullPacking.Unpack(body) is UnpackOutcome.Good good)
                years.Add(good.Pull);
        if (years.Count < LeastYears)
            return "The stored past years are damaged; what is usual here is not known.";
        var days = PastDays.Of(ArchiveYears.Join(years), place.Calendar);
        var summary = ClimateSummary.Of(days, southern: place.Calendar.Place.LatitudeDegrees < 0);
        var kept = store.Climates.Keep(new(place.Key, now, years.Count, ClimatePacking.Pack(summary)));
        return Stored(kept);
    }

    private string? Stored(WriteOutcome kept)
    {
        if (kept is not WriteOutcome.Failed failed)
            return null;
        _notBefore = clock.GetCurrentInstant() + WaitAfterFailure;
        return failed.Sentence;
    }

    private int OldestWanted(Instant now) => ArchiveClient.LastWholeYear(now) - options.PastYears + 1;

    private string Waits(GardenPlace place, Instant? notBefore, string reason)
    {
        int failures = store.SideWaits.Find(place.Key, PastYearTable.Kind)?.Failures ?? 0;
        var retryAt = notBefore ?? clock.GetCurrentInstant() + Duration.Min(WaitAfterFailure * (failures + 1), LongestWait);
        store.SideWaits.Wait(place.Key, PastYearTable.Kind, retryAt, reason);
        logger.PastYearFailed(reason, retryAt);
        return reason;
    }
}

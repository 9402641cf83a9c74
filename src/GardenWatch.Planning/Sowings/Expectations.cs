using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>What is to come of a batch that was begun, as date ranges; a stage whose range has passed is taken as reached, and said to be expected.</summary>
internal static class Expectations
{
    // Of a crop whose packet and warmth are not known: an annual is over within the year.
    private const int LongestDays = 300;
    // A tender crop that is picked until frost, where no frost is known or usual. Common practice.
    private const int PickedUntilFrostDays = 120;
    // Fleece and a warm wall carry tender plants past the first frosts. Common practice.
    private const int PastFrostDays = 14;

    public static Sowing Of(Season season, Sowing sowing)
    {
        if (!sowing.Stage.IsAlive())
            return sowing;
        var today = season.Today;
        var planting = sowing.Planting;
        var begun = sowing.Begun ?? AssumedBegun(season, sowing);
        sowing = sowing with { Begun = begun };
        if (sowing is { Stage: Stage.Sown, SownOn: { } sown })
        {
            var seedbed = season.Plan.BedOf(planting.StartBedId ?? planting.BedId);
            var up = Emergence.Of(planting.Crop, seedbed, sown, season.Weather);
            // What has had its warmth came up before the heat.
            var tooHot = today <= up.Start ? Emergence.TooHot(planting.Crop, seedbed, season.Weather, season.AsOf) : null;
            sowing = sowing with { UpLikely = up, TooHotToComeUp = tooHot };
            if (up.End < today && sowing.TooHotToComeUp is null)
                sowing = sowing with { Stage = Stage.Up, By = Evidence.Expected };
        }
        if (planting.IsSetOut && sowing.Stage is Stage.Sown or Stage.Up or Stage.Hardening)
            return WaitsForItsBed(season, sowing);
        sowing = YearsBearing.Of(season, Harvest(season, sowing, begun));
        if (sowing.BearingSince is null && sowing.BearingLikely?.End < today && IsStillPicked(sowing, today) && sowing.Stage is Stage.Sown or Stage.Up or Stage.SetOut or Stage.Growing)
            sowing = sowing with { Stage = Stage.Bearing, By = Evidence.Expected };
        if (Overtaken(season, sowing) is { } since)
            return sowing with { Stage = Stage.Finished, By = Evidence.Seen, EndedOn = since, Because = season.Weather.Speech.Say("what follows it stands in its bed") };
        if (sowing.OverLikely?.End < today && sowing.Stage.IsAlive())
            sowing = sowing with { Stage = Stage.Finished, By = Evidence.Expected, EndedOn = sowing.OverLikely.End, Because = EndOf(season, sowing) };
        return sowing;
    }

    private static string EndOf(Season season, Sowing sowing) => sowing.IsEndedByCold
        ? season.Weather.Speech.Say("it is too cold now for more to ripen")
        : season.Weather.Speech.Say("its time is over by the reckoning");

    /// <summary>What stays from year to year bears for its weeks, then grows on.</summary>
    public static bool IsStillPicked(Sowing sowing, LocalDate today) => sowing.PickedUntil is { } until ? until >= today : sowing.Planting.Crop is not { Habit.Life: PlantLife.Perennial, Picking.Once: not true } crop
        || sowing.BearingLikely?.End.PlusDays(PickingDays.Of(crop)) >= today
        || sowing.LastPickedOn?.PlusDays(PickedLatelyDays) >= today;

    // Who picked lately knows that something hangs there yet, whichever year it is. Common practice.
    internal const int PickedLatelyDays = 10;

    /// <summary>First pickings and the end, of a batch that was or will be begun within a range.</summary>
    public static Sowing Harvest(Season season, Sowing sowing, DateInterval? begun)
    {
        var crop = sowing.Planting.Crop;
        if (begun is not null)
            sowing = sowing with
            {
                BearingByPacket = PacketDays.Of(season, sowing, begun) is { } packet ? NotBeforeGrown(sowing, packet) : null,
                BearingByWarmth = crop.Warmth?.HarvestCd is { } needed ? season.WarmthOf(sowing.Planting)?.Reached(begun, needed) : null,
            };
        var over = OverLikely(season, sowing, begun);
        var cold = begun is not null ? GrowsNoMore(season, sowing, begun.Start) : null;
        sowing = sowing with { StandsStillFrom = cold };
        // Who picked lately knows that something hangs there yet; what was only asked for keeps it for some weeks.
        if (sowing.LastPickedOn?.PlusDays(StandstillDays) is { } picked && cold < picked)
            cold = LocalDate.Min(picked, cold.Value.PlusDays(2 * StandstillDays));
        if (sowing.LastToldPickingOn?.PlusDays(StandstillDays) is { } told && cold < told)
            cold = told;
        return cold < over?.End
            ? sowing with { OverLikely = new(LocalDate.Min(over.Start, cold.Value), cold.Value), IsEndedByCold = true }
            : sowing with { OverLikely = over };
    }

    /// <summary>
    /// A packet counts from sowing; what lay long in cold ground is not ready before it has grown for half its days. What was seen to
    /// stand may have come up long before it was looked at.
    /// </summary>
    private static DateInterval NotBeforeGrown(Sowing sowing, DateInterval packet)
    {
        if (sowing is not { IsSetOut: false, UpOn: null, UpLikely.Start: var up, Planting.Crop.Days: { } days })
            return packet;
        var grown = up.PlusDays(days.From / 2);
        return new(LocalDate.Max(packet.Start, grown), LocalDate.Max(packet.End, grown));
    }

    private static DateInterval? OverLikely(Season season, Sowing sowing, DateInterval? begun)
    {
        var crop = sowing.Planting.Crop;
        if (crop is { Habit.Life: PlantLife.Perennial, Picking.Once: not true })
            return null; // stays from year to year
        var bearing = sowing.BearingSince is { } since ? new DateInterval(since, since) : sowing.BearingLikely;
        if (bearing is null)
        {
            var from = begun ?? (sowing.Planting.FirstSeen is { } seen ? new DateInterval(seen, seen) : null);
            return from is null ? null : ThroughTheWinter(season, sowing.Planting, from.End, new(from.Start.PlusDays(crop.Days?.From ?? LongestDays / 2), from.End.PlusDays(LongestDays)));
        }
        var frost = season.Plan.BedOf(sowing.Planting.BedId).IsIndoors ? null : season.Usual.FirstFrost(bearing.Start);
        bool tender = crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender;
        if (tender && crop.Picking?.Once != true)
            return frost is not null
                ? new(frost.Start, frost.End.PlusDays(PastFrostDays))
                : new(bearing.Start.PlusDays(PickingDays.AtLeast(crop)), bearing.End.PlusDays(PickedUntilFrostDays));
        var over = new DateInterval(bearing.Start.PlusDays(PickingDays.AtLeast(crop)), bearing.End.PlusDays(PickingDays.Of(crop)));
        // Who still picks knows better than the reckoning, up to a point.
        if (sowing.LastPickedOn is { } last)
        {
            var still = LocalDate.Min(last.PlusDays(PickingDays.AtLeast(crop)), bearing.End.PlusDays(2 * PickingDays.Of(crop)));
            over = new(over.Start, LocalDate.Max(over.End, still));
        }
        return ThroughTheWinter(season, sowing.Planting, bearing.End, over);
    }

    /// <summary>Kale and its like are picked until they run to seed in their second spring, unless the plan gives their bed to another.</summary>
    private static DateInterval ThroughTheWinter(Season season, Planting planting, LocalDate stands, DateInterval over) =>
        planting.Crop is { Hardiness: Hardiness.Hardy, Habit.Life: PlantLife.Biennial, Picking.Once: not true } && !season.Followers(planting).Any()
            ? new(over.Start, LocalDate.Max(over.End, season.Usual.StartOf(stands).PlusYears(1).PlusMonths(RunsToSeedMonths)))
            : over;

    // From the beginning of the growing year, in midwinter. Common practice.
    private const int RunsToSeedMonths = 3;

    /// <summary>
    /// The date from which on it is too cold for what is picked again and again to bring anything more, though frost may be weeks away;
    /// null where that does not come within the year.
    /// </summary>
    private static LocalDate? GrowsNoMore(Season season, Sowing sowing, LocalDate begun)
    {
        var crop = sowing.Planting.Crop;
        if (crop.Hardiness is not (Hardiness.Tender or Hardiness.VeryTender) || crop.Picking?.Once == true || crop.Habit?.Life == PlantLife.Perennial
            || season.Plan.BedOf(sowing.Planting.BedId).Over != Overhead.Open)
            return null;
        double least = crop.Hardiness == Hardiness.VeryTender ? VeryTenderStandsStillC : TenderStandsStillC;
        for (var date = season.Usual.MidsummerFrom(begun); date < begun.PlusDays(LongestDays); date = date.PlusDays(1))
            if (season.MeanAir(sowing.Planting.BedId, date, StandstillDays) < least)
                return date;
        return null;
    }

    // Nothing ripens any more once the mean of two weeks is below this. Common practice.
    private const int StandstillDays = 14;
    private const double TenderStandsStillC = 10, VeryTenderStandsStillC = 12;

    /// <summary>The plan says that it stands, not since when: since the usual time of a middle year, or just before the plan was read.</summary>
    private static DateInterval? AssumedBegun(Season season, Sowing sowing)
    {
        // What stays for years may stand there since any of them.
        if (sowing.Stage is not (Stage.Growing or Stage.Bearing) || YearsBearing.Stays(sowing.Planting.Crop) || sowing.Planting.FirstSeen is not { } seen)
            return null;
        var window = season.WindowOf(sowing.Planting, Season.TakesTheBed(sowing.Planting), seen);
        // What is seen to stand was begun some weeks ago: a year that has only opened is not the one.
        if (window.Opens is not { } opens || opens.Start.PlusDays(SeenToStandDays) > seen)
            return null;
        return new(opens.Start, LocalDate.Min(opens.End, seen));
    }

    // From sowing to a plant that a gardener would call growing. Common practice.
    private const int SeenToStandDays = 28;

    /// <summary>Raised indoors: first its bed must be fit for it. One that was never set out, by the record, misses its season.</summary>
    private static Sowing WaitsForItsBed(Season season, Sowing sowing)
    {
        var planting = sowing.Planting;
        var likely = SetOutLikely(season, planting, sowing.SownOn);
        sowing = sowing with { SetOutLikely = likely };
        var begun = planting.Crop.Days?.Counted == CountedFrom.SettingOut ? likely : sowing.Begun;
        sowing = Harvest(season, sowing, begun);
        if (LastSetOut(season, sowing) is var (last, because) && last.PlusDays(SuccessionOf.GraceDays) < season.Today)
            return sowing with { Stage = Stage.Missed, By = Evidence.Expected, EndedOn = last.PlusDays(SuccessionOf.GraceDays), Because = season.Weather.Speech.Say($"not set out by the record, and {because}") };
        return sowing;
    }

    /// <summary>When its bed is likely fit for it and free, and the plants old enough; null when past years do not tell.</summary>
    public static DateInterval? SetOutLikely(Season season, Planting planting, LocalDate? sown)
    {
        if (SetOutUsually(season, planting, sown ?? planting.FirstSeen ?? season.Today) is not { } usual)
            return null;
        var floor = sown is { } date && planting.Crop.WeeksIndoors is var (weeks, _) ? LocalDate.Max(season.Today, date.PlusWeeks(weeks)) : season.Today;
        return new(LocalDate.Max(usual.Start, floor), LocalDate.Max(usual.End, floor));
    }

    /// <summary>When its bed is usually fit for it and likely free, in the growing year in which it can still be set out from a date on.</summary>
    public static DateInterval? SetOutUsually(Season season, Planting planting, LocalDate from)
    {
        var window = season.WindowOf(planting, Season.TakesTheBed(planting), from);
        if (window.Closes < from)
            window = season.WindowOf(planting, Season.TakesTheBed(planting), season.Usual.StartOf(from).PlusYears(1));
        if (window.Opens is not { } opens)
            return null;
        return season.Taken(planting) is { Free: { } free }
            ? new(LocalDate.Max(opens.Start, free.Start), LocalDate.Max(opens.End, Sowing.Middle(free)))
            : opens;
    }

    private static (LocalDate Last, string Because)? LastSetOut(Season season, Sowing sowing)
    {
        var planting = sowing.Planting;
        var from = sowing.SownOn ?? sowing.Planting.FirstSeen ?? season.Today;
        var window = season.WindowOf(planting, Season.TakesTheBed(planting), from);
        if (window is { Closes: { } closes } && closes >= from)
            return (closes, window.Because!);
        // Nothing says until when: plants are no use when they have stood in their pots for as long as they should grow in all.
        return sowing.SownOn is { } sown ? (sown.PlusDays(LongestInPotsDays), season.Weather.Speech.Say("they have been in their pots too long")) : null;
    }

    // Common practice: twice the longest time indoors of any vegetable.
    private const int LongestInPotsDays = 150;

    private static LocalDate? Overtaken(Season season, Sowing sowing)
    {
        foreach (var follower in season.Followers(sowing.Planting))
        {
            for (int batch = 1; batch <= Math.Max(1, SowingRecord.LastBatchIn(season.Journal, follower)); batch++)
            {
                var record = SowingRecord.Of(follower, batch, season.Journal, season.Today);
                if (record.By == Evidence.Seen && (follower.IsSetOut ? record.SetOutOn : record.SownOn) is { } date)
                    return date;
            }
        }
        return null;
    }
}

using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>
/// What stays from year to year bears about the same time of each: from its own share of that year's warmth, else as the record has it of
/// earlier years. After its picking weeks it rests until the next year.
/// </summary>
internal static class YearsBearing
{
    // How far a crop's first picking strays from one year to the next. Common practice.
    private const int StraysDays = 14;
    // Nothing ripens or sprouts any more once the mean of two weeks is below this. Common practice.
    private const double StandsStillC = 7;
    private const int ColdDays = 14;

    /// <summary>It is picked again in later years; tender plants are left out, as frost ends them where there is any.</summary>
    public static bool Stays(CropProfile crop) =>
        crop is { Habit.Life: PlantLife.Perennial, Picking.Once: not true, Hardiness: Hardiness.Hardy or Hardiness.HalfHardy };

    /// <summary>This year's picking, or the next one's once that is over; unchanged where neither can be dated, or the plants are too young for both.</summary>
    /// <param name="sowing">With its first pickings by the packet, which tell from when on it is old enough.</param>
    public static Sowing Of(Season season, Sowing sowing)
    {
        if (!Stays(sowing.Planting.Crop))
            return sowing;
        var picked = SowingRecord.PickedDays(sowing.Planting, sowing.Batch, season.Journal).Order().ToList();
        var year = season.Usual.StartOf(season.Today);
        foreach (var start in new[] { year, year.PlusYears(1) })
            if (In(season, sowing, picked, start) is { } dated && dated.PickedUntil >= season.Today)
                return dated;
        return sowing;
    }

    private static Sowing? In(Season season, Sowing sowing, List<LocalDate> picked, LocalDate start)
    {
        var crop = sowing.Planting.Crop;
        var byWarmth = ByWarmth(season, sowing, start);
        var own = picked.Where(date => season.Usual.StartOf(date) == start).ToList();
        LocalDate? since = own.Count > 0 ? own[0] : null;
        if ((byWarmth ?? ByRecord(season, picked, start) ?? (since is { } seen ? new(seen, seen) : null)) is not { } usual)
            return null;
        var until = (since ?? usual.End).PlusDays(PickingDays.Of(crop));
        if (byWarmth is not null && ColdFrom(season, sowing, usual.Start, until) is { } cold)
            until = cold;
        if (own.Count > 0)
            until = LocalDate.Max(until, own[^1].PlusDays(Expectations.PickedLatelyDays));
        // Who picked of it before knows that it is old enough.
        var grown = picked.Any(date => season.Usual.StartOf(date) <= start) ? null : sowing.BearingByPacket;
        if (usual.Start > until || grown?.Start > until)
            return null;
        var first = grown is not null && grown.Start > usual.Start
            ? new DateInterval(grown.Start, LocalDate.Min(until, LocalDate.Max(usual.End, grown.Start)))
            : new DateInterval(usual.Start, LocalDate.Min(until, usual.End));
        return sowing with
        {
            BearingByPacket = null,
            BearingByWarmth = byWarmth is null ? null : first,
            BearingByRecord = byWarmth is null ? first : null,
            BearingSince = since,
            BearingYear = start,
            PickedUntil = until,
            Stage = since is not null ? Stage.Bearing : sowing.Stage != Stage.Bearing ? sowing.Stage : sowing.SetOutOn is not null ? Stage.SetOut : Stage.Growing,
        };
    }

    private static DateInterval? ByWarmth(Season season, Sowing sowing, LocalDate start) =>
        sowing.Planting.Crop.Warmth?.EachYearCd is { } needed && season.WarmthOf(sowing.Planting)?.Reached(new(start, start), needed) is { } reached
            && reached.Start < start.PlusYears(1) ? reached : null;

    private static DateInterval? ByRecord(Season season, List<LocalDate> picked, LocalDate start)
    {
        var days = picked.GroupBy(season.Usual.StartOf).Where(year => year.Key < start).Select(year => Period.DaysBetween(year.Key, year.Min())).ToList();
        return days.Count == 0 ? null : new(start.PlusDays(days.Min() - StraysDays), start.PlusDays(days.Max() + StraysDays));
    }

    private static LocalDate? ColdFrom(Season season, Sowing sowing, LocalDate first, LocalDate until)
    {
        for (var date = season.Usual.MidsummerFrom(first); date <= until; date = date.PlusDays(1))
            if (season.MeanAir(sowing.Planting.BedId, date, ColdDays) < StandsStillC)
                return date;
        return null;
    }
}

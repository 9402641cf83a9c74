using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// How dry a bed is for what drinks first in it, and whether to water now: rain, what was given by hand by the record, and what
/// the crop uses at its age (FAO-56, Allen et al. 1998, ch. 6 to 8).
/// </summary>
/// <param name="Thirstiest">The batch whose easily had water is used up first.</param>
/// <param name="SurfaceSquareMetres">Of the soil that is watered; null when the plan does not say how big the bed is.</param>
internal sealed record BedWater(Bed Bed, Sowing Thirstiest, RootZone Zone, WateringAdvice Advice, double? SurfaceSquareMetres)
{
    private const int DaysAhead = 5;
    // Of short-rooted vegetables, where a profile says nothing (FAO-56 tables 12 and 22).
    private const double UsualRootsMetres = 0.3, UsualShare = 0.3;
    // Where the plan does not say what the soil is.
    private const string UsualSoil = "loam";
    // Leaves over the rim of a pot shed half the rain. Common practice.
    private const double RainUnderLeaves = 0.5;
    private const double WidestLeavesSquareMetres = 0.5, MostSpread = 12;
    private static readonly LocalTime WateredAt = new(8, 0);

    /// <summary>Null when nothing in the bed drinks, when it stands on a windowsill, or when the weather is not known.</summary>
    public static BedWater? Of(Season season, Bed bed)
    {
        if (bed.Over == Overhead.Windowsill)
            return null;
        BedWater? first = null;
        foreach (var sowing in season.Sowings.Where(sowing => DrinksIn(sowing, bed, season.Today)))
            if (For(season, bed, sowing) is { } water && !(first?.Left <= water.Left))
                first = water;
        return first;
    }

    /// <summary>Share of the easily had water that is still there.</summary>
    private double Left => 1 - Advice.DeficitMm / Zone.EasilyHadMm;

    /// <summary>In the whole bed, litres; null when its size is not known.</summary>
    public double? Litres => SurfaceSquareMetres is { } area ? Advice.GiveMm * area : null;

    private static bool DrinksIn(Sowing sowing, Bed bed, LocalDate today) =>
        sowing.Planting.BedId == bed.Id && sowing.StandsInItsBed(today) && sowing.Stage is not (Stage.Finished or Stage.KeptForSeed)
        || sowing.Planting.StartBedId == bed.Id && sowing.StandsInItsStartBed;

    private static BedWater? For(Season season, Bed bed, Sowing sowing)
    {
        var crop = sowing.Planting.Crop;
        var since = sowing.SetOutOn ?? sowing.Begun?.Start ?? sowing.SownOn;
        var (coefficient, grown) = Age(crop.Water, since is { } date ? Math.Max(0, Period.DaysBetween(date, season.Today)) : null);
        double spread = 1;
        RootZone zone;
        double? area = bed.AreaSquareMetres;
        if (bed.ContainerLitres is { } litres)
        {
            area = Container.SurfaceOf(litres);
            double leaves = Math.Min(WidestLeavesSquareMetres, Math.Pow(crop.SpacingMetres ?? UsualRootsMetres, 2)) * grown;
            spread = Math.Clamp(leaves / area.Value, 1, MostSpread);
            zone = Container.RootZone(litres);
        }
        else
        {
            var soil = Agronomy.Water.SoilTexture.Named(bed.Soil is { } said ? PlanSummary.Words(said.ToString()) : UsualSoil)!;
            double full = crop.Water?.RootsFromMetres ?? UsualRootsMetres, young = Math.Min(CropWater.FirstRootsMetres, full);
            zone = RootZone.In(soil, young + (full - young) * grown, crop.Water?.Depletion ?? UsualShare);
        }

        var series = season.Weather.BedOf(bed).Weather.Series;
        bool roofed = bed.Over != Overhead.Open;
        double rainShare = roofed ? 0 : spread > 1 ? RainUnderLeaves : 1;
        double[] rain = [.. series[WeatherVariable.Rain]], use = [.. series[WeatherVariable.ReferenceEvapotranspiration]];
        if (use.Length == 0 || rain.Length == 0)
            return null;
        for (int hour = 0; hour < rain.Length; hour++)
            (rain[hour], use[hour]) = (roofed ? 0 : rain[hour] * rainShare, use[hour] * coefficient * spread);
        foreach (var watered in WateredOn(season, bed, sowing))
        {
            int hour = series.FirstAtOrAfter(season.Weather.Calendar.At(watered, WateredAt));
            // Filled to field capacity: what is too much drains away.
            if (hour >= 0 && hour < rain.Length)
                rain[hour] = zone.TotalMm + (double.IsNaN(rain[hour]) ? 0 : rain[hour]);
        }
        int now = series.LastAtOrBefore(season.AsOf);
        double deficit = now >= 0 && now < rain.Length ? SoilWaterCourse.Depletion(zone, rain.AsSpan(0, now + 1), use.AsSpan(0, now + 1))[now] : double.NaN;
        if (double.IsNaN(deficit))
            return null;
        var runs = season.Weather.PlaceInRuns.Select(run => Daily(run.Weather.Series[WeatherVariable.Rain], now, rainShare)).OfType<double[]>().ToList();
        var forecast = Daily(series[WeatherVariable.Rain], now, rainShare);
        if (Daily(use, now, 1) is not { } ahead)
            return null;
        var advice = WateringDecision.For(zone, deficit, ahead, roofed ? [] : runs.Count > 0 ? runs : forecast is null ? [] : [forecast]);
        return new(bed, sowing, zone, advice, area);
    }

    /// <summary>Crop coefficient and share of full growth some days after it began; in full growth when nobody knows since when.</summary>
    private static (double Coefficient, double Grown) Age(WaterNeed? need, int? days)
    {
        if (need is not { KcFull: { } full })
            return (1, 1);
        if (days is not { } passed || need is not { KcFirst: { } first, KcLast: { } last, StageDays: [var initial, var growth, var middle, var late] })
            return (full, 1);
        var curve = new CoefficientCurve(new(initial, growth, middle, late), first, full, last);
        return (curve.At(passed), curve.Grown(passed));
    }

    /// <summary>By the record; what is set out is watered in.</summary>
    private static IEnumerable<LocalDate> WateredOn(Season season, Bed bed, Sowing sowing) =>
        season.Journal.Done(bed.Id, JobKind.Water).Select(done => done.Date)
            .Concat(season.Plan.Chores.Where(chore => chore.Kind == JobKind.Water && chore.BedId == bed.Id)
                .SelectMany(chore => season.Journal.Done(chore.Id, JobKind.Water).Select(done => done.Date)))
            .Concat(sowing.SetOutOn is { } setOut && sowing.Planting.BedId == bed.Id ? [setOut] : []);

    private static double[]? Daily(ReadOnlySpan<double> hours, int now, double share)
    {
        int days = Math.Min(DaysAhead, (hours.Length - now - 1) / 24);
        if (days < 1)
            return null;
        double[] totals = new double[days];
        for (int hour = 0; hour < days * 24; hour++)
            totals[hour / 24] += hours[now + 1 + hour] * share;
        return totals;
    }
}

/// <summary>Watering by the balance: once for a bed, only when no rain that is sure enough comes first.</summary>
internal static class WaterJobs
{
    private const int Minutes = 10;
    // A shower that is worth saying why it was none for a pot.
    private const double ShowerMm = 1;

    public static IEnumerable<Wanted> Of(Season season)
    {
        foreach (var bed in season.Plan.Beds)
        {
            int time = 1 + season.Journal.TimesClosed(bed.Id, JobKind.Water, before: season.Today);
            if (season.Journal.DoneOn(bed.Id, JobKind.Water, time) is not null || season.Journal.Skipped(bed.Id, JobKind.Water, time)
                || season.Journal.LastSkipped(bed.Id, JobKind.Water) >= season.Today.PlusDays(-1))
                continue;
            var id = new JobId(season.Plan.GardenId, bed.Id, JobKind.Water, time);
            if (BedWater.Of(season, bed) is not { Advice.Watering: Watering.Now } water || Unanswered.IsQuiet(season, id))
                continue;
            var speech = season.Weather.Speech;
            yield return new Wanted
            {
                Id = id,
                Name = speech.Say($"Water the {bed.Name}"),
                Bed = bed,
                Sowing = water.Thirstiest,
                Conditions = Conditions.ConditionSet.Always,
                Numbers = ImmutableDictionary<string, Quantities.Quantity>.Empty,
                Minutes = Minutes,
                How = speech.Say("Slowly, at the roots, early in the day; a finger in the soil knows better than any reckoning."),
                Because = [.. Reasons(season, bed, water)],
                PutOffUntil = season.Journal.PutOffUntil(bed.Id, JobKind.Water, time),
            };
        }
    }

    private static IEnumerable<Reason> Reasons(Season season, Bed bed, BedWater water)
    {
        var speech = season.Weather.Speech;
        var values = ImmutableDictionary<string, double>.Empty.Add("deficit", water.Advice.DeficitMm).Add("easily had", water.Zone.EasilyHadMm);
        string plants = speech.Word(water.Thirstiest.Planting.Crop.Plants);
        string lack = speech.Water(water.Advice.DeficitMm), easy = speech.Water(water.Zone.EasilyHadMm);
        yield return new("water-deficit", values, water.Advice.DeficitMm > water.Zone.EasilyHadMm
            ? speech.Say($"It lacks {lack} of water, and the {plants} go short from {easy} on.")
            : speech.Say($"It lacks {lack} of water; the {plants} go short from {easy} on, by tomorrow."));
        if (bed.ContainerLitres is not null && season.Weather.RainMm(season.AsOf - Duration.FromDays(2), season.AsOf) is { } rain and >= ShowerMm)
            yield return new("rain-missed", values.Add("rain", rain), speech.Say($"Of the {speech.Water(rain)} of rain in two days the leaves kept much off the pot."));
        string amount = water.Litres is { } litres
            ? speech.Volume(litres)
            : speech.Units == Quantities.UnitSystem.Us
                ? speech.Say($"{speech.Volume(water.Advice.GiveMm * 9.290304)} for each 100 square feet")
                : speech.Say($"{speech.Volume(water.Advice.GiveMm)} for each square metre");
        yield return new("water-to-give", values.Add("give", water.Advice.GiveMm), water.Advice.GiveMm < water.Advice.DeficitMm
            ? speech.Say($"Give it about {amount}; what rain is sure enough is taken off.")
            : speech.Say($"Give it about {amount}; no rain that is sure enough comes first."));
    }
}

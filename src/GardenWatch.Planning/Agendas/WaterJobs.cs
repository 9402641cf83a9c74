using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Watering by the balance: one job a bed, only when no rain that is sure enough comes first. A bed that has enough says nothing.</summary>
internal static class WaterJobs
{
    // A shower that is worth saying why it was none for a pot.
    private const double ShowerMm = 1;
    // Rain in so few runs is not worth naming.
    private const double WorthNamingShare = 0.1;
    // A garden hose; a can from the butt is no faster. Common practice.
    private const double LitresAMinute = 12;
    // A day that gets no warmer dries no bed so fast that its unknown water is news. Common practice.
    private const double NothingDrinksBelowC = 15;
    private const int MostMinutes = 60, WayThereMinutes = 5;

    public static IEnumerable<Wanted> Of(Season season)
    {
        // Nobody comes in all the days looked at.
        if (Presence.Slots(season.Plan, season.Weather.Calendar, season.Today, BedWater.DaysAhead + 1).IsEmpty)
            yield break;
        foreach (var bed in season.Plan.Beds)
        {
            // A windowsill is watered as one passes by; the weather does not tell when.
            if (bed.Over == Overhead.Windowsill)
                continue;
            var water = season.Water.Of(bed);
            if (water is not { Advice.Watering: Watering.Now, Record: { IsAnswered: false, Time: var time } })
                continue;
            yield return new Wanted
            {
                Id = new JobId(season.Plan.GardenId, bed.Id, JobKind.Water, time),
                Name = season.Weather.Speech.Say($"Water the {bed.Name}"),
                Bed = bed,
                Conditions = Conditions.ConditionSet.Always,
                Numbers = JobNumbers.InForce(JobNumbers.OfWatering(season.Plan)),
                Minutes = MinutesFor(water),
                How = How(season.Weather.Speech, water),
                Because = [.. Reasons(season, bed, water)],
                Deciding = water.GiveMm,
                AvoidsMidday = true,
                PutOffUntil = season.Journal.PutOffUntil(bed.Id, JobKind.Water, time),
            };
        }
    }

    /// <summary>How dry a bed is and what that means for it, sentence by sentence.</summary>
    public static IEnumerable<string> Grounds(Season season, Bed bed)
    {
        var water = season.Water.Of(bed);
        var speech = season.Weather.Speech;
        if (water is { Advice.Watering: Watering.Now, Record.IsAnswered: false })
            return Reasons(season, bed, water).Select(reason => reason.Text);
        if (water.IsUnknown)
            return ["How dry it is can't be told: rain or water use of some hours is not known."];
        if (water is not { Thirstiest.Sowing.Planting.Crop.Plants: var plants, DeficitMm: { } deficit })
            return ["Nothing drinks there now."];
        string stands = $"It lacks {speech.Water(deficit)} of water; from {speech.Water(water.Draw.Zone.EasilyHadMm)} on that is too much for {plants}.";
        return water.Record.IsAnswered ? [stands, "It was answered today."]
            : water.Advice is { Watering: Watering.WaitForRain } ? [stands, "Rain that is sure enough comes first."]
            : [stands];
    }

    /// <summary>Beds of which it is not known how dry they are, named once.</summary>
    public static IEnumerable<string> Unknown(Season season)
    {
        // An old forecast is told of elsewhere, and a service that never gives the use of water is not complained of every morning.
        if (season.Weather.News.State != WeatherState.Fresh || !season.Weather.Hours(WeatherVariable.ReferenceEvapotranspiration).ContainsAnyInRange(0, double.MaxValue))
            yield break;
        // In the cold nothing goes thirsty, and the garden may rest.
        if (season.Weather.Place.Highest(BedMeasure.Air, season.Weather.Calendar.DayOf(season.Today)) is not (>= NothingDrinksBelowC))
            yield break;
        string beds = string.Join(", ", season.Plan.Beds.Where(bed => bed.Over != Overhead.Windowsill && season.Water.Of(bed).IsUnknown).Select(bed => bed.Name));
        if (beds.Length > 0)
            yield return season.Weather.Speech.Say($"How dry it is can't be told of: {beds}. Rain or water use of some hours is not known; a finger in the soil tells.");
    }

    private static int MinutesFor(BedWater water) =>
        (int)Math.Min(MostMinutes, WayThereMinutes * Math.Ceiling((WayThereMinutes + (water.Litres ?? 0) / LitresAMinute) / WayThereMinutes));

    private static string How(Speech speech, BedWater water) => water switch
    {
        { Bed.ContainerLitres: not null, DriesInADay: true } => speech.Say("Morning and evening, until it runs out below; small ones out of the afternoon sun."),
        { Bed.ContainerLitres: not null } => speech.Say("Until it runs out below; lift it to know whether it is dry."),
        { Age: DrinkerAge.Seed } => speech.Say("With a fine rose, little and often, until the row shows: the drill must not dry."),
        { Age: DrinkerAge.New } => speech.Say("At the stem, little and often for the first ten days; a plant limp in the morning comes first."),
        { Goes: > 1 and var goes } => speech.Say($"Slowly, at the roots, in {speech.Counted(goes, "portion")} an hour apart, so that the soil takes it in; a finger in it knows better than any reckoning."),
        _ => speech.Say("Slowly, at the roots, early in the day; a finger in the soil knows better than any reckoning."),
    };

    private static IEnumerable<Reason> Reasons(Season season, Bed bed, BedWater water)
    {
        var speech = season.Weather.Speech;
        var none = ImmutableDictionary<string, double>.Empty;
        var advice = water.Advice!.Value;
        var zone = water.Draw.Zone;
        var deficit = none.Add("deficitMm", advice.DeficitMm).Add("easilyHadMm", zone.EasilyHadMm);
        string plants = speech.Word(water.Thirstiest!.Sowing.Planting.Crop.Plants);
        string lack = speech.Water(advice.DeficitMm), easy = speech.Water(zone.EasilyHadMm);
        if (season.Weather.News.State != WeatherState.Fresh)
            yield return new(Reason.StaleWeather, none, speech.Say("By an old forecast: feel the soil first."));
        yield return new("water-deficit", deficit,
            advice.DeficitMm > zone.EasilyHadMm ? speech.Say($"It lacks {lack} of water; from {easy} on that is too much for {plants}.")
            : water.HeatAheadC is { } heat ? speech.Say($"It lacks {lack} of water, and {speech.Temperature(heat)} is on the way: it should go into the heat full.")
            : advice.DaysUntilStress <= 1 ? speech.Say($"It lacks {lack} of water; by tomorrow it is over {easy}, too much for {plants}.")
            : speech.Say($"It lacks {lack} of water; before you are there again it is over {easy}, too much for {plants}."));
        if (bed.ContainerLitres is not null && bed.Over == Overhead.Open && season.Weather.RainMm(season.AsOf - Duration.FromDays(2), season.AsOf) is { } rain and >= ShowerMm)
            yield return new("rain-missed", none.Add("rainMm", rain), speech.Say($"Of the {speech.Water(rain)} of rain in two days the leaves kept much off the pot."));
        if (advice.RainShare >= WorthNamingShare && season.Weather.HasRuns)
            yield return new("rain-not-sure", none.Add("share", advice.RainShare),
                speech.Say($"Rain enough in time: {speech.Chance(advice.RainShare)} by the forecast runs; {speech.Chance(1 - DecisionRule.OfWatering(season.Plan).LeastShare)} is asked to wait for it."));
        var give = none.Add("giveMm", water.GiveMm);
        string amount = Amount(speech, water);
        yield return new(Reason.WaterToGive, water.Litres is { } litres ? give.Add("litres", litres) : give, water.GiveMm < advice.DeficitMm
            ? speech.Say($"Give it about {amount}; what rain is sure enough is taken off.")
            : speech.Say($"Give it about {amount}."));
        if (Assumed(season, bed, water) is { } assumed)
            yield return new("assumed", none, assumed);
    }

    private static string Amount(Speech speech, BedWater water) =>
        water.Litres is { } litres ? speech.WaterToGive(litres) : speech.WaterToGiveOn(water.GiveMm);

    /// <summary>What nobody told, and the reckoning takes for granted.</summary>
    private static string? Assumed(Season season, Bed bed, BedWater water)
    {
        var speech = season.Weather.Speech;
        var calendar = season.Weather.Calendar;
        string? watered = water.Record.Given.LastOrDefault() is { IsAssumed: true, At: var at } ? speech.Say($"Taken as watered on {speech.Day(calendar.DateOf(at))}, as advised") : null;
        string? begun = water.RestsOnItsBeginning
            ? speech.Say($"taken as full on {speech.Day(calendar.DateOf(season.Weather.Place.Weather.Series.Start))}, where the record of the weather begins") : null;
        // Once is enough to say what can be mended in the plan.
        bool isSaid = season.LastSaid.Jobs.Keys.Any(said => JobId.TryParse(said, out var id) && id.Value.Kind == JobKind.Water && id.Value.SubjectId == bed.Id && id.Value.Time < water.Record.Time);
        string? soil = bed.Soil is null && bed.ContainerLitres is null && !isSaid ? speech.Say("taken as loam, as the plan names no soil") : null;
        string all = string.Join("; ", new[] { watered, begun, soil }.OfType<string>());
        return all.Length == 0 ? null : char.ToUpperInvariant(all[0]) + all[1..] + ".";
    }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>One night for one sowing.</summary>
/// <param name="LimitC">From this leaf temperature down its plants are at risk.</param>
/// <param name="Leaf">The lowest of the leaves, in the open; null when not known.</param>
/// <param name="Unknown">It can't be judged.</param>
/// <param name="Kept">Milder than the limit by less than forecasts waver, and advised before.</param>
/// <param name="Share">Of the runs; null without them.</param>
internal readonly record struct NightLook(
    LocalDate Date, Interval Night, double LimitC, (double Celsius, Instant At)? Leaf, bool Unknown, bool Kept, double? Share, bool Threatens);

/// <summary>What is said of a cold night: how cold, why, and what a cover is worth in it.</summary>
internal sealed class FrostWords(GardenWeather weather, WeatherNews news, LocalDate today)
{
    /// <summary>An old forecast has drifted by about this much at two days' lead; so much is taken off its lows.</summary>
    public static readonly Quantity StaleMargin = new(2, Dimension.TemperatureDifference);
    // Covers keep in what the soil gives; a wind of about 4 m/s through the night takes it away. FAO 10, vol. 1, ch. 6.
    private const double WindyNightMetresPerSecond = 4;
    // Who reads of such a low thinks of frost, though the leaves stay warmer than the limit.
    private const double SoundsColdK = 1.5;

    private Speech Speech => weather.Speech;

    /// <summary>
    /// What is said of a night whose air sounds cold for plants that no cover is asked for: under cloud and wind their leaves stay
    /// about as warm. Null for other nights, and where the forecast is old.
    /// </summary>
    public string? NoNeed(Wanted wanted)
    {
        if (news.State != WeatherState.Fresh || wanted.Stays)
            return null;
        var night = weather.Calendar.NightOf(today);
        var bed = weather.BedOf(wanted);
        double limit = wanted.Numbers["leaf"].Value;
        if (bed.Lowest(BedMeasure.Air, night.Start, night.End) is not (var air, _) || air > limit + SoundsColdK
            || bed.Lowest(BedMeasure.Leaf, night.Start, night.End) is not (var leaf, _))
            return null;
        return Speech.Say($"{Speech.Temperature(air)} tonight, but {NightWords(night)} keeps leaves about as warm ({Speech.Temperature(leaf)}): the {Speech.Word(wanted.Sowing!.Planting.Crop.Plants)} can do without a cover; lay it where that is easy.");
    }

    public Reason FrostReason(Wanted wanted, NightLook look, BedHours bed)
    {
        var speech = weather.Speech;
        var leaf = look.Leaf!.Value;
        string when = weather.Calendar.DateOf(leaf.At) is var date && date.PlusDays(-1) <= today
            ? speech.Say($"about {speech.Hour(leaf.At)}")
            : speech.Say($"about {speech.Hour(leaf.At)} on {speech.DayFrom(today, date)}");
        var air = weather.Place.Lowest(BedMeasure.Air, look.Night.Start, look.Night.End);
        double taken = air is { } screen ? screen.Celsius - leaf.Celsius : 0;
        string made = air is { } a
            ? taken >= 0.5
                ? speech.Say($" (air {speech.Temperature(a.Celsius)}, less {speech.Difference(taken)} for {NightWords(look.Night)}{PocketWords(wanted.Bed)})")
                : speech.Say($" (air {speech.Temperature(a.Celsius)}, {NightWords(look.Night)})")
            : "";
        string risk = leaf.Celsius <= 0
            ? speech.Say("frost on the leaves is likely")
            : speech.Say($"{speech.Word(wanted.Sowing!.Planting.Crop.Plants)} are at risk from {speech.Temperature(look.LimitC)} down");
        return new(
            "frost",
            Values(("leafLowC", leaf.Celsius), ("airLowC", air?.Celsius ?? double.NaN), ("limitC", look.LimitC)),
            speech.Say($"Leaves near {speech.Temperature(leaf.Celsius)} {when}{made}: {risk}."));
    }

    private string NightWords(Interval night)
    {
        string sky = weather.MeanCloud(night.Start, night.End) switch
        {
            null => "",
            < 35 => Speech.Say("clear"),
            < 75 => Speech.Say("partly clouded"),
            _ => Speech.Say("clouded"),
        };
        string air = weather.MeanWind(night.Start, night.End) switch
        {
            null => "",
            < 2.5 => Speech.Say("calm"),
            < WindyNightMetresPerSecond => Speech.Say("light wind"),
            _ => Speech.Say("windy"),
        };
        string both = string.Join(", ", new[] { sky, air }.Where(word => word.Length > 0));
        return both.Length == 0 ? Speech.Say("the night") : Speech.Say($"a {both} night");
    }

    private string PocketWords(Bed? bed) => bed?.FrostPocket.Kelvins > 0 ? Speech.Say(" in a low place") : "";

    /// <summary>What the gardener's cover is worth tonight, by <see cref="Covers"/>.</summary>
    public (Reason Reason, bool Doubtful)? Covering(Wanted wanted, NightLook look)
    {
        if (wanted.Bed is not { } bed || wanted.Stays)
            return null;
        var speech = weather.Speech;
        FrostCover? at = KindOf(bed.Cover);
        double wind = weather.MeanWind(look.Night.Start, look.Night.End) ?? double.NaN;
        if (wind > 0 && Covers.Worth(at ?? FrostCover.LightFleece, wind) == 0)
            return (new("wind-takes-cover", Values(), Bears(wanted)
                ? speech.Say("With this wind a cover does little: pick what is ripe, water the soil, weigh every edge.")
                : speech.Say("With this wind a cover does little: water the soil, lay it double, weigh every edge.")), true);
        if (at is not { } cover)
            return null;
        double single = Covers.Worth(cover, wind), doubled = Covers.Worth(cover, wind, layers: 2);
        string word = cover switch
        {
            FrostCover.LightFleece => speech.Say("Light fleece"),
            FrostCover.MediumFleece => speech.Say("Fleece"),
            FrostCover.HeavyFleece => speech.Say("Heavy fleece"),
            FrostCover.Sheet => speech.Say("A sheet"),
            FrostCover.Cloche => speech.Say("A cloche"),
            _ => speech.Say("A frame"),
        };
        string worth = speech.Say($"{word} gives about {speech.Difference(single)}");
        // What is colder still takes the plants that are not moved or picked.
        double leaf = look.Leaf?.Celsius ?? look.LimitC;
        bool enough = leaf + single >= look.LimitC, enoughDoubled = doubled > single && leaf + doubled >= 0, bears = Bears(wanted);
        string advice =
            enough ? ""
            : enoughDoubled ? speech.Say(": use two layers")
            : doubled > single
            ? bears ? speech.Say(", too little even in two layers: lay both, straw or blankets on top, pick what is ripe first, bring in what can be lifted")
                : speech.Say(", too little even in two layers: lay both, straw or blankets on top, bring in what can be lifted")
            : bears ? speech.Say(", too little by itself: lay fleece as well, pick what is ripe first, bring in what can be lifted")
            : speech.Say(", too little by itself: lay fleece as well, bring in what can be lifted");
        return (new("cover-worth", Values(("worthK", single)), $"{worth}{advice}."), !enough && !enoughDoubled);
    }

    public static FrostCover? KindOf(CoverAtHand? cover) => cover switch
    {
        CoverAtHand.LightFleece => FrostCover.LightFleece,
        CoverAtHand.MediumFleece => FrostCover.MediumFleece,
        CoverAtHand.HeavyFleece => FrostCover.HeavyFleece,
        CoverAtHand.Sheet => FrostCover.Sheet,
        CoverAtHand.Cloche => FrostCover.Cloche,
        CoverAtHand.Frame => FrostCover.Frame,
        _ => null,
    };

    public static bool Bears(Wanted wanted) => wanted.Sowing is { Stage: Stage.Bearing } or { BearingSince: not null };

    public string StaleSentence(bool unknown) => news.State == WeatherState.Missing
        ? Speech.Say("There is no forecast to go by: cover if the evening is clear and still.")
        : unknown ? Speech.Say($"The forecast is {Speech.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old.")
        : Speech.Say($"The forecast is {Speech.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old, so {Speech.Difference(StaleMargin.Value)} of doubt is taken off its low.");

    public static ImmutableDictionary<string, double> Values(params ReadOnlySpan<(string Name, double Value)> values)
    {
        var all = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var (name, value) in values)
            if (!double.IsNaN(value))
                all[name] = value;
        return all.ToImmutable();
    }
}

using System.Collections.Immutable;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What the season has to say for a job, beside the weather.</summary>
internal static class SeasonReasons
{
    private static readonly ImmutableDictionary<string, double> NoValues = ImmutableDictionary<string, double>.Empty;

    /// <summary>That it is the last batch, why, and when it will be ready.</summary>
    public static IEnumerable<Reason> Last(Sowing sowing)
    {
        if (sowing is not { IsLast: true, Because: { } because })
            yield break;
        string ready = sowing.BearingLikely is { } bearing ? $"ready about {Speech.Dates(bearing.Start, bearing.End)}, and " : "";
        yield return new("last-batch", NoValues, $"The last one here: {ready}{because}.");
    }

    public static Reason CountedBack(DateInterval start, DateInterval setOut, Planting planting)
    {
        string weeks = planting.Crop.WeeksIndoors is var (least, most) ? least == most ? $"{least} weeks" : $"{least} to {most} weeks" : "some weeks";
        return new("counted-back", NoValues,
            $"Start them {Speech.Dates(start.Start, start.End)}: their bed is likely fit {Speech.Dates(setOut.Start, setOut.End)}, and they take {weeks}.");
    }

    public static IEnumerable<Reason> Bought(Season season, Sowing sowing)
    {
        if (sowing.Stage == Stage.Planned && season.IsTooLateToRaise(sowing.Planting))
            yield return new("too-late-to-raise", NoValues, "Too late to raise them from seed: buy young plants.");
    }

    public static IEnumerable<Reason> Unhardened(Hardening? hardening)
    {
        if (hardening is { IsDone: false, IsUnrecorded: true })
            yield return new("hardening-unknown", NoValues, "No days outdoors are recorded: set out only plants that had a week of them.");
    }
}

/// <summary>What to do where a bed is not free in time for what follows.</summary>
internal static class RelayAdvice
{
    // A bed that comes free so long after its follower could use it is worth a thought. Common practice.
    private const int WaitsInVainDays = 14;

    public static IEnumerable<Reason> Of(Season season, Sowing sowing)
    {
        var planting = sowing.Planting;
        if (sowing.Stage.IsOver() || season.Taken(planting) is not { } taken || taken.Free is not { } free)
            yield break;
        var window = season.WindowOf(planting, Season.TakesTheBed(planting), planting.FirstSeen ?? season.Today);
        if (!season.MustWait(planting, taken))
        {
            yield return new("take-out-first", ImmutableDictionary<string, double>.Empty,
                $"The {taken.By.Crop.Plants} should be about over ({Speech.Dates(free.Start, free.End)}): take them out first.");
            yield break;
        }
        string until = $"The {taken.By.Crop.Plants} are likely off the bed {Speech.Dates(free.Start, free.End)}";
        if (window.Closes is { } closes && closes < Sowing.Middle(free) && closes >= season.Today)
            yield return new("relay-clash", ImmutableDictionary<string, double>.Empty,
                $"{until}, and this wants it by {Speech.Date(closes)}: take the {taken.By.Crop.Plants} out early, begin it in pots, or give it another bed.");
        else if (window.Opens is { } opens && opens.End.PlusDays(WaitsInVainDays) < free.Start && opens.End >= season.Today)
            yield return new("relay-late", ImmutableDictionary<string, double>.Empty,
                $"{until}, later than this could go in ({Speech.Dates(opens.Start, opens.End)}): {(sowing.IsSetOut ? "start it so much later, or pot it up" : "begin it in pots, or sow it so much later")}.");
    }
}

/// <summary>The hardening programme in words: how long, where, and whether the night, too.</summary>
internal static class HardeningWords
{
    // Shade first, then half a day's sun (common practice).
    private const int ShadeDays = 3, HalfSunDays = 6;

    public static string Name(string name, Hardening hardening) =>
        hardening.IsBegun ? $"{name}, day {hardening.Day}" : name;

    public static Reason Progress(Hardening hardening) => new(
        "hardening", ImmutableDictionary<string, double>.Empty.Add("day", hardening.Day).Add("fewest", hardening.Fewest),
        hardening.IsBegun
            ? $"Day {hardening.Day} of {Speech.Counted(hardening.Fewest, "day")} outdoors; a day missed costs nothing."
            : $"They want {Speech.Counted(hardening.Fewest, "day")} or more of it before they are set out.");

    public static string StillToHarden(Planting planting, Hardening hardening) => hardening.IsBegun
        ? $"hardened {hardening.Day - 1} of {Speech.Counted(hardening.Fewest, "day")}"
        : $"the {planting.Crop.Plants} have not been outdoors yet: {Speech.Counted(hardening.Fewest, "day")} of hardening off first";

    public static string How(Season season, Crops.CropProfile crop, Hardening hardening)
    {
        var speech = season.Weather.Speech;
        string where = hardening.Day <= ShadeDays ? "in the shade, out of the wind" : hardening.Day <= HalfSunDays ? "in half a day's sun, out of the wind" : "where they will stand";
        string hours = hardening.Hours is { } h ? $"About {Speech.Counted(Math.Round(h * 2) / 2, "hour")} outdoors" : "The whole day outdoors";
        return $"{hours}, {where}; {Night(season, crop, hardening, speech)}. Water less, but never let them wilt.";
    }

    private static string Night(Season season, Crops.CropProfile crop, Hardening hardening, Speech speech)
    {
        if (!hardening.NightsToo)
            return "in again before evening";
        var night = season.Weather.Calendar.NightOf(season.Today);
        double least = Hardening.LeastLowC(crop);
        return season.Weather.Place.Lowest(BedMeasure.Air, night.Start, night.End) is not (var low, _) ? "in again for the night, since its cold is not known"
            : low >= least ? $"they may stay out tonight (lowest {speech.Of(low, least, Dimension.Temperature)} needed)"
            : $"in again for the night (lowest {speech.Of(low, least, Dimension.Temperature)} needed)";
    }
}

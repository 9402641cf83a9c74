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
    public static IEnumerable<Reason> Last(Sowing sowing, Speech speech)
    {
        if (sowing is not { IsLast: true, Because: { } because })
            yield break;
        yield return new("last-batch", NoValues, sowing.BearingLikely is { } bearing
            ? speech.Say($"The last one here: ready about {speech.Dates(bearing.Start, bearing.End)}, and {because}.")
            : speech.Say($"The last one here: {because}."));
    }

    /// <summary>That its seed is old, and what to do about it.</summary>
    public static IEnumerable<Reason> OfSeed(Season season, Sowing sowing)
    {
        if (sowing.Planting.Origin != Origin.Bought && SeedAge.Of(sowing.Planting, season.Today.Year)?.Why(season.Weather.Speech) is { } why)
            yield return why;
    }

    public static Reason CountedBack(DateInterval start, DateInterval setOut, Planting planting, Speech speech)
    {
        var (least, most) = planting.Crop.WeeksIndoors ?? (0, 0);
        string weeks = least == most ? speech.Counted(least, "week") : speech.Say($"{least} to {most} weeks");
        return new("counted-back", NoValues, speech.Say(
            $"Start them {speech.Dates(start.Start, start.End)}: their bed is likely fit {speech.Dates(setOut.Start, setOut.End)}, and they take {weeks}."));
    }

    public static IEnumerable<Reason> Bought(Season season, Sowing sowing)
    {
        if (sowing.Stage == Stage.Planned && season.IsTooLateToRaise(sowing.Planting))
            yield return new("too-late-to-raise", NoValues, season.Weather.Speech.Say("Too late to raise them from seed: buy young plants."));
    }

    public static IEnumerable<Reason> Unhardened(Hardening? hardening, Speech speech)
    {
        if (hardening is { IsDone: false, IsUnrecorded: true })
            yield return new("hardening-unknown", NoValues, speech.Say("No days outdoors are recorded: set out only plants that had a week of them."));
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
        var speech = season.Weather.Speech;
        var window = season.WindowOf(planting, Season.TakesTheBed(planting), planting.FirstSeen ?? season.Today);
        string before = speech.Word(taken.By.Crop.Plants);
        string off = speech.Dates(free.Start, free.End);
        if (!season.MustWait(planting, taken))
        {
            yield return new("take-out-first", ImmutableDictionary<string, double>.Empty,
                speech.Say($"The {before} should be about over ({off}): take them out first."));
            yield break;
        }
        if (window.Closes is { } closes && closes < Sowing.Middle(free) && closes >= season.Today)
            yield return new("relay-clash", ImmutableDictionary<string, double>.Empty, speech.Say(
                $"The {before} are likely off the bed {off}, and this wants it by {speech.Date(closes)}: take the {before} out early, begin it in pots, or give it another bed."));
        else if (window.Opens is { } opens && opens.End.PlusDays(WaitsInVainDays) < free.Start && opens.End >= season.Today)
        {
            string could = speech.Dates(opens.Start, opens.End);
            yield return new("relay-late", ImmutableDictionary<string, double>.Empty, sowing.IsSetOut
                ? speech.Say($"The {before} are likely off the bed {off}, later than this could go in ({could}): start it so much later, or pot it up.")
                : speech.Say($"The {before} are likely off the bed {off}, later than this could go in ({could}): begin it in pots, or sow it so much later."));
        }
    }
}

/// <summary>The hardening programme in words: how long, where, and whether the night, too.</summary>
internal static class HardeningWords
{
    // Shade first, then half a day's sun (common practice).
    private const int ShadeDays = 3, HalfSunDays = 6;

    public static string Name(string name, Hardening hardening, Speech speech) =>
        hardening.IsBegun ? speech.Say($"{name}, day {hardening.Day}") : name;

    public static Reason Progress(Hardening hardening, Speech speech) => new(
        "hardening", ImmutableDictionary<string, double>.Empty.Add("day", hardening.Day).Add("fewest", hardening.Fewest),
        hardening.IsBegun
            ? speech.Say($"Day {hardening.Day} of {speech.Counted(hardening.Fewest, "day")} outdoors; a day missed costs nothing.")
            : speech.Say($"They want {speech.Counted(hardening.Fewest, "day")} or more of it before they are set out."));

    public static string StillToHarden(Planting planting, Hardening hardening, Speech speech) => hardening.IsBegun
        ? speech.Say($"hardened {hardening.Day - 1} of {speech.Counted(hardening.Fewest, "day")}")
        : speech.Say($"the {speech.Word(planting.Crop.Plants)} have not been outdoors yet: {speech.Counted(hardening.Fewest, "day")} of hardening off first");

    public static string How(Season season, Crops.CropProfile crop, Hardening hardening)
    {
        var speech = season.Weather.Speech;
        string where = hardening.Day <= ShadeDays ? speech.Say("in the shade, out of the wind")
            : hardening.Day <= HalfSunDays ? speech.Say("in half a day's sun, out of the wind")
            : speech.Say("where they will stand");
        string night = Night(season, crop, hardening, speech);
        return hardening.Hours is { } hours
            ? speech.Say($"About {speech.Counted(Math.Round(hours * 2) / 2, "hour")} outdoors, {where}; {night}. Water less, but never let them wilt.")
            : speech.Say($"The whole day outdoors, {where}; {night}. Water less, but never let them wilt.");
    }

    private static string Night(Season season, Crops.CropProfile crop, Hardening hardening, Speech speech)
    {
        if (!hardening.NightsToo)
            return speech.Say("in again before evening");
        var night = season.Weather.Calendar.NightOf(season.Today);
        double least = Hardening.LeastLowC(crop);
        if (season.Weather.Place.Lowest(BedMeasure.Air, night.Start, night.End) is not (var low, _))
            return speech.Say("in again for the night, since its cold is not known");
        string lowest = speech.Of(low, least, Dimension.Temperature);
        return low >= least ? speech.Say($"they may stay out tonight (lowest {lowest} needed)") : speech.Say($"in again for the night (lowest {lowest} needed)");
    }
}

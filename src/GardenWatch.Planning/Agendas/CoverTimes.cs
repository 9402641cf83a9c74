using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>By when a cover must be on, and when it comes off again.</summary>
internal sealed class CoverTimes(Plan plan, GardenWeather weather, Instant asOf)
{
    /// <summary>On a day that stays under this a cover may lie on till the next night. Common practice (CSU GardenNotes 722).</summary>
    public const double CoolDayHighC = 16;
    /// <summary>On a day that gets this warm it must come off, or be open at the sides. Common practice.</summary>
    public const double TooHotUnderCoverC = 22;
    /// <summary>Taking it off after this hour to lay it again at dusk is work for nothing.</summary>
    public static readonly LocalTime TooLateToUncover = new(14, 0);
    // Off when the air has come this far over freezing and the sun is up. Common practice (CSU GardenNotes 722).
    public const double UncoverAirC = 4;
    // Under fleece in the sun it soon is too hot; above this high nobody should leave it on till evening. Common practice.
    private const double TooWarmToStayOnC = 18;

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);

    private Speech Speech => weather.Speech;

    /// <summary>Of the days after one night and until another; null when they are one night.</summary>
    public double? HighBetween(BedHours bed, LocalDate first, LocalDate last)
    {
        double? highest = null;
        for (var date = first.PlusDays(1); date <= last; date = date.PlusDays(1))
            if (bed.Highest(BedMeasure.Air, weather.Calendar.DayOf(date)) is { } high && !(highest >= high))
                highest = high;
        return highest;
    }

    /// <summary>
    /// The end of the gardener's last slot before the sun is off the bed; else the last before the leaves reach the limit.
    /// With no slot left, the hour itself and what to do instead.
    /// </summary>
    public (Instant At, string? Instead) ActBy(NightLook look, Instant? limitReached)
    {
        var hardLimit = limitReached ?? look.Night.Start + Duration.FromHours(3);
        var slots = Presence.Slots(plan, weather.Calendar, look.Date, 1);
        var (today, dusk) = (slots.Where(slot => slot.Until > asOf).ToList(), look.Night.Start);
        var evening = today.Where(slot => slot.From < dusk).Select(slot => Instant.Min(slot.Until, dusk)).ToList();
        // A morning slot is no time to lay a cover that must not be on all day; afternoon and evening ones are.
        var noon = weather.Calendar.At(look.Date, new LocalTime(14, 0));
        if (evening.Where(at => at > noon && at > asOf).ToList() is { Count: > 0 } before)
            return (before.Max(), null);
        var late = today.Where(slot => slot.From < hardLimit).Select(slot => Instant.Min(slot.Until, hardLimit)).Where(at => at > noon).ToList();
        if (late.Count > 0)
            return (late.Max(), null);
        if (today.Where(slot => slot.From < hardLimit).ToList() is { Count: > 0 } morning)
            return (morning[^1].Until, today.FirstOrDefault(slot => slot.From >= hardLimit) is { Until: var until, From: var back } && until > back
                ? Speech.Say($"It is too cold for them before you are back at {Speech.Hour(back)}: lay it in your last free hour, open at the sides if the day is warm.")
                : Speech.Say("You are not there in the evening: lay it in your last free hour, open at the sides if the day is warm."));
        return (Instant.Min(dusk, hardLimit) > asOf ? Instant.Min(dusk, hardLimit) : hardLimit,
            Speech.Say("None of your hours is left before it: ask somebody near, or water the soil and bring in what can be lifted."));
    }

    public Instant? WarmAt(BedHours bed, Instant from, Instant until)
    {
        for (var hour = from; hour <= until; hour += Duration.FromHours(1))
            if (weather.IsSunUp(hour) && bed.At(BedMeasure.Air, hour) is { } air && air >= UncoverAirC)
                return Whole(hour);
        return null;
    }

    public (Instant At, string Sentence)? UndoAt(Instant warm, BedHours bed)
    {
        var speech = weather.Speech;
        var date = weather.Calendar.DateOf(warm);
        string day = speech.DayFrom(_today, date);
        var slots = Presence.Slots(plan, weather.Calendar, date, 1);
        double? high = bed.Highest(BedMeasure.Air, weather.Calendar.DayOf(date));
        var first = slots.Where(slot => slot.Until > warm).Select(slot => Instant.Max(slot.From, warm)).Cast<Instant?>().FirstOrDefault();
        if (first is { } there && there - warm <= Duration.FromHours(3))
            return (there, speech.Say($"Off again {day} after {speech.Hour(there)}."));
        if (high is > TooWarmToStayOnC)
        {
            var early = slots.Where(slot => slot.From < warm && slot.Until > warm - Duration.FromHours(4)).Select(slot => slot.Until).Cast<Instant?>().FirstOrDefault();
            return early is { } leave
                ? (leave, speech.Say($"{day[..1].ToUpperInvariant() + day[1..]} turns warm ({speech.Temperature(high.Value)}): open the sides before you leave at {speech.Hour(leave)}."))
                : (warm, speech.Say($"Off again {day} after {speech.Hour(warm)}; it turns warm under there ({speech.Temperature(high.Value)} outside)."));
        }
        return first is { } evening
            ? (evening, speech.Say($"Off {day} after {speech.Hour(warm)}; on a cool day, when you are back at {speech.Hour(evening)}."))
            : (warm, speech.Say($"Off again {day} after {speech.Hour(warm)}."));
    }

    private static Instant Whole(Instant instant) =>
        Instant.FromUnixTimeSeconds((long)Math.Ceiling(instant.ToUnixTimeSeconds() / 1800.0) * 1800);
}

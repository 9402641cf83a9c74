using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>The days ahead in words: a line a day, and a few words for the subject.</summary>
internal sealed class WeatherWords(Words words)
{
    /// <summary>Less than this does not reach the soil under leaves and mulch.</summary>
    private const double DryBelowMm = 0.5;
    private const double ShowerBelowMm = 2;
    /// <summary>Of what falls; the rest is rain, and melts most of it.</summary>
    private const double MostlySnow = 0.8, SomeSnow = 0.2;
    /// <summary>Runs off a bare bed and beats seedlings down.</summary>
    private const double HeavyMmPerHour = 7.6;
    private const double LikelyChance = 0.5;
    private const double WorthNamingChance = 0.2;
    private const double NearFrostC = 1;
    /// <summary>A near gale: lifts fleece and breaks stems.</summary>
    private const double StrongGustMetresPerSecond = 14;
    private const double HotC = 32;

    private Speech Speech => words.Speech;

    /// <summary>"Tue 21 | 58 °F, night 35 °F | Dry; frost 7 in 10".</summary>
    public WeekDay Day(DayAhead day) => new(
        Words.Joined(Speech.Tongue.ShortDay(day.Date)),
        (day.HighC, day.LowC) switch
        {
            (double high, double low) => Speech.Say($"{Speech.Temperature(high)}, night\u00A0{Speech.Temperature(low)}"),
            (double high, null) => Speech.Temperature(high),
            (null, double low) => Speech.Say($"night\u00A0{Speech.Temperature(low)}"),
            _ => Speech.Say("not known"),
        },
        Sky(day));

    /// <summary>"Rain 0.3 in, 6 am to 6 pm, 8 in 10; frost 7 in 10 (leaves near 31 °F)".</summary>
    public string Sky(DayAhead day)
    {
        var parts = new List<string> { Rain(day) };
        if (day.GustMetresPerSecond >= StrongGustMetresPerSecond)
            parts.Add(Speech.Say($"gusts to {Speech.Speed(day.GustMetresPerSecond.Value)}"));
        if (day.HighC >= HotC)
            parts.Add(Speech.Say("hot"));
        if (HasFrost(day))
            parts.Add(WithLeaf(day.FrostChance is { } chance ? Speech.Say($"frost {words.Odds(chance)}") : Speech.Say("frost likely"), day));
        return Words.FirstUpper(string.Join("; ", parts));
    }

    /// <summary>"frost tonight", "rain until about 6 pm", "rain on Thursday", "dry all week"; null when nothing is known.</summary>
    /// <param name="frostIsSaid">The job that heads the message is against the frost, so the rest of the week is news.</param>
    public string? InBrief(IReadOnlyList<DayAhead> week, bool frostIsSaid)
    {
        if (!frostIsSaid && week.Take(3).FirstOrDefault(HasFrost) is { } frost)
            return Speech.Say($"frost {words.Night(frost.Date)}");
        if (week.Take(2).FirstOrDefault(day => day.HighC >= HotC) is { } hot)
            return Speech.Say($"{Speech.Temperature(hot.HighC!.Value)} {words.On(hot.Date)}");
        if (week.FirstOrDefault(IsWet) is { } wet)
            return (wet.Date == words.Today ? wet.RainSpell : null) is not { HasStart: true, HasEnd: true } spell ? IsSnow(wet) ? Speech.Say($"snow {words.On(wet.Date)}") : Speech.Say($"rain {words.On(wet.Date)}")
                : words.IsToCome(spell.Start) ? IsSnow(wet) ? Speech.Say($"snow from {Speech.Hour(spell.Start)}") : Speech.Say($"rain from {Speech.Hour(spell.Start)}")
                : DateOf(spell.End) > words.Today ? IsSnow(wet) ? Speech.Say("snow all day") : Speech.Say("rain all day")
                : IsSnow(wet) ? Speech.Say($"snow until about {Speech.Hour(spell.End)}") : Speech.Say($"rain until about {Speech.Hour(spell.End)}");
        if (week.Count == 0 || week.All(day => day.RainMm is null))
            return null;
        int known = week.TakeWhile(IsDry).Count();
        return known switch
        {
            >= 7 => Speech.Say("dry all week"),
            > 1 => Speech.Say($"dry through {Speech.DayFrom(words.Today, week[known - 1].Date)}"),
            1 => Speech.Say("dry today"),
            _ => week[0].RainMm is not null && !MayBeWet(week[0]) ? Speech.Say("a shower today") : null,
        };
    }

    /// <summary>For a quiet morning: today in a sentence, and a frost that is coming.</summary>
    /// <param name="frostIsSaid">Tonight's frost heads the message: it is named, and its numbers stand with the job.</param>
    public string? Sentence(IReadOnlyList<DayAhead> week, bool frostIsSaid)
    {
        if (week.Count == 0 || week[0].Date != words.Today)
            return null;
        string sky = Sky(frostIsSaid ? week[0] with { LowC = null, LeafLowC = null, FrostChance = null } : week[0]);
        string today = Words.Sentence(frostIsSaid && HasFrost(week[0]) ? Speech.Say($"Frost tonight; {words.FirstLower(sky)}") : sky);
        var frost = week.Skip(1).FirstOrDefault(HasFrost);
        return frost is null ? today : $"{today} {Words.Sentence(Frost(frost, Speech.Say($"{words.On(frost.Date)} night")))}";
    }

    public static bool HasFrost(DayAhead day) =>
        day.FrostChance is { } chance ? chance >= WorthNamingChance : day.LeafLowC <= 0 || day.LowC <= 0;

    public static bool IsHot(DayAhead day) => day.HighC >= HotC;

    /// <summary>"frost tomorrow night, 7 in 10 (leaves near 31 °F)".</summary>
    private string Frost(DayAhead day, string when) =>
        WithLeaf(day.FrostChance is { } chance ? Speech.Say($"frost {when}, {words.Odds(chance)}") : Speech.Say($"frost {when} is likely"), day);

    // The one forecast may be mild where some of its runs freeze: its figure would only contradict them.
    private string WithLeaf(string frost, DayAhead day) => day.LeafLowC is { } leaf && leaf <= NearFrostC ? Speech.Say($"{frost} (leaves near {Speech.Temperature(leaf)})") : frost;

    private static bool IsSnow(DayAhead day) => day.SnowShare >= MostlySnow;

    // Where the runs tell, most of them must rain; their fellow that is shown may be a dry one.
    private static bool IsWet(DayAhead day) => day.RainChance is { } chance ? chance >= LikelyChance : day.RainMm >= ShowerBelowMm;

    private static bool MayBeWet(DayAhead day) => day.RainMm >= ShowerBelowMm || day.RainChance >= WorthNamingChance;

    private static bool IsDry(DayAhead day) => day.RainMm < DryBelowMm && !(day.RainChance >= WorthNamingChance);

    private string Rain(DayAhead day)
    {
        if (day.RainMm is not { } mm)
            return day.RainChance is { } alone && alone >= WorthNamingChance ? Speech.Say($"rain, {words.Odds(alone)}") : Speech.Say("rain not known");
        if (IsDry(day))
            return Speech.Say("dry");
        string rain = IsSnow(day) && mm >= DryBelowMm ? Speech.Say($"snow {Speech.Length(DayAhead.SnowDepthMetres(mm))}")
            : day.SnowShare >= SomeSnow && mm >= DryBelowMm ? Speech.Say($"rain and snow {Speech.Water(mm)}")
            : mm >= ShowerBelowMm ? Speech.Say($"rain {Speech.Water(mm)}")
            : mm >= DryBelowMm ? Speech.Say("a shower")
            : day.RainChance >= LikelyChance ? Speech.Say("some rain")
            : Speech.Say("perhaps a shower");
        if (day.RainSpell is { HasStart: true, HasEnd: true } spell && mm >= DryBelowMm)
            rain += ", " + Spell(spell, day.Date);
        if (day.RainPeakMmPerHour >= HeavyMmPerHour)
            rain += Speech.Say($", heavy at times ({Speech.RainRate(day.RainPeakMmPerHour.Value)})");
        return day.RainChance is { } chance ? $"{rain}, {words.Odds(chance)}" : rain;
    }

    /// <summary>Cut to the day it is told of; the next line tells the next.</summary>
    private string Spell(Interval spell, LocalDate date)
    {
        bool before = DateOf(spell.Start) < date, after = DateOf(spell.End) > date;
        return (before, after) switch
        {
            (true, true) => Speech.Say("all day"),
            (true, false) => Speech.Say($"until {Speech.Hour(spell.End)}"),
            (false, true) => Speech.Say($"from {Speech.Hour(spell.Start)}"),
            _ => Speech.Hours(spell.Start, spell.End),
        };
    }

    private LocalDate DateOf(Instant instant) => instant.InZone(Speech.Zone).Date;
}

using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// After a frost: blossom that may have been struck is looked at when it shows, two days later, tender leaves at the next noon. What autumn's frost
/// killed is cleared some days on. Nobody is sent up a ladder.
/// </summary>
internal static class FrostLooks
{
    // Struck pistils turn brown within a day or two. Common practice.
    private const int ShowsAfterDays = 2, LooksForDays = 3;

    // What a frost took is plain after three days; slugs nest in it after a fortnight. A shorter frost may leave the plant alive. Common practice.
    private const int KilledShowsAfterDays = 3, KilledIsClearedWithinDays = 14, KillsInHours = 2;

    /// <summary>Why one looks at leaves that were too cold last night; null when they were not, or lay under a cover.</summary>
    public static Reason? OfLeaves(Season season, Sowing sowing)
    {
        var (speech, yesterday) = (season.Weather.Speech, season.Today.PlusDays(-1));
        var crop = sowing.Planting.Crop;
        if (crop.Hardiness == Hardiness.Hardy || HoursOfFrost(season, sowing, yesterday, crop.LeafLimit.Celsius) is not (> 0, var low))
            return null;
        return new("frost-on-leaves", ImmutableDictionary<string, double>.Empty.Add("leafLowC", low), speech.Say(
            $"Near {speech.Temperature(low)} at the leaves last night. Look at noon and cut nothing for three days: only what is black and soft by then is lost."));
    }

    /// <summary>From when on what autumn's frost killed is cleared; null when none did, or it was too long ago.</summary>
    public static LocalDate? KilledOn(Season season, Sowing sowing) => KillingNight(season, sowing)?.Night.PlusDays(KilledShowsAfterDays);

    /// <summary>Why it is cleared.</summary>
    public static Reason? Killed(Season season, Sowing sowing)
    {
        if (KillingNight(season, sowing) is not var (night, low))
            return null;
        var speech = season.Weather.Speech;
        return new("killed-by-frost", ImmutableDictionary<string, double>.Empty.Add("leafLowC", low), speech.Say(
            $"Near {speech.Temperature(low)} at the leaves in the night of {speech.Day(night)}: black and slimy tops go before slugs nest in them. If it lives, answer later."));
    }

    /// <summary>The first night of the past days whose frost kills a tender crop that stands in the open; null while days lengthen, for then it may be replaced.</summary>
    private static (LocalDate Night, double LowC)? KillingNight(Season season, Sowing sowing)
    {
        var crop = sowing.Planting.Crop;
        if (crop.Hardiness is not (Hardiness.Tender or Hardiness.VeryTender) || crop.Habit?.Form == GrowthForm.Root || !YearJobs.DaysShorten(season)
            || sowing.Stage is not (Stage.SetOut or Stage.Up or Stage.Growing or Stage.Bearing or Stage.Finished))
            return null;
        double limit = crop.CriticalLows.TryGetValue(FrostStage.Leaves, out var leaves) ? leaves.Celsius : crop.LeafLimit.Celsius;
        for (int ago = KilledIsClearedWithinDays; ago >= KilledShowsAfterDays; ago--)
            if (season.Today.PlusDays(-ago) is var night && HoursOfFrost(season, sowing, night, limit) is (>= KillsInHours, var low))
                return (night, low);
        return null;
    }

    /// <summary>For how many hours of a night the leaves were at a temperature or colder, and the coldest of them; null indoors and under a cover.</summary>
    private static (int Hours, double LowC)? HoursOfFrost(Season season, Sowing sowing, LocalDate night, double celsius)
    {
        var bed = season.Plan.BedOf(sowing.Planting.BedId);
        if (bed.Over != Overhead.Open || sowing.StandsInItsStartBed || IsCovered(season, sowing.Planting, night))
            return null;
        var hours = season.Weather.BedOf(bed);
        var dark = season.Weather.Calendar.NightOf(night);
        if (hours.Lowest(BedMeasure.Leaf, dark.Start, dark.End) is not var (low, _))
            return null;
        int cold = 0;
        for (var at = dark.Start; at <= dark.End; at += Duration.FromHours(1))
            cold += hours.At(BedMeasure.Leaf, at) <= celsius ? 1 : 0;
        return (cold, low);
    }

    private const int CoverLiesDays = 3;

    private static bool IsCovered(Season season, Planting planting, LocalDate night) => season.Journal.Done(planting.Id, JobKind.Cover)
        .Any(cover => cover.Date <= night && cover.Date > night.PlusDays(-CoverLiesDays));

    /// <summary>Why one looks at the blossom of a tree or bush; null when it had no frost, or is not in flower.</summary>
    public static Reason? Of(Season season, Sowing sowing)
    {
        var crop = sowing.Planting.Crop;
        if (crop.Habit?.Form != GrowthForm.Woody || !Flowering.IsNow(season, sowing) || !crop.CriticalLows.TryGetValue(FrostStage.Flowers, out var struck))
            return null;
        var (speech, calendar) = (season.Weather.Speech, season.Weather.Calendar);
        var hours = season.Weather.BedOf(season.Plan.BedOf(sowing.Planting.BedId));
        for (int ago = ShowsAfterDays; ago < ShowsAfterDays + LooksForDays; ago++)
            if (calendar.NightOf(season.Today.PlusDays(-ago)) is var night && hours.Lowest(BedMeasure.Leaf, night.Start, night.End) is var (low, _) && low <= struck.Celsius)
                return new("frost-in-blossom", ImmutableDictionary<string, double>.Empty.Add("leafLowC", low), speech.Say(
                    $"Near {speech.Temperature(low)} at the blossom in the night of {speech.Day(season.Today.PlusDays(-ago))}; from {speech.Temperature(struck.Celsius)} down some is lost. Cut a few flowers within reach: brown inside are the struck ones, and a part of them is enough for a crop."));
        return null;
    }
}

/// <summary>Whether a planting is in flower: as the gardener noted it, else, of trees and bushes, by the season.</summary>
internal static class Flowering
{
    // Trees and bushes of these climates flower within some weeks; a note of before that was of last year. Common practice.
    private const int Days = 35;
    // From the days on which buds open to those on which fruit has set, by the length of the lengthening day. Common practice.
    private const double FromHours = 12.5, UntilHours = 15.5;

    private static readonly ImmutableArray<string> Words = ["flower", "bloom", "blossom", "blüh", "blüte"];
    private static readonly ImmutableArray<string> Denials = ["no ", "not ", "kein", "nicht", "over", "vorbei", "verblüht"];

    /// <summary>When the gardener first noted it this year; null when not.</summary>
    public static LocalDate? Noted(Season season, Planting planting)
    {
        LocalDate? first = null;
        foreach (var entry in season.Journal.Entries)
            if (entry.Kind == Journals.EntryKind.Note && entry.SubjectId == planting.Id && entry.Text is { } text && entry.Date > season.Today.PlusDays(-Days)
                && Words.Any(word => text.Contains(word, StringComparison.OrdinalIgnoreCase)) && !Denials.Any(word => text.Contains(word, StringComparison.OrdinalIgnoreCase)))
                first = first is { } known && known < entry.Date ? known : entry.Date;
        return first;
    }

    public static bool IsNow(Season season, Sowing sowing)
    {
        if (Noted(season, sowing.Planting) is not null)
            return true;
        var calendar = season.Weather.Calendar;
        double today = Hours(0);
        return sowing.Planting.Crop.Habit?.Form == GrowthForm.Woody && today >= FromHours && today <= UntilHours && Hours(1) > today;

        double Hours(int day) => Agronomy.Light.Sun.Course(calendar.Place, season.Today.PlusDays(day), calendar.Zone).DayLength.TotalHours;
    }
}

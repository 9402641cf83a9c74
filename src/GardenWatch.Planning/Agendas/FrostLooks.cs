using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Agendas;

/// <summary>After a frost: blossom that may have been struck is looked at when it shows, two days later. Nobody is sent up a ladder.</summary>
internal static class FrostLooks
{
    // Struck pistils turn brown within a day or two. Common practice.
    private const int ShowsAfterDays = 2, LooksForDays = 3;

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
    public static NodaTime.LocalDate? Noted(Season season, Planting planting)
    {
        NodaTime.LocalDate? first = null;
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

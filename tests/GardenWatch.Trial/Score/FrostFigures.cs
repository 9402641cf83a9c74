using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Play;
using NodaTime;

namespace GardenWatch.Trial.Score;

/// <summary>Announced frosts as a table, beside the plain rule that a gardener with a forecast would use.</summary>
internal static class FrostFigures
{
    /// <summary>Readings come in tenths: this is below 0.</summary>
    private const double BelowZeroC = -0.05;
    private static readonly double[] PlainRulesC = [0, 1, 2, 3, 4, 5, 6, 8];
    private static readonly AnnualDate First = new(4, 15), Midsummer = new(7, 15);

    public static FrostScore OfAdvice(AdvisedSeason season, ObservedWeather observed, bool levelOnly = false, Func<LocalDate, bool>? only = null) =>
        Of(season, observed, day => Told(season, day, levelOnly), levelOnly, only);

    public static FrostScore OfPlainRule(AdvisedSeason season, ObservedWeather observed, double airC) =>
        Of(season, observed, day => day.AirLowC.Morning <= airC || day.AirLowC.Evening <= airC, levelOnly: false, only: null);

    public static string Table(IReadOnlyCollection<AdvisedSeason> seasons, ObservedWeather observed)
    {
        var text = new StringBuilder();
        text.AppendLine("| what announces | nights | frosts | announced | missed | in vain | of these, ground 0 to 2 °C | 2 to 4 | 4 to 6 | over 6 |");
        text.AppendLine("|---|---|---|---|---|---|---|---|---|---|");
        Row(text, "agenda, all tender plantings", seasons.Select(season => OfAdvice(season, observed)));
        Row(text, "· 15 April to 15 July", seasons.Select(season => OfAdvice(season, observed, only: date => !IsLate(date))));
        Row(text, "· 16 July to 31 October", seasons.Select(season => OfAdvice(season, observed, only: IsLate)));
        Row(text, "agenda, tender plantings on level ground", seasons.Select(season => OfAdvice(season, observed, levelOnly: true)));
        foreach (double air in PlainRulesC)
            Row(text, string.Create(CultureInfo.InvariantCulture, $"forecast air low at most {air} °C"), seasons.Select(season => OfPlainRule(season, observed, air)));
        return text.ToString();
    }

    /// <summary>What evenings added.</summary>
    public static string Evenings(IReadOnlyCollection<AdvisedSeason> seasons, ObservedWeather observed)
    {
        var days = seasons.SelectMany(season => season.Days.Select(day => (season, day))).ToList();
        var scored = days.Where(pair => InSeason(pair.day.Date)).ToList();
        var warned = scored.Where(pair => pair.day.Warned).ToList();
        int fresh = warned.Count(pair => pair.day.CoveredByMorning.IsEmpty);
        int froze = warned.Count(pair => observed.GroundLow.TryGetValue(pair.day.Date, out double low) && low <= BelowZeroC);
        int onlyEvening = scored.Count(pair => Froze(pair.day, observed) && !pair.day.TenderOut.IsEmpty && pair.day.CoveredByMorning.IsEmpty && !pair.day.CoveredByEvening.IsEmpty);
        return $"""
            - Evenings with a warning, 15 April to 31 October: {warned.Count} in {seasons.Count} seasons; on {fresh} of them the morning had asked for no cover at all. {froze} of these nights froze at 10 cm. Frosts over tender plants that only the evening announced: {onlyEvening}.
            """;
    }

    /// <summary>Each missed frost, the worst first.</summary>
    public static string Missed(IReadOnlyCollection<AdvisedSeason> seasons, ObservedWeather observed)
    {
        var text = new StringBuilder("| night | ground low | air low that came | air low forecast at 6, at 17 o'clock | out |\n|---|---|---|---|---|\n");
        var missed = seasons.SelectMany(season => OfAdvice(season, observed).Missed.Select(night => (season, night))).OrderBy(pair => pair.night.GroundLowC);
        foreach (var (season, night) in missed)
        {
            var day = season.Days.First(day => day.Date == night.Night);
            text.AppendLine(CultureInfo.InvariantCulture,
                $"| {night.Night:d MMM uuuu} | {night.GroundLowC:0.0} | {NightsMet.AirLow(observed, night.Night):0.0} | {day.AirLowC.Morning:0.0}, {day.AirLowC.Evening:0.0} | {string.Join(", ", day.TenderOut.Order())} |");
        }
        return text.ToString();
    }

    private static FrostScore Of(
        AdvisedSeason season, ObservedWeather observed, Func<AdvisedDay, bool> announced, bool levelOnly, Func<LocalDate, bool>? only)
    {
        var days = season.Days.Where(day => InSeason(day.Date) && only?.Invoke(day.Date) != false).ToList();
        return FrostScore.Of(
            days.Where(day => announced(day)).Select(day => day.Date).ToHashSet(), observed.GroundLow,
            days.Where(day => levelOnly ? day.TenderOut.Overlaps(season.Level) : !day.TenderOut.IsEmpty).Select(day => day.Date).ToHashSet(), BelowZeroC);
    }

    private static bool Told(AdvisedSeason season, AdvisedDay day, bool levelOnly) =>
        day.CoveredByMorning.Union(day.CoveredByEvening).Intersect(day.TenderOut) is var told
        && (levelOnly ? told.Overlaps(season.Level) : !told.IsEmpty);

    private static bool Froze(AdvisedDay day, ObservedWeather observed) =>
        observed.GroundLow.TryGetValue(day.Date, out double low) && low <= BelowZeroC;

    private static bool InSeason(LocalDate date) => date >= First.InYear(date.Year) && date <= AdvisedSeason.Ends.InYear(date.Year);

    private static bool IsLate(LocalDate date) => date > Midsummer.InYear(date.Year);

    private static void Row(StringBuilder text, string name, IEnumerable<FrostScore> scores)
    {
        var all = scores.ToList();
        var vain = all.SelectMany(score => score.FalselyAnnounced).ToImmutableArray();
        int hit = all.Sum(score => score.Hit.Length), missed = all.Sum(score => score.Missed.Length);
        int Between(double from, double to) => vain.Count(night => night.GroundLowC >= from && night.GroundLowC < to);
        text.AppendLine(CultureInfo.InvariantCulture,
            $"| {name} | {hit + missed + vain.Length + all.Sum(score => score.Quiet)} | {hit + missed} | {hit} | {missed} | {vain.Length} | {Between(-1, 2)} | {Between(2, 4)} | {Between(4, 6)} | {Between(6, 99)} |");
    }
}

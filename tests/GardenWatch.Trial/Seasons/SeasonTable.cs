using System.Globalization;
using System.Text;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Trial.Score;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>What whole seasons came to, a row each.</summary>
internal static class SeasonTable
{
    private const double ColdNightC = 2, SownCm = 0.05;
    private const int SoilDays = 3, CoverLiesDays = 1;

    public static string Of(IEnumerable<string> names)
    {
        var text = new StringBuilder("""
            | season | digests | jobs raised, done | a week | batches ended: picked or cleared, missed, dropped | cold nights (air at most 2 °C) with tender plants out: all, cover asked | spreadings, of these with 6 to 15 mm in 24 h, watered in | batches that heat makes bolt: all, caught by it before their first picking | sowings, coldest soil met at 5 cm, mean of 3 days | waterings, lack met, mean |
            |---|---|---|---|---|---|---|---|---|---|

            """);
        foreach (string name in names)
            if (SeasonsPlayed.Of(name) is { } season)
                text.AppendLine(Row(season, [.. SeasonsPlayed.Played(name)!.Value]));
        return text.ToString();
    }

    private static string Row(SeasonToPlay season, PlayedMorning[] mornings)
    {
        var asked = mornings.SelectMany(morning => morning.Agenda.Jobs.Where(job => job.Standing == Standing.Now)).DistinctBy(job => job.Id).ToList();
        var done = mornings.SelectMany(morning => morning.Answered.Select(job => (morning.Date, Job: job))).ToList();
        int digests = mornings.Count(morning => morning.Digest is not null);
        double weeks = mornings.Length / 7.0;
        var ended = mornings.SelectMany(morning => morning.Agenda.Sowings).GroupBy(sowing => sowing.Id).Select(group => group.Last().Stage).ToList();
        var cold = mornings.Where(morning => AirLow(season, morning.Date) <= ColdNightC && IsTenderOut(morning)).ToList();
        int covered = cold.Count(night => mornings.Any(morning => morning.Date <= night.Date && morning.Date >= night.Date.PlusDays(-CoverLiesDays)
            && morning.Agenda.Jobs.Any(job => job is { Kind: JobKind.Cover, Standing: Standing.Now })));
        var spread = done.Where(deed => deed.Job.Kind == JobKind.Spread).ToList();
        var onRain = SpreadScore.Of(spread.Where(deed => deed.Job.Best is not null && deed.Job.Reasons.All(reason => reason.Code != "by-hand")).Select(deed => deed.Job.Best!.Value.From), season.Station.Weather, DeedFigures.OnRain);
        double[] soils = [.. done.Where(deed => deed.Job.Kind == JobKind.Sow).Select(deed => SoilMet(season, deed.Date))];
        double[] lacks = [.. done.SelectMany(deed => deed.Job.Reasons.Where(reason => reason.Code == "water-deficit").Select(reason => reason.Values["deficitMm"]))];
        var bolting = BatchesThatBolt(season, mornings);
        int Ended(params string[] stages) => ended.Count(stages.Contains);
        return string.Create(CultureInfo.InvariantCulture,
            $"| {season.Name} | {digests} | {asked.Count}, {done.Count} | {asked.Count / weeks:0.0} | {Ended("finished", "kept for seed")}, {Ended("missed")}, {Ended("dropped")} | {cold.Count}, {covered} | {spread.Count}, {onRain.Count(SpreadVerdict.Right)}, {spread.Count - onRain.Spreadings.Length} | {bolting.Count}, {bolting.Count(caught => caught)} | {soils.Length}, {Told(soils)} | {lacks.Length}, {(lacks.Length == 0 ? 0 : lacks.Average()):0} mm |");
    }

    /// <summary>
    /// Of each batch of a crop that runs to seed in heat, whether the heat came while it stood and had not been picked from. By the
    /// crop's own limit and the weather as it came; nobody records a stalk.
    /// </summary>
    private static List<bool> BatchesThatBolt(SeasonToPlay season, PlayedMorning[] mornings) =>
        [.. mornings
            .SelectMany(morning => morning.Agenda.Sowings.Select(sowing => (morning, sowing, LimitOf(morning, sowing))))
            .Where(each => each.Item3 is not null)
            .GroupBy(each => each.sowing.Id)
            .Where(batch => batch.Any(each => IsYoung(each.sowing.Stage)))
            .Select(batch => batch.Any(each => IsYoung(each.sowing.Stage) && IsHot(season, each.morning.Date, each.Item3!)))];

    private static bool IsYoung(string stage) => stage is "up" or "set out" or "growing";

    private static CropLimit? LimitOf(PlayedMorning morning, SowingOutlook sowing) =>
        morning.Plan.Plantings.FirstOrDefault(planting => sowing.Id.StartsWith(planting.Id + ".", StringComparison.Ordinal))?.Crop.Limits
            .FirstOrDefault(limit => limit is { Upset: Upset.Bolting, DaysAbove: not null });

    /// <summary>The limit's days, ending with this one, were all above it.</summary>
    private static bool IsHot(SeasonToPlay season, LocalDate date, CropLimit limit)
    {
        var (calendar, weather) = (season.Station.Calendar, season.Station.Weather);
        return Enumerable.Range(0, limit.ForDays ?? 1).All(ago => calendar.DayOf(date.PlusDays(-ago)) is var day
            && weather[WeatherVariable.Air][weather.FirstAtOrAfter(day.Start)..weather.FirstAtOrAfter(day.End)].ToArray().Max() > limit.DaysAbove!.Value.Celsius);
    }

    private static string Told(double[] soils) => soils.Length == 0 ? "–" : string.Create(CultureInfo.InvariantCulture, $"{soils.Min():0.0} °C");

    private static bool IsTenderOut(PlayedMorning morning) => morning.Agenda.Sowings.Any(sowing =>
        sowing.Stage is "set out" or "growing" or "bearing"
        && morning.Plan.Plantings.FirstOrDefault(planting => sowing.Id.StartsWith(planting.Id + ".", StringComparison.Ordinal))?.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender);

    /// <summary>Of the night that begins on a date, as it came.</summary>
    private static double AirLow(SeasonToPlay season, LocalDate date)
    {
        var (night, weather) = (season.Station.Calendar.NightOf(date), season.Station.Weather);
        return weather[WeatherVariable.Air][weather.FirstAtOrAfter(night.Start)..weather.FirstAtOrAfter(night.End)].ToArray().Min();
    }

    /// <summary>Of our own model over what came, for no station of these measured the bed.</summary>
    private static double SoilMet(SeasonToPlay season, LocalDate sown)
    {
        var weather = season.Station.Weather;
        double[] soil = Soils.GetOrAdd(season.Station.Name, _ => SoilTemperature.Hourly(weather, season.Station.Calendar.Place, SownCm, SoilSurface.TendedGround));
        int first = weather.FirstAtOrAfter(season.Station.Calendar.StartOf(sown));
        return soil[first..(first + 24 * SoilDays)].Average();
    }

    private static readonly System.Collections.Concurrent.ConcurrentDictionary<string, double[]> Soils = new();
}

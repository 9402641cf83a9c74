using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// Whether soil that is warm enough to sow into stays so while the seed comes up: by the forecast of the coming week, and beyond it by
/// what is usual at the date. A warm spell in winter opens a sowing, and the cold after it rots the seed.
/// </summary>
/// <remarks>
/// What is usual: the normal air of the coming weeks, and as much as the bed's soil was lately warmer than its air, so that film, glass
/// and sun count. Only in the rising part of the year: what is sown later has the warmest weeks behind it anyway.
/// </remarks>
internal static class LastingWarmth
{
    // Seed of what is sown cool lies one to three weeks. Common practice; crop profiles say how long.
    private const int ForecastDays = 7, UsualDays = 21;
    private const int FewestForecastDays = 3;
    // Three days together may be this much colder than asked, the week's mean not: seed bears a cold night, not a cold week.
    private const int ColdDays = 3;
    private const double ColdDaysBelow = 2;
    // Half the years are milder than normal, and seed that was asked for waits no longer than the gardener would.
    private const double UsualBelow = 1.5;
    // What was asked for yesterday is kept until the forecast is this much under the limit. Weeks' means of soil waver by about so much.
    private const double Flutter = 0.75;
    // Long enough to look past the coldest weeks from the middle of winter on.
    private const int RisingDays = 60;
    private const int GainDays = 14;
    private const double KnownShare = 0.9;
    private const int Day = 24;

    /// <summary>What is against sowing into soil that is warm now, or is within a week; null where nothing is, or nothing is known.</summary>
    public static Hindrance? Passing(Season season, Wanted wanted)
    {
        var weather = season.Weather;
        if (wanted.Bed is { IsIndoors: true } || weather.News.State != WeatherState.Fresh)
            return null;
        var scene = weather.SceneOf(wanted);
        bool told = season.LastSaid.Jobs.TryGetValue(wanted.Id.ToString(), out var said) && said.Standing == Standing.Now && said.LastOn >= season.Today.PlusDays(-1);
        foreach (var phrase in wanted.Conditions.When.OfType<Condition.Phrase>().Where(IsOfWarmSoil))
        {
            if (LimitOf(phrase, scene) is not { } needed || FirstWarm(season, phrase, scene) is not { } from)
                continue;
            double least = told ? needed - Flutter : needed;
            var soil = scene.Weather.Column(phrase.Of);
            int first = scene.Weather.Series.FirstAtOrAfter(from);
            if (ColdAhead(soil, first, least) is var (coldest, at))
                return new("lasting warmth", weather.Speech.Say(
                    $"the warmth does not last: soil about {weather.Speech.Temperature(coldest)} from {weather.Speech.DayFrom(season.Today, weather.Calendar.DateOf(scene.Weather.Series.StampOf(at)))}, {weather.Speech.Temperature(needed)} is asked while the seed comes up"),
                    null);
            if (EarlyInTheYear(season, scene.Weather, soil, least) is { } usual)
                return new("lasting warmth", weather.Speech.Say(
                    $"a warm spell before its time: in the coming weeks soil is usually about {weather.Speech.Temperature(usual.SoilC)} here, {weather.Speech.Temperature(needed)} is asked while the seed comes up"),
                    usual.Likely);
        }
        return null;
    }

    private static bool IsOfWarmSoil(Condition.Phrase phrase) =>
        phrase.Of.Measure == Measure.Soil && phrase.Window.Kind == WindowKind.PastDays && phrase.Comparison is Comparison.AtLeast or Comparison.Above or Comparison.Between;

    private static double? LimitOf(Condition.Phrase phrase, Scene scene) => (phrase.Limit.Name is { } name
        ? Evaluate.Numbers(phrase, scene.Numbers).First(number => number.Name == name).InForce
        : phrase.Limit.Default)?.Value;

    /// <summary>Now, or the first of the coming mornings on which the soil is as warm as the job asks.</summary>
    private static Instant? FirstWarm(Season season, Condition.Phrase phrase, Scene scene)
    {
        for (int day = 0; day <= ForecastDays; day++)
        {
            var at = day == 0 ? season.AsOf : season.Weather.Calendar.At(season.Today.PlusDays(day), new LocalTime(9, 0));
            if (Evaluate.Holds(phrase, at, scene) == Truth.Yes)
                return at;
        }
        return null;
    }

    /// <summary>The colder of the week's mean and its coldest three days, where that is too cold, and when it begins.</summary>
    private static (double Celsius, int Hour)? ColdAhead(WindowedColumn soil, int first, double least)
    {
        int last = Math.Min(soil.Hours, first + ForecastDays * Day) - 1;
        while (last >= first && double.IsNaN(soil[last]))
            last--;
        int hours = last - first + 1;
        if (hours < FewestForecastDays * Day || soil.Known(first, last) < KnownShare * hours)
            return null;
        (double Celsius, int Hour) coldest = (double.PositiveInfinity, first);
        for (int hour = first; hour + ColdDays * Day - 1 <= last; hour += Day / 4)
            if (soil.Mean(hour, hour + ColdDays * Day - 1) is var mean && mean < coldest.Celsius)
                coldest = (mean, hour);
        return coldest.Celsius < least - ColdDaysBelow || soil.Mean(first, last) < least ? coldest : null;
    }

    private static (double SoilC, DateInterval? Likely)? EarlyInTheYear(Season season, BedWeather bed, WindowedColumn soil, double least)
    {
        if (season.Weather.Climate is not { } climate || !(climate.AirOn(season.Today.PlusDays(RisingDays)).MeanC > climate.AirOn(season.Today).MeanC))
            return null;
        int now = bed.Series.LastAtOrBefore(season.AsOf), before = now - GainDays * Day + 1;
        var air = bed.Column(new(Measure.Air));
        if (before < 0 || soil.Known(before, now) < KnownShare * GainDays * Day || air.Known(before, now) < KnownShare * GainDays * Day)
            return null;
        double gain = soil.Mean(before, now) - air.Mean(before, now);
        double Usual(int day) => Enumerable.Range(day + ForecastDays, UsualDays - ForecastDays).Average(each => climate.AirOn(season.Today.PlusDays(each)).MeanC) + gain;
        if (Usual(0) >= least - UsualBelow)
            return null;
        for (int day = 1; day < 180; day++)
            if (Usual(day) >= least - UsualBelow)
                return (Usual(0), new(season.Today.PlusDays(day), season.Today.PlusDays(day + ForecastDays)));
        return (Usual(0), null);
    }
}

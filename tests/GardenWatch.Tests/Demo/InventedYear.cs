using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;

namespace GardenWatch.Tests.Demo;

/// <summary>The demo's year, made once for all tests, and the looks at it that they share.</summary>
internal static class InventedYear
{
    private static readonly Lazy<WeatherSeries> Made = new(() => InventedSeason.Between(
        NotableMornings.Seed, Instant.FromUtc(NotableMornings.Year - 1, 11, 1, 0, 0), Instant.FromUtc(NotableMornings.Year + 1, 1, 31, 0, 0)));

    public static WeatherSeries Invented => Made.Value;

    public static LocalCalendar Calendar { get; } =
        new(DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId], InventedSeason.Place);

    public static IEnumerable<LocalDate> Dates =>
        Enumerable.Range(0, 365).Select(new LocalDate(NotableMornings.Year, 1, 1).PlusDays);

    public static IEnumerable<LocalDate> DatesOf(int month) => Dates.Where(date => date.Month == month);

    public static double[] OfDay(WeatherVariable variable, LocalDate date) => Within(Invented, variable, Calendar.DayOf(date));

    public static double[] OfNight(WeatherVariable variable, LocalDate date) => Within(Invented, variable, Calendar.NightOf(date));

    public static double[] Within(WeatherSeries series, WeatherVariable variable, Interval interval)
    {
        int first = series.FirstAtOrAfter(interval.Start), last = series.FirstAtOrAfter(interval.End);
        return series[variable][first..last].ToArray();
    }

    public static double MeanOfMonth(WeatherVariable variable, int month) =>
        DatesOf(month).SelectMany(date => OfDay(variable, date)).Average();

    /// <summary>Half way between the two depths of the service.</summary>
    public static double SoilAt12Cm(LocalDate date) =>
        (OfDay(WeatherVariable.SoilAt6Cm, date).Average() + OfDay(WeatherVariable.SoilAt18Cm, date).Average()) / 2;
}

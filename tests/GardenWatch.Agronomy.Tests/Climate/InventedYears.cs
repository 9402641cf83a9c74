using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Climate;

/// <summary>Years of hours that follow a smooth course, warmer and colder by year.</summary>
internal static class InventedYears
{
    /// <param name="yearMean">°C; the swing of the year is 12 K, of the day 5 K, and each year is off by up to 2 K.</param>
    public static WeatherSeries Hours(
        int firstYear, int years, double yearMean, bool southern, Func<Instant, bool>? known = null, double yearSwing = 12)
    {
        var start = Instant.FromUtc(firstYear, 1, 1, 0, 0);
        int hours = (int)(Instant.FromUtc(firstYear + years, 1, 1, 0, 0) - start).TotalHours;
        var random = new Random(7);
        double[] offs = [.. Enumerable.Range(0, years + 1).Select(_ => random.NextDouble() * 4 - 2)];
        return TestSeries.Of(
            start, hours,
            (WeatherVariable.Air, Air),
            (WeatherVariable.DewPoint, hour => Air(hour) - 4),
            (WeatherVariable.Rain, hour => Known(hour) ? (hour % 72 == 0 ? 6 : 0) : double.NaN),
            (WeatherVariable.CloudCover, hour => Known(hour) ? 50 : double.NaN),
            (WeatherVariable.Wind, hour => Known(hour) ? 3 : double.NaN),
            (WeatherVariable.Radiation, hour => Known(hour) ? Math.Max(0, 500 * Math.Sin(2 * Math.PI * (hour - 6) / 24)) : double.NaN));

        bool Known(int hour) => known?.Invoke(start + Duration.FromHours(hour)) ?? true;

        double Air(int hour)
        {
            if (!Known(hour))
                return double.NaN;
            double year = hour / 8766.0;
            int whole = (int)year;
            double off = offs[whole] + (offs[Math.Min(whole + 1, years)] - offs[whole]) * (year - whole);
            return yearMean + off - yearSwing * Math.Cos(2 * Math.PI * (year - 0.05)) * (southern ? -1 : 1) + 5 * Math.Sin(2 * Math.PI * (hour - 9) / 24.0);
        }
    }

    public static LocalCalendar At(double latitude) =>
        new(DateTimeZone.Utc, new GeoPosition(latitude, 5, 20));

    public static ClimateSummary Summary(WeatherSeries hours, double latitude) =>
        ClimateSummary.Of(PastDays.Of(hours, At(latitude)), southern: latitude < 0);
}

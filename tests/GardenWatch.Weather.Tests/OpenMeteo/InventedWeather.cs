using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>Invented, smooth weather that any test can compute for itself.</summary>
internal static class InventedWeather
{
    public static double? At(Instant stamp, string variable)
    {
        double hours = stamp.ToUnixTimeSeconds() / 3600.0;
        double day = Math.Sin(2 * Math.PI * (hours - 9) / 24);
        double week = Math.Sin(2 * Math.PI * hours / 168);
        return variable switch
        {
            "temperature_2m" => Math.Round(11 + 7 * day + 4 * week, 1),
            "relative_humidity_2m" => Math.Round(70 - 20 * day),
            "dew_point_2m" => Math.Round(6 + 3 * week, 1),
            "precipitation" => week > 0.8 ? Math.Round(1.4 * week, 2) : 0,
            "snowfall" => 0,
            "cloud_cover" => Math.Round(50 + 50 * week),
            "wind_speed_10m" => Math.Round(3 + 2 * day, 2),
            "wind_gusts_10m" => Math.Round(7 + 4 * day, 2),
            "shortwave_radiation" => Math.Round(Math.Max(0, 610.4 * day), 1),
            "et0_fao_evapotranspiration" => Math.Round(Math.Max(0, 0.41 * day), 2),
            "weather_code" => week > 0.8 ? 61 : 3,
            "soil_temperature_6cm" => Math.Round(10.5 + 3 * day, 1),
            "soil_temperature_18cm" => Math.Round(10.2 + day, 1),
            _ => null,
        };
    }

    /// <summary>A stand-in's weather out of a series.</summary>
    public static Func<Instant, string, double?> Of(WeatherSeries series) => (stamp, name) =>
        ServiceVariable.Named(name) is { } variable && series.FirstAtOrAfter(stamp) is var hour && hour >= 0 && hour < series.Hours
            ? series[variable.Variable][hour]
            : null;
}

using System.Collections.Frozen;
using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>How the service names one of our variables, the unit asked for, and what the sky can give.</summary>
/// <param name="Low">Lowest value that can be true.</param>
/// <param name="High">Highest value that can be true.</param>
/// <param name="Slack">
/// Interpolation between model steps overshoots a little: a value this far outside is put back on the bound.
/// </param>
public sealed record ServiceVariable(
    WeatherVariable Variable, string Name, string Unit, double Low, double High, double Slack = 0)
{
    /// <summary>All that a pull asks for, in the order in which they are asked.</summary>
    /// <remarks>
    /// Bounds lie a little beyond the world's records (WMO weather and climate extremes archive: air -89.2 and 56.7 °C,
    /// gust 113 m/s, 305 mm of rain in 42 minutes), so that a true extreme is never thrown away.
    /// </remarks>
    public static ImmutableArray<ServiceVariable> All { get; } =
    [
        new(WeatherVariable.Air, "temperature_2m", "°C", -95, 65),
        new(WeatherVariable.RelativeHumidity, "relative_humidity_2m", "%", 0, 100, Slack: 5),
        new(WeatherVariable.DewPoint, "dew_point_2m", "°C", -110, 45),
        new(WeatherVariable.Rain, "precipitation", "mm", 0, 320, Slack: 0.1),
        new(WeatherVariable.Snowfall, "snowfall", "cm", 0, 100, Slack: 0.1),
        new(WeatherVariable.CloudCover, "cloud_cover", "%", 0, 100, Slack: 5),
        new(WeatherVariable.Wind, "wind_speed_10m", "m/s", 0, 120),
        new(WeatherVariable.Gust, "wind_gusts_10m", "m/s", 0, 150),
        new(WeatherVariable.Radiation, "shortwave_radiation", "W/m²", 0, 1500, Slack: 20),
        new(WeatherVariable.ReferenceEvapotranspiration, "et0_fao_evapotranspiration", "mm", 0, 3, Slack: 0.2),
        new(WeatherVariable.WeatherCode, "weather_code", "wmo code", 0, 99),
        new(WeatherVariable.SoilAt6Cm, "soil_temperature_6cm", "°C", -70, 80),
        new(WeatherVariable.SoilAt18Cm, "soil_temperature_18cm", "°C", -70, 70),
    ];

    private static readonly FrozenDictionary<string, ServiceVariable> ByName =
        All.ToFrozenDictionary(v => v.Name, StringComparer.Ordinal);

    private static readonly FrozenDictionary<WeatherVariable, ServiceVariable> ByVariable =
        All.ToFrozenDictionary(v => v.Variable);

    /// <summary>The value of the `hourly` parameter.</summary>
    public static string AskedFor { get; } = string.Join(',', All.Select(v => v.Name));

    public static ServiceVariable? Named(string name) => ByName.GetValueOrDefault(name);

    public static ServiceVariable Of(WeatherVariable variable) => ByVariable[variable];

    /// <summary>The value as it may be used; NaN when it can't be true.</summary>
    internal double Believed(double value) =>
        value >= Low - Slack && value <= High + Slack ? Math.Clamp(value, Low, High) : double.NaN;
}

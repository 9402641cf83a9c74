using NodaTime;

namespace GardenWatch.Acceptance.Trials;

/// <summary>Invented weather near 10 °E: the same every day, so that what a morning asks is known beforehand.</summary>
internal static class TrialWeather
{
    /// <summary>Days of 20 °C, nights of 10 °C, dry, soil of 15 °C.</summary>
    public static double? Mild(Instant at, string variable) => Of(at, variable, low: 10, high: 20);

    /// <summary>Clear, calm nights of -1 °C after days of 14 °C.</summary>
    public static double? Frosty(Instant at, string variable) => Of(at, variable, low: -1, high: 14);

    private static double? Of(Instant at, string variable, double low, double high)
    {
        int hour = (at.InUtc().Hour + 1) % 24;
        // Lowest at five in the morning by the sun, highest at three in the afternoon.
        double warmth = hour is >= 5 and <= 15
            ? (1 - Math.Cos(Math.PI * (hour - 5) / 10)) / 2
            : (1 + Math.Cos(Math.PI * ((hour + 24 - 15) % 24) / 14)) / 2;
        double air = low + ((high - low) * warmth);
        double sun = Math.Max(0, Math.Sin(Math.PI * (hour - 5) / 14));
        return variable switch
        {
            "temperature_2m" => air,
            "relative_humidity_2m" => 85 - (40 * warmth),
            "dew_point_2m" => low - 1,
            "wind_speed_10m" => 1,
            "wind_gusts_10m" => 2,
            "shortwave_radiation" => 700 * sun,
            "et0_fao_evapotranspiration" => 0.4 * sun,
            "soil_temperature_6cm" or "soil_temperature_18cm" => ((low + high) / 2) + warmth - 0.5,
            _ => 0,
        };
    }
}

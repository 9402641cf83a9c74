using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>Sunlight through cloud, and the water it takes; enough to keep invented columns consistent with each other.</summary>
public static class Sky
{
    private const int SamplesPerHour = 4;

    /// <summary>Radiation on the flat under a clear sky, W/m², mean of the hour that ends at a stamp.</summary>
    /// <remarks>Haurwitz 1945: 1098 sin h exp(-0.057 / sin h), sampled four times in the hour.</remarks>
    public static double ClearRadiation(Instant stamp, GeoPosition place)
    {
        double sum = 0;
        for (int i = 0; i < SamplesPerHour; i++)
        {
            var instant = stamp - Duration.FromMinutes(60 * (i + 0.5) / SamplesPerHour);
            double height = Math.Sin(Sun.AltitudeDegrees(instant, place) * Math.PI / 180);
            if (height > 0.01)
                sum += 1098 * height * Math.Exp(-0.057 / height);
        }
        return sum / SamplesPerHour;
    }

    /// <summary>Share of the clear sky's radiation that cloud lets through.</summary>
    /// <remarks>Kasten and Czeplak 1980: 1 - 0.75 n^3.4, n being the covered share of the sky.</remarks>
    public static double ThroughCloud(double cloudPercent) => 1 - 0.75 * Math.Pow(cloudPercent / 100, 3.4);

    /// <summary>Reference evapotranspiration of an hour, mm, from air and radiation alone.</summary>
    /// <remarks>
    /// Makkink 1957 in the form of de Bruin 1987: 0.65 s / (s + γ) Rs / λ, with λ = 2.45 MJ/kg and γ = 0.066 kPa/K. In
    /// a growing season within about a tenth of FAO-56, which is near enough for invented weather.
    /// </remarks>
    public static double Evapotranspiration(double airCelsius, double radiation)
    {
        double slope = 4098 * Moisture.SaturationKilopascals(airCelsius) / Math.Pow(airCelsius + 237.3, 2);
        return 0.65 * slope / (slope + 0.066) * radiation * 3600 / 2.45e6;
    }

    /// <summary>WMO code (table 4677) as weather services print it.</summary>
    public static int WeatherCode(double airCelsius, double rainMm, double cloudPercent, double humidityPercent, double wind, RainKind kind)
    {
        if (rainMm >= 0.1)
        {
            if (airCelsius < Moisture.SnowBelowCelsius)
                return rainMm < 1 ? 71 : rainMm < 3 ? 73 : 75;
            return kind switch
            {
                RainKind.Downpour => 95,
                RainKind.Shower => rainMm < 2.5 ? 80 : rainMm < 7.5 ? 81 : 82,
                _ => rainMm < 0.3 ? 51 : rainMm < 2.5 ? 61 : rainMm < 7.5 ? 63 : 65,
            };
        }
        if (humidityPercent >= 99 && wind < 1.5)
            return 45;
        return cloudPercent < 12 ? 0 : cloudPercent < 38 ? 1 : cloudPercent < 80 ? 2 : 3;
    }
}

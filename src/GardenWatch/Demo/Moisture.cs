namespace GardenWatch.Demo;

/// <summary>Water in the air and falling from it.</summary>
public static class Moisture
{
    /// <summary>Air at two metres in which what falls is counted as snow.</summary>
    public const double SnowBelowCelsius = 0.8;

    /// <remarks>FAO-56 (Allen et al. 1998) eq. 11.</remarks>
    public static double SaturationKilopascals(double celsius) => 0.6108 * Math.Exp(17.27 * celsius / (celsius + 237.3));

    /// <summary>0 to 100 %.</summary>
    public static double RelativeHumidity(double airCelsius, double dewPointCelsius) =>
        Math.Min(100, 100 * SaturationKilopascals(dewPointCelsius) / SaturationKilopascals(airCelsius));

    /// <summary>The dew point at which a vapour pressure saturates; FAO-56 eq. 11 turned round.</summary>
    public static double DewPoint(double kilopascals)
    {
        double ln = Math.Log(kilopascals / 0.6108);
        return 237.3 * ln / (17.27 - ln);
    }

    /// <summary>Fresh snow, cm, as Open-Meteo reckons it: 7 cm for 10 mm of water.</summary>
    public static double SnowfallCm(double airCelsius, double rainMm) => airCelsius < SnowBelowCelsius ? rainMm * 0.7 : 0;
}

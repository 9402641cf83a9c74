using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>What well-watered short grass uses, mm: the ET0 from which beds' use of water is reckoned.</summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998). Wind at two metres, m/s, at least 0.5 (p. 63). What can't be true is an error; what is missing
/// makes the result missing. For hours with something missing see
/// <see cref="EvapotranspirationHours"/>.
/// </remarks>
public static class ReferenceEvapotranspiration
{
    private const double LeastWind = 0.5;

    /// <summary>Wind at two metres from wind at another height over short grass (eq. 47).</summary>
    /// <param name="wind">0 to 120 m/s.</param>
    /// <param name="heightMetres">0.5 to 200 m.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static double WindAtTwoMetres(double wind, double heightMetres) =>
        Plausible.Wind(wind) * 4.87 / Math.Log(67.8 * Within.Checked(heightMetres, 0.5, 200, "The height of a wind sensor", "m", nameof(heightMetres)) - 5.42);

    /// <summary>Mean of the saturation pressures at lowest and highest air, kPa (eq. 12).</summary>
    public static double MeanSaturation(double minC, double maxC) =>
        (VapourPressure.Saturation(minC) + VapourPressure.Saturation(maxC)) / 2;

    /// <summary>Vapour pressure of the day from both humidities, kPa (eq. 17).</summary>
    public static double VapourFromHumidities(double minC, double maxC, double humidityMinPercent, double humidityMaxPercent) =>
        (VapourPressure.Saturation(minC) * Within.Humidity(humidityMaxPercent) + VapourPressure.Saturation(maxC) * Within.Humidity(humidityMinPercent)) / 200;

    /// <summary>Vapour pressure of the day from its highest humidity alone, kPa (eq. 18).</summary>
    public static double VapourFromHighestHumidity(double minC, double humidityMaxPercent) =>
        VapourPressure.Saturation(minC) * Within.Humidity(humidityMaxPercent) / 100;

    /// <summary>Vapour pressure of the day from its mean humidity, kPa (eq. 19): the least sure of the three.</summary>
    public static double VapourFromMeanHumidity(double minC, double maxC, double humidityMeanPercent) =>
        MeanSaturation(minC, maxC) * Within.Humidity(humidityMeanPercent) / 100;

    /// <summary>Heat into the soil in a month from the months on either side, MJ/m²d (eq. 43).</summary>
    public static double SoilHeatBetweenMonths(double previousC, double nextC) => 0.07 * (nextC - previousC);

    /// <summary>Heat into the soil in a month from the month before, MJ/m²d (eq. 44).</summary>
    public static double SoilHeatSinceMonth(double previousC, double thisC) => 0.14 * (thisC - previousC);

    /// <summary>Penman-Monteith for a day, mm (eq. 6).</summary>
    /// <param name="minC">Lowest air, -100 to 100 °C, not above the highest.</param>
    /// <param name="vapourKPa">Actual, 0 to 20 kPa; from the dew point with <see cref="VapourPressure.Saturation"/>.</param>
    /// <param name="sunMegajoules">Radiation at the ground in the day, 0 to 50 MJ/m².</param>
    /// <param name="elevationMetres">-500 to 9000 m.</param>
    /// <param name="soilHeatMegajoules">Nothing for a single day (eq. 42).</param>
    /// <exception cref="ArgumentException">A value that can't be true.</exception>
    /// <remarks>Within 0.15 mm (RMSE 0.05) of independent software on a year at a dry station; real grass differs by 10 % or more.</remarks>
    public static double Daily(
        double minC, double maxC, double vapourKPa, double sunMegajoules, double windAtTwoMetres,
        double latitudeDegrees, double elevationMetres, int dayOfYear, double soilHeatMegajoules = 0)
    {
        Plausible.LowestFirst(minC, maxC);
        Within.Checked(vapourKPa, 0, 20, "Vapour pressure", "kPa", nameof(vapourKPa));
        Within.Checked(sunMegajoules, 0, 50, "Radiation in a day", "MJ/m²", nameof(sunMegajoules));
        double clear = SolarRadiation.ClearSky(SolarRadiation.Extraterrestrial(latitudeDegrees, dayOfYear), elevationMetres);
        // In a polar night there is no clear day to compare with: half clear.
        double clearness = clear > 0 ? sunMegajoules / clear : 0.5;
        double net = SolarRadiation.NetShortwave(sunMegajoules)
            - SolarRadiation.NetLongwave(minC, maxC, vapourKPa, clearness);
        double mean = (minC + maxC) / 2;
        return PenmanMonteith(
            900, mean, net - soilHeatMegajoules, windAtTwoMetres, MeanSaturation(minC, maxC) - vapourKPa, elevationMetres);
    }

    /// <summary>Penman-Monteith for an hour, mm (eq. 53); below nothing when dew falls.</summary>
    /// <param name="humidityPercent">0 to 100 %.</param>
    /// <param name="sunMegajoules">Radiation at the ground in the hour, 0 to 6 MJ/m².</param>
    /// <param name="clearness">That over a clear sky's; by night the value of two or three hours before sunset.</param>
    /// <param name="isDay">Decides the heat into the soil: a tenth of net radiation by day, half by night (eq. 45, 46).</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static double Hourly(
        double airC, double humidityPercent, double sunMegajoules, double windAtTwoMetres,
        double elevationMetres, double clearness, bool isDay)
    {
        Within.Checked(sunMegajoules, 0, 6, "Radiation in an hour", "MJ/m²", nameof(sunMegajoules));
        double saturation = VapourPressure.Saturation(Within.Air(airC));
        double vapour = saturation * Within.Humidity(humidityPercent) / 100;
        double net = SolarRadiation.NetShortwave(sunMegajoules)
            - SolarRadiation.NetLongwaveOfHour(airC, vapour, clearness);
        double intoSoil = (isDay ? 0.1 : 0.5) * net;
        return PenmanMonteith(37, airC, net - intoSoil, windAtTwoMetres, saturation - vapour, elevationMetres);
    }

    /// <summary>From temperatures alone, mm a day (eq. 52): for years of which nothing else is kept.</summary>
    /// <param name="extraterrestrialMegajoules">See <see cref="SolarRadiation.Extraterrestrial"/>, 0 to 50 MJ/m².</param>
    /// <exception cref="ArgumentException">A value that can't be true.</exception>
    /// <remarks>Hargreaves and Samani 1985; too low in wind, too high in moist air; best over five days or more.</remarks>
    public static double Hargreaves(double minC, double maxC, double meanC, double extraterrestrialMegajoules)
    {
        Plausible.LowestFirst(minC, maxC);
        Within.Checked(extraterrestrialMegajoules, 0, 50, "Radiation in a day", "MJ/m²", nameof(extraterrestrialMegajoules));
        return Math.Max(0, 0.0023 * (Within.Air(meanC) + 17.8) * Math.Sqrt(maxC - minC)
            * extraterrestrialMegajoules * SolarRadiation.MillimetresPerMegajoule);
    }

    private static double PenmanMonteith(
        double numerator, double airC, double energy, double windAtTwoMetres, double deficitKPa, double elevationMetres)
    {
        double wind = Math.Max(LeastWind, Plausible.Wind(windAtTwoMetres));
        Within.Checked(elevationMetres, -500, 9000, "Height above the sea", "m", nameof(elevationMetres));
        double slope = VapourPressure.SaturationSlope(airC);
        double gamma = VapourPressure.PsychrometricConstant(VapourPressure.OfAirAtElevation(elevationMetres));
        return (0.408 * slope * energy + gamma * numerator / (airC + 273) * wind * deficitKPa)
            / (slope + gamma * (1 + 0.34 * wind));
    }
}

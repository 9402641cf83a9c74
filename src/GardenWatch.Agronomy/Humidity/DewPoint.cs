using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Humidity;

/// <summary>The temperature at which air begins to give up its water.</summary>
public static class DewPoint
{
    /// <summary>Dew point over water, °C. Air without any moisture (0 %) has none: NaN.</summary>
    /// <param name="airC">-100 to 100 °C; the curve is good from -40 to 50.</param>
    /// <param name="relativeHumidityPercent">0 to 100 %, over water.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>
    /// Alduchov and Eskridge 1996, J. Appl. Meteorol. 35:601-609 (17.625 and 243.04 °C); from -40 to 50 °C the pressure is
    /// within 0.4 %. FAO-56's constants differ by 0.07 K from -5 to 35 °C.
    /// </remarks>
    public static double Of(double airC, double relativeHumidityPercent)
    {
        if (!(Within.Humidity(relativeHumidityPercent) > 0))
            return double.NaN;
        Within.Air(airC);
        double g = Math.Log(relativeHumidityPercent / 100) + 17.625 * airC / (243.04 + airC);
        return 243.04 * g / (17.625 - g);
    }

    /// <summary>Frost point, °C: where hoar begins. Warmer than the dew point; at 0 °C and above they are one.</summary>
    /// <remarks>Inverts <see cref="VapourPressure.SaturationOverIce"/>; a frost point above freezing has no meaning.</remarks>
    public static double FrostPointOf(double airC, double relativeHumidityPercent)
    {
        double dewPoint = Of(airC, relativeHumidityPercent);
        return dewPoint < 0 ? FrostPointOfVapour(relativeHumidityPercent / 100 * VapourPressure.Saturation(airC)) : dewPoint;
    }

    /// <summary>Relative humidity, %, of air with a known dew point, by the same curve; at most 100.</summary>
    public static double HumidityFrom(double airC, double dewPointC) =>
        Math.Min(100, 100 * Math.Exp(17.625 * dewPointC / (243.04 + dewPointC) - 17.625 * airC / (243.04 + airC)));

    private static double FrostPointOfVapour(double vapourKPa)
    {
        // Buck's ice curve, ln(e/0.61115) = (b - t/d) t / (c + t), is quadratic in t.
        const double b = 23.036, c = 279.82, d = 333.7;
        double s = Math.Log(vapourKPa / 0.61115);
        double linear = b - s;
        return d / 2 * (linear - Math.Sqrt(linear * linear - 4 * c * s / d));
    }
}

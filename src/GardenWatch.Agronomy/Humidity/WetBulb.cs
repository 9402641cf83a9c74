using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Humidity;

/// <summary>The temperature a wet thing takes in moving air: what a sprinkled or rain-wet leaf cools to.</summary>
public static class WetBulb
{
    /// <summary>Wet bulb at sea level, °C, from air and relative humidity.</summary>
    /// <remarks>
    /// Stull 2011, J. Appl. Meteorol. Climatol. 50:2267-2269, eq. 1. For 5 to 99 % and -20 to 50 °C, not in cold dry air;
    /// error -1.0 to +0.65 K. Outside the range of the fit: NaN.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Humidity outside 0 to 100 %, or air that can't be.</exception>
    public static double Stull(double airC, double relativeHumidityPercent)
    {
        double t = Within.Air(airC), rh = Within.Humidity(relativeHumidityPercent);
        if (!(t is >= -20 and <= 50 && rh is >= 5 and <= 99))
            return double.NaN;
        return t * Math.Atan(0.151977 * Math.Sqrt(rh + 8.313659)) + Math.Atan(t + rh) - Math.Atan(rh - 1.676331)
            + 0.00391838 * Math.Pow(rh, 1.5) * Math.Atan(0.023101 * rh) - 4.686035;
    }

    /// <summary>Wet bulb of a ventilated psychrometer, °C, over water, at a known pressure.</summary>
    /// <param name="airC">-40 to 60 °C; over water below freezing too.</param>
    /// <param name="relativeHumidityPercent">0 to 100 %.</param>
    /// <param name="pressureKPa">30 to 110 kPa, such as <see cref="VapourPressure.OfAirAtElevation"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>FAO-56 (Allen et al. 1998) eq. 11, 15 and 16 solved for the wet bulb.</remarks>
    public static double Psychrometric(double airC, double relativeHumidityPercent, double pressureKPa)
    {
        Within.Checked(airC, -40, 60, "Air for a wet bulb", "°C", nameof(airC));
        Within.Pressure(pressureKPa);
        double vapour = VapourPressure.Actual(airC, relativeHumidityPercent);
        double wet = airC;
        // Newton on a function that rises and is convex, from above: ten rounds are far more than it takes.
        for (int round = 0; round < 10; round++)
        {
            double excess = VapourPressure.FromWetBulb(airC, wet, pressureKPa) - vapour;
            wet -= excess / (VapourPressure.SaturationSlope(wet) + 0.000662 * pressureKPa);
        }
        return wet;
    }
}

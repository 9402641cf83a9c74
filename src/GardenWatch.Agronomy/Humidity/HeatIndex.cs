using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Humidity;

/// <summary>How hot it feels to someone at work in the shade.</summary>
public static class HeatIndex
{
    /// <summary>Apparent temperature, °C; up to 8 K more in full sun.</summary>
    /// <param name="airC">-100 to 100 °C; fitted to 27 to 44.</param>
    /// <param name="relativeHumidityPercent">0 to 100 %.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>
    /// US National Weather Service: Rothfusz 1990 (Technical Attachment SR 90-23), his regression of Steadman's 1979 tables,
    /// with the adjustments for dry and for moist air; the simple form where its mean with the air is below 80 °F. Within
    /// 0.3 K of the printed chart (1.3 K in its moist corner). Has no meaning in cold air; below 4 °C it gives the air itself.
    /// </remarks>
    public static double Of(double airC, double relativeHumidityPercent)
    {
        double t = Within.Air(airC) * 1.8 + 32, rh = Within.Humidity(relativeHumidityPercent);
        if (double.IsNaN(t) || double.IsNaN(rh))
            return double.NaN;
        if (t < 40)
            return airC;
        double simple = (t + 61 + (t - 68) * 1.2 + rh * 0.094) / 2;
        return (((simple + t) / 2 < 80 ? simple : Regression(t, rh)) - 32) / 1.8;
    }

    private static double Regression(double t, double rh)
    {
        double index = -42.379 + 2.04901523 * t + 10.14333127 * rh - 0.22475541 * t * rh - 6.83783e-3 * t * t
            - 5.481717e-2 * rh * rh + 1.22874e-3 * t * t * rh + 8.5282e-4 * t * rh * rh - 1.99e-6 * t * t * rh * rh;
        if (rh < 13 && t is >= 80 and <= 112)
            index -= (13 - rh) / 4 * Math.Sqrt((17 - Math.Abs(t - 95)) / 17);
        else if (rh > 85 && t is >= 80 and <= 87)
            index += (rh - 85) / 10 * ((87 - t) / 5);
        return index;
    }
}

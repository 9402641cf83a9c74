namespace GardenWatch.Agronomy.Diseases;

/// <summary>Whether leaves are wet in an hour, from ordinary weather; null when that cannot be told.</summary>
public static class LeafWetness
{
    /// <summary>Wet in an hour with rain, or with a relative humidity of 90 % or more.</summary>
    /// <remarks>
    /// Sentelhas et al. 2008, Agric. For. Meteorol. 148:392-400: humidity alone was right in 87 to 92 % of the hours at four
    /// sites. Rain is added as common practice has it.
    /// </remarks>
    public static bool? ByHumidity(double relativeHumidityPercent, double rainMm)
    {
        if (rainMm > 0 || relativeHumidityPercent >= 90)
            return true;
        return double.IsNaN(relativeHumidityPercent) || double.IsNaN(rainMm) ? null : false;
    }

    /// <summary>Wet by dew, from air, humidity and wind, for hours without rain.</summary>
    /// <remarks>
    /// CART/SLD of Gleason et al. 1994 and Kim, Taylor and Gleason 2002, Agric. For. Meteorol. 114:141-154. For air above
    /// freezing; below it there is no answer. The depression must belong to the humidity.
    /// </remarks>
    public static bool? ByTree(double airC, double relativeHumidityPercent, double windMetresPerSecond, double dewPointDepressionK)
    {
        double t = airC, rh = relativeHumidityPercent, w = windMetresPerSecond, dpd = dewPointDepressionK;
        if (dpd >= 3.7)
            return false;
        if (double.IsNaN(dpd) || double.IsNaN(rh) || double.IsNaN(w) || !(t >= 0))
            return null;
        if (w < 2.5)
            return 1.6064 * Math.Sqrt(t) + 0.0036 * t * t + 0.1531 * rh - 0.4599 * w * dpd - 0.0035 * t * rh > 14.4674;
        return rh >= 87.8
            && 0.7921 * Math.Sqrt(t) + 0.0046 * rh - 2.3889 * w - 0.0390 * t * w + 1.0613 * w * dpd > 37.0;
    }
}

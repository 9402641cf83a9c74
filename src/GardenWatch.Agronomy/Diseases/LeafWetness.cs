using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>Whether leaves are wet in an hour, from ordinary weather; null when that cannot be told.</summary>
/// <remarks>
/// Five published ways, from plain to fine. Where they were set side by side (Sentelhas et al. 2008) the plain limit of 90 %
/// was as good as any and missed a day's wet hours by 1.2 h at best, more where it was not tuned to the place. In the finer
/// ones humidity outside 0 to 100 %, a dew point above the air and wind outside 0 to 120 m/s are errors.
/// </remarks>
public static class LeafWetness
{
    /// <summary>Relative humidity of a wet hour, %.</summary>
    public const double WetPercent = 90;

    /// <summary>Wet in an hour with rain, or with a relative humidity of 90 % or more.</summary>
    /// <remarks>
    /// Sentelhas et al. 2008, Agric. For. Meteorol. 148:392-400: humidity alone was right in 87 to 92 % of the hours at four
    /// sites. Rain is added as common practice has it. A hygrometer that shows 101 % is wet too.
    /// </remarks>
    public static bool? ByHumidity(double relativeHumidityPercent, double rainMm)
    {
        if (rainMm > 0 || relativeHumidityPercent >= WetPercent)
            return true;
        return double.IsNaN(relativeHumidityPercent) || double.IsNaN(rainMm) ? null : false;
    }

    /// <summary>Wet from the hour in which the dew point comes within 2 K of the air until it is 3.8 K below it.</summary>
    /// <param name="wetBefore">In the hour before.</param>
    /// <param name="dewPointDepressionK">Air less dew point, from 0.</param>
    /// <remarks>Gillespie, Srivastava and Pitblado 1993, J. Appl. Meteorol. 32:567-573, as used by Sentelhas et al. 2008.</remarks>
    public static bool? ByDepression(bool? wetBefore, double dewPointDepressionK) => Depression(dewPointDepressionK) switch
    {
        <= 2.0 => true,
        >= 3.8 => false,
        double.NaN => null,
        _ => wetBefore,
    };

    /// <summary>Wet from 87 %, dry below 70 %; between, wet when humidity climbs fast and dry when it falls.</summary>
    /// <param name="wetBefore">In the hour before: kept while humidity hardly changes.</param>
    /// <param name="changeInHalfAnHour">Of relative humidity, percentage points.</param>
    /// <remarks>
    /// Wichink Kruit, van Pul, Jacobs and Heusinkveld 2004 (26th Conf. Agric. For. Meteorol.), as used by Sentelhas et al. 2008, where
    /// it found too many wet hours at all four sites.
    /// </remarks>
    public static bool? ByChangingHumidity(bool? wetBefore, double relativeHumidityPercent, double changeInHalfAnHour) =>
        Within.Humidity(relativeHumidityPercent) switch
        {
            >= 87 => true,
            < 70 => false,
            double.NaN => null,
            _ when double.IsNaN(changeInHalfAnHour) => null,
            _ => changeInHalfAnHour > 3 ? true : changeInHalfAnHour < -2 ? false : wetBefore,
        };

    /// <summary>Wet by dew, from air, humidity and wind, for hours without rain.</summary>
    /// <remarks>
    /// CART/SLD of Gleason et al. 1994 (Plant Dis. 78:1011-1016) and Kim, Taylor, Gleason and Koehler 2002 (86:179-185). For air above
    /// freezing; below it there is no answer. The depression must belong to the humidity.
    /// </remarks>
    public static bool? ByTree(double airC, double relativeHumidityPercent, double windMetresPerSecond, double dewPointDepressionK)
    {
        double t = Within.Air(airC), rh = Within.Humidity(relativeHumidityPercent), w = Plausible.Wind(windMetresPerSecond);
        double dpd = Depression(dewPointDepressionK);
        if (dpd >= 3.7)
            return false;
        if (double.IsNaN(dpd) || double.IsNaN(rh) || double.IsNaN(w) || !(t >= 0))
            return null;
        if (w < 2.5)
            return 1.6064 * Math.Sqrt(t) + 0.0036 * t * t + 0.1531 * rh - 0.4599 * w * dpd - 0.0035 * t * rh > 14.4674;
        return rh >= 87.8
            && 0.7921 * Math.Sqrt(t) + 0.0046 * rh - 2.3889 * w - 0.0390 * t * w + 1.0613 * w * dpd > 37.0;
    }

    private static double Depression(double kelvins) =>
        Within.Checked(kelvins, 0, 100, "Air less dew point", "K", "dewPointDepressionK");
}

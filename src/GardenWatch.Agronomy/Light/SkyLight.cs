using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Light;

/// <summary>Radiation of sun and sky on the flat at an instant, W/m².</summary>
public static class SkyLight
{
    /// <summary>Under a clear sky; nothing with the sun below the horizon.</summary>
    /// <param name="sineOfAltitude">Of the sun's height above the horizon, -1 to 1; see <see cref="Sun.AltitudeDegrees"/>.</param>
    /// <remarks>
    /// Haurwitz 1945, J. Meteorol. 2:154-166. For the sea's level and usual haze, within about 5 % in the mean; in clear
    /// mountain air too low.
    /// </remarks>
    public static double Clear(double sineOfAltitude)
    {
        Within.Checked(sineOfAltitude, -1, 1, "The sine of a height", "", nameof(sineOfAltitude));
        return sineOfAltitude <= 0 ? 0 : 1098 * sineOfAltitude * Math.Exp(-0.057 / sineOfAltitude);
    }

    /// <summary>What cloud leaves of clear-sky radiation: all of it at 0, a quarter at 1.</summary>
    /// <param name="cloud">Share of the sky covered, 0 to 1.</param>
    /// <remarks>
    /// Kasten and Czeplak 1980, Sol. Energy 24:177-189, ten years at Hamburg. A mean over kinds of cloud: high thin cloud
    /// leaves more, rain cloud less.
    /// </remarks>
    public static double UnderCloud(double clear, double cloud) =>
        clear * (1 - 0.75 * Math.Pow(Within.Share(cloud, "Cloud"), 3.4));
}

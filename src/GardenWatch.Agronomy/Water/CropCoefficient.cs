namespace GardenWatch.Agronomy.Water;

/// <summary>A crop's use of water over that of reference grass.</summary>
/// <remarks>FAO-56 (Allen et al. 1998) ch. 6 and 7.</remarks>
public static class CropCoefficient
{
    /// <summary>
    /// On a day of the season: level at first, rising while the crop grows, level at its fullest, falling to its end
    /// (eq. 66); from the end on the last value.
    /// </summary>
    /// <param name="stageDays">Initial, development, middle and late stage.</param>
    public static double OnDay(double day, (double Initial, double Growth, double Middle, double Late) stageDays, double initial, double middle, double end)
    {
        double grown = stageDays.Initial + stageDays.Growth;
        double ripening = grown + stageDays.Middle;
        if (day <= stageDays.Initial)
            return initial;
        if (day < grown)
            return initial + (day - stageDays.Initial) / stageDays.Growth * (middle - initial);
        if (day <= ripening)
            return middle;
        return day < ripening + stageDays.Late
            ? middle + (day - ripening) / stageDays.Late * (end - middle)
            : day >= ripening + stageDays.Late ? end : double.NaN;
    }

    /// <summary>The printed value of the middle (or of an end of 0.45 and more) for another climate (eq. 62 and 65).</summary>
    /// <remarks>Printed values are for 2 m/s and a lowest humidity of 45 %. Counts 1 to 6 m/s and 20 to 80 %.</remarks>
    public static double ForClimate(double printed, double windAtTwoMetres, double lowestHumidityPercent, double heightMetres) =>
        printed + (0.04 * (Math.Clamp(windAtTwoMetres, 1, 6) - 2) - 0.004 * (Math.Clamp(lowestHumidityPercent, 20, 80) - 45))
            * Math.Pow(heightMetres / 3, 0.3);
}

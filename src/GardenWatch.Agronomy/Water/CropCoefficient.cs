using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>A crop's use of water over that of reference grass.</summary>
/// <remarks>FAO-56 (Allen et al. 1998) ch. 6, 7 and 10.</remarks>
public static class CropCoefficient
{
    /// <summary>
    /// On a day of the season: level at first, rising while the crop grows, level at its fullest, falling to its end
    /// (eq. 66); from the end on the last value.
    /// </summary>
    /// <param name="day">Days, or °C days, since the stages began; in the unit of the stages.</param>
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
    /// <param name="windAtTwoMetres">m/s; 1 to 6 counts.</param>
    /// <param name="lowestHumidityPercent">Mean of the days' lowest, 0 to 100 %; 20 to 80 counts.</param>
    /// <param name="heightMetres">Of the crop, 0 to 10 m.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>Printed values are for 2 m/s and a lowest humidity of 45 %.</remarks>
    public static double ForClimate(double printed, double windAtTwoMetres, double lowestHumidityPercent, double heightMetres) =>
        printed + (0.04 * (Math.Clamp(Plausible.Wind(windAtTwoMetres), 1, 6) - 2) - 0.004 * (Math.Clamp(Within.Humidity(lowestHumidityPercent), 20, 80) - 45))
            * Math.Pow(Within.Checked(heightMetres, 0, 10, "The height of a crop", "m", nameof(heightMetres)) / 3, 0.3);

    /// <summary>With straw or leaves over a share of the soil.</summary>
    /// <param name="coefficient">The coefficient without mulch.</param>
    /// <param name="basal">Its part that the crop itself uses (Kcb).</param>
    /// <param name="coveredShare">0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1.</exception>
    /// <remarks>FAO-56 ch. 10, organic mulches: soil evaporation falls by 5 % for each 10 % of the soil that is covered.</remarks>
    public static double UnderOrganicMulch(double coefficient, double basal, double coveredShare) =>
        coefficient - Math.Max(0, coefficient - basal) * 0.5 * Within.Share(coveredShare, "The mulched part of a bed");
}

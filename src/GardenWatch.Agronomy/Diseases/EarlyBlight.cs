using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>Weather for early blight and its like on tomato, potato and carrot: when to look, never a finding.</summary>
/// <remarks>Anything sprayed follows its label and local rules.</remarks>
public static class EarlyBlight
{
    /// <summary>Severity values since the last protection at which to act; the lower for crops that take it easily.</summary>
    /// <remarks>Pitblado 1992. For potato and carrot 20 (Norwegian plant protection service, after Madden et al. 1978).</remarks>
    public const int ActFrom = 15, ActBy = 20;

    /// <summary>Physiological days from emergence at which potato's first early blight is near.</summary>
    /// <remarks>Pscheidt and Stevenson 1988, Am. Potato J. 65:425-438.</remarks>
    public const double FirstAtPhysiologicalDays = 300;

    // Least wet hours of the values 1, 2, 3 and 4 in the printed table.
    private static readonly int[] PrintedCool = [7, 16, 21];
    private static readonly int[] PrintedMild = [4, 9, 16, 23];
    private static readonly int[] PrintedWarm = [3, 6, 13, 21];
    private static readonly int[] PrintedHot = [4, 9, 16, 23];

    // Wet hours that must be passed for each further value.
    private static readonly int[] Cool = [7, 15, 20];
    private static readonly int[] Mild = [4, 8, 15, 22];
    private static readonly int[] Warm = [2, 5, 12, 20];
    private static readonly int[] Hot = [3, 8, 15, 22];

    /// <summary>Severity value of a day, 0 to 4, from its wet hours; null when unknown.</summary>
    /// <param name="meanOfWetHoursC">Mean air in the wet hours.</param>
    /// <remarks>
    /// Madden, Pennypacker and MacNab 1978, Phytopathology 68:1354-1358, as simplified by Pitblado 1992: look in earnest at
    /// 15 to 20 since the last protection. Bands at 13, 18, 21 and 26 °C are taken as continuous; the printed whole-degree
    /// table gives 1, not 0, for 7 hours at 13 to 17 °C and for 4 hours at 18 to 20 °C.
    /// </remarks>
    public static int? Severity(double wetHours, double meanOfWetHoursC)
    {
        if (Nothing(wetHours, meanOfWetHoursC) is not { } nothing)
            return null;
        if (nothing)
            return 0;
        int[] passed = meanOfWetHoursC <= 18 ? Cool : meanOfWetHoursC <= 21 ? Mild : meanOfWetHoursC <= 26 ? Warm : Hot;
        return passed.Count(hours => wetHours > hours);
    }

    /// <summary>Severity value of a day by the printed table, for whole wet hours; null when unknown.</summary>
    /// <param name="wetHours">0 to 25, whole or not; part hours don't count.</param>
    /// <param name="meanOfWetHoursC">Rounded to whole degrees for the bands 13-17, 18-20, 21-25 and 26-29 °C; warmer counts as the last.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>
    /// Madden, Pennypacker and MacNab 1978 (Phytopathology 68:1354-1358), table as printed by Pitblado 1992. One value more than
    /// <see cref="Severity"/> at exactly 7 h (13 to 17 °C) and 4 h (18 to 20 °C), and where rounding moves the band.
    /// </remarks>
    public static int? SeverityAsPrinted(double wetHours, double meanOfWetHoursC)
    {
        if (Nothing(wetHours, Math.Round(meanOfWetHoursC)) is not { } nothing)
            return null;
        if (nothing)
            return 0;
        double mean = Math.Round(meanOfWetHoursC);
        int[] least = mean <= 17 ? PrintedCool : mean <= 20 ? PrintedMild : mean <= 25 ? PrintedWarm : PrintedHot;
        return least.Count(hours => wetHours >= hours);
    }

    /// <summary>Physiological days of a potato's day, 0 to 10 (Sands, Hackett and Nix 1979); the first early blight comes near 300 from emergence.</summary>
    /// <remarks>
    /// Sands, Hackett and Nix 1979, Field Crops Res. 2:309-331 (their "P-days"): the day is taken as 5, 8, 8 and 3 parts of 24
    /// at its lowest, at a third and two thirds of the way up, and at its highest. The link to early blight is of Pscheidt and
    /// Stevenson 1988, Am. Potato J. 65:425-438.
    /// </remarks>
    /// <exception cref="ArgumentException">The lowest air is above the highest, or air that can't be.</exception>
    public static double PhysiologicalDays(double lowC, double highC)
    {
        Plausible.LowestFirst(lowC, highC);
        return (5 * Response(lowC) + 8 * Response((2 * lowC + highC) / 3) + 8 * Response((lowC + 2 * highC) / 3) + 3 * Response(highC)) / 24;
    }

    /// <summary>How well a potato grows at a temperature, 0 to 10: nothing at 7 and 30 °C, best at 21 °C.</summary>
    /// <remarks>Sands, Hackett and Nix 1979, two half parabolas.</remarks>
    public static double Response(double airC) => airC switch
    {
        <= 7 or >= 30 => 0,
        <= 21 => 10 * (1 - (airC - 21) * (airC - 21) / 196),
        _ => 10 * (1 - (airC - 21) * (airC - 21) / 81), // NaN comes through here and stays NaN.
    };

    private static bool? Nothing(double wetHours, double meanC)
    {
        if (Within.Checked(wetHours, 0, 25, "Wet hours of a day", "hours", nameof(wetHours)) == 0)
            return true; // no wet hours have no mean
        Within.Air(meanC);
        return double.IsNaN(wetHours) || double.IsNaN(meanC) ? null : meanC < 13;
    }
}

namespace GardenWatch.Agronomy.Diseases;

/// <summary>Weather for early blight and its like on tomato, potato and carrot: when to look, never a finding.</summary>
public static class EarlyBlight
{
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
        if (wetHours == 0)
            return 0;
        if (double.IsNaN(wetHours) || double.IsNaN(meanOfWetHoursC))
            return null;
        if (meanOfWetHoursC < 13)
            return 0;
        int[] passed = meanOfWetHoursC <= 18 ? Cool : meanOfWetHoursC <= 21 ? Mild : meanOfWetHoursC <= 26 ? Warm : Hot;
        return passed.Count(hours => wetHours > hours);
    }

    /// <summary>Physiological days of a potato's day, 0 to 10; the first early blight comes near 300 from emergence.</summary>
    /// <remarks>
    /// Sands, Hackett and Nix 1979, Field Crops Res. 2:309-331; the day is taken as 5, 8, 8 and 3 parts of 24 at its lowest,
    /// at a third and two thirds of the way up, and at its highest.
    /// </remarks>
    public static double PhysiologicalDays(double lowC, double highC) =>
        lowC <= highC
            ? (5 * Response(lowC) + 8 * Response((2 * lowC + highC) / 3) + 8 * Response((lowC + 2 * highC) / 3) + 3 * Response(highC)) / 24
            : double.NaN;

    /// <summary>How well a potato grows at a temperature, 0 to 10: nothing at 7 and 30 °C, best at 21 °C.</summary>
    public static double Response(double airC) => airC switch
    {
        <= 7 or >= 30 => 0,
        <= 21 => 10 * (1 - (airC - 21) * (airC - 21) / 196),
        _ => 10 * (1 - (airC - 21) * (airC - 21) / 81), // NaN comes through here and stays NaN.
    };
}

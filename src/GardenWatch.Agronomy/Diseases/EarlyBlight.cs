using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>Weather for early blight and its like on tomato, potato and carrot: when to look, never a finding.</summary>
/// <remarks>Anything sprayed follows its label and local rules.</remarks>
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
        if (Nothing(wetHours, meanOfWetHoursC) is not { } nothing)
            return null;
        if (nothing)
            return 0;
        int[] passed = meanOfWetHoursC <= 18 ? Cool : meanOfWetHoursC <= 21 ? Mild : meanOfWetHoursC <= 26 ? Warm : Hot;
        return passed.Count(hours => wetHours > hours);
    }

    private static bool? Nothing(double wetHours, double meanC)
    {
        if (Within.Checked(wetHours, 0, 25, "Wet hours of a day", "hours", nameof(wetHours)) == 0)
            return true; // no wet hours have no mean
        Within.Air(meanC);
        return double.IsNaN(wetHours) || double.IsNaN(meanC) ? null : meanC < 13;
    }
}

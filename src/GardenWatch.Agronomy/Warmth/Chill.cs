using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Warmth;

/// <summary>Cold that fruit buds, garlic and winter crops wait for, from hourly air in °C.</summary>
/// <remarks>
/// Both sums are NaN when more than one hour in ten is unknown; a few unknown hours count as the known ones do. A need that
/// was stated in one of them can't be met in the other.
/// </remarks>
public static class Chill
{
    public const double ColdestC = 0;

    public const double WarmestC = 7.2;

    /// <summary>Hours between 0 and 7.2 °C, both included.</summary>
    /// <remarks>
    /// Weinberger 1950 (32 to 45 °F). Warm days that undo chill are not in it, so it is too high in mild winters.
    /// </remarks>
    public static double Hours(ReadOnlySpan<double> airC) => Sum(airC, static air => air is >= ColdestC and <= WarmestC ? 1 : 0);

    /// <summary>Chill units of the Utah model: an hour counts by how well it chills, and warm ones take away.</summary>
    /// <remarks>
    /// Richardson, Seeley and Walker 1974, HortScience 9:331-332: up to 1.4 °C nothing, to 2.4 a half, to 9.1 one, to 12.4 a
    /// half, to 15.9 nothing, to 18 half away, above it one away. The paper begins the sum anew after the autumn day on which
    /// it is most negative; this adds up the hours it is given. Made for cold winters: in mild ones it can stay below zero.
    /// </remarks>
    public static double UtahUnits(ReadOnlySpan<double> airC) => Sum(airC, static air => air switch
    {
        <= 1.4 => 0,
        <= 2.4 => 0.5,
        <= 9.1 => 1,
        <= 12.4 => 0.5,
        <= 15.9 => 0,
        <= 18 => -0.5,
        _ => -1,
    });

    private static double Sum(ReadOnlySpan<double> airC, Func<double, double> ofHour)
    {
        int known = 0;
        double sum = 0;
        foreach (double air in airC)
        {
            if (double.IsNaN(Within.Air(air)))
                continue;
            known++;
            sum += ofHour(air);
        }
        if (airC.IsEmpty)
            return 0;
        return known < WarmthSum.ShareOfHoursNeeded * airC.Length ? double.NaN : sum * airC.Length / known;
    }
}

namespace GardenWatch.Agronomy.Warmth;

/// <summary>Cold that fruit buds, garlic and winter crops wait for.</summary>
public static class Chill
{
    public const double ColdestC = 0;

    public const double WarmestC = 7.2;

    /// <summary>Hours between 0 and 7.2 °C, both included; NaN when more than one hour in ten is unknown.</summary>
    /// <remarks>
    /// Weinberger 1950 (32 to 45 °F). A few unknown hours count as the known ones do. Warm days that undo chill are not in
    /// it, so it is too high in mild winters.
    /// </remarks>
    public static double Hours(ReadOnlySpan<double> airC)
    {
        int known = 0, cold = 0;
        foreach (double air in airC)
        {
            known += double.IsNaN(air) ? 0 : 1;
            cold += air is >= ColdestC and <= WarmestC ? 1 : 0;
        }
        if (airC.IsEmpty)
            return 0;
        return known < WarmthSum.ShareOfHoursNeeded * airC.Length ? double.NaN : (double)cold * airC.Length / known;
    }
}

namespace GardenWatch.Agronomy.Warmth;

/// <summary>What happens to development above the upper threshold.</summary>
/// <remarks>The three cut-offs of Zalom et al. 1983: one family, told apart by what is taken off the area above it.</remarks>
public enum UpperCutoff
{
    /// <summary>Development goes on at the rate of the threshold.</summary>
    Horizontal,
    /// <summary>Development slows as it rose: the area above is taken off twice. A very hot day can fall below zero.</summary>
    Intermediate,
    /// <summary>Development stands still while it is warmer than the threshold.</summary>
    Vertical,
}

/// <summary>Degree-days of one day, °C days, from its lowest and highest air.</summary>
/// <remarks>
/// A sum is only worth as much as its agreement with the method it was fitted with: use the method, the base and the
/// ceiling of the source. An unknown temperature, or a lowest above the highest, gives an unknown day (NaN).
/// </remarks>
public static class DegreeDays
{
    /// <summary>Method 1: the mean of the day, cut to the thresholds, over the base.</summary>
    /// <remarks>McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, eq. 1. The FAO-56 revision uses this one.</remarks>
    public static double Average(double minC, double maxC, double lowerC, double upperC = double.PositiveInfinity) =>
        Known(minC, maxC) ? Math.Clamp((minC + maxC) / 2, lowerC, upperC) - lowerC : double.NaN;

    /// <summary>Method 2: lowest and highest are cut to the thresholds before the mean is taken.</summary>
    /// <remarks>
    /// McMaster and Wilhelm 1997; with 10 and 30 °C it is the maize rule of North America. It counts more than method 1
    /// on days whose night is colder than the base.
    /// </remarks>
    public static double AverageOfClipped(double minC, double maxC, double lowerC, double upperC = double.PositiveInfinity) =>
        Known(minC, maxC)
            ? (Math.Clamp(minC, lowerC, upperC) + Math.Clamp(maxC, lowerC, upperC)) / 2 - lowerC
            : double.NaN;

    /// <summary>A triangle through lowest, highest and the same lowest.</summary>
    /// <remarks>Zalom et al. 1983, UC Leaflet 21373, table 3.</remarks>
    public static double SingleTriangle(
        double minC, double maxC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Between(TriangleAbove, TriangleShareAbove, minC, maxC, lowerC, upperC, cutoff);

    /// <summary>A sine through lowest and highest.</summary>
    /// <remarks>Zalom et al. 1983, table 5; Baskerville and Emin 1969; Allen 1976, Environ. Entomol. 5:388-396.</remarks>
    public static double SingleSine(
        double minC, double maxC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Between(SineAbove, SineShareAbove, minC, maxC, lowerC, upperC, cutoff);

    /// <summary>Half a triangle up from this day's lowest, half down to the next day's.</summary>
    /// <remarks>Zalom et al. 1983, table 4 (its printed case 60/100/75 °F is 24.88; the formula gives 27.125 °F days).</remarks>
    public static double DoubleTriangle(
        double minC, double maxC, double nextMinC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        (SingleTriangle(minC, maxC, lowerC, upperC, cutoff) + SingleTriangle(nextMinC, maxC, lowerC, upperC, cutoff)) / 2;

    /// <summary>Half a sine up from this day's lowest, half down to the next day's.</summary>
    /// <remarks>Zalom et al. 1983, table 6; Allen 1976.</remarks>
    public static double DoubleSine(
        double minC, double maxC, double nextMinC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        (SingleSine(minC, maxC, lowerC, upperC, cutoff) + SingleSine(nextMinC, maxC, lowerC, upperC, cutoff)) / 2;

    /// <summary>Highest air over the base, mirrored down above the ceiling; cold days count nothing.</summary>
    /// <remarks>Perry and Wehner 1996, HortTechnology 6:27-30, for cucumber with 15.6 and 32.2 °C.</remarks>
    public static double HighestWithReducingCeiling(double maxC, double lowerC, double ceilingC) =>
        Math.Max(0, (maxC > ceilingC ? 2 * ceilingC - maxC : maxC) - lowerC);

    private static bool Known(double minC, double maxC) => minC <= maxC;

    private static double Between(
        Func<double, double, double, double> above,
        Func<double, double, double, double> shareAbove,
        double minC, double maxC, double lowerC, double upperC, UpperCutoff cutoff)
    {
        if (!Known(minC, maxC))
            return double.NaN;
        double warmth = above(minC, maxC, lowerC);
        if (maxC <= upperC)
            return warmth;
        double tooMuch = above(minC, maxC, upperC);
        return cutoff switch
        {
            UpperCutoff.Horizontal => warmth - tooMuch,
            UpperCutoff.Intermediate => warmth - 2 * tooMuch,
            UpperCutoff.Vertical => warmth - tooMuch - (upperC - lowerC) * shareAbove(minC, maxC, upperC),
            _ => throw new ArgumentOutOfRangeException(nameof(cutoff), cutoff, "Not a cut-off."),
        };
    }

    // Mean of max(T - x, 0) over the day; everything follows from it (six cases of the tables in one).
    private static double TriangleAbove(double min, double max, double x) =>
        max <= x ? 0 : min >= x ? (min + max) / 2 - x : (max - x) * (max - x) / (2 * (max - min));

    private static double TriangleShareAbove(double min, double max, double x) =>
        max <= x ? 0 : min >= x ? 1 : (max - x) / (max - min);

    private static double SineAbove(double min, double max, double x)
    {
        double mean = (min + max) / 2;
        if (max <= x)
            return 0;
        if (min >= x)
            return mean - x;
        double amplitude = (max - min) / 2;
        double crossing = Math.Asin((x - mean) / amplitude);
        return ((mean - x) * (Math.PI / 2 - crossing) + amplitude * Math.Cos(crossing)) / Math.PI;
    }

    private static double SineShareAbove(double min, double max, double x) =>
        max <= x ? 0 : min >= x ? 1 : 0.5 - Math.Asin((x - (min + max) / 2) / ((max - min) / 2)) / Math.PI;
}

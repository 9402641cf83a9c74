namespace GardenWatch.Agronomy.Warmth;

/// <summary>Degree-days of one day, °C days, from its lowest and highest air; and of columns of days.</summary>
/// <remarks>
/// A sum is only worth as much as its agreement with the method it was fitted with: use the method, the base and the
/// ceiling of the source. An unknown temperature gives an unknown day (NaN). A lowest above the highest, or a ceiling that
/// is not above the base, is an error (<see cref="ArgumentException"/>).
/// </remarks>
public static partial class DegreeDays
{
    /// <summary>Method 1: the mean of the day, cut to the thresholds, over the base.</summary>
    /// <remarks>
    /// McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, eq. 1. The FAO-56 revision (Paredes et al. 2025, eq. 1
    /// and 2) uses this one.
    /// </remarks>
    public static double Average(double minC, double maxC, double lowerC, double upperC = double.PositiveInfinity)
    {
        CheckThresholds(lowerC, upperC);
        return Known(minC, maxC) ? OfMean(minC, maxC, lowerC, upperC) : double.NaN;
    }

    /// <summary>Method 2: lowest and highest are cut to the thresholds before the mean is taken.</summary>
    /// <remarks>
    /// McMaster and Wilhelm 1997; with 10 and 30 °C it is the maize rule of North America. It counts more than method 1
    /// on days whose night is colder than the base, less on days whose noon is above the ceiling.
    /// </remarks>
    public static double AverageOfClipped(double minC, double maxC, double lowerC, double upperC = double.PositiveInfinity)
    {
        CheckThresholds(lowerC, upperC);
        return Known(minC, maxC) ? OfClipped(minC, maxC, lowerC, upperC) : double.NaN;
    }

    /// <summary>A triangle through lowest, highest and the same lowest.</summary>
    /// <remarks>Zalom et al. 1983, UC Leaflet 21373, table 3.</remarks>
    public static double SingleTriangle(
        double minC, double maxC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Single<Triangle>(minC, maxC, lowerC, upperC, cutoff);

    /// <summary>A sine through lowest and highest.</summary>
    /// <remarks>Zalom et al. 1983, table 5; Baskerville and Emin 1969; Allen 1976, Environ. Entomol. 5:388-396.</remarks>
    public static double SingleSine(
        double minC, double maxC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Single<Sine>(minC, maxC, lowerC, upperC, cutoff);

    /// <summary>Half a triangle up from this day's lowest, half down to the next day's.</summary>
    /// <remarks>
    /// Zalom et al. 1983, table 4. Table 7 there prints 24.88 °F days for 60/100/75 °F between 55 and 90 °F; the formula and
    /// its integral give 27.125, and the formula is followed.
    /// </remarks>
    public static double DoubleTriangle(
        double minC, double maxC, double nextMinC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Double<Triangle>(minC, maxC, nextMinC, lowerC, upperC, cutoff);

    /// <summary>Half a sine up from this day's lowest, half down to the next day's.</summary>
    /// <remarks>Zalom et al. 1983, table 6; Allen 1976. A next lowest above this day's highest counts as that highest.</remarks>
    public static double DoubleSine(
        double minC, double maxC, double nextMinC, double lowerC,
        double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Double<Sine>(minC, maxC, nextMinC, lowerC, upperC, cutoff);

    /// <summary>Highest air over the base, mirrored down above the ceiling; cold days count nothing.</summary>
    /// <remarks>Perry and Wehner 1996, HortTechnology 6:27-30, for cucumber with 15.6 and 32.2 °C.</remarks>
    public static double HighestWithReducingCeiling(double maxC, double lowerC, double ceilingC)
    {
        CheckThresholds(lowerC, ceilingC);
        return Mirrored(maxC, lowerC, ceilingC);
    }

    internal static void CheckThresholds(double lowerC, double upperC)
    {
        if (!(double.IsFinite(lowerC) && upperC > lowerC))
            throw new ArgumentException(FormattableString.Invariant(
                $"Degree-days want a base and a ceiling above it; these are {lowerC} and {upperC} °C."), nameof(upperC));
    }

    private static double Single<TCurve>(double minC, double maxC, double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve
    {
        CheckThresholds(lowerC, upperC);
        return Known(minC, maxC) ? Between<TCurve>(minC, maxC, lowerC, upperC, cutoff) : double.NaN;
    }

    private static double Double<TCurve>(
        double minC, double maxC, double nextMinC, double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve
    {
        CheckThresholds(lowerC, upperC);
        return Known(minC, maxC) && !double.IsNaN(nextMinC)
            ? TwoHalves<TCurve>(minC, maxC, nextMinC, lowerC, upperC, cutoff)
            : double.NaN;
    }

    private static bool Known(double minC, double maxC) =>
        minC > maxC
            ? throw new ArgumentException(FormattableString.Invariant(
                $"The lowest air of a day, {minC} °C, is above its highest, {maxC} °C."), nameof(minC))
            : minC <= maxC;

    private static double OfMean(double minC, double maxC, double lowerC, double upperC) =>
        Math.Clamp((minC + maxC) / 2, lowerC, upperC) - lowerC;

    private static double OfClipped(double minC, double maxC, double lowerC, double upperC) =>
        (Math.Clamp(minC, lowerC, upperC) + Math.Clamp(maxC, lowerC, upperC)) / 2 - lowerC;

    private static double Mirrored(double maxC, double lowerC, double ceilingC) =>
        Math.Max(0, (maxC > ceilingC ? 2 * ceilingC - maxC : maxC) - lowerC);

    // A warm front can keep the next night above today's highest: the curve then stays level after its peak.
    private static double TwoHalves<TCurve>(
        double minC, double maxC, double nextMinC, double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve =>
        (Between<TCurve>(minC, maxC, lowerC, upperC, cutoff)
            + Between<TCurve>(Math.Min(nextMinC, maxC), maxC, lowerC, upperC, cutoff)) / 2;

    private static double Between<TCurve>(double minC, double maxC, double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve
    {
        double warmth = TCurve.Above(minC, maxC, lowerC);
        if (maxC <= upperC)
            return warmth;
        double tooMuch = TCurve.Above(minC, maxC, upperC);
        return cutoff switch
        {
            UpperCutoff.Horizontal => warmth - tooMuch,
            UpperCutoff.Intermediate => warmth - 2 * tooMuch,
            UpperCutoff.Vertical => warmth - tooMuch - (upperC - lowerC) * TCurve.ShareAbove(minC, maxC, upperC),
            _ => throw new ArgumentOutOfRangeException(nameof(cutoff), cutoff, "Not a cut-off."),
        };
    }
}

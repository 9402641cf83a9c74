namespace GardenWatch.Agronomy.Warmth;

/// <content>
/// The same methods over columns of days, one lowest, highest and result a day: no allocation, forty years in less than a
/// millisecond. Unknown days stay unknown, each by itself.
/// </content>
public static partial class DegreeDays
{
    /// <inheritdoc cref="Average(double, double, double, double)"/>
    public static void Average(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity)
    {
        CheckColumns(minC, maxC, degreeDays, lowerC, upperC);
        for (int day = 0; day < minC.Length; day++)
            degreeDays[day] = Known(minC, maxC, day) ? OfMean(minC[day], maxC[day], lowerC, upperC) : double.NaN;
    }

    /// <inheritdoc cref="AverageOfClipped(double, double, double, double)"/>
    public static void AverageOfClipped(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity)
    {
        CheckColumns(minC, maxC, degreeDays, lowerC, upperC);
        for (int day = 0; day < minC.Length; day++)
            degreeDays[day] = Known(minC, maxC, day) ? OfClipped(minC[day], maxC[day], lowerC, upperC) : double.NaN;
    }

    /// <inheritdoc cref="SingleTriangle(double, double, double, double, UpperCutoff)"/>
    public static void SingleTriangle(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Singles<Triangle>(minC, maxC, degreeDays, lowerC, upperC, cutoff);

    /// <inheritdoc cref="SingleSine(double, double, double, double, UpperCutoff)"/>
    public static void SingleSine(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Singles<Sine>(minC, maxC, degreeDays, lowerC, upperC, cutoff);

    /// <summary>Half a triangle up from each day's lowest, half down to the next day's; the last day uses its own twice.</summary>
    /// <inheritdoc cref="DoubleTriangle(double, double, double, double, double, UpperCutoff)"/>
    public static void DoubleTriangle(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Doubles<Triangle>(minC, maxC, degreeDays, lowerC, upperC, cutoff);

    /// <summary>Half a sine up from each day's lowest, half down to the next day's; the last day uses its own twice.</summary>
    /// <inheritdoc cref="DoubleSine(double, double, double, double, double, UpperCutoff)"/>
    public static void DoubleSine(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal) =>
        Doubles<Sine>(minC, maxC, degreeDays, lowerC, upperC, cutoff);

    private static void Singles<TCurve>(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve
    {
        CheckColumns(minC, maxC, degreeDays, lowerC, upperC);
        for (int day = 0; day < minC.Length; day++)
            degreeDays[day] = Known(minC, maxC, day)
                ? Between<TCurve>(minC[day], maxC[day], lowerC, upperC, cutoff)
                : double.NaN;
    }

    private static void Doubles<TCurve>(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays,
        double lowerC, double upperC, UpperCutoff cutoff)
        where TCurve : struct, IDayCurve
    {
        CheckColumns(minC, maxC, degreeDays, lowerC, upperC);
        for (int day = 0; day < minC.Length; day++)
        {
            double next = minC[Math.Min(day + 1, minC.Length - 1)];
            degreeDays[day] = Known(minC, maxC, day) && !double.IsNaN(next)
                ? TwoHalves<TCurve>(minC[day], maxC[day], next, lowerC, upperC, cutoff)
                : double.NaN;
        }
    }

    private static void CheckColumns(
        ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, ReadOnlySpan<double> degreeDays, double lowerC, double upperC)
    {
        CheckThresholds(lowerC, upperC);
        if (maxC.Length != minC.Length || degreeDays.Length != minC.Length)
            throw new ArgumentException(
                $"{minC.Length} lows, {maxC.Length} highs and room for {degreeDays.Length} results: they go day by day.", nameof(maxC));
    }

    private static bool Known(ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, int day) =>
        minC[day] > maxC[day]
            ? throw new ArgumentException(FormattableString.Invariant(
                $"The lowest air of day {day}, {minC[day]} °C, is above its highest, {maxC[day]} °C."), nameof(minC))
            : minC[day] <= maxC[day];
}

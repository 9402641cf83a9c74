using NodaTime;

namespace GardenWatch.Agronomy.Water;

/// <summary>One reading of the gardener's rain gauge, and what the weather's series had fallen in the same hours.</summary>
/// <param name="SeriesMm">NaN when it is not known.</param>
public readonly record struct GaugeReading(Instant At, double Mm, double SeriesMm);

/// <summary>How the rain in one garden compares with that of the weather service's grid.</summary>
public static class RainGauge
{
    public const double HalfLifeDays = 90;

    // Small falls are all chance of where a shower passed and of what stuck to the gauge.
    private const double LeastMm = 2;
    // The service stands for as much as four falls.
    private const double ServicesWeight = 4;
    private const double FallCountsAtMost = 2;
    private const double LargestFactor = 1.5;

    /// <summary>To multiply the series' rain by, from 1/1.5 to 1.5; 1 when no reading counts.</summary>
    /// <param name="asOf">Later readings do not count yet.</param>
    /// <remarks>
    /// Geometric mean of the ratios, a reading counting half after ninety days, beside a ratio of one of weight four. Both
    /// must be 2 mm or more; a ratio counts as double or half at most.
    /// </remarks>
    public static double Factor(IEnumerable<GaugeReading> readings, Instant asOf)
    {
        double weighted = 0, weights = ServicesWeight;
        foreach (var reading in readings.Where(reading => reading.At <= asOf && reading.Mm >= LeastMm && reading.SeriesMm >= LeastMm))
        {
            double weight = Math.Pow(0.5, (asOf - reading.At).TotalDays / HalfLifeDays);
            weighted += weight * Math.Log(Math.Clamp(reading.Mm / reading.SeriesMm, 1 / FallCountsAtMost, FallCountsAtMost));
            weights += weight;
        }
        return Math.Clamp(Math.Exp(weighted / weights), 1 / LargestFactor, LargestFactor);
    }

    /// <summary>The rain of some hours brought to the sum that was read, in the shape in which the series has it; where it has next to none, evenly.</summary>
    public static void BringTo(Span<double> rainMm, double sumMm)
    {
        double known = 0;
        foreach (double rain in rainMm)
            known += double.IsNaN(rain) ? 0 : rain;
        // A tenth of a drizzle stretched to a downpour would have a peak that never was.
        bool shaped = known >= Math.Max(1, sumMm / 10);
        double each = sumMm / Math.Max(1, rainMm.Length);
        for (int hour = 0; hour < rainMm.Length; hour++)
            rainMm[hour] = !shaped ? each : double.IsNaN(rainMm[hour]) ? 0 : rainMm[hour] * sumMm / known;
    }
}

using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Soil;

/// <summary>One reading of the gardener's own soil thermometer, and what the model says of that hour and depth.</summary>
/// <param name="ModelC">NaN when the model does not know the hour.</param>
public readonly record struct ProbeReading(Instant At, double SoilC, double ModelC);

/// <summary>What a bed's own readings add to the model of its soil.</summary>
public static class ProbeOffset
{
    /// <summary>After so many days a reading counts half: soil, crop and shade change through a season.</summary>
    public const double HalfLifeDays = 30;

    // The model stands for as much as two days of readings, so that one hot or hasty reading moves it by a third; and no day
    // counts for more than what may be learned at all, so that the wildest that is not left out moves it by 1.3 K.
    private const double ModelsWeight = 2;
    private const double LargestOffset = 4;
    // More than this apart one of the two was not in that soil: a probe left in the sun, or its reading in °F.
    private const double LargestDifference = 8;

    /// <summary>
    /// To be added to the model, at most 4 K; null when no reading counts. A function of the readings alone: leave some out,
    /// or reset, and it is what it would have been without them.
    /// </summary>
    /// <param name="asOf">Later readings do not count yet.</param>
    /// <param name="reset">Readings before it no longer count: the probe was moved, the bed mulched or dug.</param>
    /// <remarks>
    /// Mean of the days' mean differences, each held to 4 K, a day counting half after thirty days, beside a zero of weight two. Readings more
    /// than 8 K off the model, or with either unknown, are left out. Days are of UTC.
    /// </remarks>
    public static TemperatureDifference? Learned(IEnumerable<ProbeReading> readings, Instant asOf, Instant? reset = null)
    {
        double weighted = 0, weights = 0;
        var counted = readings.Where(reading =>
            reading.At <= asOf && !(reading.At < reset) && Math.Abs(reading.SoilC - reading.ModelC) <= LargestDifference);
        foreach (var day in counted.GroupBy(reading => reading.At.InUtc().Date))
        {
            double age = day.Average(reading => (asOf - reading.At).TotalDays);
            double weight = Math.Pow(0.5, age / HalfLifeDays);
            weighted += weight * Math.Clamp(day.Average(reading => reading.SoilC - reading.ModelC), -LargestOffset, LargestOffset);
            weights += weight;
        }
        return weights == 0 ? null : new(Math.Clamp(weighted / (weights + ModelsWeight), -LargestOffset, LargestOffset));
    }
}

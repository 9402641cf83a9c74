using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>The low of one night by the gardener's own thermometer, and what the place's air had at its lowest hour.</summary>
/// <param name="PlaceLowC">Without any frost pocket; NaN when it is not known.</param>
/// <param name="ClearAndCalm">Of that hour, 0 to 1 (<see cref="BedAir.ClearAndCalm(Series.WeatherSeries, GeoPosition, int)"/>).</param>
public readonly record struct LowReading(Instant At, double LowC, double PlaceLowC, double ClearAndCalm);

/// <summary>What readings of the night's low teach of how much colder a bed is than the place.</summary>
public static class LearnedPocket
{
    /// <summary>Where cold air lies hardly changes from year to year, so a reading counts half only after so long.</summary>
    public const double HalfLifeDays = 365;

    // What the plan says stands for as much as three clear, calm nights.
    private const double PlansWeight = 3;
    private const double LargestDifference = 8;
    private const double NightCountsAtMost = 4;
    private const double ColderAtMost = 4;
    // A thermometer that hangs at a wall reads too warm, and a frost not warned of is dearer than a cover laid in vain.
    private const double WarmerAtMost = 1;

    /// <summary>The pocket to reckon with; what the plan says when no reading counts.</summary>
    /// <param name="asPlanned">The plan's own word, 0 where it has none.</param>
    /// <param name="asOf">Later readings do not count yet.</param>
    /// <remarks>
    /// Least squares of the nights' differences on their clearness and calm, beside the plan's word of weight three: under
    /// cloud or in wind a pocket does not show, and such a night teaches little. A night's difference counts for 4 K at
    /// most, one beyond 8 K is left out. At most 4 K colder and 1 K warmer than planned. Nights are told apart by their
    /// dates of UTC.
    /// </remarks>
    public static TemperatureDifference Of(IEnumerable<LowReading> readings, TemperatureDifference asPlanned, Instant asOf)
    {
        double weighted = PlansWeight * asPlanned.Kelvins, weights = PlansWeight;
        var counted = readings.Where(reading =>
            reading.At <= asOf && Math.Abs(reading.PlaceLowC - reading.LowC) <= LargestDifference && !double.IsNaN(reading.ClearAndCalm));
        foreach (var night in counted.GroupBy(reading => reading.At.InUtc().Date))
        {
            double clear = night.Average(reading => reading.ClearAndCalm);
            double colder = Math.Clamp(night.Average(reading => reading.PlaceLowC - reading.LowC), -NightCountsAtMost, NightCountsAtMost);
            double weight = Math.Pow(0.5, night.Average(reading => (asOf - reading.At).TotalDays) / HalfLifeDays);
            weighted += weight * clear * colder;
            weights += weight * clear * clear;
        }
        return new(Math.Clamp(weighted / weights, asPlanned.Kelvins - WarmerAtMost, asPlanned.Kelvins + ColderAtMost));
    }
}

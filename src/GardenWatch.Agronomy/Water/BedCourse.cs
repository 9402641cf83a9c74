namespace GardenWatch.Agronomy.Water;

/// <summary>What came and went in each hour at a bed, mm.</summary>
/// <param name="Rain">What reaches the soil and counts.</param>
/// <param name="Watered">By hand; <see cref="double.PositiveInfinity"/> until it is full.</param>
/// <param name="Reference">ET0 in the open.</param>
public readonly record struct BedHour(double Rain, double Watered, double Reference);

/// <summary>
/// How dry a bed is, hour by hour, while what draws on it changes from day to day. It is taken to begin at field capacity, and
/// <see cref="RestsOnItsBeginning"/> tells for how long that matters.
/// </summary>
/// <remarks>
/// The balance of FAO-56 (Allen et al. 1998, eq. 85) in steps of an hour. After an unknown hour two courses are reckoned, from the wettest and
/// the driest that can be, until they agree as <see cref="SoilWaterCourse"/> has it: a good rain, a watering or weeks of use bring them together.
/// </remarks>
public sealed class BedCourse
{
    private readonly int? _settledAt;

    private BedCourse(double[] depletionMm, int? settledAt) => (DepletionMm, _settledAt) = (depletionMm, settledAt);

    /// <summary>Water lacking to field capacity at the end of each hour, mm; NaN where it is not known.</summary>
    public double[] DepletionMm { get; }

    /// <summary>Had the bed been dry before the first hour, it would be drier than told at the end of this one.</summary>
    public bool RestsOnItsBeginning(int hour) => !(_settledAt <= hour);

    /// <param name="draws">Of each day.</param>
    /// <param name="dayOfHour">Which of these days an hour belongs to.</param>
    /// <exception cref="ArgumentException">Hours without a day.</exception>
    public static BedCourse Of(ReadOnlySpan<BedHour> hours, IReadOnlyList<Draw> draws, ReadOnlySpan<int> dayOfHour)
    {
        if (hours.Length != dayOfHour.Length)
            throw new ArgumentException($"{hours.Length} hours, of which {dayOfHour.Length} have a day.", nameof(dayOfHour));
        double[] depletion = new double[hours.Length];
        int? settledAt = null;
        double wet = 0, dry = 0, driest = double.PositiveInfinity;
        for (int i = 0; i < hours.Length; i++)
        {
            var draw = draws[dayOfHour[i]];
            // A series is not refused for one bad hour: rain below nothing is unknown rain.
            var (rain, watered, reference) = (hours[i].Rain >= 0 ? hours[i].Rain : double.NaN, hours[i].Watered, hours[i].Reference);
            bool drawKnown = !double.IsNaN(draw.Zone.TotalMm) && !double.IsNaN(draw.UseOverReference);
            bool known = drawKnown && !double.IsNaN(rain) && !double.IsNaN(reference);
            if (!drawKnown)
                (wet, dry, driest) = (0, double.PositiveInfinity, double.PositiveInfinity);
            else
            {
                if (double.IsPositiveInfinity(watered))
                    (wet, dry, driest, watered) = (0, 0, 0, 0);
                wet = double.IsNaN(rain) ? 0 : draw.After(wet, rain, watered, double.IsNaN(reference) ? 0 : reference);
                dry = Drier(dry);
                driest = Drier(driest);
            }
            depletion[i] = known && dry - wet <= SoilWaterCourse.Agreement * draw.Zone.TotalMm ? (wet + dry) / 2 : double.NaN;
            if (!drawKnown || driest - dry > SoilWaterCourse.Agreement * draw.Zone.TotalMm)
                settledAt = null;
            else
                settledAt ??= i;

            double Drier(double from) => draw.After(
                double.IsPositiveInfinity(from) ? draw.Zone.TotalMm : from, double.IsNaN(rain) ? 0 : rain, watered,
                double.IsNaN(reference) ? SoilWaterCourse.MostUseMm : reference);
        }
        return new(depletion, settledAt);
    }
}

namespace GardenWatch.Agronomy.Pests;

/// <summary>How far the warmth since a biofix has brought an event.</summary>
/// <param name="Gathered">°C days by the last day; NaN when more than one day in ten is unknown.</param>
/// <param name="Begins">Which day, from 0, first reached it; null when none has, or too much is unknown.</param>
/// <param name="Ends">Which day reached the end of its range.</param>
public readonly record struct PestCourse(double Gathered, int? Begins, int? Ends)
{
    /// <summary>From the lowest and highest of each day, the biofix being the first.</summary>
    /// <param name="lowC">Air, or soil at the event's depth.</param>
    /// <exception cref="ArgumentException">Columns of different length, or a lowest above its highest.</exception>
    /// <remarks>An unknown day counts as the mean of the known ones before it.</remarks>
    public static PestCourse Of(PestEvent pest, ReadOnlySpan<double> lowC, ReadOnlySpan<double> highC)
    {
        if (lowC.Length != highC.Length)
            throw new ArgumentException($"{lowC.Length} lowest and {highC.Length} highest temperatures.", nameof(highC));
        double gathered = 0;
        int unknown = 0;
        int? begins = null, ends = null;
        for (int day = 0; day < lowC.Length; day++)
        {
            double warmth = pest.DegreeDays(lowC[day], highC[day]);
            if (double.IsNaN(warmth))
            {
                unknown++;
                warmth = day == 0 ? 0 : gathered / day;
            }
            gathered += warmth;
            begins ??= gathered >= pest.FromDegreeDays ? day : null;
            ends ??= gathered >= pest.UntilDegreeDays ? day : null;
        }
        return unknown * 10 > lowC.Length ? new(double.NaN, null, null) : new(gathered, begins, ends);
    }
}

namespace GardenWatch.Agronomy.Water;

/// <summary>
/// How long a crop is in each of its four stages of water use: in days, or in °C days so that a cold spring delays it.
/// </summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998) p. 95: initial until a tenth of the ground is covered, growth until cover is full, middle
/// until leaves begin to yellow, late until harvest. Its table 11 is in days, of the region and season named there.
/// </remarks>
public readonly record struct GrowthStages
{
    /// <exception cref="ArgumentOutOfRangeException">A stage shorter than nothing.</exception>
    public GrowthStages(double initial, double growth, double middle, double late)
    {
        Initial = Length(initial, nameof(initial));
        Growth = Length(growth, nameof(growth));
        Middle = Length(middle, nameof(middle));
        Late = Length(late, nameof(late));
    }

    public double Initial { get; }

    public double Growth { get; }

    public double Middle { get; }

    public double Late { get; }

    public double Total => Initial + Growth + Middle + Late;

    /// <summary>These stages of days, in the warmth that the days usually bring.</summary>
    /// <param name="usualDegreeDays">°C days of each day of a usual season, from the day on which the stages begin.</param>
    /// <exception cref="ArgumentException">Fewer days than the stages have.</exception>
    /// <remarks>
    /// The table's days are tied to the warmth of the place that uses them, at the base of the crop: then a warm year
    /// reaches full cover earlier, as it does in the bed: leaves appear with warmth, not with days (Ritchie and NeSmith 1991).
    /// </remarks>
    public GrowthStages InWarmth(ReadOnlySpan<double> usualDegreeDays)
    {
        if (Total > usualDegreeDays.Length)
            throw new ArgumentException($"The stages have {Total} days, the usual season only {usualDegreeDays.Length}.", nameof(usualDegreeDays));
        double start = 0;
        double initial = Take(usualDegreeDays, ref start, Initial), growth = Take(usualDegreeDays, ref start, Growth);
        double middle = Take(usualDegreeDays, ref start, Middle);
        return new(initial, growth, middle, Take(usualDegreeDays, ref start, Late));
    }

    /// <summary>The same shares of another length: a variety's own days or °C days to harvest.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A length below nothing.</exception>
    public GrowthStages ScaledTo(double total)
    {
        double by = Length(total, nameof(total)) / Total;
        return new(Initial * by, Growth * by, Middle * by, Late * by);
    }

    private static double Take(ReadOnlySpan<double> daily, ref double from, double days)
    {
        if (double.IsNaN(days))
            return double.NaN;
        double until = from + days, sum = 0;
        for (int day = (int)from; day < until; day++)
            sum += daily[day] * (Math.Min(day + 1, until) - Math.Max(day, from));
        from = until;
        return sum;
    }

    private static double Length(double length, string name) =>
        length < 0 ? throw new ArgumentOutOfRangeException(name, length, "A stage lasts from 0 on.") : length;
}

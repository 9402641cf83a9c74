namespace GardenWatch.Agronomy.Frost;

/// <summary>Other conventions for the same frost dates, as tables of other places use them; the service's own is <see cref="FrostDates"/>.</summary>
/// <remarks>They agree in the middle and differ by days in the tails. Years without a frost have no place in either.</remarks>
public static class FrostStatistics
{
    /// <summary>Day after which the last frost still comes with a chance, if last frosts are normally distributed; NaN of fewer than two.</summary>
    /// <remarks>After Thom 1959: mean and sample standard deviation (n - 1).</remarks>
    public static double NormalDayWithLaterFrost(ReadOnlySpan<double> lastFrostDays, double chance)
    {
        var (mean, spread) = MeanAndSpread(lastFrostDays);
        return mean + NormalDistribution.Quantile(1 - chance) * spread;
    }

    /// <summary>The same from plotting positions i/(n+1) (Weibull), straight between them; the ends of the record at most. NaN with a day missing.</summary>
    public static double WeibullDayWithLaterFrost(ReadOnlySpan<double> lastFrostDays, double chance)
    {
        if (!(chance is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(chance), chance, "A chance is 0 to 1.");
        if (lastFrostDays.IsEmpty || lastFrostDays.Contains(double.NaN))
            return double.NaN;
        double[] sorted = lastFrostDays.ToArray();
        Array.Sort(sorted);
        double at = Math.Clamp((1 - chance) * (sorted.Length + 1) - 1, 0, sorted.Length - 1);
        int below = (int)Math.Floor(at);
        int above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
    }

    /// <summary>Mean and sample standard deviation; NaN where there are too few.</summary>
    public static (double Mean, double Spread) MeanAndSpread(ReadOnlySpan<double> values)
    {
        double sum = 0, squares = 0;
        foreach (double value in values)
            sum += value;
        double mean = sum / values.Length;
        foreach (double value in values)
            squares += (value - mean) * (value - mean);
        return (mean, values.Length > 1 ? Math.Sqrt(squares / (values.Length - 1)) : double.NaN);
    }

    /// <summary>Chance that what has a yearly chance happens at least once in so many years.</summary>
    public static double OverYears(double yearlyChance, int years)
    {
        if (!(yearlyChance is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(yearlyChance), yearlyChance, "A chance is 0 to 1.");
        if (years < 0)
            throw new ArgumentOutOfRangeException(nameof(years), years, "0 years or more.");
        return 1 - Math.Pow(1 - yearlyChance, years);
    }
}

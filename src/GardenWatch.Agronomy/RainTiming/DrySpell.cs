namespace GardenWatch.Agronomy.RainTiming;

/// <summary>Runs of dry days and hours. Unknown rain ends a run: it may have rained.</summary>
public static class DrySpell
{
    /// <summary>A day below this is dry, mm.</summary>
    /// <remarks>Consecutive dry days of the joint climate index list (Zhang et al. 2011, WIREs Clim. Change 2:851-870).</remarks>
    public const double DryDayMm = 1;

    /// <summary>Dry days on end, counted back from the last.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be.</exception>
    public static int DaysUpToNow(ReadOnlySpan<double> dailyMm)
    {
        int run = 0;
        while (run < dailyMm.Length && Plausible.Rain(dailyMm[^(run + 1)]) < DryDayMm)
            run++;
        return run;
    }

    /// <summary>Dry days on end from the first on.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be.</exception>
    public static int DaysAhead(ReadOnlySpan<double> dailyMm)
    {
        int run = 0;
        while (run < dailyMm.Length && Plausible.Rain(dailyMm[run]) < DryDayMm)
            run++;
        return run;
    }

    /// <summary>The longest run of dry days.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be.</exception>
    public static int Longest(ReadOnlySpan<double> dailyMm)
    {
        int longest = 0, run = 0;
        foreach (double mm in dailyMm)
        {
            run = Plausible.Rain(mm) < DryDayMm ? run + 1 : 0;
            longest = Math.Max(longest, run);
        }
        return longest;
    }

    /// <summary>Hours from the first on without any rain.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be.</exception>
    public static int HoursAhead(ReadOnlySpan<double> hourlyMm)
    {
        int run = 0;
        while (run < hourlyMm.Length && Plausible.Rain(hourlyMm[run]) == 0)
            run++;
        return run;
    }
}

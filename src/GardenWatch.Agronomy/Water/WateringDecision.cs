using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>What to do about a bed's water this morning.</summary>
public enum Watering
{
    /// <summary>Something it hangs on is not known: feel the soil.</summary>
    Unknown,
    /// <summary>Water is easily had on all days looked at, without any rain.</summary>
    NotNeeded,
    /// <summary>It will be needed if no rain comes, but not yet; tomorrow's forecast knows more.</summary>
    NotYet,
    /// <summary>Rain is sure enough to come before the crop goes short.</summary>
    WaitForRain,
    Now,
}

/// <summary>The decision and the numbers behind it.</summary>
/// <param name="DeficitMm">This morning.</param>
/// <param name="GiveMm">When <see cref="Watering.Now"/>: back to field capacity, less the rain that is sure enough.</param>
/// <param name="DaysUntilStress">Without rain: 0 when the crop goes short today; null when not on the days looked at.</param>
/// <param name="RainShare">Share of the runs of the forecast in which rain keeps the crop from going short; NaN when none was needed or known.</param>
public readonly record struct WateringAdvice(Watering Watering, double DeficitMm, double GiveMm, int? DaysUntilStress, double RainShare);

/// <summary>Whether to water now or leave it to the rain.</summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998) p. 171: water before what is easily had is used up, and never more than is missing. Waiting for
/// rain that stays away costs growth, watering before rain only water, so rain must be sure enough
/// (<see cref="ShareNeeded"/>) and come in time in the same run of the forecast.
/// </remarks>
public static class WateringDecision
{
    /// <summary>Four runs of five: a wrong wait costs about four times what a needless watering does.</summary>
    public const double ShareNeeded = 0.8;

    /// <summary>Water today if the crop would go short today or tomorrow: a morning may be missed.</summary>
    public const int LeadDays = 1;

    /// <summary>From this morning's deficit and the days ahead.</summary>
    /// <param name="deficitMm">Depletion of the root zone, 0 to its total.</param>
    /// <param name="usePerDay">Of an unstressed crop, mm; today first.</param>
    /// <param name="rainOfRuns">
    /// Useful rain of each day, today first, in each run of the forecast; one run for a plain forecast; none where rain does
    /// not reach the bed. Runs with an unknown day are left out, and must be fewer than one in ten.
    /// </param>
    /// <exception cref="ArgumentException">A run of other length than the days, or a value that can't be true.</exception>
    /// <param name="leadDays">Days from today on in which it must not go short: until the gardener is there again.</param>
    /// <param name="shareNeeded">Of the runs; 0 to 1.</param>
    public static WateringAdvice For(
        RootZone zone, double deficitMm, ReadOnlySpan<double> usePerDay, IReadOnlyList<double[]> rainOfRuns, int leadDays = LeadDays, double shareNeeded = ShareNeeded)
    {
        Within.Checked(deficitMm, 0, 5000, "The deficit", "mm", nameof(deficitMm));
        foreach (double[] run in rainOfRuns)
            if (run.Length != usePerDay.Length)
                throw new ArgumentException($"A run has {run.Length} days of rain, there are {usePerDay.Length} days of use.", nameof(rainOfRuns));

        var dry = Dry(zone, deficitMm, usePerDay);
        if (dry.Unknown || double.IsNaN(zone.EasilyHadMm) || usePerDay.IsEmpty)
            return new(Watering.Unknown, deficitMm, double.NaN, null, double.NaN);
        if (dry.StressDay is not { } stressDay)
            return new(Watering.NotNeeded, deficitMm, 0, null, double.NaN);

        // Judged to the day after the crop would go short, so that a shower that only puts it off a day does not count.
        int until = Math.Min(stressDay + 1, usePerDay.Length - 1);
        List<double> totals = [];
        int saved = 0;
        foreach (double[] run in rainOfRuns)
        {
            var rain = run.AsSpan(0, until + 1);
            double total = Rain.Total(rain);
            if (double.IsNaN(total))
                continue;
            totals.Add(total);
            saved += KeepsEasy(zone, deficitMm, usePerDay, rain) ? 1 : 0;
        }
        bool rainKnown = rainOfRuns.Count > 0 && totals.Count > 0.9 * rainOfRuns.Count;
        double share = rainKnown ? (double)saved / totals.Count : double.NaN;
        if (share >= shareNeeded)
            return new(Watering.WaitForRain, deficitMm, 0, stressDay, share);
        if (stressDay > leadDays)
            return new(Watering.NotYet, deficitMm, 0, stressDay, share);
        // Nothing is known of the rain: protective advice is not withheld, the whole deficit is given.
        double sure = rainKnown ? SureEnough(totals, shareNeeded) : 0;
        return new(Watering.Now, deficitMm, Math.Max(0, deficitMm - sure), stressDay, share);
    }

    private static (int? StressDay, bool Unknown) Dry(RootZone zone, double deficit, ReadOnlySpan<double> use)
    {
        for (int day = 0; day < use.Length; day++)
        {
            deficit += Plausible.Use(use[day]);
            if (double.IsNaN(deficit))
                return (null, true);
            if (deficit > zone.EasilyHadMm)
                return (day, false);
        }
        return (null, double.IsNaN(deficit));
    }

    private static bool KeepsEasy(RootZone zone, double deficit, ReadOnlySpan<double> use, ReadOnlySpan<double> rain)
    {
        for (int day = 0; day < rain.Length; day++)
        {
            deficit = Math.Max(0, deficit - Plausible.Rain(rain[day])) + use[day];
            if (deficit > zone.EasilyHadMm)
                return false;
        }
        return true;
    }

    /// <summary>The rain that at least the needed share of the runs brings.</summary>
    private static double SureEnough(List<double> totals, double shareNeeded)
    {
        totals.Sort();
        return totals[Math.Min(totals.Count - 1, (int)Math.Floor((1 - shareNeeded) * totals.Count + 1e-9))]; // of one run: that one
    }
}

using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>What is put out again and again.</summary>
public enum Renewed
{
    TasteRepellent, ScentRepellent, PepperSpray, EggSpray, BloodMeal, IronPhosphateBait, MetaldehydeBait, CaterpillarBacteria, DiatomaceousEarth,
}

/// <summary>When to renew repellents, baits and dusts.</summary>
/// <remarks>
/// Repellents are very variable: expect some damage, and fence (Cornell guidelines, R042). A seller's 90 days (R038) are not
/// followed. Metaldehyde is dangerous to dogs; iron phosphate is to be preferred. <see cref="RainRule.LabelFirst"/>
/// </remarks>
public static class Renewal
{
    /// <summary>mm since, at which it is washed off; no repellent source gives a figure, so that of protectants (R019) stands in.</summary>
    public static double HeavyRainMm { get; } = RainRule.Of("R019").Min;

    /// <summary>Times a week to walk round and look (R037).</summary>
    public static int LooksAWeek { get; } = (int)RainRule.Of("R037").Min;

    /// <summary>Days after which to renew it, the shorter of what is printed; NaN where only rain or wind decide.</summary>
    public static double Days(Renewed what) => RuleOf(what) is { } rule ? FirstKnown(rule.Min, rule.Max) : double.NaN;

    /// <summary>Whether it is due; null when that hangs on unknown rain.</summary>
    /// <param name="daysSince">From 0.</param>
    /// <param name="rainSinceMm">All rain since, 0 to 5000 mm.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static bool? Due(Renewed what, double daysSince, double rainSinceMm)
    {
        Within.Checked(daysSince, 0, 10_000, "Time since", "days", nameof(daysSince));
        Within.Checked(rainSinceMm, 0, 5000, "Rain since", "mm", nameof(rainSinceMm));
        double washedAt = what switch
        {
            // Any rain undoes them (R041, R044, R046); the bait on iron lasts through wetting (R043).
            Renewed.BloodMeal or Renewed.MetaldehydeBait or Renewed.DiatomaceousEarth => double.Epsilon,
            Renewed.IronPhosphateBait => double.PositiveInfinity,
            _ => HeavyRainMm,
        };
        if (daysSince >= Days(what) || rainSinceMm >= washedAt)
            return true;
        bool rainMatters = double.IsFinite(washedAt);
        return double.IsNaN(daysSince) || rainMatters && double.IsNaN(rainSinceMm) ? null : false;
    }

    private static RainRule? RuleOf(Renewed what) => what switch
    {
        Renewed.TasteRepellent => RainRule.Of("R035"),
        Renewed.ScentRepellent => RainRule.Of("R036"),
        Renewed.PepperSpray => RainRule.Of("R039"),
        Renewed.EggSpray => RainRule.Of("R040"),
        Renewed.BloodMeal => RainRule.Of("R041"),
        Renewed.IronPhosphateBait => RainRule.Of("R043"),
        Renewed.CaterpillarBacteria => RainRule.Of("R022"),
        Renewed.MetaldehydeBait or Renewed.DiatomaceousEarth => null,
        _ => throw new ArgumentOutOfRangeException(nameof(what), what, "Not a thing that is renewed."),
    };

    private static double FirstKnown(double min, double max) => double.IsNaN(min) ? max : min;
}

using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Seeds;

/// <summary>How a lot of seed dies: each seed has its day, and the days are spread as a bell.</summary>
/// <remarks>
/// Ellis and Roberts 1980, Ann. Bot. 45:13-30: the probit of what lives falls straight with time, v = Ki - p / σ, where Ki is
/// the fresh lot's probit and σ the time in which one probit is lost. Tables of storage life differ by up to threefold, so what
/// comes of it is a reason to test, never a finding.
/// </remarks>
public static class SeedViability
{
    /// <summary>A lot that began with this share, in a table's storage life, ends it with half of its seed alive.</summary>
    /// <remarks>
    /// The tables do not say what is left at a life's end nor what there was; half left of a good lot is our reading of them,
    /// and the reason to test. It makes σ the life over 1.28.
    /// </remarks>
    public const double GoodFreshShare = 0.9;

    // No lot has a share of 1: it would be one that never dies.
    private const double BestShare = 0.995;

    /// <summary>What share lives after some years, from the years that a crop's seed keeps cool and dry.</summary>
    /// <param name="freshShare">0 to 1; above 0.995 counts as that.</param>
    /// <param name="years">From 0.</param>
    /// <param name="lifeYears">Above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A share or time that can't be.</exception>
    public static double After(double freshShare, double years, double lifeYears)
    {
        if (lifeYears <= 0)
            throw new ArgumentOutOfRangeException(nameof(lifeYears), lifeYears, "A storage life is above 0 years.");
        if (years < 0)
            throw new ArgumentOutOfRangeException(nameof(years), years, "Seed has an age from 0 on.");
        double lost = years * BellCurve.Probit(GoodFreshShare) / lifeYears;
        Within.Share(freshShare, "Germination");
        return freshShare == 0 ? 0 * lost : BellCurve.Share(BellCurve.Probit(Math.Min(freshShare, BestShare)) - lost);
    }

    /// <summary>What to do with it.</summary>
    /// <remarks>The limits are common practice; Iowa State Univ. Extension 1999 tests with twenty seeds.</remarks>
    public static SeedWorth WorthOf(double share) => double.IsNaN(Within.Share(share, "Germination")) ? SeedWorth.Unknown
        : share >= 0.8 ? SeedWorth.SowAsUsual : share >= 0.5 ? SeedWorth.SowThicker : SeedWorth.BuyFresh;

    /// <summary>How many times the rate of good seed to sow; infinite where nothing comes up.</summary>
    public static double TimesAsThick(double share) => GoodFreshShare / Within.Share(share, "Germination");
}

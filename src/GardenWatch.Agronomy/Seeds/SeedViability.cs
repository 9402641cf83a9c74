using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Seeds;

/// <summary>How a lot of seed dies: each seed has its day, and the days are spread as a bell.</summary>
/// <remarks>
/// Ellis and Roberts 1980, Ann. Bot. 45:13-30: the probit of what lives falls straight with time, v = Ki - p / σ, where Ki is
/// the fresh lot's probit and σ the time in which one probit is lost.
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

    /// <summary>What share lives after some years, from a storage life such as <see cref="SeedLife"/> lists.</summary>
    /// <param name="freshShare">0 to 1; above 0.995 counts as that.</param>
    /// <param name="years">From 0.</param>
    /// <param name="lifeYears">Above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A share or time that can't be.</exception>
    public static double After(double freshShare, double years, double lifeYears)
    {
        if (lifeYears <= 0)
            throw new ArgumentOutOfRangeException(nameof(lifeYears), lifeYears, "A storage life is above 0 years.");
        return AfterProbits(freshShare, Times(years) * BellCurve.Probit(GoodFreshShare) / lifeYears);
    }

    /// <summary>What share lives after some days in a known and steady store, with the constants of a species.</summary>
    /// <param name="moisturePercent">Of the seed's fresh weight, 5 to 25 %.</param>
    /// <param name="storeC">-20 to 90 °C.</param>
    public static double AfterDays(double freshShare, double days, double moisturePercent, double storeC, ViabilityConstants species) =>
        AfterProbits(freshShare, Times(days) / species.DaysToLoseOneProbit(moisturePercent, storeC));

    /// <summary>How many times as long seed keeps in one store as in another, equally dry.</summary>
    /// <param name="storeC">-20 to 90 °C.</param>
    /// <param name="otherC">The same.</param>
    /// <remarks>
    /// The temperature terms of Ellis and Roberts, which hold for all species alike: 0.0329 and 0.000478 (Dickie et al. 1990,
    /// Ann. Bot. 65:197-204). About double for each 5.6 K less near 20 °C, as Harrington's rule says; less so in the cold,
    /// where the rule promises too much.
    /// </remarks>
    public static double TimesAsLong(double storeC, double otherC) =>
        Math.Pow(10, ViabilityConstants.TemperatureTerm(otherC, ViabilityConstants.UniversalLinear, ViabilityConstants.UniversalSquare)
            - ViabilityConstants.TemperatureTerm(storeC, ViabilityConstants.UniversalLinear, ViabilityConstants.UniversalSquare));

    /// <summary>Harrington's rule of thumb: degrees Fahrenheit and per cent of humidity add up to less than 100.</summary>
    /// <returns>Null where either is not known.</returns>
    public static bool? StoreIsGood(double storeC, double relativeHumidityPercent)
    {
        double sum = Within.Air(storeC) * 1.8 + 32 + Within.Humidity(relativeHumidityPercent);
        return double.IsNaN(sum) ? null : sum < 100;
    }

    private static double AfterProbits(double freshShare, double lost)
    {
        Within.Share(freshShare, "Germination");
        return freshShare == 0 ? 0 * lost : BellCurve.Share(BellCurve.Probit(Math.Min(freshShare, BestShare)) - lost);
    }

    private static double Times(double time, [System.Runtime.CompilerServices.CallerArgumentExpression(nameof(time))] string? name = null) =>
        time < 0 ? throw new ArgumentOutOfRangeException(name, time, "Seed has an age from 0 on.") : time;
}

/// <summary>The constants of a species in the viability equation: log10 σ = KE - CW log10 m - CH t - CQ t², σ in days.</summary>
/// <param name="KE">Of the species.</param>
/// <param name="CW">How much drier seed keeps longer.</param>
/// <param name="CH">How much cooler seed keeps longer, the straight part.</param>
/// <param name="CQ">The part with the square.</param>
/// <remarks>Ellis and Roberts 1980. No table of the constants is shipped: take them from a source for the species.</remarks>
public readonly record struct ViabilityConstants(
    double KE, double CW, double CH = ViabilityConstants.UniversalLinear, double CQ = ViabilityConstants.UniversalSquare)
{
    /// <summary>CH that holds for all species alike (Dickie et al. 1990).</summary>
    public const double UniversalLinear = 0.0329;

    /// <summary>CQ that holds for all species alike (Dickie et al. 1990).</summary>
    public const double UniversalSquare = 0.000478;

    /// <summary>σ, days.</summary>
    public double DaysToLoseOneProbit(double moisturePercent, double storeC)
    {
        Within.Checked(moisturePercent, 5, 25, "Moisture of seed in store", "%", nameof(moisturePercent));
        return Math.Pow(10, KE - CW * Math.Log10(moisturePercent) - TemperatureTerm(storeC, CH, CQ));
    }

    internal static double TemperatureTerm(double storeC, double linear, double square)
    {
        Within.Checked(storeC, -20, 90, "The viability equation's store", "°C", nameof(storeC));
        return linear * storeC + square * storeC * storeC;
    }
}

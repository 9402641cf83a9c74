namespace GardenWatch.Agronomy.Frost;

/// <summary>The normal distribution with mean 0 and spread 1.</summary>
public static class NormalDistribution
{
    /// <summary>Chance of a value at or below; NaN of NaN.</summary>
    /// <remarks>
    /// Complementary error function by its fitted exponential (Press et al. 1992, Numerical Recipes, 2nd ed., ch. 6.2):
    /// within 1.2e-7 of the value everywhere, so that small chances stay in order.
    /// </remarks>
    public static double Below(double z)
    {
        double x = Math.Abs(z) / Math.Sqrt(2);
        double t = 1 / (1 + x / 2);
        double tail = 0.5 * t * Math.Exp(-x * x - 1.26551223 + t * (1.00002368 + t * (0.37409196 + t * (0.09678418 + t * (-0.18628806
            + t * (0.27886807 + t * (-1.13520398 + t * (1.48851587 + t * (-0.82215223 + t * 0.17087277)))))))));
        return z < 0 ? tail : 1 - tail;
    }

    /// <summary>The value that a share of all lies below; ±infinity for 0 and 1.</summary>
    public static double Quantile(double chance)
    {
        if (!(chance is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(chance), chance, "A chance is 0 to 1.");
        if (chance is 0 or 1)
            return chance == 0 ? double.NegativeInfinity : double.PositiveInfinity;
        double low = -40, high = 40;
        for (int round = 0; round < 60; round++)
        {
            double middle = (low + high) / 2;
            (low, high) = Below(middle) < chance ? (middle, high) : (low, middle);
        }
        return (low + high) / 2;
    }

    public static double Density(double z, double spread) => Math.Exp(-z * z / (2 * spread * spread)) / (spread * Math.Sqrt(2 * Math.PI));
}

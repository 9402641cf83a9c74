using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Seeds;

/// <summary>How many seeds to sow for a wanted number of plants.</summary>
public static class SowingCount
{
    private const double LeastShare = 0.001;

    /// <summary>
    /// The fewest seeds of which at least <paramref name="plants"/> come up with a stated certainty; null where the share is
    /// not known, or below one in a thousand: no number is enough.
    /// </summary>
    /// <param name="plants">1 to 10000; sown a few to a spot, 1.</param>
    /// <param name="emergingShare">Chance of each seed, 0 to 1: germination, less what the bed takes.</param>
    /// <param name="certainty">Above 0 and up to 0.9999; nine times in ten is a gardener's usual wish.</param>
    /// <remarks>
    /// Binomial: seeds come up or fail each by itself. Slugs, crusted soil and a dry week take whole rows, and no number of
    /// seeds makes up for them. For one plant it is the textbook's log(1 - certainty) / log(1 - share), rounded up.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">A share, number or certainty that can't be.</exception>
    public static int? For(int plants, double emergingShare, double certainty)
    {
        Within.Share(emergingShare, "The share that comes up");
        if (plants is < 1 or > 10_000)
            throw new ArgumentOutOfRangeException(nameof(plants), plants, "Plants wanted are from 1 to 10000.");
        if (!(certainty > 0 && certainty <= 0.9999))
            throw new ArgumentOutOfRangeException(nameof(certainty), certainty, "Certainty is above 0 and up to 0.9999.");
        if (!(emergingShare >= LeastShare))
            return null;
        // The chance that the last plant wanted is up with exactly the n-th seed, by its logarithm: it begins too small for
        // a number when many plants are wanted.
        double chance = plants * Math.Log(emergingShare), failing = Math.Log(1 - emergingShare);
        double sum = Math.Exp(chance);
        int seeds = plants;
        // An even chance asked of seed with an even chance is one seed: rounding must not make it two.
        while (sum < certainty - 1e-12)
        {
            chance += failing + Math.Log(seeds / (seeds - plants + 1.0));
            seeds++;
            sum += Math.Exp(chance);
        }
        return seeds;
    }
}

namespace GardenWatch.Agronomy.Frost;

/// <summary>How much frost a kind of plant, or a part of it, bears: from tender to hardy.</summary>
public enum FrostHardiness
{
    /// <summary>Suffers from chill already: tomato, cucumber, basil.</summary>
    ChillSensitive,
    /// <summary>Potato tops, French bean, sweet corn, melon.</summary>
    VerySensitive,
    /// <summary>Cauliflower curd, broccoli and asparagus spears, spring pea and lettuce.</summary>
    Sensitive,
    /// <summary>Leaves of cabbages and kale, beet, onion, carrot, parsnip, winter lettuce.</summary>
    Moderate,
    /// <summary>Winter beans, savoy, spinach.</summary>
    Reasonable,
    /// <summary>Winter cereals and grasses.</summary>
    Good,
}

/// <summary>What state a plant meets a frost in.</summary>
public enum FrostStage
{
    /// <summary>Grown where it stands, not hardened by cold lately.</summary>
    Growing,
    /// <summary>Raised under cover, just come up, or soft after a warm spell.</summary>
    Soft,
    InFlower,
    /// <summary>After some weeks of cool days and nights.</summary>
    Hardened,
}

/// <summary>Leaf temperatures between which first damage sets in, °C: none at the upper, sure at the lower.</summary>
public readonly record struct DamageRange(double SureC, double NoneC)
{
    /// <summary>Chance of damage at a leaf temperature, straight between the two; NaN when it is not known.</summary>
    public double Chance(double leafC) => Math.Clamp((NoneC - leafC) / (NoneC - SureC), 0, 1);
}

/// <summary>What cold does to plants.</summary>
public static class FrostDamage
{
    /// <summary>Below this crops of tropical origin may suffer without any ice (Snyder and de Melo-Abreu 2005, ch. 4).</summary>
    public const double ChillingC = 12.5;

    /// <summary>Range of first damage.</summary>
    /// <remarks>
    /// Wilson, Payne and Boyd 2023, Sci. Rep. 13:8254, table 2 (temperate crops by relative frost resistance). Chances within a
    /// range are straight lines: the table has no more. Growers' lists of what kills (Dawling 2012) lie at or below the
    /// range, but for heads of cabbage and scallions: a crop that two sources place apart belongs into the tenderer class.
    /// Stages by judgement, cautious: hardening is worth several kelvins to hardy kinds and is lost in a warm spell (Snyder
    /// and de Melo-Abreu 2005, ch. 4), one is counted; tender kinds gain nothing.
    /// </remarks>
    public static DamageRange Range(FrostHardiness hardiness, FrostStage stage = FrostStage.Growing)
    {
        var (sure, none) = hardiness switch
        {
            FrostHardiness.ChillSensitive => (0.0, 5.0),
            FrostHardiness.VerySensitive => (-2.0, 0.0),
            FrostHardiness.Sensitive => (-4.0, -2.0),
            FrostHardiness.Moderate => (-7.0, -4.0),
            FrostHardiness.Reasonable => (-10.0, -7.0),
            FrostHardiness.Good => (-15.0, -10.0),
            _ => throw new ArgumentOutOfRangeException(nameof(hardiness), hardiness, "Not a hardiness."),
        };
        double shift = stage switch
        {
            FrostStage.Growing => 0,
            FrostStage.Soft or FrostStage.InFlower => 1,
            FrostStage.Hardened => hardiness >= FrostHardiness.Sensitive ? -1 : 0,
            _ => throw new ArgumentOutOfRangeException(nameof(stage), stage, "Not a stage."),
        };
        return new(sure + shift, none + shift);
    }

    /// <summary>Chance of damage, 0 to 1, when the leaf gets as cold as this; NaN when it is not known.</summary>
    public static double Chance(double leafLowC, FrostHardiness hardiness, FrostStage stage = FrostStage.Growing) =>
        Range(hardiness, stage).Chance(leafLowC);

    /// <summary>
    /// Chance of damage in a night of which only the chances of leaf temperatures are known: the mean over them.
    /// </summary>
    /// <param name="chanceAtOrBelow">Chance that the leaf is at or below a temperature, such as <see cref="FrostOutlook.Chance"/>.</param>
    public static double Chance(Func<double, double> chanceAtOrBelow, FrostHardiness hardiness, FrostStage stage = FrostStage.Growing)
    {
        // The chance of damage falls evenly across the range, so its mean over the leaf is the mean of the leaf's chance there.
        const int Steps = 20;
        var range = Range(hardiness, stage);
        double sum = 0;
        for (int step = 0; step < Steps; step++)
            sum += chanceAtOrBelow(range.SureC + (range.NoneC - range.SureC) * (step + 0.5) / Steps);
        return sum / Steps;
    }
}

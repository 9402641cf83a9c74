namespace GardenWatch.Agronomy.Seeds;

/// <summary>What to do with a lot of seed by the share of it that comes up, tested or reckoned.</summary>
public enum SeedWorth
{
    Unknown,
    /// <summary>80 % or more: sow at the normal rate.</summary>
    SowAsUsual,
    /// <summary>50 to 79 %: sow thicker, by <see cref="SeedViability.TimesAsThick"/>.</summary>
    SowThicker,
    /// <summary>Below 50 %: buy fresh seed; what still comes up is weak.</summary>
    BuyFresh,
}

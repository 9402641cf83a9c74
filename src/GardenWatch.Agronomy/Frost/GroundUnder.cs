namespace GardenWatch.Agronomy.Frost;

/// <summary>What a plant stands over: how much of the soil's warmth reaches it at night.</summary>
public enum GroundUnder
{
    /// <summary>As at weather stations; what the leaf model is of.</summary>
    ShortGrass,
    /// <summary>Bare, firm and moist: the warmest.</summary>
    MoistSoil,
    /// <summary>Bare and dry, or freshly dug: air in it keeps the warmth down.</summary>
    DryOrLooseSoil,
    /// <summary>Straw, leaves, chips, or a crop over the soil.</summary>
    MulchOrTallCrop,
    Snow,
}

/// <summary>How the ground moves a clear, calm night's low beside that over short grass, K.</summary>
public static class GroundWarmth
{
    /// <summary>To add to the leaf of a clear, calm night.</summary>
    /// <remarks>
    /// University of California table, as in Snyder and de Melo-Abreu 2005 (FAO 10, vol. 1, ch. 6) and Ontario's vegetable
    /// advice: colder than bare, firm, moist soil by 0.6 to 1.7 K over a low cover, 1.1 K over dry or freshly tilled soil, 1.1
    /// to 2.2 K over a high cover. Of each range the cautious end. Over snow the grass minimum lay up to 10 K under the
    /// screen (Brugge 2011, Weather), 4 K more than the leaf's own at most.
    /// </remarks>
    public static double BesideShortGrass(GroundUnder ground) => ground switch
    {
        GroundUnder.ShortGrass or GroundUnder.DryOrLooseSoil => 0,
        GroundUnder.MoistSoil => 0.6,
        GroundUnder.MulchOrTallCrop => -0.5,
        GroundUnder.Snow => -4,
        _ => throw new ArgumentOutOfRangeException(nameof(ground), ground, "Not a kind of ground."),
    };
}

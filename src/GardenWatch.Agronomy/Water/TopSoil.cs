namespace GardenWatch.Agronomy.Water;

/// <summary>The layer that dries by evaporation, about a hand deep: why seed beds dry out while roots still drink.</summary>
/// <param name="EvaporableMm">All that evaporates (TEW, eq. 73).</param>
/// <param name="FreelyMm">What evaporates as from a wet surface (REW).</param>
/// <remarks>FAO-56 (Allen et al. 1998) ch. 7. Depletion is counted from a wet layer.</remarks>
public readonly record struct TopSoil(double EvaporableMm, double FreelyMm)
{
    /// <summary>Evaporation over that of a wet surface (eq. 74).</summary>
    public double Reduction(double depletionMm) =>
        depletionMm <= FreelyMm ? 1 : Math.Clamp((EvaporableMm - depletionMm) / (EvaporableMm - FreelyMm), 0, 1);

    /// <summary>What evaporates in a day without rain, mm (eq. 71, for soil that is wetted all over).</summary>
    /// <param name="referenceEvapotranspirationMm">Of the day, -5 to 30 mm.</param>
    /// <param name="basal">The crop's own coefficient; 0 for an empty bed.</param>
    /// <param name="greatest">The most that soil and crop together can use, about 1.2 times ET0 (eq. 72).</param>
    /// <exception cref="ArgumentOutOfRangeException">ET0 that can't be true.</exception>
    public double Evaporation(double depletionMm, double referenceEvapotranspirationMm, double basal, double greatest = 1.2) =>
        Math.Min(
            Reduction(depletionMm) * (greatest - basal) * Plausible.Reference(referenceEvapotranspirationMm),
            Math.Max(0, EvaporableMm - depletionMm));

    /// <summary>Depletion of the layer at a day's end (eq. 77): water wets it first, what is too much sinks on, then it dries.</summary>
    /// <param name="wettedMm">Rain and watering that reach the soil, 0 to 2000 mm.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public double Next(double depletionMm, double wettedMm, double referenceEvapotranspirationMm, double basal, double greatest = 1.2)
    {
        double start = Math.Max(0, depletionMm - Plausible.Rain(wettedMm));
        return Math.Clamp(start + Evaporation(start, referenceEvapotranspirationMm, basal, greatest), 0, EvaporableMm);
    }
}

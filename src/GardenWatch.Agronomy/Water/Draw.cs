namespace GardenWatch.Agronomy.Water;

/// <summary>How water leaves a bed on one day: drunk by a crop, or evaporating from bare soil.</summary>
public readonly record struct Draw
{
    private readonly TopSoil? _bare;

    private Draw(RootZone zone, double useOverReference, TopSoil? bare) => (Zone, UseOverReference, _bare) = (zone, useOverReference, bare);

    /// <summary>What the crop can reach; of bare soil the layer that dries.</summary>
    public RootZone Zone { get; }

    /// <summary>Use of a crop that has enough, over ET0 in the open; of bare soil that of its wet surface.</summary>
    public double UseOverReference { get; }

    public bool IsBare => _bare is not null;

    public static Draw Of(RootZone zone, double useOverReference) => new(zone, useOverReference, null);

    /// <param name="useShare">Evaporation at the bed over that in the open: less under glass, or under straw.</param>
    /// <remarks>FAO-56 (Allen et al. 1998) eq. 71 to 77 without a crop; a wet surface evaporates 1.2 times ET0 (eq. 72).</remarks>
    public static Draw Bare(TopSoil soil, double useShare) => new(new(soil.EvaporableMm, soil.FreelyMm), 1.2 * useShare, soil);

    /// <summary>Depletion after some hours in which so much came in. Water comes first, as in FAO-56's example 38.</summary>
    /// <param name="referenceMm">ET0 in the open, of these hours.</param>
    public double After(double depletionMm, double rainMm, double wateredMm, double referenceMm)
    {
        if (_bare is not { } soil)
            return Zone.Day(Math.Min(depletionMm, Zone.TotalMm), rainMm, wateredMm, UseOverReference * referenceMm).DepletionMm;
        // What roots drew from below the layer before stays wanting until water comes.
        double start = Math.Max(0, depletionMm - rainMm - wateredMm);
        return start > soil.EvaporableMm ? start : soil.Next(start, 0, referenceMm, basal: 0, greatest: UseOverReference);
    }
}

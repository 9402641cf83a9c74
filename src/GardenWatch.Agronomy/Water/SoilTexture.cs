using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>What a soil of a texture class holds and takes in.</summary>
/// <param name="FieldCapacity">Water by volume after it has drained, share of 1.</param>
/// <param name="WiltingPoint">Water by volume that roots can't draw.</param>
/// <param name="FreelyEvaporatedMm">REW: what leaves a wet surface before it dries.</param>
/// <param name="IntakeMmPerHour">What the wet soil still takes in; rain faster than this runs off.</param>
/// <remarks>
/// FAO-56 (Allen et al. 1998) table 19: field capacity and available water in the middle of their ranges, the wilting point
/// from both, since the middles of all three do not agree (silt). The three classes it leaves out, and all intake rates, are
/// of New Mexico State University's irrigation soil file. That file puts field capacity higher than FAO-56 (loam 0.31
/// against 0.20 to 0.30) but available water nearly the same, so FAO-56 is followed where it speaks. Two beds of one class
/// differ by a third.
/// </remarks>
public sealed record SoilTexture(
    string Name, double FieldCapacity, double WiltingPoint, double FreelyEvaporatedMm, double IntakeMmPerHour)
{
    /// <summary>All classes, from coarse to fine.</summary>
    public static IReadOnlyList<SoilTexture> All { get; } = [.. ShippedTable.Rows("soil-water.csv").Select(row => new SoilTexture(
        row["texture"], Middle(row, "fc"), Math.Round(Middle(row, "fc") - Middle(row, "aw") / 1000, 4), Middle(row, "rew"), row.Number("intake_mm_h")))];

    /// <summary>By the name of the class, such as "silt loam"; null when there is none of that name.</summary>
    public static SoilTexture? Named(string name) =>
        All.FirstOrDefault(texture => texture.Name.Equals(name.Trim(), StringComparison.OrdinalIgnoreCase));

    /// <summary>Water between field capacity and wilting, mm in a metre of soil.</summary>
    public double AvailableMmPerMetre => 1000 * (FieldCapacity - WiltingPoint);

    /// <summary>What the depletion fraction of table 22 is multiplied by: fine soil gives its water up less easily.</summary>
    /// <remarks>FAO-56 p. 167: 5 to 10 % less on fine soil, 5 to 10 % more on coarse.</remarks>
    public double EasyShareFactor => IsSandy ? 1.075 : Name.EndsWith("clay", StringComparison.Ordinal) ? 0.925 : 1;

    /// <summary>In how many goes a week's water is best given: sand holds little, so two.</summary>
    /// <remarks>Extension advice (rain rule R062).</remarks>
    public int SoakingsAWeek => IsSandy ? 2 : 1;

    private bool IsSandy => Name.EndsWith("sand", StringComparison.Ordinal);

    /// <summary>The layer that dries by evaporation.</summary>
    /// <param name="depthMetres">0.10 to 0.15 m (FAO-56 p. 144).</param>
    /// <remarks>FAO-56 eq. 73.</remarks>
    public TopSoil TopSoil(double depthMetres = 0.10) => new(
        1000 * (FieldCapacity - 0.5 * WiltingPoint) * Within.Checked(depthMetres, 0.01, 0.5, "The drying layer", "m", nameof(depthMetres)),
        FreelyEvaporatedMm);

    /// <summary>How deep, in metres, a watering reaches in soil that had dried to wilting.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Less than nothing, or more than 2000 mm.</exception>
    public double DepthWettedBy(double mm) => Plausible.Watered(mm) / AvailableMmPerMetre;

    private static double Middle(ShippedRow row, string what) => (row.Number(what + "_min") + row.Number(what + "_max")) / 2;
}

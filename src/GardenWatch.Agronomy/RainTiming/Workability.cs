using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>Whether soil may be dug, raked and walked on.</summary>
public enum SoilState { Unknown, Frozen, UnderSnow, TooWet, Workable }

/// <summary>When soil is fit to work: worked wet it loses its crumb for the season.</summary>
/// <remarks>
/// Published tests are by hand; no moisture limit was found in a document, so both limits here are stand-ins: topsoil that has
/// lost what leaves a wet surface freely (REW; R071, derived), and water below 0.9 of field capacity (R070, tillage
/// literature, recalled). Advice built on them always says <see cref="HandTest"/>.
/// </remarks>
public static class Workability
{
    public const string HandTest = "Do the hand test: squeeze a handful from 15 cm down; it should crumble when poked.";

    /// <summary>Share of field capacity below which soil is workable (R070).</summary>
    public static double LimitOfFieldCapacity { get; } = RainRule.Of("R070").Max;

    /// <summary>From the depletion of the topsoil.</summary>
    /// <param name="topSoilDepletionMm">0 just after it was soaked.</param>
    /// <param name="soilC">At digging depth.</param>
    /// <param name="snowMetres">Lying on it.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static SoilState Judge(TopSoil topSoil, double topSoilDepletionMm, double soilC, double snowMetres)
    {
        Within.Checked(topSoilDepletionMm, 0, 1000, "Depletion of the topsoil", "mm", nameof(topSoilDepletionMm));
        Within.Checked(snowMetres, 0, 20, "Snow", "m", nameof(snowMetres));
        return Of(topSoilDepletionMm < topSoil.FreelyMm, double.IsNaN(topSoilDepletionMm) || double.IsNaN(topSoil.FreelyMm), soilC, snowMetres);
    }

    /// <summary>From water by volume, measured with a probe.</summary>
    /// <param name="fieldCapacity">Of the soil, by volume.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static SoilState JudgeByWater(double waterByVolume, double fieldCapacity, double soilC, double snowMetres)
    {
        Within.Checked(waterByVolume, 0, 0.9, "Water in soil", "by volume", nameof(waterByVolume));
        Within.Checked(fieldCapacity, 0.01, 0.8, "Field capacity", "by volume", nameof(fieldCapacity));
        double share = waterByVolume / fieldCapacity;
        return Of(share >= LimitOfFieldCapacity, double.IsNaN(share), soilC, Within.Checked(snowMetres, 0, 20, "Snow", "m", nameof(snowMetres)));
    }

    // What surely forbids it settles it, whatever else is unknown. Salts and fine pores keep water liquid a little below nothing.
    private static SoilState Of(bool tooWet, bool wetnessUnknown, double soilC, double snowMetres) =>
        Within.Air(soilC) < 0 ? SoilState.Frozen
        : snowMetres > 0 ? SoilState.UnderSnow
        : tooWet ? SoilState.TooWet
        : wetnessUnknown || double.IsNaN(soilC) || double.IsNaN(snowMetres) ? SoilState.Unknown
        : SoilState.Workable;
}

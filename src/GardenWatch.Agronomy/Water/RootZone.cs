using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>One day of a root zone: how dry it ends, what drained away, what the crop used, and how freely it could.</summary>
/// <param name="Stress">1 while water is easily had, down to 0 at wilting.</param>
public readonly record struct RootZoneDay(double DepletionMm, double DrainedMm, double UsedMm, double Stress);

/// <summary>Water within reach of roots, mm: in all, and what is easily had. One millimetre is one litre a square metre.</summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998) ch. 8. Depletion is counted from field capacity: nothing after good rain, <see cref="TotalMm"/>
/// at wilting. Soils of one name differ by a third, so a gardener's finger corrects it.
/// </remarks>
public readonly record struct RootZone(double TotalMm, double EasilyHadMm)
{
    /// <summary>From water contents by volume (eq. 82 and 83).</summary>
    /// <param name="fieldCapacity">Above the wilting point, to 0.8.</param>
    /// <param name="wiltingPoint">From 0.</param>
    /// <param name="rootDepthMetres">0 to 5 m.</param>
    /// <param name="easyShare">Depletion fraction p, 0 to 1, for about 5 mm a day; see <see cref="EasyShare"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static RootZone Of(double fieldCapacity, double wiltingPoint, double rootDepthMetres, double easyShare)
    {
        Within.Checked(fieldCapacity, 0, 0.8, "Field capacity", "by volume", nameof(fieldCapacity));
        Within.Checked(wiltingPoint, 0, fieldCapacity, "The wilting point, below field capacity,", "by volume", nameof(wiltingPoint));
        Within.Checked(rootDepthMetres, 0, 5, "The depth of roots", "m", nameof(rootDepthMetres));
        double total = 1000 * (fieldCapacity - wiltingPoint) * rootDepthMetres;
        return new(total, Within.Share(easyShare, "The depletion fraction") * total);
    }

    /// <summary>Of a soil, its own correction of the depletion fraction included.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static RootZone In(SoilTexture soil, double rootDepthMetres, double easyShare) =>
        Of(soil.FieldCapacity, soil.WiltingPoint, rootDepthMetres, Math.Min(1, easyShare * soil.EasyShareFactor));

    /// <summary>The depletion fraction on a day of a given use: less is easy when much is drawn (table 22, footnote 2).</summary>
    /// <exception cref="ArgumentOutOfRangeException">A fraction outside 0 to 1, or a use that can't be true.</exception>
    public static double EasyShare(double tableShare, double cropUseMm) =>
        Math.Clamp(Within.Share(tableShare, "The depletion fraction") + 0.04 * (5 - Plausible.Use(cropUseMm)), 0.1, 0.8);

    /// <summary>Share of full use that the crop still gets (eq. 84).</summary>
    public double Stress(double depletionMm) =>
        depletionMm <= EasilyHadMm ? 1 : Math.Clamp((TotalMm - depletionMm) / (TotalMm - EasilyHadMm), 0, 1);

    /// <summary>A day's balance (eq. 85): rain and watering first, what is too much drains, then the crop uses.</summary>
    /// <param name="rainMm">What reaches the soil and stays, 0 to 2000 mm.</param>
    /// <param name="wateredMm">0 to 2000 mm.</param>
    /// <param name="cropUseMm">Of an unstressed crop: crop coefficient times ET0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>
    /// Water comes early in the day, as in FAO-56's example 38; eq. 88 read to the letter would drain after use and end
    /// wetter. Unknown rain, watering or use make the day unknown. Dew (a use below nothing) fills no further than field
    /// capacity.
    /// </remarks>
    public RootZoneDay Day(double depletionMm, double rainMm, double wateredMm, double cropUseMm)
    {
        double afterWater = depletionMm - Plausible.Rain(rainMm) - Plausible.Watered(wateredMm);
        double drained = Math.Max(0, -afterWater);
        double start = Math.Max(0, afterWater);
        double stress = Stress(start);
        double used = Math.Clamp(stress * Plausible.Use(cropUseMm), -start, Math.Max(0, TotalMm - start));
        return new(start + used, drained, used, stress);
    }
}

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
    /// <param name="easyShare">Depletion fraction p, for about 5 mm a day; see <see cref="EasyShare"/>.</param>
    public static RootZone Of(double fieldCapacity, double wiltingPoint, double rootDepthMetres, double easyShare)
    {
        double total = 1000 * (fieldCapacity - wiltingPoint) * rootDepthMetres;
        return new(total, easyShare * total);
    }

    /// <summary>The depletion fraction on a day of a given use: less is easy when much is drawn (table 22, footnote 2).</summary>
    public static double EasyShare(double tableShare, double cropUseMm) =>
        Math.Clamp(tableShare + 0.04 * (5 - cropUseMm), 0.1, 0.8);

    /// <summary>Share of full use that the crop still gets (eq. 84).</summary>
    public double Stress(double depletionMm) =>
        depletionMm <= EasilyHadMm ? 1 : Math.Clamp((TotalMm - depletionMm) / (TotalMm - EasilyHadMm), 0, 1);

    /// <summary>A day's balance (eq. 85): rain and watering first, what is too much drains, then the crop uses.</summary>
    /// <param name="cropUseMm">Of an unstressed crop: crop coefficient times ET0.</param>
    /// <remarks>
    /// Water comes early in the day, as in FAO-56's example 38; eq. 88 read to the letter would drain after use and end
    /// wetter. Unknown rain, watering or use make the day unknown.
    /// </remarks>
    public RootZoneDay Day(double depletionMm, double rainMm, double wateredMm, double cropUseMm)
    {
        double afterWater = depletionMm - rainMm - wateredMm;
        double drained = Math.Max(0, -afterWater);
        double start = Math.Max(0, afterWater);
        double stress = Stress(start);
        double used = Math.Min(stress * cropUseMm, Math.Max(0, TotalMm - start));
        return new(start + used, drained, used, stress);
    }
}

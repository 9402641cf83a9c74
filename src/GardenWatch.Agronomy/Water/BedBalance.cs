using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>One day that a bed sees.</summary>
/// <param name="RainMm">As measured in the open.</param>
/// <param name="RunoffMm">Of that rain, as <see cref="Rain.Runoff"/> gives it; 0 where hours are not known.</param>
/// <param name="ReferenceMm">ET0 in the open.</param>
/// <param name="WateredMm">By hand.</param>
/// <param name="Passed">Days, or °C days, since the crop's stages began; in the unit of its stages.</param>
public readonly record struct BedDay(double RainMm, double RunoffMm, double ReferenceMm, double WateredMm, double Passed);

/// <summary>How a bed ends a day, mm. What came in less what went out is the change of <see cref="DepletionMm"/>.</summary>
/// <param name="RainMm">What reached the soil and stayed.</param>
public readonly record struct BedDayEnd(
    RootZone Zone, double DepletionMm, double RainMm, double DrainedMm, double UsedMm, double Stress, double RootsMetres);

/// <summary>The water balance of one crop in one bed, day by day.</summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998) eq. 85 with the single coefficient. Soil that roots newly reach is taken as full, as in its
/// example 38; no water rises from below. Real use differs by 10 to 20 % and soil by a third: a finger in the soil decides.
/// </remarks>
public sealed record BedBalance(CropWater Crop, SoilTexture Soil)
{
    private readonly double _rainShare = 1, _useShare = 1, _mulched, _leafSpread = 1;

    /// <summary>Depth of full-grown roots, metres; by default the lesser of table 22, for beds that are watered.</summary>
    public double FullRootsMetres { get; init; } = Crop.RootsMinMetres;

    /// <summary>How much of the rain reaches the bed: 1 in the open, 0 under glass, film or a roof.</summary>
    public double RainShare { get => _rainShare; init => _rainShare = Within.Share(value, "The rain that reaches a bed"); }

    /// <summary>ET0 at the bed over that in the open, 0 to 1.5; 1 where nothing is known, which rather waters too early.</summary>
    public double UseShare
    {
        get => _useShare;
        init => _useShare = Within.Checked(value, 0, 1.5, "Evapotranspiration over that in the open", "(1 is the same)", nameof(value));
    }

    /// <summary>How much of the soil straw or leaves cover, 0 to 1.</summary>
    public double MulchedShare { get => _mulched; init => _mulched = Within.Share(value, "The mulched part of a bed"); }

    /// <summary>Ground that leaves shade over the surface they drink from: above 1 where they hang over the rim of a pot, to 50.</summary>
    public double LeafSpread
    {
        get => _leafSpread;
        init => _leafSpread = Within.Checked(value, 0.1, 50, "Leaves over the surface they drink from", "(1 is the same)", nameof(value));
    }

    /// <summary>Set for a pot: its root zone, which does not grow.</summary>
    public RootZone? Pot { get; init; }

    /// <summary>The day after one that ended so dry.</summary>
    /// <param name="depletionMm">At the end of the day before, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public BedDayEnd Next(double depletionMm, BedDay day)
    {
        Within.Checked(depletionMm, 0, 5000, "Depletion", "mm", nameof(depletionMm));
        double reference = Plausible.Reference(day.ReferenceMm) * UseShare;
        var draw = On(day.Passed, day.ReferenceMm);
        double use = draw.UseOverReference * day.ReferenceMm;
        double roots = Pot is null ? Crop.RootsAt(day.Passed, FullRootsMetres) : double.NaN;
        var zone = draw.Zone;
        // Without rain overhead an unknown rain does not matter.
        double rain = RainShare == 0 ? 0
            : Rain.EffectiveOfDay(Math.Max(0, Plausible.Rain(day.RainMm) - Plausible.Rain(day.RunoffMm)) * RainShare, reference);
        var end = zone.Day(Math.Min(depletionMm, zone.TotalMm), rain, day.WateredMm, use);
        return new(zone, end.DepletionMm, rain, end.DrainedMm, end.UsedMm, end.Stress, roots);
    }

    /// <summary>How the crop draws on the bed on a day, for a course in hours.</summary>
    /// <param name="passed">Days, or °C days, since the crop's stages began.</param>
    /// <param name="referenceMm">ET0 of the whole day in the open: on a day of much use less is easily had.</param>
    public Draw On(double passed, double referenceMm)
    {
        double coefficient = Crop.Coefficient.At(passed);
        if (MulchedShare > 0 && !double.IsNaN(Crop.Basal.Middle))
            coefficient = CropCoefficient.UnderOrganicMulch(coefficient, Crop.Basal.At(passed), MulchedShare);
        double over = coefficient * UseShare * LeafSpread;
        double use = over * Plausible.Reference(referenceMm), roots = Pot is null ? Crop.RootsAt(passed, FullRootsMetres) : double.NaN;
        var zone = Pot ?? (double.IsNaN(use) || double.IsNaN(roots)
            ? new(double.NaN, double.NaN)
            : RootZone.In(Soil, roots, RootZone.EasyShare(Crop.EasyShare, use)));
        return Draw.Of(zone, over);
    }

    /// <summary>A run of days, from how dry the bed was before the first.</summary>
    /// <exception cref="ArgumentException">Room for another number of days, or a value that can't be true.</exception>
    public void Run(double depletionMm, ReadOnlySpan<BedDay> days, Span<BedDayEnd> ends)
    {
        if (ends.Length != days.Length)
            throw new ArgumentException($"Room for {ends.Length} days, of {days.Length}.", nameof(ends));
        for (int i = 0; i < days.Length; i++)
        {
            ends[i] = Next(depletionMm, days[i]);
            depletionMm = ends[i].DepletionMm;
        }
    }
}

using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>What FAO-56 says of a crop's water.</summary>
/// <param name="Coefficient">Crop with wet and dry soil in one coefficient (table 12), over the days of table 11.</param>
/// <param name="Basal">The crop's own part (table 17); end and all NaN where the table has none.</param>
/// <param name="HeightMetres">At its tallest (table 12).</param>
/// <param name="RootsMinMetres">Least of the printed depths of full-grown roots (table 22): for deciding when to water.</param>
/// <param name="RootsMaxMetres">Greatest: for crops that are not watered.</param>
/// <param name="EasyShare">Depletion fraction p (table 22), for a use of 5 mm a day.</param>
/// <param name="YieldResponse">Ky (table 24); NaN where the table has none.</param>
/// <remarks>
/// FAO-56 (Allen et al. 1998). Table 11 has no row for garlic, parsnip, turnip, chickpea, lentil, peanut, mint, strawberry,
/// sunflower and turf: their stages are NaN until the plan scales or gives them.
/// </remarks>
public sealed record CropWater(
    string Crop, CoefficientCurve Coefficient, CoefficientCurve Basal, double HeightMetres,
    double RootsMinMetres, double RootsMaxMetres, double EasyShare, double YieldResponse)
{
    /// <summary>Roots of a seedling or a plant just set out.</summary>
    /// <remarks>FAO-56 annex 8, p. 279: 0.15 to 0.20 m.</remarks>
    public const double FirstRootsMetres = 0.20;

    public static IReadOnlyList<CropWater> All { get; } = [.. ShippedTable.Rows("crop-water.csv").Select(Read)];

    /// <summary>By the name in the table, such as "onion, dry"; null when there is none of that name.</summary>
    public static CropWater? Named(string crop) =>
        All.FirstOrDefault(row => row.Crop.Equals(crop.Trim(), StringComparison.OrdinalIgnoreCase));

    /// <summary>How deep roots are, in metres, when so many days or °C days of <see cref="Coefficient"/>'s stages have passed.</summary>
    /// <param name="fullGrown">Metres; usually <see cref="RootsMinMetres"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">Full-grown roots outside 0.05 to 5 m.</exception>
    /// <remarks>
    /// FAO-56 annex 8, p. 279: from first to full depth as the coefficient rises from initial to middle. So roots grow with
    /// warmth where the stages are in °C days, and keep their depth while leaves yellow.
    /// </remarks>
    public double RootsAt(double passed, double fullGrown)
    {
        Within.Checked(fullGrown, 0.05, 5, "The depth of full-grown roots", "m", nameof(fullGrown));
        double first = Math.Min(FirstRootsMetres, fullGrown);
        return first + (fullGrown - first) * Coefficient.Grown(passed);
    }

    /// <summary>The share of the yield that is kept when a season gave only a share of the full use (FAO-33; FAO-56 eq. 90).</summary>
    /// <param name="useShare">Use over use without stress, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1.</exception>
    public double YieldKept(double useShare) =>
        double.IsNaN(useShare) ? double.NaN
        : Math.Max(0, 1 - YieldResponse * (1 - Within.Share(useShare, "Use over full use")));

    /// <summary>The same crop on stages of another length or in °C days.</summary>
    public CropWater On(GrowthStages stages) => this with { Coefficient = Coefficient with { Stages = stages }, Basal = Basal with { Stages = stages } };

    private static CropWater Read(ShippedRow row)
    {
        var stages = new GrowthStages(row.Number("initial_d"), row.Number("growth_d"), row.Number("middle_d"), row.Number("late_d"));
        return new(
            row["crop"],
            new(stages, row.Number("kc_ini"), row.Number("kc_mid"), row.Number("kc_end")),
            new(stages, row.Number("kcb_ini"), row.Number("kcb_mid"), row.Number("kcb_end")),
            row.Number("height_m"), row.Number("root_min_m"), row.Number("root_max_m"), row.Number("p"), row.Number("ky"));
    }
}

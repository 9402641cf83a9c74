using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>A crop's coefficient over its season: level, rising, level, falling (FAO-56 fig. 34).</summary>
/// <param name="Stages">In days or °C days; what is asked for must be in the same.</param>
/// <param name="Initial">Over reference grass, 0 to 2, as the others.</param>
public readonly record struct CoefficientCurve(GrowthStages Stages, double Initial, double Middle, double End)
{
    /// <summary>The coefficient when so many days, or °C days, have passed since the stages began.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Less than nothing has passed.</exception>
    /// <remarks>FAO-56 (Allen et al. 1998) eq. 66; NaN in, NaN out.</remarks>
    public double At(double passed)
    {
        Within.Checked(passed, 0, 20_000, "What has passed of a season", "days or °C days", nameof(passed));
        return CropCoefficient.OnDay(passed, (Stages.Initial, Stages.Growth, Stages.Middle, Stages.Late), Initial, Middle, End);
    }

    /// <summary>How much of full cover is reached, 0 to 1; it does not fall again when leaves yellow.</summary>
    public double Grown(double passed) =>
        double.IsNaN(passed) ? double.NaN
        : Stages.Growth > 0 ? Math.Clamp((passed - Stages.Initial) / Stages.Growth, 0, 1)
        : passed < Stages.Initial ? 0 : 1;

    /// <summary>The same curve in another climate: middle, and an end of 0.45 and more, are shifted (eq. 62 and 65).</summary>
    public CoefficientCurve ForClimate(double windAtTwoMetres, double lowestHumidityPercent, double heightMetres) => this with
    {
        Middle = CropCoefficient.ForClimate(Middle, windAtTwoMetres, lowestHumidityPercent, heightMetres),
        End = End >= 0.45 ? CropCoefficient.ForClimate(End, windAtTwoMetres, lowestHumidityPercent, heightMetres) : End,
    };
}

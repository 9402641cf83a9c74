using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// How much a forecast moves from run to run with nothing changed: what was advised stands until it misses by more than
/// this. Common practice; about the resolution of a forecast a day ahead.
/// </summary>
public static class Flutter
{
    /// <summary>In the unit of the dimension; nothing for what does not flutter: days, warmth gathered, lengths.</summary>
    public static double Of(Dimension dimension, double limit) => dimension switch
    {
        Dimension.Temperature => 0.5,
        Dimension.WaterDepth or Dimension.RainRate => Math.Clamp(0.1 * Math.Abs(limit), 0.1, 1),
        Dimension.Speed => 0.5,
        Dimension.Share => 0.03,
        _ => 0,
    };
}

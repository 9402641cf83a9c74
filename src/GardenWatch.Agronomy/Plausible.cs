using System.Runtime.CompilerServices;
using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy;

/// <summary>Ranges of what falls, is given and blows; outside them a value is a mistake, and NaN goes through.</summary>
internal static class Plausible
{
    /// <summary>Depth in mm of a day or less; 1825 mm is the most that was ever measured in one (WMO).</summary>
    public static double Rain(double mm, [CallerArgumentExpression(nameof(mm))] string? name = null) =>
        Within.Checked(mm, 0, 2000, "Rain", "mm", name);

    public static double Watered(double mm, [CallerArgumentExpression(nameof(mm))] string? name = null) =>
        Within.Checked(mm, 0, 2000, "Watering", "mm", name);

    /// <summary>Of a day; dew makes an hour's slightly less than nothing.</summary>
    public static double Reference(double mm, [CallerArgumentExpression(nameof(mm))] string? name = null) =>
        Within.Checked(mm, -5, 30, "Reference evapotranspiration", "mm a day", name);

    public static double Wind(double metresPerSecond, [CallerArgumentExpression(nameof(metresPerSecond))] string? name = null) =>
        Within.Checked(metresPerSecond, 0, 120, "Wind", "m/s", name);

    /// <summary>Over the surface it drinks from: leaves that hang over a pot multiply it.</summary>
    public static double Use(double mm, [CallerArgumentExpression(nameof(mm))] string? name = null) =>
        Within.Checked(mm, -250, 3000, "A crop's use", "mm a day", name);

    /// <exception cref="ArgumentException">The lowest is above the highest, or air that can't be.</exception>
    public static void LowestFirst(double lowC, double highC, [CallerArgumentExpression(nameof(lowC))] string? name = null)
    {
        if (Within.Air(lowC) > Within.Air(highC))
            throw new ArgumentException(FormattableString.Invariant(
                $"The lowest air of a day, {lowC} °C, is above its highest, {highC} °C."), name);
    }
}

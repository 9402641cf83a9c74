using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>Weather for powdery mildew of many vegetables, which wants shade and warmth but no wet leaves.</summary>
/// <remarks>University of California IPM, Pest Notes 7406. Rain and overhead water hold it back.</remarks>
public static class PowderyMildew
{
    /// <summary>Whether a mean of a day suits it: 15.6 to 26.7 °C (60 to 80 °F); null when unknown.</summary>
    public static bool? Favoured(double meanAirC) =>
        double.IsNaN(Within.Air(meanAirC)) ? null : meanAirC is >= 15.6 and <= 26.7;

    /// <summary>Whether a day's highest air harms spores and growth: above 32.2 °C (90 °F); null when unknown.</summary>
    public static bool? Harmed(double highC) => double.IsNaN(Within.Air(highC)) ? null : highC > 32.2;
}

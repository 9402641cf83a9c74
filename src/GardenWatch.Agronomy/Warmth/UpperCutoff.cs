namespace GardenWatch.Agronomy.Warmth;

/// <summary>What happens to development above the upper threshold.</summary>
/// <remarks>The three cut-offs of Zalom et al. 1983: one family, told apart by what is taken off the area above it.</remarks>
public enum UpperCutoff
{
    /// <summary>Development goes on at the rate of the threshold.</summary>
    Horizontal,
    /// <summary>Development slows as it rose: the area above is taken off twice. A very hot day can fall below zero.</summary>
    Intermediate,
    /// <summary>Development stands still while it is warmer than the threshold.</summary>
    Vertical,
}

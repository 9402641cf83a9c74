namespace GardenWatch.Agronomy.Tests;

/// <summary>A wave of warmth going down into uniform soil: a sanity range for years, and the lag and swing of a day.</summary>
/// <remarks>Hillel 1982; van Wijk and de Vries 1963. Published diffusivities run from 0.009 (dry peat) to 0.064 m²/d (wet sand).</remarks>
public static class HeatWave
{
    /// <summary>Depth at which the swing has fallen to 37 %, m: √(2D/ω).</summary>
    public static double DampingDepth(double diffusivityM2PerDay, double periodDays) =>
        !(diffusivityM2PerDay is > 0 and <= 1)
        ? throw new ArgumentOutOfRangeException(nameof(diffusivityM2PerDay), diffusivityM2PerDay, "Soil's diffusivity is above 0 to 1 m² a day.")
        : !(periodDays > 0) ? throw new ArgumentOutOfRangeException(nameof(periodDays), periodDays, "A period is above 0 days.")
        : Math.Sqrt(diffusivityM2PerDay * periodDays / Math.PI);

    /// <summary>°C at a depth, some days after the surface was coldest.</summary>
    /// <param name="amplitudeKelvin">Half of the surface's swing.</param>
    public static double At(
        double depthMetres, double daysSinceSurfaceLow, double meanC, double amplitudeKelvin,
        double diffusivityM2PerDay, double periodDays)
    {
        double down = depthMetres / DampingDepth(diffusivityM2PerDay, periodDays);
        double turn = 2 * Math.PI * daysSinceSurfaceLow / periodDays;
        return meanC + amplitudeKelvin * Math.Exp(-down) * Math.Sin(turn - down - Math.PI / 2);
    }

    /// <summary>How long after the surface a depth has its peak, in the period's days.</summary>
    public static double LagDays(double depthMetres, double diffusivityM2PerDay, double periodDays) =>
        depthMetres / DampingDepth(diffusivityM2PerDay, periodDays) * periodDays / (2 * Math.PI);
}

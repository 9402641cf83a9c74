using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>A pot, tub or grow bag as a root zone of its own: it dries in days what a bed dries in weeks.</summary>
public static class Container
{
    /// <summary>Of potting mix, by volume: what is easily had, and what is had in all.</summary>
    /// <remarks>
    /// De Boodt and Verdonck 1972, Acta Hortic. 26:37-44, middle of their ranges for an ideal mix: 20 to 30 % easily had
    /// (10 to 50 cm of suction), 4 to 10 % more as a buffer. Garden soil in a pot holds less.
    /// </remarks>
    public const double EasilyHadShare = 0.25, AvailableShare = 0.32;

    /// <summary>The root zone of a full-grown plant in a pot, per square metre of its surface.</summary>
    /// <param name="litres">Of mix, 0.1 to 5000.</param>
    /// <param name="squareMetres">Of surface; by default <see cref="SurfaceOf"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static RootZone RootZone(double litres, double? squareMetres = null)
    {
        double mm = Litres(litres) / (squareMetres is { } area ? Area(area) : SurfaceOf(litres));
        return new(AvailableShare * mm, EasilyHadShare * mm);
    }

    /// <summary>Surface in square metres of a round pot as wide as it is high, where only the litres are known.</summary>
    public static double SurfaceOf(double litres) => Math.PI / 4 * Math.Pow(4 * Litres(litres) / 1000 / Math.PI, 2.0 / 3);

    private static double Litres(double litres) => Within.Checked(litres, 0.1, 5000, "A container", "litres", nameof(litres));

    private static double Area(double area) => Within.Checked(area, 0.001, 10_000, "A surface", "m²", nameof(area));
}

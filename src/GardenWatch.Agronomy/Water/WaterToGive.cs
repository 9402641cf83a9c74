using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>How fast a hose, a can or drippers give water: what the gardener has measured or told.</summary>
public readonly record struct WaterRate
{
    private WaterRate(double litresPerMinute) => LitresPerMinute = litresPerMinute;

    public double LitresPerMinute { get; }

    /// <param name="litres">0.001 to 1000 a minute.</param>
    /// <exception cref="ArgumentOutOfRangeException">A rate that no tap gives.</exception>
    public static WaterRate OfLitresPerMinute(double litres) =>
        new(Within.Checked(litres, 0.001, 1000, "A flow of water", "litres a minute", nameof(litres)));

    /// <exception cref="ArgumentOutOfRangeException">A rate that no tap gives.</exception>
    public static WaterRate OfUsGallonsPerMinute(double gallons) => OfLitresPerMinute(gallons * WaterToGive.LitresPerUsGallon);

    /// <summary>From the time a hose takes to fill a bucket or can.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A rate that no tap gives.</exception>
    public static WaterRate OfFilling(double litres, double seconds) => OfLitresPerMinute(litres / seconds * 60);

    /// <summary>From drippers of a printed rate.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A rate that no tap gives.</exception>
    public static WaterRate OfDrippers(int count, double litresPerHourEach) => OfLitresPerMinute(count * litresPerHourEach / 60);

    /// <summary>How hard it falls on a surface, mm/h: to set beside what the soil takes in.</summary>
    public double MmPerHourOn(double squareMetres) => LitresPerMinute * 60 / WaterToGive.Area(squareMetres);
}

/// <summary>A depth of water for a bed, and what it is in the gardener's own measures.</summary>
/// <remarks>1 mm on 1 m² is 1 litre; an inch on 100 square feet is 62 US gallons (rain rule R059).</remarks>
public readonly record struct WaterToGive
{
    /// <summary>Of US liquid measure, exact (NIST Handbook 44).</summary>
    public const double LitresPerUsGallon = 3.785411784;

    /// <param name="mm">0 to 2000 mm.</param>
    /// <param name="squareMetres">Of bed or pot, 0.001 to 10,000 m².</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public WaterToGive(double mm, double squareMetres)
    {
        Mm = Plausible.Watered(mm);
        SquareMetres = Area(squareMetres);
    }

    public double Mm { get; }

    public double SquareMetres { get; }

    public double Litres => Mm * SquareMetres;

    public double UsGallons => Litres / LitresPerUsGallon;

    /// <summary>How many cans, parts of one included.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A can outside 0.1 to 200 litres.</exception>
    public double Cans(double litresEach) => Litres / Within.Checked(litresEach, 0.1, 200, "A can", "litres", nameof(litresEach));

    public double Minutes(WaterRate rate) => Litres / rate.LitresPerMinute;

    /// <summary>In how many goes, with a rest between, so that it sinks in instead of running off.</summary>
    /// <param name="intakeMmPerHour">See <see cref="SoilTexture.IntakeMmPerHour"/>.</param>
    /// <remarks>
    /// As many as the flow is faster than the soil, so that over the whole time it is no faster; at most four, then a
    /// gentler rose or drippers are needed. Derived, as rain rule R015 is.
    /// </remarks>
    public int Goes(WaterRate rate, double intakeMmPerHour) =>
        (int)Math.Clamp(Math.Ceiling(rate.MmPerHourOn(SquareMetres) / intakeMmPerHour - 1e-9), 1, 4);

    internal static double Area(double squareMetres) =>
        Within.Checked(squareMetres, 0.001, 10_000, "A surface", "m²", nameof(squareMetres));
}

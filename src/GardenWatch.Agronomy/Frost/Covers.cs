using System.Collections.Immutable;

namespace GardenWatch.Agronomy.Frost;

/// <summary>What a gardener has against a night's frost.</summary>
public enum FrostCover
{
    /// <summary>Spun fleece of about 17 g/m² that lies on the crop.</summary>
    LightFleece,
    /// <summary>About 30 g/m².</summary>
    MediumFleece,
    /// <summary>50 g/m² and more.</summary>
    HeavyFleece,
    /// <summary>A bed sheet or blanket, dry, off in the morning.</summary>
    Sheet,
    /// <summary>Glass or plastic over single plants, shut for the night.</summary>
    Cloche,
    /// <summary>Plastic film on hoops over a row.</summary>
    Tunnel,
    /// <summary>A cold frame with its light down.</summary>
    Frame,
    /// <summary>Bare soil watered through before noon, so that it takes up the day's warmth.</summary>
    WetSoil,
}

/// <summary>What a cover is worth at the leaf on a clear, calm night, K.</summary>
/// <param name="CautiousKelvins">To reckon with.</param>
/// <param name="LeastPublishedKelvins">The lowest figure of the sources.</param>
/// <param name="MostPublishedKelvins">The highest; never to be reckoned with.</param>
public sealed record CoverWorth(
    FrostCover Cover, double CautiousKelvins, double LeastPublishedKelvins, double MostPublishedKelvins, string Source);

/// <summary>The one table of what covers are worth, cautious by default.</summary>
/// <remarks>
/// Published gains differ by a factor of three for one thing, and on some clear nights the air under fleece was colder than
/// outside (Oregon State University 1988): so the figures to reckon with stand at the low end. A cover keeps in what the
/// soil gives off; in wind it keeps nothing.
/// </remarks>
public static class Covers
{
    // Up to here a night is calm enough for the full worth; from there on cold air is driven through and under every edge.
    // FAO 10, vol. 1, ch. 6: covers help in radiation frosts; the wind that ends these is about 4 to 5 m/s.
    private const double CalmWind = 2.5;
    private const double TooMuchWind = 4.5;

    // The second sheet of air insulates less than the first: by judgement half.
    private const double SecondLayer = 0.5;

    private const string Fao = "Snyder and de Melo-Abreu 2005, FAO 10, vol. 1, ch. 6";
    private const string Colorado = "Colorado State University, GardenNotes 722";
    private const string Oregon = "Oregon State University (North Willamette) 1988";

    public static ImmutableArray<CoverWorth> Table { get; } =
    [
        new(FrostCover.LightFleece, 1, 0.2, 2.2, $"{Oregon}: 0.2 to 1.8; {Colorado}: 1.1 to 2.2; trade: 1.1"),
        new(FrostCover.MediumFleece, 2, 1.1, 3.3, $"{Colorado}: 1.1 to 2.2; trade: 2.2 to 3.3"),
        new(FrostCover.HeavyFleece, 3, 2.2, 4.4, "trade: up to 4.4; by judgement never more than 3"),
        new(FrostCover.Sheet, 1, 1, 1.5, $"Schultz 1961 in {Fao}: 1.5 under a black sheet; wet cloth chills ({Colorado})"),
        new(FrostCover.Cloche, 1, 1, 5, $"{Fao}: plastic covers 1 thin to 5 thick; a leaf that touches it freezes"),
        new(FrostCover.Tunnel, 1, 1, 2.2, $"{Fao}: thin plastic 1; {Colorado}: 1.1 to 2.2"),
        new(FrostCover.Frame, 2, 1, 5, $"{Fao}: plastic covers 1 thin to 5 thick; by judgement, for a tight one"),
        new(FrostCover.WetSoil, 0.5, 0.5, 1.1, $"University of California table in {Fao}: dry or loose soil 1.1 colder than firm, moist, bare soil"),
    ];

    /// <summary>The row of a cover.</summary>
    public static CoverWorth Of(FrostCover cover) =>
        Table.FirstOrDefault(row => row.Cover == cover) ?? throw new ArgumentOutOfRangeException(nameof(cover), cover, "Not a frost cover.");

    /// <summary>K to reckon with at a wind: all of it on a calm night, none from 4.5 m/s; unknown wind counts as calm.</summary>
    /// <param name="windMetresPerSecond">Of the night, at ten metres, 0 or more.</param>
    /// <param name="layers">One or two; the second adds half. A frame, a cloche or wet soil has one.</param>
    /// <remarks>
    /// Wind is taken off here, not the forecast: where it is not known the sky and air of the leaf are already at their worst.
    /// </remarks>
    public static double Worth(FrostCover cover, double windMetresPerSecond, int layers = 1)
    {
        if (windMetresPerSecond < 0)
            throw new ArgumentOutOfRangeException(nameof(windMetresPerSecond), windMetresPerSecond, "Wind is 0 m/s or more.");
        if (layers is < 1 or > 2)
            throw new ArgumentOutOfRangeException(nameof(layers), layers, "One layer or two: more are not known to help.");
        double calm = double.IsNaN(windMetresPerSecond)
            ? 1
            : Math.Clamp((TooMuchWind - windMetresPerSecond) / (TooMuchWind - CalmWind), 0, 1);
        bool cloth = cover is FrostCover.LightFleece or FrostCover.MediumFleece or FrostCover.HeavyFleece or FrostCover.Sheet;
        return Of(cover).CautiousKelvins * calm * (layers == 2 && cloth ? 1 + SecondLayer : 1);
    }
}

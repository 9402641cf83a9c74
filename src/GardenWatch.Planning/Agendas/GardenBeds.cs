using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Agendas;

/// <summary>What of a bed its air, leaves and soil depend on; beds that agree in it share one reckoning.</summary>
internal readonly record struct BedKind(TemperatureDifference FrostPocket, bool UnderGlass, SoilSurface Surface)
{
    /// <summary>Open level ground without mulch: what the place as a whole is said to have.</summary>
    public static BedKind OpenGround { get; } = new(default, UnderGlass: false, SoilSurface.TendedGround);

    public static BedKind Of(Bed bed) => new(bed.FrostPocket, bed.Over != Overhead.Open, new(
        bed.Mulch switch
        {
            Mulch.Straw or Mulch.Grass => SoilCover.Straw,
            Mulch.WoodChips or Mulch.Compost or Mulch.Leaves => SoilCover.OrganicMulch,
            Mulch.BlackFilm => SoilCover.BlackFilm,
            Mulch.ClearFilm => SoilCover.ClearFilm,
            _ => SoilCover.Tended,
        },
        bed.Over switch
        {
            Overhead.Frame => SoilRoof.Frame,
            Overhead.Tunnel => SoilRoof.Tunnel,
            Overhead.Greenhouse or Overhead.Windowsill => SoilRoof.Greenhouse,
            _ => SoilRoof.Open,
        },
        bed.ContainerLitres is null ? SoilPlace.Ground : SoilPlace.Container));
}

/// <summary>All kinds of beds of a garden in one course of the weather: the forecast's, or that of one run of the ensemble.</summary>
internal sealed class GardenBeds
{
    private readonly Dictionary<BedKind, BedHours> _beds = [];
    private readonly Lazy<double> _soilOffset;

    /// <param name="weather">Hours that the bed weather of <paramref name="beside"/> has too, when that is given.</param>
    /// <param name="soilOffset">Added to what the soil model gives, K.</param>
    public GardenBeds(WeatherSeries weather, LocalCalendar calendar, Lazy<double> soilOffset, GardenBeds? beside = null)
    {
        _soilOffset = soilOffset;
        var models = ModelsOf(weather, calendar.Place, BedKind.OpenGround);
        Place = new(beside?.Place.Weather.InRun(weather, models) ?? new BedWeather(weather, calendar, models));
        _beds[BedKind.OpenGround] = Place;
    }

    public BedHours Place { get; }

    public BedHours Of(Bed? bed)
    {
        var kind = bed is null ? BedKind.OpenGround : BedKind.Of(bed);
        if (!_beds.TryGetValue(kind, out var hours))
            _beds[kind] = hours = new(Place.Weather.Beside(ModelsOf(Place.Weather.Series, Place.Weather.Calendar.Place, kind)));
        return hours;
    }

    private BedModels ModelsOf(WeatherSeries series, GeoPosition place, BedKind kind) => new(
        () => BedAir.Hourly(series, place, kind.FrostPocket),
        () => LeafTemperature.Hourly(series, place, kind.FrostPocket, kind.UnderGlass),
        depth =>
        {
            double[] soil = SoilTemperature.Hourly(series, place, depth, kind.Surface);
            for (int hour = 0; hour < soil.Length; hour++)
                soil[hour] += _soilOffset.Value;
            return soil;
        });
}

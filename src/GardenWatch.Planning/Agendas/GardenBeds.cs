using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Readings;

namespace GardenWatch.Planning.Agendas;

/// <summary>What of a bed its air, leaves, soil and water depend on; beds that agree in it share one reckoning.</summary>
/// <param name="Roots">What shallow roots can reach of its water; null where the plan does not say what it is made of.</param>
/// <param name="SoilByProbe">What the gardener's own readings add to the model of its soil.</param>
internal readonly record struct BedKind(
    TemperatureDifference FrostPocket, bool UnderGlass, SoilSurface Surface, RootZone? Roots, TemperatureDifference SoilByProbe)
{
    // Lettuce and radish, which are thirsty first: FAO-56 table 22.
    private const double ShallowRootsMetres = 0.3;
    private const double ShallowRootsShare = 0.3;

    /// <summary>Open level ground without mulch: what the place as a whole is said to have.</summary>
    public static BedKind OpenGround { get; } = new(default, UnderGlass: false, SoilSurface.TendedGround, null, default);

    public static BedKind Of(Bed bed, TemperatureDifference soilByProbe) => new(bed.FrostPocket, bed.Over != Overhead.Open, new(
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
        bed.ContainerLitres is null ? SoilPlace.Ground : SoilPlace.Container), RootsOf(bed), soilByProbe);

    private static RootZone? RootsOf(Bed bed) =>
        bed.ContainerLitres is { } litres ? Container.RootZone(litres)
        : bed.Soil is { } soil && Agronomy.Water.SoilTexture.Named(PlanSummary.Words(soil.ToString())) is { } texture ? RootZone.In(texture, ShallowRootsMetres, ShallowRootsShare)
        : null;
}

/// <summary>
/// All kinds of beds of a garden in one course of the weather: the forecast's, or that of one run of the ensemble, which
/// shares with the forecast what was before they parted.
/// </summary>
internal sealed class GardenBeds
{
    private readonly WeatherSeries _series;
    private readonly GeoPosition _position;
    private readonly Lazy<double> _soilOffset;
    private readonly Corrections _corrections;
    private readonly BedKind _openGround;
    private readonly GardenBeds? _forecast;
    private readonly int _partsFrom;
    private readonly Dictionary<BedKind, BedHours> _beds = [];
    private readonly Dictionary<SoilSurface, Lazy<SoilCourse>> _soils = [];
    private readonly Dictionary<(TemperatureDifference Pocket, bool UnderGlass), (Lazy<double[]> Air, Lazy<double[]> Leaf)> _aboveGround = [];

    /// <param name="soilOffset">What to add to the soil of all beds, K, by that of open ground.</param>
    /// <param name="corrections">What the gardener's own readings add to each bed's soil.</param>
    public GardenBeds(WeatherSeries forecast, LocalCalendar calendar, Func<SoilCourse, double> soilOffset, Corrections corrections)
    {
        (_series, _position, _corrections) = (forecast, calendar.Place, corrections);
        _openGround = BedKind.OpenGround with { FrostPocket = corrections.FrostPocketOf(bed: null), SoilByProbe = corrections.SoilOf(bedId: null) ?? default };
        var openGround = SoilOf(SoilSurface.TendedGround);
        _soilOffset = new(() => soilOffset(openGround.Value));
        Place = new(new BedWeather(forecast, calendar, ModelsOf(_openGround)));
        _beds[_openGround] = Place;
    }

    /// <summary>A run beside the forecast; both have the same hours.</summary>
    public GardenBeds(WeatherSeries run, GardenBeds forecast)
    {
        (_series, _position, _soilOffset, _forecast) = (run, forecast._position, forecast._soilOffset, forecast);
        (_corrections, _openGround) = (forecast._corrections, forecast._openGround);
        _partsFrom = run.PartsFrom(forecast._series);
        Place = new(forecast.Place.Weather.InRun(run, ModelsOf(_openGround), sameRun: null));
        _beds[_openGround] = Place;
    }

    public BedHours Place { get; }

    /// <summary>Not for use by two threads; what it gives may be.</summary>
    public BedHours Of(Bed? bed) => Of(bed is null ? _openGround : BedKind.Of(bed, _corrections.SoilOf(bed.Id) ?? default));

    private BedHours Of(BedKind kind)
    {
        if (!_beds.TryGetValue(kind, out var hours))
            _beds[kind] = hours = new(_forecast is null
                ? Place.Weather.Beside(ModelsOf(kind))
                : _forecast.Of(kind).Weather.InRun(_series, ModelsOf(kind), Place.Weather));
        return hours;
    }

    private BedModels ModelsOf(BedKind kind)
    {
        var soil = SoilOf(kind.Surface);
        var (air, leaf) = AboveGround(kind.FrostPocket, kind.UnderGlass);
        var models = new BedModels(
            () => air.Value,
            () => leaf.Value,
            depth => Own(hours =>
            {
                soil.Value.Fill(hours, _partsFrom, depth);
                for (int hour = _partsFrom; hour < hours.Length; hour++)
                    hours[hour] += _soilOffset.Value + kind.SoilByProbe.Kelvins;
            }))
        {
            RainReachesIt = !kind.UnderGlass,
        };
        return kind.Roots is { } roots ? models with { Roots = roots } : models;
    }

    /// <summary>Air and leaf do not ask what lies on the soil, so beds that differ in that alone share them.</summary>
    private (Lazy<double[]> Air, Lazy<double[]> Leaf) AboveGround(TemperatureDifference pocket, bool underGlass)
    {
        if (!_aboveGround.TryGetValue((pocket, underGlass), out var shared))
            _aboveGround[(pocket, underGlass)] = shared = (
                new(() => Own(air => BedAir.Fill(air, _partsFrom, _series, _position, pocket))),
                new(() => Own(leaf => LeafTemperature.Fill(leaf, _partsFrom, _series, _position, pocket, underGlass))));
        return shared;
    }

    private double[] Own(Action<double[]> fill)
    {
        var hours = new double[_series.Hours];
        fill(hours);
        return hours;
    }

    private Lazy<SoilCourse> SoilOf(SoilSurface surface)
    {
        if (!_soils.TryGetValue(surface, out var soil))
        {
            var before = _forecast?.SoilOf(surface);
            _soils[surface] = soil = new(() => before is null
                ? SoilCourse.Of(_series, _position, surface)
                : before.Value.GoingOn(_series, _partsFrom));
        }
        return soil;
    }
}

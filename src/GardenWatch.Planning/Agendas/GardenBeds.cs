using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Readings;

namespace GardenWatch.Planning.Agendas;

/// <summary>What of a bed its air, leaves and soil depend on; beds that agree in it share one reckoning.</summary>
/// <param name="SoilByProbe">What the gardener's own readings add to the model of its soil.</param>
internal readonly record struct BedKind(TemperatureDifference FrostPocket, bool UnderGlass, SoilSurface Surface, TemperatureDifference SoilByProbe)
{
    /// <summary>Open level ground without mulch: what the place as a whole is said to have.</summary>
    public static BedKind OpenGround { get; } = new(default, UnderGlass: false, SoilSurface.TendedGround, default);

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
        bed.ContainerLitres is null ? SoilPlace.Ground : SoilPlace.Container), soilByProbe);
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
    private readonly Dictionary<string, BedHours> _watered = [];
    private GardenWater? _water;
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
    public BedHours Of(Bed? bed)
    {
        var hours = Of(bed is null ? _openGround : BedKind.Of(bed, _corrections.SoilOf(bed.Id) ?? default));
        if (bed is null || _water is null)
            return hours;
        if (!_watered.TryGetValue(bed.Id, out var watered))
            _watered[bed.Id] = watered = new(hours.Weather.With(
                new(() => _water.Of(bed).DeficitIn(_series), () => _water.Of(bed).DeficitShareIn(_series)), _forecast?.Of(bed).Weather));
        return watered;
    }

    /// <summary>The bed where its straw, chips or leaves are raked aside, as they are for what is sown or set out.</summary>
    public BedHours Bare(Bed bed) => Of(BedKind.Of(bed with { Mulch = Mulch.None }, _corrections.SoilOf(bed.Id) ?? default));

    public void Takes(GardenWater water) => _water = water;

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
        return new BedModels(
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

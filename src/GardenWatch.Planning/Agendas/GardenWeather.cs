using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

internal enum BedMeasure { Air, Leaf }

/// <summary>The place's weather and that of each bed, worked out once for a whole agenda.</summary>
internal sealed class GardenWeather
{
    private const double ServiceSoilMetres = 0.06;

    private readonly WeatherSeries _series;
    private readonly Dictionary<string, BedHours> _beds;

    public GardenWeather(Plan plan, LocalCalendar calendar, WeatherSeries series, Instant asOf)
    {
        _series = series;
        Calendar = calendar;
        Speech = new Speech(plan.Units, calendar.Zone);
        var soilOffset = new Lazy<double>(() => HalfwayToService(series, calendar.Place, asOf));
        Place = new BedHours(new BedWeather(series, calendar, ModelsOf(series, calendar.Place, bed: null, soilOffset)));
        _beds = plan.Beds.ToDictionary(
            bed => bed.Id, bed => new BedHours(Place.Weather.Beside(ModelsOf(series, calendar.Place, bed, soilOffset))));
    }

    public LocalCalendar Calendar { get; }

    public Speech Speech { get; }

    /// <summary>Open level ground without mulch: what the place as a whole is said to have.</summary>
    public BedHours Place { get; }

    public BedHours BedOf(Wanted wanted) => wanted.Bed is { } bed ? BedOf(bed) : Place;

    public BedHours BedOf(Bed bed) => _beds[bed.Id];

    public Scene SceneOf(Wanted wanted) => SceneOf(BedOf(wanted), wanted.Moments, wanted.Numbers);

    public Scene SceneOf(BedHours bed, Moments moments, ImmutableDictionary<string, Quantity> numbers) =>
        new(bed.Weather, moments, numbers, Speech);

    /// <summary>Rain of the hours that end after one instant and by another; null when any is missing.</summary>
    public double? RainMm(Instant after, Instant until)
    {
        var rain = _series[WeatherVariable.Rain];
        double total = 0;
        for (int hour = _series.FirstAtOrAfter(after + Duration.Epsilon); hour <= _series.LastAtOrBefore(until); hour++)
        {
            if (hour < 0 || hour >= _series.Hours || double.IsNaN(rain[hour]))
                return null;
            total += rain[hour];
        }
        return total;
    }

    public double? MeanCloud(Instant from, Instant until) => Mean(WeatherVariable.CloudCover, from, until);

    public double? MeanWind(Instant from, Instant until) => Mean(WeatherVariable.Wind, from, until);

    public bool IsSunUp(Instant instant) => Sun.AltitudeDegrees(instant, Calendar.Place) > 0;

    public ReadOnlySpan<double> Hours(WeatherVariable variable) => _series[variable];

    /// <summary>What the models make of the place's weather at one bed; null is open level ground without mulch.</summary>
    private static BedModels ModelsOf(WeatherSeries series, GeoPosition place, Bed? bed, Lazy<double> soilOffset)
    {
        var pocket = bed?.FrostPocket ?? default;
        bool underGlass = bed is not null && bed.Over != Overhead.Open;
        var surface = SurfaceOf(bed);
        return new(
            () => BedAir.Hourly(series, place, pocket),
            () => LeafTemperature.Hourly(series, place, pocket, underGlass),
            depth =>
            {
                double[] soil = SoilTemperature.Hourly(series, place, depth, surface);
                for (int hour = 0; hour < soil.Length; hour++)
                    soil[hour] += soilOffset.Value;
                return soil;
            });
    }

    /// <summary>
    /// Half the way from our model to the service's own soil: two estimates of one soil, neither of which has seen it, so
    /// their mean. Where the service gives no soil, ours stands alone.
    /// </summary>
    private static double HalfwayToService(WeatherSeries series, GeoPosition place, Instant asOf)
    {
        double[] model = SoilTemperature.Hourly(series, place, ServiceSoilMetres, SoilSurface.BareGround);
        return SoilTemperature.ServiceOffset(series, model, WeatherVariable.SoilAt6Cm, asOf) is { } offset ? offset.Kelvins / 2 : 0;
    }

    private static SoilSurface SurfaceOf(Bed? bed) => bed is null ? SoilSurface.BareGround : new(
        bed.Mulch switch
        {
            Mulch.Straw or Mulch.Grass => SoilCover.Straw,
            Mulch.WoodChips or Mulch.Compost or Mulch.Leaves => SoilCover.OrganicMulch,
            Mulch.BlackFilm => SoilCover.BlackFilm,
            Mulch.ClearFilm => SoilCover.ClearFilm,
            _ => SoilCover.Bare,
        },
        bed.Over switch
        {
            Overhead.Frame => SoilRoof.Frame,
            Overhead.Tunnel => SoilRoof.Tunnel,
            Overhead.Greenhouse or Overhead.Windowsill => SoilRoof.Greenhouse,
            _ => SoilRoof.Open,
        },
        bed.ContainerLitres is null ? SoilPlace.Ground : SoilPlace.Container);

    private double? Mean(WeatherVariable variable, Instant from, Instant until)
    {
        var values = _series[variable];
        double sum = 0;
        int known = 0;
        for (int hour = Math.Max(0, _series.FirstAtOrAfter(from)); hour <= Math.Min(_series.Hours - 1, _series.LastAtOrBefore(until)); hour++)
            if (!double.IsNaN(values[hour]))
            {
                sum += values[hour];
                known++;
            }
        return known == 0 ? null : sum / known;
    }
}

/// <summary>The hours of one bed, read one by one where a single hour matters.</summary>
internal sealed class BedHours(BedWeather weather)
{
    public BedWeather Weather { get; } = weather;

    private WeatherSeries Series => Weather.Series;

    /// <summary>The lowest known value of a span and its first stamp; null when nothing in it is known.</summary>
    public (double Celsius, Instant At)? Lowest(BedMeasure measure, Instant from, Instant until)
    {
        var values = Values(measure);
        (double Celsius, Instant At)? lowest = null;
        for (int hour = Math.Max(0, Series.FirstAtOrAfter(from)); hour <= Math.Min(Series.Hours - 1, Series.LastAtOrBefore(until)); hour++)
            if (!double.IsNaN(values[hour]) && !(lowest?.Celsius <= values[hour]))
                lowest = (values[hour], Series.StampOf(hour));
        return lowest;
    }

    public double? Highest(BedMeasure measure, Interval span)
    {
        var values = Values(measure);
        double? highest = null;
        for (int hour = Math.Max(0, Series.FirstAtOrAfter(span.Start)); hour <= Math.Min(Series.Hours - 1, Series.LastAtOrBefore(span.End)); hour++)
            if (!double.IsNaN(values[hour]) && !(highest >= values[hour]))
                highest = values[hour];
        return highest;
    }

    public Instant? FirstAtOrBelow(BedMeasure measure, double celsius, Instant from, Instant until)
    {
        var values = Values(measure);
        for (int hour = Math.Max(0, Series.FirstAtOrAfter(from)); hour <= Math.Min(Series.Hours - 1, Series.LastAtOrBefore(until)); hour++)
            if (values[hour] <= celsius)
                return Series.StampOf(hour);
        return null;
    }

    /// <summary>The value at the last stamp not after an instant.</summary>
    public double? At(BedMeasure measure, Instant instant)
    {
        int hour = Series.LastAtOrBefore(instant);
        return hour >= 0 && hour < Series.Hours && Values(measure)[hour] is var value && !double.IsNaN(value) ? value : null;
    }

    private WindowedColumn Values(BedMeasure measure) =>
        Weather.Column(new(measure == BedMeasure.Leaf ? Measure.Leaf : Measure.Air));
}

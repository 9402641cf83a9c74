using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Readings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

internal enum BedMeasure { Air, Leaf }

/// <summary>The place's weather and that of each bed, worked out once for a whole agenda.</summary>
internal sealed class GardenWeather
{
    private const double ServiceSoilMetres = 0.06;

    private readonly WeatherSeries _series;
    private readonly GardenBeds _beds;
    private readonly ImmutableArray<GardenBeds> _runs;
    private readonly bool _isRising;

    /// <param name="plan">With its frost pockets as they are learned; <paramref name="known"/> likewise with the rain that was read.</param>
    public GardenWeather(Plan plan, LocalCalendar calendar, KnownWeather known, Instant asOf, Corrections corrections)
    {
        _series = known.Series;
        Calendar = calendar;
        Climate = known.Climate;
        Borrowed = known.Borrowed;
        News = known.News;
        Speech = new Speech(plan.Units, calendar.Zone, plan.Tongue);
        _isRising = calendar.DateOf(asOf).Month <= 6 == calendar.Place.LatitudeDegrees >= 0;
        _beds = new(known.Series, calendar, soil => HalfwayToService(known.Series, soil, asOf), corrections);
        _runs = known.News.State == WeatherState.Fresh
            ? [.. known.Members.Select(member => new GardenBeds(member, _beds))]
            : [];
    }

    public LocalCalendar Calendar { get; }

    public Speech Speech { get; }

    public ClimateSummary? Climate { get; }

    /// <inheritdoc cref="KnownWeather.News"/>
    public WeatherNews News { get; }

    /// <inheritdoc cref="KnownWeather.Borrowed"/>
    public ImmutableArray<WeatherVariable> Borrowed { get; }

    /// <summary>Whether there are runs of an ensemble, so that chances can be told.</summary>
    public bool HasRuns => !_runs.IsEmpty;

    /// <summary>Open level ground without mulch: what the place as a whole is said to have.</summary>
    public BedHours Place => _beds.Place;

    /// <summary>The same in each run of the ensemble.</summary>
    public ImmutableArray<BedHours> PlaceInRuns => [.. _runs.Select(run => run.Place)];

    /// <summary>From now on the water of each bed is its own, by what stands in it; before, that of shallow roots in loam.</summary>
    public void Takes(GardenWater water)
    {
        _beds.Takes(water);
        foreach (var run in _runs)
            run.Takes(water);
    }

    public BedHours BedOf(Wanted wanted) => IsRakedAside(wanted) ? _beds.Bare(wanted.Bed!) : _beds.Of(wanted.Bed);

    /// <summary>
    /// What keeps the ground cool is drawn aside for what is sown or set out in the rising half of the year, so that ground without it is what
    /// counts; later on it is left for the same reason.
    /// </summary>
    public bool IsRakedAside(Wanted wanted) => _isRising && wanted.Id.Kind is JobKind.Sow or JobKind.SetOut
        && wanted.Bed is { Over: Overhead.Open, Mulch: Mulch.Straw or Mulch.Grass or Mulch.WoodChips or Mulch.Leaves };

    public BedHours BedOf(Bed bed) => _beds.Of(bed);

    public Scene SceneOf(Wanted wanted) =>
        new(BedOf(wanted).Weather, wanted.Moments, wanted.Numbers, Speech) { Members = RunsOf(wanted) };

    /// <summary>One scene a run, in which phrases that want a chance still see all of them.</summary>
    public static ImmutableArray<Scene> InRuns(Scene scene) =>
        [.. scene.Members.Select(run => scene with { Weather = run })];

    private ImmutableArray<BedWeather> RunsOf(Wanted wanted) => [.. _runs.Select(run => (IsRakedAside(wanted) ? run.Bare(wanted.Bed!) : run.Of(wanted.Bed)).Weather)];

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

    /// <summary>
    /// Half the way from our model to the service's own soil: two estimates of one soil, neither of which has seen it, so
    /// their mean. Where the service gives no soil, ours stands alone.
    /// </summary>
    private static double HalfwayToService(WeatherSeries series, SoilCourse soil, Instant asOf) =>
        SoilTemperature.ServiceOffset(series, soil.At(ServiceSoilMetres), WeatherVariable.SoilAt6Cm, asOf) is { } offset ? offset.Kelvins / 2 : 0;

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

using System.Collections.Concurrent;
using GardenWatch.Agronomy.Diseases;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Warmth;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// What the models say of one bed, hour by hour on the series' own stamps, in °C; NaN where it can't be known. Of a run of
/// the ensemble the hours before it parts from the forecast are not looked at.
/// </summary>
/// <param name="Air">Air at two metres over the bed.</param>
/// <param name="Leaf">Leaves near the ground of the bed.</param>
/// <param name="SoilAt">Soil at a depth in metres.</param>
public sealed record BedModels(Func<double[]> Air, Func<double[]> Leaf, Func<double, double[]> SoilAt)
{
    /// <summary>What roots can reach where no bed tells: of radish, lettuce and their like in a loam.</summary>
    /// <remarks>FAO-56 table 22: 0.3 m, p 0.30; table 19, loam: the middles of 0.20 to 0.30 and of 0.07 to 0.17.</remarks>
    public RootZone Roots { get; init; } = RootZone.Of(fieldCapacity: 0.25, wiltingPoint: 0.12, rootDepthMetres: 0.3, easyShare: 0.3);

    /// <summary>False under glass or film.</summary>
    public bool RainReachesIt { get; init; } = true;
}

/// <summary>What a bed lacks of water, mm, and over what is easily had, in each hour of the series.</summary>
public sealed record WaterModel(Func<double[]> Deficit, Func<double[]> DeficitShare);

/// <summary>One bed's weather as conditions ask it. Each column is worked out when first asked for, then kept.</summary>
public sealed class BedWeather
{
    private readonly ConcurrentDictionary<Measured, WindowedColumn> _ofBed = new();
    private readonly ConcurrentDictionary<Measured, WindowedColumn> _ofWater = new();
    private readonly ConcurrentDictionary<Measured, WindowedColumn> _ofPlace;
    private readonly ConcurrentDictionary<(Measured, double, bool), SpellColumn> _spells = new();
    private readonly ConcurrentDictionary<(Measured, double, bool), SpellColumn> _spellsOfWater = new();
    private readonly WaterModel? _water;
    private readonly BedModels _models;

    private readonly BedWeather? _forecast;
    private readonly int _partsFrom;

    public BedWeather(WeatherSeries series, LocalCalendar calendar, BedModels models)
        : this(series, new LocalDays(calendar, series.Start, series.LastStamp), models, new(), forecast: null, partsFrom: 0)
    {
    }

    private BedWeather(
        WeatherSeries series, LocalDays days, BedModels models, ConcurrentDictionary<Measured, WindowedColumn> ofPlace,
        BedWeather? forecast, int partsFrom)
    {
        Series = series;
        Days = days;
        _models = models;
        _ofPlace = ofPlace;
        (_forecast, _partsFrom) = (forecast, partsFrom);
    }

    private BedWeather(BedWeather other, WaterModel water, BedWeather? forecast)
    {
        Series = other.Series;
        Days = other.Days;
        (_models, _ofPlace, _ofBed, _spells) = (other._models, other._ofPlace, other._ofBed, other._spells);
        (_water, _forecast, _partsFrom) = (water, forecast ?? other._forecast, other._partsFrom);
    }

    public WeatherSeries Series { get; }

    public LocalCalendar Calendar => Days.Calendar;

    internal LocalDays Days { get; }

    /// <summary>Another bed of the same place: rain, wind and the calendar are shared.</summary>
    public BedWeather Beside(BedModels models) => new(Series, Days, models, _ofPlace, forecast: null, partsFrom: 0);

    /// <summary>The same bed in a run of the ensemble: the hours before it parts from the forecast are shared.</summary>
    /// <param name="sameRun">Another bed in the same run, whose rain and wind are shared; null for the first.</param>
    public BedWeather InRun(WeatherSeries run, BedModels models, BedWeather? sameRun) => run.Start == Series.Start && run.Hours == Series.Hours
        ? new(run, Days, models, sameRun?._ofPlace ?? new(), this, sameRun?._partsFrom ?? run.PartsFrom(Series))
        : throw new ArgumentException("A run has the hours of the forecast that it stands beside.", nameof(run));

    /// <summary>A bed that is alike in all but its water.</summary>
    /// <param name="forecast">Of a run, the same bed in the forecast.</param>
    public BedWeather With(WaterModel water, BedWeather? forecast) => new(this, water, forecast);

    /// <summary>The hourly column of a measure, in the unit of its dimension.</summary>
    public WindowedColumn Column(Measured measured) =>
        IsOfWater(measured) ? _ofWater.GetOrAdd(measured, OfBed)
        : measured.Measure is Measure.Air or Measure.Leaf or Measure.Soil or Measure.Warmth or Measure.GroundFrost or Measure.Chill
            or Measure.LateBlightDays or Measure.LateBlightValues or Measure.EarlyBlightValues
            or Measure.LettuceMildewDays or Measure.CucumberMildewDays or Measure.BasilMildewDays
            ? _ofBed.GetOrAdd(measured, OfBed)
            : _ofPlace.GetOrAdd(measured, OfPlace);

    /// <summary>The hours in which a measure is above, or below, a level.</summary>
    internal SpellColumn Spells(Measured measured, double level, bool above) =>
        (IsOfWater(measured) ? _spellsOfWater : _spells).GetOrAdd((measured, level, above), key => new SpellColumn(Column(key.Item1), key.Item2, key.Item3));

    private static bool IsOfWater(Measured measured) => measured.Measure is Measure.WaterDeficit or Measure.WaterDeficitShare;

    private WindowedColumn OfBed(Measured measured)
    {
        double[] hourly = Modelled(measured);
        if (hourly.Length != Series.Hours)
            throw new InvalidOperationException($"The model of {measured.Measure} gave {hourly.Length} values for {Series.Hours} hours.");
        return Made(measured, hourly.AsSpan(_partsFrom));
    }

    /// <param name="own">The hours that are not the forecast's.</param>
    private WindowedColumn Made(Measured measured, ReadOnlySpan<double> own) =>
        _partsFrom > 0 ? _forecast!.Column(measured).GoingOn(_partsFrom, own) : new(own);

    private double[] Modelled(Measured measured) => measured.Measure switch
    {
        Measure.Air => _models.Air(),
        Measure.Leaf => _models.Leaf(),
        Measure.Soil => _models.SoilAt(measured.DepthMetres ?? ConditionLanguage.UsualSoilDepthMetres),
        Measure.GroundFrost => Each(Column(new(Measure.Leaf)), leaf => leaf <= 0 ? 1 : 0),
        Measure.Chill => Each(Air, air => air is >= Chill.ColdestC and <= Chill.WarmestC ? 1 : 0),
        Measure.WaterDeficit => _water?.Deficit() ?? Deficit(),
        Measure.WaterDeficitShare when _water is not null => _water.DeficitShare(),
        Measure.WaterDeficitShare => Each(Column(new(Measure.WaterDeficit)), deficit => deficit / _models.Roots.EasilyHadMm),
        Measure.LateBlightDays => Dated.LateBlightDays(Air, Series[WeatherVariable.RelativeHumidity]),
        Measure.LateBlightValues => Dated.LateBlightValues(Air, Series[WeatherVariable.RelativeHumidity]),
        Measure.EarlyBlightValues => Dated.EarlyBlightValues(Air, Column(new(Measure.LeafWetness))),
        Measure.LettuceMildewDays => Dated.LettuceMildewDays(Air, Column(new(Measure.LeafWetness))),
        Measure.CucumberMildewDays => Dated.CucumberMildewDays(Air, Column(new(Measure.LeafWetness))),
        Measure.BasilMildewDays => Dated.BasilMildewDays(Air, Series[WeatherVariable.RelativeHumidity], Column(new(Measure.LeafWetness))),
        _ when measured.Method == WarmthMethod.Hours => DegreeHours(Air, _partsFrom, measured.BaseCelsius ?? 0, measured.CeilingCelsius ?? double.PositiveInfinity),
        _ => Dated.Warmth(Air, measured.BaseCelsius ?? 0, measured.CeilingCelsius ?? double.PositiveInfinity, measured.Method),
    };

    private WindowedColumn Air => Column(new(Measure.Air));

    private DatedColumns Dated => new(Series, Days);

    private double[] Deficit()
    {
        double[] none = new double[Series.Hours];
        return SoilWaterCourse.Depletion(
            _models.Roots, _models.RainReachesIt ? Series[WeatherVariable.Rain] : none, Series[WeatherVariable.ReferenceEvapotranspiration]);
    }

    private WindowedColumn OfPlace(Measured measured) => measured.Measure switch
    {
        Measure.Rain => Made(measured, Own(WeatherVariable.Rain)),
        Measure.Gust => Made(measured, Own(WeatherVariable.Gust)),
        Measure.Wind => Made(measured, Own(WeatherVariable.Wind)),
        Measure.DewPoint => Made(measured, Own(WeatherVariable.DewPoint)),
        Measure.Sun => Made(measured, Own(WeatherVariable.Radiation)),
        Measure.WaterUse => Made(measured, Own(WeatherVariable.ReferenceEvapotranspiration)),
        // Centimetres and per cents as the service gives them; metres and shares as phrases keep them.
        Measure.Snow => Made(measured, Hundredth(Own(WeatherVariable.Snowfall))),
        Measure.Humidity => Made(measured, Hundredth(Own(WeatherVariable.RelativeHumidity))),
        Measure.Cloud => Made(measured, Hundredth(Own(WeatherVariable.CloudCover))),
        Measure.LeafWetness => Made(measured, State(Own(WeatherVariable.RelativeHumidity), Own(WeatherVariable.Rain), LeafWetness.ByHumidity)),
        Measure.HeatIndex => Made(measured, Both(Own(WeatherVariable.Air), Own(WeatherVariable.RelativeHumidity), HeatIndex.Of)),
        Measure.Thunder => Made(measured, State(Own(WeatherVariable.WeatherCode), PresentWeather.HasThunder)),
        Measure.Hail => Made(measured, State(Own(WeatherVariable.WeatherCode), PresentWeather.HasHail)),
        _ => throw new ArgumentOutOfRangeException(nameof(measured), measured.Measure, "has no hourly column"),
    };

    private ReadOnlySpan<double> Own(WeatherVariable variable) => Series[variable][_partsFrom..];

    private static double[] Hundredth(ReadOnlySpan<double> values)
    {
        double[] scaled = new double[values.Length];
        for (int i = 0; i < scaled.Length; i++)
            scaled[i] = values[i] / 100;
        return scaled;
    }

    private static double[] Both(ReadOnlySpan<double> one, ReadOnlySpan<double> other, Func<double, double, double> of)
    {
        double[] column = new double[one.Length];
        for (int i = 0; i < column.Length; i++)
            column[i] = of(one[i], other[i]);
        return column;
    }

    /// <summary>1 where it is so, 0 where not, NaN where unknown.</summary>
    private static double[] State(ReadOnlySpan<double> one, ReadOnlySpan<double> other, Func<double, double, bool?> isSo) =>
        Both(one, other, (a, b) => AsNumber(isSo(a, b)));

    private static double[] State(ReadOnlySpan<double> values, Func<double, bool?> isSo) =>
        Both(values, values, (value, _) => AsNumber(isSo(value)));

    private static double AsNumber(bool? isSo) => isSo is { } known ? known ? 1 : 0 : double.NaN;

    private static double[] Each(WindowedColumn column, Func<double, double> of)
    {
        double[] values = new double[column.Hours];
        for (int i = 0; i < values.Length; i++)
            values[i] = double.IsNaN(column[i]) ? double.NaN : of(column[i]);
        return values;
    }

    private static double[] DegreeHours(WindowedColumn air, int from, double floor, double ceiling)
    {
        double[] parts = new double[air.Hours];
        for (int i = from; i < parts.Length; i++)
            parts[i] = (Math.Clamp(air[i], floor, ceiling) - floor) / 24;
        return parts;
    }
}

using System.Collections.Concurrent;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// What the models say of one bed, hour by hour on the series' own stamps, in °C; NaN where it can't be known. Of a run of
/// the ensemble the hours before it parts from the forecast are not looked at.
/// </summary>
/// <param name="Air">Air at two metres over the bed.</param>
/// <param name="Leaf">Leaves near the ground of the bed.</param>
/// <param name="SoilAt">Soil at a depth in metres.</param>
public sealed record BedModels(Func<double[]> Air, Func<double[]> Leaf, Func<double, double[]> SoilAt);

/// <summary>One bed's weather as conditions ask it. Each column is worked out when first asked for, then kept.</summary>
public sealed class BedWeather
{
    private readonly ConcurrentDictionary<Measured, WindowedColumn> _ofBed = new();
    private readonly ConcurrentDictionary<Measured, WindowedColumn> _ofPlace;
    private readonly ConcurrentDictionary<(Measured, double, bool), SpellColumn> _spells = new();
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

    /// <summary>The hourly column of a measure, in the unit of its dimension.</summary>
    public WindowedColumn Column(Measured measured) =>
        measured.Measure is Measure.Air or Measure.Leaf or Measure.Soil or Measure.Warmth
            ? _ofBed.GetOrAdd(measured, OfBed)
            : _ofPlace.GetOrAdd(measured, OfPlace);

    /// <summary>The hours in which a measure is above, or below, a level.</summary>
    internal SpellColumn Spells(Measured measured, double level, bool above) =>
        _spells.GetOrAdd((measured, level, above), key => new SpellColumn(Column(key.Item1), key.Item2, key.Item3));

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
        _ => DegreeHours(Column(new(Measure.Air)), _partsFrom, measured.BaseCelsius ?? 0, measured.CeilingCelsius ?? double.PositiveInfinity),
    };

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

    private static double[] DegreeHours(WindowedColumn air, int from, double floor, double ceiling)
    {
        double[] parts = new double[air.Hours];
        for (int i = from; i < parts.Length; i++)
            parts[i] = (Math.Clamp(air[i], floor, ceiling) - floor) / 24;
        return parts;
    }
}

using System.Collections.Concurrent;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Planning.Conditions;

/// <summary>What the models say of one bed, hour by hour on the series' own stamps, in °C; NaN where it can't be known.</summary>
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

    public BedWeather(WeatherSeries series, LocalCalendar calendar, BedModels models)
        : this(series, new LocalDays(calendar, series.Start, series.LastStamp), models, new())
    {
    }

    private BedWeather(WeatherSeries series, LocalDays days, BedModels models, ConcurrentDictionary<Measured, WindowedColumn> ofPlace)
    {
        Series = series;
        Days = days;
        _models = models;
        _ofPlace = ofPlace;
    }

    public WeatherSeries Series { get; }

    public LocalCalendar Calendar => Days.Calendar;

    internal LocalDays Days { get; }

    /// <summary>Another bed of the same place: rain, wind and the calendar are shared.</summary>
    public BedWeather Beside(BedModels models) => new(Series, Days, models, _ofPlace);

    /// <summary>The same place and hours in another course of the weather: a run of the ensemble.</summary>
    public BedWeather InRun(WeatherSeries run, BedModels models) => run.Start == Series.Start && run.Hours == Series.Hours
        ? new(run, Days, models, new())
        : throw new ArgumentException("A run has the hours of the series that it stands beside.", nameof(run));

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
        return new(hourly);
    }

    private double[] Modelled(Measured measured) => measured.Measure switch
    {
        Measure.Air => _models.Air(),
        Measure.Leaf => _models.Leaf(),
        Measure.Soil => _models.SoilAt(measured.DepthMetres ?? ConditionLanguage.UsualSoilDepthMetres),
        _ => DegreeHours(Column(new(Measure.Air)), measured.BaseCelsius ?? 0, measured.CeilingCelsius ?? double.PositiveInfinity),
    };

    private WindowedColumn OfPlace(Measured measured) => measured.Measure switch
    {
        Measure.Rain => new(Series[WeatherVariable.Rain]),
        Measure.Gust => new(Series[WeatherVariable.Gust]),
        Measure.Wind => new(Series[WeatherVariable.Wind]),
        Measure.DewPoint => new(Series[WeatherVariable.DewPoint]),
        Measure.Sun => new(Series[WeatherVariable.Radiation]),
        Measure.WaterUse => new(Series[WeatherVariable.ReferenceEvapotranspiration]),
        // Centimetres and per cents as the service gives them; metres and shares as phrases keep them.
        Measure.Snow => Hundredth(Series[WeatherVariable.Snowfall]),
        Measure.Humidity => Hundredth(Series[WeatherVariable.RelativeHumidity]),
        Measure.Cloud => Hundredth(Series[WeatherVariable.CloudCover]),
        _ => throw new ArgumentOutOfRangeException(nameof(measured), measured.Measure, "has no hourly column"),
    };

    private static WindowedColumn Hundredth(ReadOnlySpan<double> values)
    {
        double[] scaled = new double[values.Length];
        for (int i = 0; i < scaled.Length; i++)
            scaled[i] = values[i] / 100;
        return new(scaled);
    }

    private static double[] DegreeHours(WindowedColumn air, double floor, double ceiling)
    {
        double[] parts = new double[air.Hours];
        for (int i = 0; i < parts.Length; i++)
            parts[i] = (Math.Clamp(air[i], floor, ceiling) - floor) / 24;
        return parts;
    }
}

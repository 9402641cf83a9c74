using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Soil;

/// <summary>
/// One bed's soil over a series, at all depths: what <see cref="SoilTemperature.Hourly"/> gives at one. Another course of
/// the same weather, such as a run of an ensemble, goes on from the hour at which it parts, without the past once more.
/// </summary>
public sealed class SoilCourse
{
    private readonly WeatherSeries _weather;
    private readonly GeoPosition _place;
    private readonly SoilSurface _surface;
    private readonly int _from;
    private readonly SoilCourse? _before;
    private readonly int _layers;
    private readonly double[] _layerC;
    private readonly double[] _depletionMm;
    private readonly int[] _sinceStart;

    private SoilCourse(WeatherSeries weather, GeoPosition place, SoilSurface surface, int from, SoilCourse? before)
    {
        (_weather, _place, _surface, _from, _before) = (weather, place, surface, from, before);
        _layers = SoilColumn.LayersOf(surface.Place == SoilPlace.Container);
        int hours = weather.Hours - from;
        (_layerC, _depletionMm, _sinceStart) = (new double[hours * _layers], new double[hours], new int[hours]);
        Array.Fill(_sinceStart, -1);
        SoilRun.Over(weather, place, surface, from, before?.StateAt(from - 1), (hour, sinceStart, run) =>
        {
            run.Column.CopyTo(_layerC.AsSpan((hour - from) * _layers, _layers));
            _depletionMm[hour - from] = run.Heat.DepletionMm;
            _sinceStart[hour - from] = sinceStart;
        });
    }

    public static SoilCourse Of(WeatherSeries weather, GeoPosition place, SoilSurface surface) => new(weather, place, surface, 0, null);

    /// <summary>The same bed in a series that has the same hours, and the same weather before one of them.</summary>
    /// <param name="from">The first hour that may differ.</param>
    public SoilCourse GoingOn(WeatherSeries run, int from)
    {
        if (run.Start != _weather.Start || run.Hours != _weather.Hours)
            throw new ArgumentException("It has not the hours of the series that it parts from.", nameof(run));
        ArgumentOutOfRangeException.ThrowIfLessThan(from, 0);
        return from == 0 || _before is not null && from <= _from ? Of(run, _place, _surface) : new(run, _place, _surface, Math.Min(from, run.Hours), this);
    }

    /// <summary>°C at each stamp of a depth in metres; NaN where it is not known.</summary>
    public double[] At(double depthMetres)
    {
        var soil = new double[_weather.Hours];
        Fill(soil, 0, depthMetres);
        return soil;
    }

    /// <summary>The hours from one on, into a column whose earlier ones stand.</summary>
    public void Fill(Span<double> soil, int from, double depthMetres)
    {
        SoilTemperature.CheckDepth(depthMetres, _surface);
        Fill(soil[..Math.Min(soil.Length, _weather.Hours)], from, SoilColumn.Between(_surface.Place == SoilPlace.Container, depthMetres), SoilTemperature.StartHours(depthMetres));
    }

    private void Fill(Span<double> soil, int from, SoilColumn.Depth depth, int start)
    {
        if (from < _from)
            _before?.Fill(soil[..Math.Min(soil.Length, _from)], from, depth, start);
        for (int hour = Math.Max(from, _from); hour < soil.Length; hour++)
            soil[hour] = _sinceStart[hour - _from] >= start ? depth.Of(_layerC.AsSpan((hour - _from) * _layers, _layers)) : double.NaN;
    }

    /// <summary>A copy to go on from; null where nothing is known of the hour.</summary>
    private (SoilRun Run, int SinceStart)? StateAt(int hour)
    {
        int sinceStart = _sinceStart[hour - _from];
        return sinceStart < 0
            ? null
            : (new(
                SoilColumn.From(_surface.Place == SoilPlace.Container, _layerC.AsSpan((hour - _from) * _layers, _layers)),
                new(_surface, _depletionMm[hour - _from])), sinceStart);
    }
}

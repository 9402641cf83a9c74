using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>A series in the making: filled hour by hour, or cell by cell. What is never set stays unknown.</summary>
public sealed class HourTable(int hours)
{
    private readonly Dictionary<WeatherVariable, double[]> _columns = [];
    private int _next;

    public int Hours { get; } = hours;

    public double this[WeatherVariable variable, int hour]
    {
        get => _columns.TryGetValue(variable, out var column) ? column[hour] : double.NaN;
        set
        {
            if (!_columns.TryGetValue(variable, out var column))
            {
                _columns[variable] = column = new double[Hours];
                Array.Fill(column, double.NaN);
            }
            column[hour] = value;
        }
    }

    /// <summary>The values of the hour after the last one added.</summary>
    public void Add(IReadOnlyDictionary<WeatherVariable, double> values)
    {
        foreach (var (variable, value) in values)
            this[variable, _next] = value;
        _next++;
    }

    public WeatherSeries ToSeries(Instant start, HourSource source)
    {
        var known = new short[Hours];
        for (int hour = 0; hour < Hours; hour++)
            known[hour] = (short)(_columns.Values.Any(column => !double.IsNaN(column[hour])) ? 0 : -1);
        return new(
            start, Hours, _columns.ToImmutableDictionary(pair => pair.Key, pair => ImmutableArray.Create(pair.Value)),
            [source], [.. known]);
    }
}

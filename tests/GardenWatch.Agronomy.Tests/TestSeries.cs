using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests;

/// <summary>Small weather series for tests.</summary>
public static class TestSeries
{
    private static readonly HourSource Test = new(SourceKind.Forecast, "test", Instant.FromUtc(2000, 1, 1, 0, 0));

    public static WeatherSeries Of(Instant start, int hours, params (WeatherVariable Variable, Func<int, double> At)[] columns) =>
        new(start, hours,
            columns.ToImmutableDictionary(c => c.Variable, c => Enumerable.Range(0, hours).Select(c.At).ToImmutableArray()),
            [Test], [.. Enumerable.Repeat((short)0, hours)]);
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.History;
using NodaTime;

namespace GardenWatch.Weather.Tests.History;

public class ReckonedWaterUseTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 6, 20, 0, 0);
    private static readonly GeoPosition Place = new(45, 0, 100);

    [Fact]
    public void Where_the_service_tells_none_a_clear_summers_day_uses_some_millimetres()
    {
        var use = ReckonedWaterUse.In(Weather(given: null), Place)[WeatherVariable.ReferenceEvapotranspiration];
        Assert.InRange(use[24..48].ToArray().Sum(), 4, 8);
        Assert.All(use[24..48].ToArray(), mm => Assert.InRange(mm, -0.05, 1.2));
    }

    [Fact]
    public void What_the_service_tells_stands_and_only_its_gaps_are_filled()
    {
        double[] given = [.. Enumerable.Repeat(0.3, 72)];
        given[36] = double.NaN;
        var use = ReckonedWaterUse.In(Weather(given), Place)[WeatherVariable.ReferenceEvapotranspiration];
        Assert.Equal(0.3, use[35]);
        Assert.InRange(use[36], 0.4, 1.2); // about noon
        Assert.Equal(0.3, use[37]);
    }

    [Fact]
    public void A_whole_series_is_left_as_it_is_and_its_sources_too()
    {
        var whole = Weather([.. Enumerable.Repeat(0.3, 72)]);
        Assert.Same(whole, ReckonedWaterUse.In(whole, Place));
        Assert.Same(WeatherSeries.Empty, ReckonedWaterUse.In(WeatherSeries.Empty, Place));
        var mended = ReckonedWaterUse.In(Weather(given: null), Place);
        Assert.Equal(whole.SourceOf(40), mended.SourceOf(40));
    }

    private static WeatherSeries Weather(double[]? given)
    {
        ImmutableArray<double> Column(Func<int, double> of) => [.. Enumerable.Range(0, 72).Select(of)];
        var columns = ImmutableDictionary.CreateRange<WeatherVariable, ImmutableArray<double>>(
        [
            new(WeatherVariable.Air, Column(hour => 19 - 7 * Math.Cos((hour % 24 - 3) * Math.PI / 12))),
            new(WeatherVariable.DewPoint, Column(_ => 10)),
            new(WeatherVariable.Wind, Column(_ => 3)),
            new(WeatherVariable.Radiation, Column(hour => Math.Max(0, 850 * Math.Sin((hour % 24 - 5) * Math.PI / 15)))),
        ]);
        if (given is not null)
            columns = columns.Add(WeatherVariable.ReferenceEvapotranspiration, [.. given]);
        return new(Start, 72, columns, [new(SourceKind.Forecast, "the test", Start)], [.. Enumerable.Repeat((short)0, 72)]);
    }
}

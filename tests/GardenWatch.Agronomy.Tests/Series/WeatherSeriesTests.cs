using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Series;

public class WeatherSeriesTests
{
    private static readonly Instant Start = Instant.FromUtc(2027, 4, 21, 0, 0);
    private static readonly HourSource Member = new(SourceKind.Forecast, "member 1", Start);

    [Fact]
    public void Changed_columns_stand_in_place_and_the_others_are_shared()
    {
        var series = TestSeries.Of(Start, 4, (WeatherVariable.Air, hour => hour), (WeatherVariable.Rain, _ => 1));

        var changed = series.With(
            new Dictionary<WeatherVariable, ImmutableArray<double>> { [WeatherVariable.Air] = [0, 1, 9, 9], [WeatherVariable.Wind] = [double.NaN, double.NaN, 3, 3] },
            Member, from: 2, until: 4);

        Assert.Equal([0, 1, 9, 9], changed[WeatherVariable.Air]);
        Assert.Equal(3, changed[WeatherVariable.Wind][3]);
        Assert.True(series[WeatherVariable.Rain].Overlaps(changed[WeatherVariable.Rain]));
        Assert.Equal((series.SourceOf(1), Member), (changed.SourceOf(1), changed.SourceOf(2)));
        Assert.Equal([0, 1, 2, 3], series[WeatherVariable.Air]);
        Assert.True(double.IsNaN(changed[WeatherVariable.Gust][0]));
    }

    [Fact]
    public void A_column_of_another_length_is_a_mistake_of_the_caller() =>
        Assert.Throws<ArgumentException>(() => TestSeries.Of(Start, 4, (WeatherVariable.Air, hour => hour)).With(
            new Dictionary<WeatherVariable, ImmutableArray<double>> { [WeatherVariable.Air] = [1] }, Member, 0, 1));
}

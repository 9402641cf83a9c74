using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class LeafNightTests
{
    private static readonly GeoPosition Place = new(50, 10, 200);
    private static readonly Instant Evening = Instant.FromUtc(2026, 4, 20, 18, 0);
    private static readonly Interval Night = new(Evening, Evening + Duration.FromHours(12));

    [Fact]
    public void The_parts_add_up_to_the_coldest_leaf_of_the_night()
    {
        var weather = Clear(24);
        var night = Known(LeafNight.Coldest(weather, Place, new(1.5), Night));
        double[] leaf = LeafTemperature.Hourly(weather, Place, new(1.5));
        double lowest = leaf[..13].Min();
        Assert.Equal(lowest, night.LeafC, 1e-9);
        Assert.Equal(lowest, leaf[(int)(night.At - Evening).TotalHours], 1e-9);
        Assert.Equal(1.5, night.PocketKelvins, 1e-9);
        Assert.InRange(night.AllowanceKelvins, 3, 7);
        Assert.Equal(night.AirC - night.PocketKelvins - night.AllowanceKelvins, night.LeafC, 1e-9);
        Assert.True(night is { CloudKnown: true, WindKnown: true, HumidityKnown: true, ShareKnown: 1 });
    }

    [Fact]
    public void What_was_taken_at_its_worst_is_said()
    {
        var weather = TestSeries.Of(Evening, 24, (WeatherVariable.Air, _ => 4));
        var night = Known(LeafNight.Coldest(weather, Place, new(0), Night));
        Assert.True(night is { CloudKnown: false, WindKnown: false, HumidityKnown: false });
        Assert.True(night.LeafC < 0);
    }

    [Fact]
    public void A_night_that_the_series_holds_only_in_part_says_so()
    {
        Assert.Equal(7.0 / 13, Known(LeafNight.Coldest(Clear(7), Place, new(0), Night)).ShareKnown, 1e-9);
        Assert.Null(LeafNight.Coldest(Clear(24), Place, new(0), new(Evening + Duration.FromDays(3), Evening + Duration.FromDays(4))));
        Assert.Null(LeafNight.Coldest(TestSeries.Of(Evening, 24, (WeatherVariable.Air, _ => double.NaN)), Place, new(0), Night));
    }

    [Fact]
    public void Under_glass_there_is_no_allowance() =>
        Assert.Equal(0, Known(LeafNight.Coldest(Clear(24), Place, new(1), Night, underGlass: true)).AllowanceKelvins);

    private static LeafNight Known(LeafNight? night)
    {
        Assert.NotNull(night);
        return night;
    }

    private static WeatherSeries Clear(int hours) => TestSeries.Of(Evening, hours,
        (WeatherVariable.Air, hour => 8 - 0.6 * Math.Min(hour, 24 - hour)),
        (WeatherVariable.DewPoint, _ => -5),
        (WeatherVariable.CloudCover, _ => 0),
        (WeatherVariable.Wind, _ => 1),
        (WeatherVariable.Radiation, _ => 0));
}

using CsCheck;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class LeafTemperatureTests
{
    private static readonly GeoPosition Place = new(50, 10, 200);
    private static readonly Instant Midnight = Instant.FromUtc(2026, 4, 20, 0, 0);
    private static readonly Instant Noon = Instant.FromUtc(2026, 4, 20, 12, 0);
    private static readonly TemperatureDifference None = new(0);

    [Fact]
    public void The_same_low_under_two_skies_gives_two_leaves()
    {
        double clear = Leaf(air: 3, dewPoint: -4, cloud: 0, wind: 1);
        double overcast = Leaf(air: 3, dewPoint: 1, cloud: 100, wind: 6);
        Assert.InRange(clear, -4, -2); // the customary 2 to 5 K, and a little more in air as dry as this
        Assert.InRange(overcast, 2, 3);
    }

    [Theory]
    [InlineData(1, 0, -6, 5, 7.4)] // De Bilt 1980 to 2019: 7.4 K at most in nights under 6 °C
    [InlineData(1, 3, 0.5, 2, 5)] // the garden allowance of clear nights: 2 to 5 K
    [InlineData(1, 6, -3, 0.5, 2.5)] // wind
    [InlineData(10, 1, 9.5, 2, 4)] // dew stalls it
    public void The_allowance_of_a_clear_night_is_the_customary_one(double air, double wind, double dewPoint, double least, double most) =>
        Assert.InRange(air - Leaf(air, dewPoint, 0, wind), least, most);

    [Fact]
    public void By_day_the_leaf_is_as_warm_as_the_air() =>
        Assert.Equal(15, Leaf(air: 15, dewPoint: 5, cloud: 0, wind: 1, radiation: 600));

    [Fact]
    public void Without_radiation_the_height_of_the_sun_tells_day_from_night()
    {
        Assert.Equal(15, Leaf(15, 5, 0, 1, radiation: double.NaN, at: Noon));
        Assert.True(Leaf(15, 5, 0, 1, radiation: double.NaN) < 13);
    }

    [Fact]
    public void A_leaf_is_never_warmer_than_the_air_and_colder_skies_wind_and_dry_air_order_it() =>
        Gen.Select(Gen.Double[-15, 25], Gen.Double[0, 25], Gen.Double[0, 100], Gen.Double[0, 12]).Sample((air, spread, cloud, wind) =>
        {
            double leaf = Leaf(air, air - spread, cloud, wind);
            Assert.InRange(leaf, air - 12, air);
            Assert.True(Leaf(air, air - spread, Math.Min(100, cloud + 10), wind) >= leaf - 1e-3);
            Assert.True(Leaf(air, air - spread, cloud, wind + 1) >= leaf - 1e-3);
            Assert.True(Leaf(air, air - spread - 2, cloud, wind) <= leaf + 1e-3);
        });

    [Fact]
    public void Missing_cloud_wind_or_humidity_is_taken_at_its_worst()
    {
        double known = Leaf(3, 0, 40, 2);
        Assert.True(Leaf(3, 0, double.NaN, 2) < known);
        Assert.True(Leaf(3, 0, 40, double.NaN) < known);
        Assert.True(Leaf(3, double.NaN, 40, 2) < known);
        Assert.InRange(Leaf(3, double.NaN, double.NaN, double.NaN), -5, 0);
    }

    [Fact]
    public void Only_unknown_air_makes_the_leaf_unknown()
    {
        var weather = TestSeries.Of(Midnight, 3, (WeatherVariable.Air, hour => hour == 1 ? double.NaN : 3));
        double[] leaf = LeafTemperature.Hourly(weather, Place, None);
        Assert.Equal([false, true, false], leaf.Select(double.IsNaN));
        double[] bed = BedAir.Hourly(weather, Place, new(2));
        Assert.Equal([false, true, false], bed.Select(double.IsNaN));
    }

    [Fact]
    public void A_frost_pocket_counts_in_full_on_a_clear_still_night_and_not_by_day_or_in_wind()
    {
        Assert.Equal(2, 3 - Bed(3, -4, 0, 1, pocket: 2), 1e-9);
        Assert.Equal(0, 3 - Bed(3, -4, 0, 6, pocket: 2), 1e-9);
        Assert.Equal(0, 3 - Bed(3, -4, 0, 1, pocket: 2, radiation: 500), 1e-9);
        Assert.InRange(3 - Bed(3, 2, 100, 1, pocket: 2), 0.2, 1.0);
        Assert.True(Leaf(3, -4, 0, 1, pocket: 2) < Leaf(3, -4, 0, 1) - 1);
        Assert.Equal(1, Bed(3, -4, 0, 1, pocket: -1) - 3, 1e-9); // a bed under a warm wall
    }

    [Fact]
    public void Under_glass_the_leaf_is_as_warm_as_the_air_outside_it()
    {
        var weather = Weather(3, -4, 0, 1, 0, Midnight);
        Assert.Equal(BedAir.Hourly(weather, Place, new(1)), LeafTemperature.Hourly(weather, Place, new(1), underGlass: true));
        Assert.Equal([3.0], LeafTemperature.Hourly(weather, Place, None, underGlass: true));
    }

    private static double Leaf(
        double air, double dewPoint, double cloud, double wind, double radiation = 0, double pocket = 0, Instant? at = null) =>
        LeafTemperature.Hourly(Weather(air, dewPoint, cloud, wind, radiation, at ?? Midnight), Place, new(pocket))[0];

    private static double Bed(double air, double dewPoint, double cloud, double wind, double pocket, double radiation = 0) =>
        BedAir.Hourly(Weather(air, dewPoint, cloud, wind, radiation, Midnight), Place, new(pocket))[0];

    private static WeatherSeries Weather(double air, double dewPoint, double cloud, double wind, double radiation, Instant at) =>
        TestSeries.Of(at, 1,
            (WeatherVariable.Air, _ => air), (WeatherVariable.DewPoint, _ => dewPoint), (WeatherVariable.CloudCover, _ => cloud),
            (WeatherVariable.Wind, _ => wind), (WeatherVariable.Radiation, _ => radiation));
}

using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Soil;

public class SoilTemperatureTests(ITestOutputHelper output)
{
    private const int Day = 24;
    private static readonly GeoPosition Place = new(50, 10, 200);
    private static readonly Instant April = Instant.FromUtc(2026, 4, 1, 0, 0);

    [Fact]
    public void Soil_under_steady_air_without_sun_comes_to_rest_near_it()
    {
        var weather = TestSeries.Of(April, 60 * Day,
            (WeatherVariable.Air, _ => 12), (WeatherVariable.Radiation, _ => 0), (WeatherVariable.CloudCover, _ => 100));
        double[] soil = SoilTemperature.Hourly(weather, Place, 0.1, SoilSurface.BareGround);
        Assert.InRange(soil[^1], 9, 12); // a little is lost to the sky
    }

    [Theory]
    [InlineData(0.05, 3)]
    [InlineData(0.10, 5)]
    [InlineData(0.20, 9)]
    public void The_first_days_are_not_given_and_later_ones_do_not_depend_on_the_start(double depth, int days)
    {
        double[] whole = SoilTemperature.Hourly(Spring(100, skip: 0), Place, depth, SoilSurface.BareGround);
        double[] late = SoilTemperature.Hourly(Spring(60, skip: 40), Place, depth, SoilSurface.BareGround);
        Assert.Equal(days * Day, Array.FindIndex(late, t => !double.IsNaN(t)));
        Assert.All(late.Skip(days * Day), t => Assert.False(double.IsNaN(t)));
        double worst = Enumerable.Range(days * Day, 60 * Day - days * Day).Max(h => Math.Abs(late[h] - whole[h + 40 * Day]));
        output.WriteLine($"{depth} m: {worst:F2} K");
        Assert.True(worst < 1.2, $"{worst:F2} K");
    }

    [Fact]
    public void Three_missing_hours_are_bridged_and_a_fourth_starts_the_soil_anew()
    {
        var short3 = Spring(40, 0, missing: hour => hour is >= 480 and < 483);
        double[] soil = SoilTemperature.Hourly(short3, Place, 0.05, SoilSurface.BareGround);
        double[] whole = SoilTemperature.Hourly(Spring(40, 0), Place, 0.05, SoilSurface.BareGround);
        Assert.All(Enumerable.Range(72, 40 * Day - 72), h => Assert.Equal(whole[h], soil[h], 0.3));

        var long4 = Spring(40, 0, missing: hour => hour is >= 480 and < 484);
        soil = SoilTemperature.Hourly(long4, Place, 0.05, SoilSurface.BareGround);
        Assert.False(double.IsNaN(soil[479]));
        Assert.All(Enumerable.Range(480, 4 + 72), h => Assert.True(double.IsNaN(soil[h])));
        Assert.False(double.IsNaN(soil[484 + 72]));
    }

    [Fact]
    public void Without_air_there_is_no_soil()
    {
        var weather = TestSeries.Of(April, 20 * Day, (WeatherVariable.Radiation, _ => 100));
        Assert.All(SoilTemperature.Hourly(weather, Place, 0.05, SoilSurface.BareGround), t => Assert.True(double.IsNaN(t)));
        Assert.Empty(SoilTemperature.Hourly(WeatherSeries.Empty, Place, 0.05, SoilSurface.BareGround));
    }

    [Theory]
    [InlineData(SoilCover.BlackFilm, 1.0, 3.0)] // Lamont 1993: 1.7 K at 10 cm by day
    [InlineData(SoilCover.ClearFilm, 2.5, 5.0)] // Lamont 1993: 3.3 to 5.0 K
    [InlineData(SoilCover.WhiteFilm, -2.5, 0.0)] // Lamont 1993: about -1 K
    [InlineData(SoilCover.Straw, -5.0, -0.5)] // "organic mulch delays spring warming"
    [InlineData(SoilCover.OrganicMulch, -4.0, -0.3)]
    public void A_cover_changes_the_soil_of_sunny_afternoons_as_published(SoilCover cover, double least, double most)
    {
        double change = Afternoons(new SoilSurface(cover)) - Afternoons(SoilSurface.BareGround);
        output.WriteLine($"{cover} {change:F2} K");
        Assert.InRange(change, least, most);
    }

    [Theory]
    [InlineData(SoilRoof.Tunnel, SoilPlace.Ground, 0.5, 4)]
    [InlineData(SoilRoof.Open, SoilPlace.RaisedBed, 0.2, 4)] // common practice: 1 to 4 K in spring
    [InlineData(SoilRoof.Open, SoilPlace.Container, 0.2, 5)]
    public void Roof_and_place_warm_the_spring_soil(SoilRoof roof, SoilPlace place, double least, double most)
    {
        double change = Afternoons(new SoilSurface(SoilCover.Bare, roof, place)) - Afternoons(SoilSurface.BareGround);
        output.WriteLine($"{roof} {place} {change:F2} K");
        Assert.InRange(change, least, most);
    }

    [Fact]
    public void A_pot_swings_more_than_the_ground_and_deep_soil_less_than_shallow()
    {
        var weather = Spring(40, 0);
        double Swing(double depth, SoilPlace place)
        {
            double[] day = SoilTemperature.Hourly(weather, Place, depth, new(SoilCover.Bare, SoilRoof.Open, place))[^24..];
            return day.Max() - day.Min();
        }
        Assert.True(Swing(0.15, SoilPlace.Container) > 1.3 * Swing(0.15, SoilPlace.Ground));
        Assert.True(Swing(0.05, SoilPlace.Ground) > 1.3 * Swing(0.10, SoilPlace.Ground));
        Assert.InRange(Swing(0.05, SoilPlace.Ground), 2, 12);
    }

    [Fact]
    public void Wet_bare_ground_stays_cooler_than_dry()
    {
        double[] wet = SoilTemperature.Hourly(Spring(40, 0, rain: hour => hour % 48 == 0 ? 8 : 0), Place, 0.05, SoilSurface.BareGround);
        double[] dry = SoilTemperature.Hourly(Spring(40, 0, rain: _ => 0), Place, 0.05, SoilSurface.BareGround);
        Assert.InRange(dry.Skip(200).Average() - wet.Skip(200).Average(), 0.5, 6);
    }

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.5)]
    [InlineData(double.NaN)]
    public void A_depth_outside_the_column_is_refused(double depth) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SoilTemperature.Hourly(Spring(10, 0), Place, depth, SoilSurface.BareGround));

    [Fact]
    public void The_service_offset_is_the_middle_daily_difference_and_at_most_four_kelvins()
    {
        var asOf = April + Duration.FromDays(10);
        TemperatureDifference? Offset(Func<int, double> service) => SoilTemperature.ServiceOffset(
            TestSeries.Of(April, 10 * Day, (WeatherVariable.SoilAt6Cm, service)), Enumerable.Repeat(10.0, 10 * Day).ToArray(),
            WeatherVariable.SoilAt6Cm, asOf);
        Assert.Equal(1.5, Assert.NotNull(Offset(_ => 11.5)).Kelvins, 1e-9);
        Assert.Equal(1.5, Assert.NotNull(Offset(hour => hour / Day == 3 ? 30 : 11.5)).Kelvins, 1e-9); // one mad day
        Assert.Equal(4, Assert.NotNull(Offset(_ => 25)).Kelvins);
        Assert.Equal(-4, Assert.NotNull(Offset(_ => -5)).Kelvins);
        Assert.NotNull(Offset(hour => hour >= 7 * Day ? 12 : double.NaN));
        Assert.Null(Offset(hour => hour >= 8 * Day ? 12 : double.NaN));
        Assert.Null(Offset(_ => double.NaN));
    }

    [Fact]
    public void The_service_offset_looks_at_nothing_after_the_instant()
    {
        var weather = TestSeries.Of(April, 20 * Day, (WeatherVariable.SoilAt18Cm, hour => hour <= 10 * Day ? 11 : 14));
        double[] model = [.. Enumerable.Repeat(10.0, 20 * Day)];
        var offset = SoilTemperature.ServiceOffset(weather, model, WeatherVariable.SoilAt18Cm, April + Duration.FromDays(10));
        Assert.Equal(1, Assert.NotNull(offset).Kelvins, 1e-9);
        Assert.Null(SoilTemperature.ServiceOffset(weather, model, WeatherVariable.SoilAt18Cm, April - Duration.FromDays(1)));
    }

    private static double Afternoons(SoilSurface surface)
    {
        double[] soil = SoilTemperature.Hourly(Spring(40, 0), Place, 0.1, surface);
        return Enumerable.Range(20, 20).Average(day => soil[day * Day + 16]);
    }

    // Sunny spring weather that warms by 0.1 K a day; the sun peaks at noon with 600 W/m².
    private static WeatherSeries Spring(
        int days, int skip, Func<int, bool>? missing = null, Func<int, double>? rain = null) =>
        TestSeries.Of(April + Duration.FromDays(skip), days * Day,
            (WeatherVariable.Air, hour => missing?.Invoke(hour) == true
                ? double.NaN
                : 8 + 0.1 * (hour / 24.0 + skip) + 5 * Math.Sin(2 * Math.PI * (hour - 9) / 24) + 3 * Math.Sin((hour + 24.0 * skip) / 60)),
            (WeatherVariable.Radiation, hour => Math.Max(0, 600 * Math.Sin(2 * Math.PI * (hour - 6) / 24))),
            (WeatherVariable.CloudCover, _ => 30),
            (WeatherVariable.RelativeHumidity, _ => 70),
            (WeatherVariable.Wind, _ => 2.5),
            (WeatherVariable.Rain, hour => rain?.Invoke(hour) ?? double.NaN));
}

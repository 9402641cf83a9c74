using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Soil;

/// <summary>A course that goes on from another one's hour is what the whole would have been.</summary>
public class SoilCourseTests
{
    private const int Hours = 30 * 24;
    private static readonly GeoPosition Place = new(50, 10, 200);

    public static TheoryData<SoilSurface> Surfaces =>
    [
        SoilSurface.BareGround, SoilSurface.TendedGround, new SoilSurface(SoilCover.Straw), new SoilSurface(SoilCover.BlackFilm, SoilRoof.Tunnel),
        new SoilSurface(SoilCover.Tended, SoilRoof.Open, SoilPlace.Container),
    ];

    private static WeatherSeries Weather(int partsFrom, double warmer, Func<int, bool>? missing = null) => TestSeries.Of(
        Instant.FromUtc(2026, 4, 1, 0, 0), Hours,
        (WeatherVariable.Air, hour => missing?.Invoke(hour) == true
            ? double.NaN
            : 9 + 5 * Math.Sin(2 * Math.PI * (hour - 9) / 24) + (hour >= partsFrom ? warmer : 0)),
        (WeatherVariable.Radiation, hour => Math.Max(0, 600 * Math.Sin(2 * Math.PI * (hour - 6) / 24))),
        (WeatherVariable.CloudCover, _ => 30), (WeatherVariable.DewPoint, _ => 3), (WeatherVariable.Wind, _ => 2.5),
        (WeatherVariable.Rain, hour => hour % 90 == 0 ? 8 : 0));

    [Theory]
    [MemberData(nameof(Surfaces))]
    public void All_depths_at_once_are_what_each_is_alone(SoilSurface surface)
    {
        var weather = Weather(Hours, 0, hour => hour is >= 200 and < 203 or >= 300 and < 310);
        var course = SoilCourse.Of(weather, Place, surface);

        foreach (double depth in (double[])[0, 0.05, 0.1, 0.25])
            Assert.Equal(SoilTemperature.Hourly(weather, Place, depth, surface), course.At(depth));
    }

    [Theory]
    [MemberData(nameof(Surfaces))]
    public void Another_course_goes_on_as_if_it_had_been_run_whole(SoilSurface surface)
    {
        const int From = 20 * 24 + 7;
        var main = SoilCourse.Of(Weather(Hours, 0), Place, surface);
        var run = Weather(From, warmer: 4);

        double[] whole = SoilTemperature.Hourly(run, Place, 0.05, surface);
        double[] goneOn = main.GoingOn(run, From).At(0.05);

        Assert.Equal(whole, goneOn);
        Assert.True(Math.Abs(whole[^1] - main.At(0.05)[^1]) > 1);
    }

    [Fact]
    public void It_starts_anew_where_the_air_before_it_is_missing()
    {
        const int From = 12 * 24;
        bool Missing(int hour) => hour is >= From - 10 and < From;
        var run = Weather(From, 1, Missing);

        Assert.Equal(
            SoilTemperature.Hourly(run, Place, 0.05, SoilSurface.TendedGround),
            SoilCourse.Of(Weather(Hours, 0, Missing), Place, SoilSurface.TendedGround).GoingOn(run, From).At(0.05));
    }

    [Fact]
    public void Leaf_and_air_are_filled_from_an_hour_on_as_they_are_whole()
    {
        const int From = 100;
        var weather = Weather(Hours, 0);
        var pocket = new TemperatureDifference(1.5);
        double[] leaf = LeafTemperature.Hourly(weather, Place, pocket), air = BedAir.Hourly(weather, Place, pocket);
        double[] leafFrom = [.. leaf[..From], .. new double[Hours - From]], airFrom = [.. air[..From], .. new double[Hours - From]];

        LeafTemperature.Fill(leafFrom, From, weather, Place, pocket);
        BedAir.Fill(airFrom, From, weather, Place, pocket);

        Assert.Equal(leaf, leafFrom);
        Assert.Equal(air, airFrom);
    }
}

using CsCheck;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class NightCourseTests
{
    private static readonly GeoPosition Place = new(50, 10, 200);
    private static readonly Instant Evening = Instant.FromUtc(2026, 4, 20, 18, 0);
    private static readonly Interval Night = new(Evening, Evening + Duration.FromHours(12));
    private static readonly NightBed Open = new(new TemperatureDifference(0));

    [Fact]
    public void Air_leaf_and_cover_have_each_their_course()
    {
        var course = Course(Clear(), Open with { FrostPocket = new(1), Cover = FrostCover.MediumFleece });
        Assert.Equal(13, course.At(NightLevel.Leaf).Length);
        for (int i = 0; i < 13; i++)
        {
            Assert.True(course.At(NightLevel.Leaf)[i] < course.At(NightLevel.Screen)[i]);
            Assert.Equal(course.At(NightLevel.Leaf)[i] + 2, course.At(NightLevel.UnderCover)[i], 1e-9);
        }
        Assert.Equal(BedAir.Hourly(Clear(), Place, new(1))[..13], course.At(NightLevel.Screen));
        Assert.Equal(LeafTemperature.Hourly(Clear(), Place, new(1))[..13], course.At(NightLevel.Leaf));
        Assert.Equal(FrostKind.Radiation, course.Kind);
        Assert.Equal(1, course.ShareKnown);
    }

    [Fact]
    public void It_falls_and_rises_between_the_stamps()
    {
        // Air of 8 °C falls by a kelvin an hour for six hours and rises again: at or below 4.5 °C from 3.5 to 8.5 hours.
        var below = Course(Clear(), Open).Below(NightLevel.Screen, 4.5);
        Assert.Equal(Evening + Duration.FromMinutes(210), below.Falls);
        Assert.Equal(Evening + Duration.FromMinutes(510), below.Rises);
        Assert.Equal(5, below.Hours, 1e-9);
        Assert.Equal((2.0, Evening + Duration.FromHours(6)), Course(Clear(), Open).Lowest(NightLevel.Screen));
    }

    [Fact]
    public void A_night_that_begins_or_ends_below_says_so()
    {
        var all = Course(Clear(), Open).Below(NightLevel.Screen, 9);
        Assert.Equal(new(Evening, null, 12), all);
        Assert.Equal(new(null, null, 0), Course(Clear(), Open).Below(NightLevel.Screen, 1));
        var touched = Course(Clear(), Open).Below(NightLevel.Screen, 2);
        Assert.Equal(new(Evening + Duration.FromHours(6), Evening + Duration.FromHours(6), 0), touched);
    }

    [Fact]
    public void Missing_hours_are_not_counted_across()
    {
        var course = Course(Clear(hour => hour is 5 or 6), Open);
        Assert.Equal(11.0 / 13, course.ShareKnown, 1e-9);
        Assert.Equal(2, course.Below(NightLevel.Screen, 4.5).Hours, 1e-9);
        Assert.True(double.IsNaN(course.At(NightLevel.UnderCover)[5]));
        Assert.Null(NightCourse.Of(Clear(), Place, new(Evening + Duration.FromDays(9), Evening + Duration.FromDays(10)), Open));
        Assert.Null(Course(Clear(_ => true), Open).Lowest(NightLevel.Leaf));
    }

    [Fact]
    public void Moist_soil_mulch_and_snow_move_a_clear_calm_night_in_their_order()
    {
        double Leaf(GroundUnder ground) => Course(Clear(), Open with { Ground = ground }).Lowest(NightLevel.Leaf)!.Value.Celsius;
        Assert.True(Leaf(GroundUnder.MoistSoil) > Leaf(GroundUnder.ShortGrass));
        Assert.Equal(Leaf(GroundUnder.ShortGrass), Leaf(GroundUnder.DryOrLooseSoil));
        Assert.True(Leaf(GroundUnder.MulchOrTallCrop) < Leaf(GroundUnder.ShortGrass));
        // DEF-03: as much as 10 K under the screen over snow; DEF-04: 2 to 5 K over short grass, a little more in dry air.
        Assert.InRange(2 - Leaf(GroundUnder.Snow), 7, 11);
        Assert.InRange(2 - Leaf(GroundUnder.ShortGrass), 2, 7);
    }

    [Fact]
    public void In_wind_a_cover_is_worth_nothing_and_the_frost_is_advection()
    {
        var windy = Course(Clear(wind: 7), Open with { Cover = FrostCover.HeavyFleece });
        Assert.Equal(windy.At(NightLevel.Leaf), windy.At(NightLevel.UnderCover));
        Assert.Equal(FrostKind.Advection, windy.Kind);
        Assert.Null(Course(Clear(wind: double.NaN), Open).Kind);
    }

    [Fact]
    public void Under_glass_the_leaf_is_as_warm_as_the_air_outside()
    {
        var course = Course(Clear(), Open with { UnderGlass = true });
        Assert.Equal(course.At(NightLevel.Screen), course.At(NightLevel.Leaf));
    }

    [Fact]
    public void A_higher_limit_is_never_passed_later_or_for_fewer_hours() =>
        Gen.Select(Gen.Double[-6, 9], Gen.Double[0, 3], Gen.Double[-1, 12].Array[24]).Sample((limit, more, air) =>
        {
            var course = Course(TestSeries.Of(Evening, 24, (WeatherVariable.Air, hour => air[hour])), Open);
            var (low, high) = (course.Below(NightLevel.Leaf, limit), course.Below(NightLevel.Leaf, limit + more));
            Assert.True(high.Hours >= low.Hours - 1e-9);
            Assert.True(low.Falls is null || high.Falls <= low.Falls);
            Assert.InRange(high.Hours, 0, 12);
        });

    private static NightCourse Course(WeatherSeries weather, NightBed bed)
    {
        var course = NightCourse.Of(weather, Place, Night, bed);
        Assert.NotNull(course);
        return course;
    }

    private static WeatherSeries Clear(Func<int, bool>? missing = null, double wind = 1) => TestSeries.Of(Evening, 24,
        (WeatherVariable.Air, hour => missing?.Invoke(hour) == true ? double.NaN : hour <= 6 ? 8 - hour : hour - 4),
        (WeatherVariable.DewPoint, _ => -5),
        (WeatherVariable.CloudCover, _ => 0),
        (WeatherVariable.Wind, _ => wind),
        (WeatherVariable.Radiation, _ => 0));
}

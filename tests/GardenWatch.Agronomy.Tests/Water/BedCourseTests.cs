using CsCheck;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

/// <summary>The bed's course in hours, held against FAO-56's daily examples and against laws.</summary>
public class BedCourseTests
{
    private static readonly SoilTexture Loam = SoilTexture.Named("loam")!;
    private static readonly Draw Crop = Draw.Of(new(80, 32), 1);

    private static readonly Gen<BedHour[]> Weeks = Gen.Select(
        Gen.Frequency((12, Gen.Const(0.0)), (1, Gen.Double[0, 10])), Gen.Double[0, 0.6], (rain, use) => new BedHour(rain, 0, use)).Array[24 * 30];

    private static BedCourse Course(BedHour[] hours, params Draw[] draws) =>
        BedCourse.Of(hours, draws, [.. Enumerable.Range(0, hours.Length).Select(hour => Math.Min(hour / 24, draws.Length - 1))]);

    [Fact] // FAO-56 (Allen et al. 1998) example 37: dry edible bean, TAW 90 mm, RAW 50 mm, Dr 55 mm at first, Kcb 1.2, ET0 5 mm on each of ten days
    public void A_crop_short_of_water_dries_as_in_the_example()
    {
        var bean = Draw.Of(new(110, 66), 1.2);
        var day = new RootZone(110, 66).Day(55, 0, 0, 6);
        Assert.Equal(day.DepletionMm, bean.After(55, 0, 0, 5), 1e-9);
        // In steps of an hour stress grows within the day, so it ends a little wetter than by days.
        double depletion = 70;
        for (int hour = 0; hour < 24; hour++)
            depletion = bean.After(depletion, 0, 0, 5.0 / 24);
        double byDay = bean.After(70, 0, 0, 5);
        Assert.InRange(depletion, byDay - 0.5, byDay);
    }

    [Fact] // FAO-56 example 38, day 1: what is too much drains first, then the crop uses (printed: ends at 5 mm)
    public void What_is_too_much_drains_before_the_crop_uses() =>
        Assert.Equal(5.5, Draw.Of(new(40, 20), 1).After(6, 23, 0, 5.5), 1e-9);

    [Fact] // FAO-56 eq. 71 to 77, as its example 31 dries a bare soil
    public void Bare_soil_dries_as_its_upper_layer_does_and_not_beyond()
    {
        var top = Loam.TopSoil();
        double layer = 0, bed = 0;
        for (int day = 0; day < 60; day++)
        {
            layer = top.Next(layer, 0, 5, 0);
            bed = Draw.Bare(top, 1).After(bed, 0, 0, 5);
            Assert.Equal(layer, bed, 1e-9);
        }
        Assert.InRange(bed, 0.95 * top.EvaporableMm, top.EvaporableMm);
        // Below it roots had drunk: that stays wanting, and no more goes.
        Assert.Equal(45, Draw.Bare(top, 1).After(45, 0, 0, 5));
        Assert.Equal(35, Draw.Bare(top, 1).After(45, 10, 0, 5));
    }

    [Fact]
    public void More_rain_in_any_hour_never_leaves_a_bed_drier() =>
        Gen.Select(Weeks, Gen.Int[0, 24 * 30 - 1], Gen.Double[0, 30], Gen.Bool).Sample((hours, wetter, more, bare) =>
        {
            var draw = bare ? Draw.Bare(Loam.TopSoil(), 1) : Crop;
            double[] plain = Course(hours, draw).DepletionMm;
            hours[wetter] = hours[wetter] with { Rain = hours[wetter].Rain + more };
            double[] wet = Course(hours, draw).DepletionMm;
            for (int hour = 0; hour < wet.Length; hour++)
                Assert.True(wet[hour] <= plain[hour] + 1e-9);
        });

    [Fact]
    public void What_is_missing_given_by_hand_brings_it_to_field_capacity() =>
        Gen.Select(Weeks, Gen.Int[1, 24 * 30 - 1]).Sample((hours, at) =>
        {
            double missing = Course(hours, Crop).DepletionMm[at - 1];
            hours[at] = hours[at] with { Watered = missing, Reference = 0 };
            Assert.Equal(0, Course(hours, Crop).DepletionMm[at], 1e-9);
            hours[at] = hours[at] with { Watered = double.PositiveInfinity };
            Assert.Equal(0, Course(hours, Crop).DepletionMm[at], 1e-9);
        });

    [Fact]
    public void After_a_missing_hour_it_is_unknown_until_it_is_filled()
    {
        var hours = Enumerable.Repeat(new BedHour(0, 0, 0.2), 240).ToArray();
        hours[100] = hours[100] with { Rain = double.NaN };
        hours[150] = hours[150] with { Watered = double.PositiveInfinity };
        double[] depletion = Course(hours, Crop).DepletionMm;
        Assert.False(double.IsNaN(depletion[99]));
        Assert.All(depletion[100..150], value => Assert.True(double.IsNaN(value)));
        Assert.Equal(0.2, depletion[150], 1e-9);
    }

    [Fact]
    public void It_rests_on_its_beginning_until_rain_has_filled_it()
    {
        var hours = Enumerable.Repeat(new BedHour(0, 0, 0.1), 240).ToArray();
        Assert.True(Course(hours, Crop).RestsOnItsBeginning(239));
        hours[100] = hours[100] with { Rain = 90 };
        var course = Course(hours, Crop);
        Assert.True(course.RestsOnItsBeginning(99));
        Assert.False(course.RestsOnItsBeginning(100));
    }

    [Fact]
    public void The_days_draw_follows_the_balance_of_the_day()
    {
        var bed = new BedBalance(CropWater.Named("tomato")!, Loam) { UseShare = 0.8, MulchedShare = 1 };
        var end = bed.Next(10, new(0, 0, 6, 0, 50));
        var draw = bed.On(50, 6);
        Assert.Equal(end.Zone, draw.Zone);
        Assert.Equal(end.DepletionMm, draw.After(10, 0, 0, 6), 1e-9);
    }
}

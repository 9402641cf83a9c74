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

    [Fact] // FAO-56 (Allen et al. 1998) example 37, p. 168: TAW 160 mm, RAW 64 mm, Kc 1.2, ET0 5 mm, 55 mm short at first; printed ends of seven days
    public void A_crop_short_of_water_dries_as_in_the_example()
    {
        var tomato = Draw.Of(new(160, 64), 1.2);
        double depletion = 55, byHours = 55;
        foreach (double printed in new[] { 61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6 })
        {
            depletion = tomato.After(depletion, 0, 0, 5);
            Assert.Equal(printed, depletion, 0.051);
            for (int hour = 0; hour < 24; hour++)
                byHours = tomato.After(byHours, 0, 0, 5.0 / 24);
            // In steps of an hour stress grows within the day, so it ends a little wetter than by days: 0.7 mm after a week.
            Assert.InRange(byHours, depletion - 0.8, depletion + 1e-9);
        }
    }

    [Fact] // FAO-56 example 38, p. 173: depletion at the ends of days 1 to 9, printed in whole mm; 23 mm short and watered with 40 mm on day 1, rain on day 6
    public void Watering_rain_and_use_follow_each_other_as_in_the_example()
    {
        (double Roots, double Rain, double Watered, double Use, double Printed)[] days =
        [
            (0.30, 0, 40, 5.5, 5), (0.31, 0, 0, 6.1, 12), (0.31, 0, 0, 4.0, 16), (0.32, 0, 0, 2.9, 18), (0.32, 0, 0, 2.5, 21),
            (0.33, 6, 0, 2.7, 18), (0.33, 0, 0, 4.7, 22), (0.34, 0, 0, 2.8, 25), (0.34, 0, 0, 2.2, 27),
        ];
        double depletion = 23;
        foreach (var (roots, rain, watered, use, printed) in days)
        {
            depletion = Draw.Of(new(130 * roots, 0.6 * 130 * roots), 1).After(depletion, rain, watered, use);
            Assert.Equal(printed, depletion, 0.51);
        }
    }

    [Fact] // FAO-56 example 31, p. 146: TEW 20 mm, REW 9 mm, ET0 4.5 mm; its crop of Kcb 0.15 leaves 1.05 of the 1.2 to evaporation
    public void Bare_soil_dries_as_in_the_example()
    {
        var bare = Draw.Bare(new(20, 9), 1.05 / 1.2);
        double depletion = 0;
        foreach (double printed in new[] { 4.73, 9.45, 13.98, 16.57, 18.04, 18.88, 19.36, 19.64, 19.79, 19.88 })
        {
            depletion = bare.After(depletion, 0, 0, 4.5);
            Assert.Equal(printed, depletion, 0.0051);
        }
    }

    [Fact]
    public void What_roots_drew_from_below_the_upper_layer_stays_wanting_until_water_comes()
    {
        var bare = Draw.Bare(Loam.TopSoil(), 1);
        Assert.Equal(45, bare.After(45, 0, 0, 5));
        Assert.Equal(35, bare.After(45, 10, 0, 5));
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

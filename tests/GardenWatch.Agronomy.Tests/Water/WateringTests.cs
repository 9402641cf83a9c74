using CsCheck;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

public class WateringTests
{
    private const double SquareMetresOf100SquareFeet = 100 * 0.3048 * 0.3048;
    private static readonly RootZone Zone = new(100, 40);
    private static readonly double[] Five = [5, 5, 5, 5, 5];

    [Fact] // rain rule R059: an inch is 25.4 l/m², 62 US gallons on 100 square feet
    public void An_inch_on_a_hundred_square_feet_is_sixty_two_gallons()
    {
        var inch = new WaterToGive(25.4, SquareMetresOf100SquareFeet);
        Assert.Equal(62, inch.UsGallons, 0.5);
        Assert.Equal(25.4 * SquareMetresOf100SquareFeet, inch.Litres);
    }

    [Fact]
    public void Water_is_told_in_the_gardeners_own_measures()
    {
        var water = new WaterToGive(12, 4.5);
        Assert.Equal(54, water.Litres, 1e-9);
        Assert.Equal(5.4, water.Cans(10), 1e-9);
        Assert.Equal(54 / 12.0, water.Minutes(WaterRate.OfLitresPerMinute(12)), 1e-9);
        Assert.Equal(54 / 12.0, water.Minutes(WaterRate.OfFilling(10, 50)), 1e-9);
        Assert.Equal(81, water.Minutes(WaterRate.OfDrippers(20, 2)), 1e-9);
        Assert.Equal(3.785411784, WaterRate.OfUsGallonsPerMinute(1).LitresPerMinute, 1e-12);
    }

    [Fact]
    public void A_fast_hose_on_a_slow_soil_waters_in_goes()
    {
        var water = new WaterToGive(15, 6);
        var hose = WaterRate.OfLitresPerMinute(1.5); // 15 mm/h
        Assert.Equal(15, hose.MmPerHourOn(6), 1e-9);
        Assert.Equal(1, water.Goes(hose, SoilTexture.Named("sandy loam")!.IntakeMmPerHour));
        Assert.Equal(3, water.Goes(hose, SoilTexture.Named("silt loam")!.IntakeMmPerHour));
        Assert.Equal(4, water.Goes(WaterRate.OfLitresPerMinute(20), SoilTexture.Named("clay")!.IntakeMmPerHour));
        Assert.Equal((2, 1), (SoilTexture.Named("sand")!.SoakingsAWeek, SoilTexture.Named("clay")!.SoakingsAWeek)); // R062
    }

    [Fact]
    public void What_no_tap_gives_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => WaterRate.OfLitresPerMinute(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => WaterRate.OfFilling(10, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new WaterToGive(-1, 2));
        Assert.Contains("m²", Assert.Throws<ArgumentOutOfRangeException>(() => new WaterToGive(1, 0)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Plenty_needs_nothing()
    {
        var advice = WateringDecision.For(Zone, 10, Five, []);
        Assert.Equal(new WateringAdvice(Watering.NotNeeded, 10, 0, null, double.NaN), advice);
    }

    [Fact] // FAO-56 p. 171 (rain rule R066): at or before what is easily had is used up, and never more than is missing
    public void A_crop_that_goes_short_tomorrow_is_watered_with_what_is_missing()
    {
        var advice = WateringDecision.For(Zone, 33, Five, [[0, 0, 0, 0, 0]]);
        Assert.Equal(new WateringAdvice(Watering.Now, 33, 33, 1, 0), advice);
        Assert.Equal(Watering.NotYet, WateringDecision.For(Zone, 22, Five, [[0, 0, 0, 0, 0]]).Watering);
        Assert.Equal(0, WateringDecision.For(Zone, 70, Five, [[0, 0, 0, 0, 0]]).DaysUntilStress);
    }

    [Theory]
    [InlineData(8, Watering.WaitForRain)]
    [InlineData(7, Watering.Now)]
    public void Rain_is_waited_for_when_four_runs_of_five_bring_enough_in_time(int runsWithRain, Watering expected)
    {
        double[] rain = [0, 12, 0, 0, 0], dry = [0, 0, 0, 0, 0];
        double[][] runs = [.. Enumerable.Range(0, 10).Select(run => run < runsWithRain ? rain : dry)];
        var advice = WateringDecision.For(Zone, 33, Five, runs);
        Assert.Equal(expected, advice.Watering);
        Assert.Equal(runsWithRain / 10.0, advice.RainShare);
        Assert.Equal(expected == Watering.Now ? 33 : 0, advice.GiveMm); // seven of ten are not sure enough to give less
    }

    [Fact]
    public void Rain_that_comes_too_late_or_only_puts_it_off_a_day_is_not_waited_for()
    {
        Assert.Equal(Watering.Now, WateringDecision.For(Zone, 38, Five, [[0, 30, 0, 0, 0]]).Watering); // short today
        Assert.Equal(Watering.Now, WateringDecision.For(Zone, 33, Five, [[0, 4, 0, 0, 0]]).Watering);
    }

    [Fact]
    public void Who_comes_back_only_later_waters_earlier()
    {
        double[][] dry = [[0, 0, 0, 0, 0]];
        Assert.Equal(Watering.NotYet, WateringDecision.For(Zone, 22, Five, dry).Watering);
        Assert.Equal(Watering.Now, WateringDecision.For(Zone, 22, Five, dry, leadDays: 4).Watering);
        Assert.Equal(Watering.NotNeeded, WateringDecision.For(Zone, 2, Five, dry, leadDays: 4).Watering);
    }

    [Fact]
    public void What_rain_surely_brings_is_left_out_of_what_is_given()
    {
        double[][] runs = [.. Enumerable.Range(0, 10).Select(run => (double[])[0, run < 9 ? 4 : 0, 0, 0, 0])];
        Assert.Equal(29, WateringDecision.For(Zone, 33, Five, runs).GiveMm, 1e-9);
    }

    [Fact]
    public void Unknown_rain_does_not_keep_water_back_and_unknown_soil_is_said()
    {
        double[] unknown = [double.NaN, 0, 0, 0, 0];
        var advice = WateringDecision.For(Zone, 38, Five, [unknown]);
        Assert.Equal((Watering.Now, 38.0), (advice.Watering, advice.GiveMm));
        Assert.True(double.IsNaN(advice.RainShare));
        Assert.Equal(Watering.Unknown, WateringDecision.For(Zone, double.NaN, Five, []).Watering);
        Assert.Equal(Watering.Unknown, WateringDecision.For(Zone, 20, [5, double.NaN, 5], []).Watering);
        Assert.Equal(Watering.Now, WateringDecision.For(Zone, 38, [5, double.NaN, 5], []).Watering); // short before the unknown day
        Assert.Throws<ArgumentException>(() => WateringDecision.For(Zone, 10, Five, [[1, 2]]));
        Assert.Throws<ArgumentOutOfRangeException>(() => WateringDecision.For(Zone, -1, Five, []));
    }

    [Fact]
    public void More_rain_in_every_run_never_asks_for_more_water() =>
        Gen.Select(Gen.Double[0, 90], Gen.Double[0, 20].Array[5].Array[10], Gen.Double[0, 20]).Sample((deficit, runs, more) =>
        {
            var plain = WateringDecision.For(Zone, deficit, Five, runs);
            var wetter = WateringDecision.For(Zone, deficit, Five, [.. runs.Select(run => run.Select(mm => mm + more).ToArray())]);
            Assert.InRange(plain.GiveMm, 0, deficit);
            Assert.True(wetter.GiveMm <= plain.GiveMm + 1e-9);
        });
}

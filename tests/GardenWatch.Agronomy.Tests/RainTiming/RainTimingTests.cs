using CsCheck;
using GardenWatch.Agronomy.RainTiming;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.RainTiming;

/// <summary>Each rule at its limit and just beside it; the ids are of the shipped rain rules.</summary>
public class RainTimingTests
{
    [Theory]
    [InlineData(Granules.Fertiliser, 6.35, 2, RainOnGranules.WatersIn, 0)] // R001
    [InlineData(Granules.Fertiliser, 6.25, 2, RainOnGranules.TooLittle, 0.1)]
    [InlineData(Granules.SoilInsects, 12.7, 2, RainOnGranules.WatersIn, 0)] // R003; R004 asks for double and is not followed
    [InlineData(Granules.SoilInsects, 6.7, 2, RainOnGranules.TooLittle, 6)]
    [InlineData(Granules.WeedPreventer, 6.35, 2, RainOnGranules.WatersIn, 0)] // R006
    [InlineData(Granules.Fertiliser, 12, 7.59, RainOnGranules.WatersIn, 0)]
    [InlineData(Granules.Fertiliser, 12, 7.6, RainOnGranules.WashesOff, 0)] // R014
    [InlineData(Granules.Fertiliser, 25.4, 2, RainOnGranules.WatersIn, 0)]
    [InlineData(Granules.Fertiliser, 25.5, 2, RainOnGranules.WashesOff, 0)] // R049
    public void Rain_waters_granules_in_when_it_is_enough_and_not_too_much(Granules what, double total, double peak, RainOnGranules expected, double missing)
    {
        var advice = WateringIn.Judge(what, total, peak);
        Assert.Equal(expected, advice.Rain);
        Assert.Equal(missing, advice.MissingMm, 1e-9);
    }

    [Fact] // R015
    public void Rain_that_loam_takes_in_runs_off_clay()
    {
        Assert.Equal(RainOnGranules.WatersIn, WateringIn.Judge(Granules.Fertiliser, 8, 3, SoilTexture.Named("loam")!.IntakeMmPerHour).Rain);
        Assert.Equal(RainOnGranules.WashesOff, WateringIn.Judge(Granules.Fertiliser, 8, 3, SoilTexture.Named("clay")!.IntakeMmPerHour).Rain);
    }

    [Fact]
    public void Enough_and_not_too_much_is_asked_of_the_same_run()
    {
        double[] right = [0, 3, 3, 2], little = [0, 1, 0, 0], hard = [0, 20, 0, 0], unknown = [0, double.NaN, 2, 2];
        Assert.Equal(0.5, WateringIn.Share(Granules.Fertiliser, [right, right, little, hard]));
        Assert.Equal(double.NaN, WateringIn.Share(Granules.Fertiliser, [right, unknown]));
        Assert.Equal(double.NaN, WateringIn.Share(Granules.Fertiliser, []));
        Assert.Equal(RainOnGranules.Unknown, WateringIn.Judge(Granules.Fertiliser, double.NaN, 1).Rain);
        Assert.Equal(RainOnGranules.WashesOff, WateringIn.Judge(Granules.Fertiliser, double.NaN, 9).Rain); // sure whatever else
        Assert.Throws<ArgumentOutOfRangeException>(() => WateringIn.Judge(Granules.Fertiliser, -1, 0));
        Assert.Equal(2, WateringIn.WaitDays); // R005
    }

    [Fact] // R010, R011, R014
    public void Heavy_rain_is_looked_for_in_the_window_of_the_rule()
    {
        Assert.Equal((48, 24), (HoldOff.FertiliserHours, HoldOff.InsecticideHours));
        double[] hours = new double[48];
        Assert.False(HoldOff.HeavyRainWithin(hours, HoldOff.FertiliserHours));
        hours[30] = 7.6;
        Assert.True(HoldOff.HeavyRainWithin(hours, HoldOff.FertiliserHours));
        Assert.False(HoldOff.HeavyRainWithin(hours, HoldOff.InsecticideHours));
        Assert.Null(HoldOff.HeavyRainWithin(hours.AsSpan(0, 20), 24));
        hours[3] = double.NaN;
        Assert.Null(HoldOff.HeavyRainWithin(hours, 24));
        Assert.True(HoldOff.HeavyRainWithin(hours, 48));
        Assert.Throws<ArgumentOutOfRangeException>(() => HoldOff.HeavyRainWithin(hours, 0));
    }

    [Theory]
    [InlineData(1.9, SprayLeft.MostlyGone)]
    [InlineData(2, SprayLeft.InDoubt)] // R016
    [InlineData(11.9, SprayLeft.InDoubt)]
    [InlineData(12, SprayLeft.Held)] // R017
    [InlineData(double.NaN, SprayLeft.Unknown)]
    public void Dry_hours_decide_what_rain_leaves(double hours, SprayLeft expected) => Assert.Equal(expected, Rainfastness.AfterDryHours(hours));

    [Theory]
    [InlineData(24.9, Protection.Keeps)] // R018, where two services disagree
    [InlineData(25, Protection.HalveTheDaysLeft)] // R019
    [InlineData(50, Protection.HalveTheDaysLeft)]
    [InlineData(50.1, Protection.Renew)] // R020
    [InlineData(double.NaN, Protection.Unknown)]
    public void Rain_since_decides_when_to_renew(double rain, Protection expected) => Assert.Equal(expected, Rainfastness.AfterRain(rain));

    private static readonly SprayHour Good = new(2.5, 20, 3, 8, 24);

    [Theory]
    [InlineData(1.33, SprayFaults.TooStill)] // R024
    [InlineData(1.34, SprayFaults.None)]
    [InlineData(3.58, SprayFaults.None)]
    [InlineData(3.6, SprayFaults.TooWindy)]
    public void Mist_wants_a_light_breeze(double wind, SprayFaults expected) =>
        Assert.Equal(expected, SprayWeather.Judge(Sprayed.Anything, Good with { WindMetresPerSecond = wind }).Against);

    [Theory]
    [InlineData(4.47, SprayFaults.None)] // R026
    [InlineData(4.5, SprayFaults.TooWindy)]
    [InlineData(0, SprayFaults.None)]
    public void Granules_only_mind_wind(double wind, SprayFaults expected) =>
        Assert.Equal(expected, SprayWeather.Judge(Sprayed.FineGranules, new(wind, 40, -3, -1, 0, 0.2)).Against);

    [Theory]
    [InlineData(0.9, 8, SprayFaults.Inversion)] // R027
    [InlineData(1, 2, SprayFaults.None)]
    [InlineData(6, 1.9, SprayFaults.Inversion)]
    [InlineData(-2, 14, SprayFaults.Inversion)]
    public void Near_night_cold_air_may_carry_mist_far(double sinceSunrise, double untilSunset, SprayFaults expected) =>
        Assert.Equal(expected, SprayWeather.Judge(Sprayed.Anything, Good with { HoursSinceSunrise = sinceSunrise, HoursUntilSunset = untilSunset }).Against);

    [Theory]
    [InlineData(Sprayed.Oil, 32.1, SprayFaults.None)] // R028
    [InlineData(Sprayed.Oil, 32.2, SprayFaults.TooHot)]
    [InlineData(Sprayed.Oil, 4.4, SprayFaults.None)] // R029
    [InlineData(Sprayed.Oil, 4.3, SprayFaults.TooCold)]
    [InlineData(Sprayed.Soap, 32.2, SprayFaults.TooHot)] // R031
    [InlineData(Sprayed.Sulfur, 32.2, SprayFaults.TooHot)] // R032
    [InlineData(Sprayed.Anything, 36, SprayFaults.None)] // no limit published
    public void Heat_and_cold_forbid_what_burns_leaves(Sprayed what, double air, SprayFaults expected) =>
        Assert.Equal(expected, SprayWeather.Judge(what, Good with { AirC = air }).Against);

    [Fact]
    public void Thirsty_plants_near_rain_and_doubt()
    {
        Assert.Equal(SprayFaults.ThirstyPlants, SprayWeather.Judge(Sprayed.Soap, Good with { WaterStress = 0.9 }).Against); // R031
        Assert.Equal(SprayFaults.RainTooSoon, SprayWeather.Judge(Sprayed.Anything, Good with { DryHoursAhead = 1.5 }).Against); // R016
        Assert.True(SprayWeather.Judge(Sprayed.Oil, Good).Suits);
        var doubt = SprayWeather.Judge(Sprayed.Oil, Good with { WindMetresPerSecond = double.NaN });
        Assert.Null(doubt.Suits);
        Assert.Equal(SprayFaults.TooStill | SprayFaults.TooWindy, doubt.Unknown);
        Assert.False(SprayWeather.Judge(Sprayed.Oil, Good with { WindMetresPerSecond = double.NaN, AirC = 35 }).Suits);
        Assert.Equal(30, SprayWeather.DaysBetweenOilAndSulfur); // R033: 14 to 30
        Assert.Throws<ArgumentOutOfRangeException>(() => SprayWeather.Judge(Sprayed.Oil, Good with { WindMetresPerSecond = -1 }));
    }

    [Theory]
    [InlineData(Renewed.TasteRepellent, 21)] // R035
    [InlineData(Renewed.ScentRepellent, 30)] // R036; a seller's 90 days (R038) are not followed
    [InlineData(Renewed.PepperSpray, 7)] // R039
    [InlineData(Renewed.EggSpray, 10)] // R040
    [InlineData(Renewed.BloodMeal, 5)] // R041
    [InlineData(Renewed.IronPhosphateBait, 14)] // R043
    [InlineData(Renewed.CaterpillarBacteria, 7)] // R022
    public void Time_alone_makes_it_due(Renewed what, double days)
    {
        Assert.Equal(days, Renewal.Days(what));
        Assert.False(Renewal.Due(what, days - 0.1, 0));
        Assert.True(Renewal.Due(what, days, 0));
    }

    [Fact]
    public void Rain_makes_it_due_sooner_but_not_the_bait_on_iron()
    {
        Assert.True(Renewal.Due(Renewed.TasteRepellent, 2, 25));
        Assert.False(Renewal.Due(Renewed.TasteRepellent, 2, 24));
        Assert.True(Renewal.Due(Renewed.BloodMeal, 1, 0.2)); // R041
        Assert.True(Renewal.Due(Renewed.DiatomaceousEarth, 1, 0.2)); // R046
        Assert.True(Renewal.Due(Renewed.MetaldehydeBait, 1, 0.2)); // R044
        Assert.False(Renewal.Due(Renewed.MetaldehydeBait, 60, 0));
        Assert.False(Renewal.Due(Renewed.IronPhosphateBait, 3, 60)); // R043
        Assert.Null(Renewal.Due(Renewed.PepperSpray, 2, double.NaN));
        Assert.False(Renewal.Due(Renewed.IronPhosphateBait, 2, double.NaN));
        Assert.Equal(2, Renewal.LooksAWeek); // R037
    }

    [Fact]
    public void Soil_is_worked_when_it_is_neither_frozen_snowed_in_nor_wet()
    {
        var top = SoilTexture.Named("loam")!.TopSoil(); // REW 9 mm
        Assert.Equal(SoilState.TooWet, Workability.Judge(top, 8.9, 9, 0)); // R071
        Assert.Equal(SoilState.Workable, Workability.Judge(top, 9, 9, 0));
        Assert.Equal(SoilState.Frozen, Workability.Judge(top, double.NaN, -0.1, 0));
        Assert.Equal(SoilState.UnderSnow, Workability.Judge(top, 12, 1, 0.05));
        Assert.Equal(SoilState.Unknown, Workability.Judge(top, double.NaN, 9, 0));
        Assert.Equal(SoilState.Unknown, Workability.Judge(top, 12, double.NaN, 0));
        Assert.Equal(SoilState.TooWet, Workability.JudgeByWater(0.225, 0.25, 9, 0)); // R070: 0.9 of field capacity
        Assert.Equal(SoilState.Workable, Workability.JudgeByWater(0.224, 0.25, 9, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Workability.Judge(top, -1, 9, 0));
    }

    [Fact]
    public void Dry_spells_end_at_a_millimetre_and_at_what_is_unknown()
    {
        double[] days = [0, 5, 0.9, 0, 0, 1, 0, 0.4];
        Assert.Equal(2, DrySpell.DaysUpToNow(days));
        Assert.Equal(1, DrySpell.DaysAhead(days));
        Assert.Equal(3, DrySpell.Longest(days));
        Assert.Equal(0, DrySpell.DaysUpToNow([0, double.NaN]));
        Assert.Equal(2, DrySpell.HoursAhead([0, 0, 0.1, 0]));
        Assert.Equal(0, DrySpell.Longest([]));
        Assert.Throws<ArgumentOutOfRangeException>(() => DrySpell.Longest([-1]));
    }

    [Fact]
    public void The_longest_spell_is_no_shorter_than_either_end() =>
        Gen.Double[0, 3].Array[0, 60].Sample(days =>
            Assert.InRange(DrySpell.Longest(days), Math.Max(DrySpell.DaysUpToNow(days), DrySpell.DaysAhead(days)), days.Length));
}

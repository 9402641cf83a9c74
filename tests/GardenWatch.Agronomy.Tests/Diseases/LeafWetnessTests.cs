using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

public class LeafWetnessTests
{
    [Theory] // D143: the tree's three limits
    [InlineData(15, 99, 1, 3.7, false)]
    [InlineData(15, 99, 1, 3.69, true)]
    [InlineData(1, 87.7, 30, 3.6, false)]
    [InlineData(1, 88, 30, 3.6, true)] // far up the second branch, where wind keeps the sum above 37
    public void The_tree_keeps_its_limits(double air, double humidity, double wind, double depression, bool expected) =>
        Assert.Equal(expected, LeafWetness.ByTree(air, humidity, wind, depression));

    [Fact] // D151
    public void Ninety_per_cent_is_wet() => Assert.True(LeafWetness.ByHumidity(90, 0) == true && LeafWetness.ByHumidity(89.9, 0) == false);

    [Fact] // D153
    public void Dew_begins_within_two_kelvins_and_stays_until_nearly_four()
    {
        double[] depressions = [5, 3, 2.1, 2.0, 3, 3.79, 3.8, 3, 2.5];
        bool? wet = false;
        List<bool?> course = [];
        foreach (double depression in depressions)
            course.Add(wet = LeafWetness.ByDepression(wet, depression));
        Assert.Equal([false, false, false, true, true, true, false, false, false], course);
        Assert.Null(LeafWetness.ByDepression(true, double.NaN));
        Assert.Null(LeafWetness.ByDepression(null, 3));
        Assert.True(LeafWetness.ByDepression(null, 1));
    }

    [Theory] // D154
    [InlineData(87, -9, false, true)]
    [InlineData(69.9, 9, true, false)]
    [InlineData(75, 3.1, false, true)]
    [InlineData(75, -2.1, true, false)]
    [InlineData(75, 0, true, true)]
    [InlineData(75, 0, false, false)]
    public void Between_seventy_and_eighty_seven_the_change_decides(double humidity, double change, bool before, bool expected) =>
        Assert.Equal(expected, LeafWetness.ByChangingHumidity(before, humidity, change));

    [Fact]
    public void What_cant_be_is_an_error_that_names_value_and_range()
    {
        Assert.Contains("0 to 100 %", Assert.Throws<ArgumentOutOfRangeException>(() => LeafWetness.ByTree(15, 101, 1, 1)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => LeafWetness.ByChangingHumidity(true, 101, 0));
        Assert.True(LeafWetness.ByHumidity(101, 0)); // a wet hygrometer shows it
        Assert.Throws<ArgumentOutOfRangeException>(() => LeafWetness.ByTree(15, 90, -1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeafWetness.ByDepression(true, -0.5));
    }

    [Fact]
    public void Wet_hours_of_a_day_and_their_mean_air()
    {
        double[] air = [.. Enumerable.Range(0, 24).Select(hour => 10.0 + hour)];
        double[] humidity = [.. Enumerable.Range(0, 24).Select(hour => hour is >= 2 and <= 5 ? 95.0 : 60.0)];
        double[] rain = new double[24];
        rain[20] = 0.4;
        Assert.Equal(new WetHours(5, (12 + 13 + 14 + 15 + 30) / 5.0), WetHours.Of(air, humidity, rain));
        rain[20] = double.NaN;
        Assert.Equal(new WetHours(4, 13.5), WetHours.Of(air, humidity, rain));
        air[0] = air[1] = double.NaN;
        Assert.True(double.IsNaN(WetHours.Of(air, humidity, rain).Hours));
        Assert.Equal(new WetHours(0, double.NaN), WetHours.Of([10, 11], [50, 50], [0, 0]));
        Assert.Throws<ArgumentException>(() => WetHours.Of(air, humidity, [0]));
    }
}

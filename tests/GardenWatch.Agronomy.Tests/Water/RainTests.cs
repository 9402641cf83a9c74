using CsCheck;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

public class RainTests
{
    private const string File = "effective-rain.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void Useful_rain_agrees_with_published_cases(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double ours = row["period"] == "event"
            ? Rain.EffectiveOfEvent(row.Number("rain_mm"))
            : Rain.EffectiveOfDay(row.Number("rain_mm"), row.Number("eto_mm"));
        Assert.Equal(row.Number("expected_mm"), ours, row.Number("tolerance_mm"));
    }

    [Theory]
    [InlineData(0, RainIntensity.None)]
    [InlineData(0.1, RainIntensity.Light)]
    [InlineData(2.5, RainIntensity.Light)]
    [InlineData(2.6, RainIntensity.Moderate)]
    [InlineData(7.6, RainIntensity.Moderate)]
    [InlineData(7.7, RainIntensity.Heavy)]
    public void Rate_decides_the_class(double mmPerHour, RainIntensity expected) =>
        Assert.Equal(expected, Rain.Intensity(mmPerHour));

    [Fact]
    public void Unknown_rain_is_not_no_rain()
    {
        Assert.Null(Rain.Intensity(double.NaN));
        Assert.Equal(double.NaN, Rain.EffectiveOfEvent(double.NaN));
        Assert.Equal(double.NaN, Rain.EffectiveOfDay(double.NaN, 4));
        Assert.Equal(double.NaN, Rain.EffectiveOfDay(3, double.NaN));
        Assert.Equal(double.NaN, Rain.Total([1, double.NaN, 2]));
        Assert.Equal(double.NaN, Rain.Peak([1, double.NaN, 2]));
        Assert.Equal(double.NaN, Rain.Peak([]));
    }

    [Fact]
    public void Total_and_peak_of_some_hours()
    {
        Assert.Equal(6, Rain.Total([0, 2, 4]));
        Assert.Equal(4, Rain.Peak([0, 2, 4]));
        Assert.Equal(0, Rain.Total([]));
    }

    [Fact]
    public void More_rain_is_never_worth_less_nor_more_than_it_is() =>
        Gen.Select(Gen.Double[0, 100], Gen.Double[0, 20]).Sample((rain, more) =>
        {
            Assert.True(Rain.EffectiveOfEvent(rain + more) >= Rain.EffectiveOfEvent(rain) - 1e-9);
            Assert.InRange(Rain.EffectiveOfEvent(rain), 0, rain);
        });
}

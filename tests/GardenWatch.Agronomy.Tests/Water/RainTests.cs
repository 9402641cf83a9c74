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
        double ours = row["period"] switch
        {
            "event" => Rain.EffectiveOfEvent(row.Number("rain_mm")),
            "month" => Rain.EffectiveOfMonth(row.Number("rain_mm")),
            _ => Rain.EffectiveOfDay(row.Number("rain_mm"), row.Number("eto_mm")),
        };
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

    [Theory] // rain rules R055 and R056: FAO dependable rain
    [InlineData(10, 0)]
    [InlineData(70, 32)]
    [InlineData(100, 56)]
    public void Dependable_rain_of_a_month(double rain, double expected) => Assert.Equal(expected, Rain.DependableOfMonth(rain), 1e-9);

    [Theory] // rain rule R057
    [InlineData(5, 0)]
    [InlineData(25, 15)]
    public void Leaves_keep_five_millimetres_and_a_quarter_of_the_rest(double rain, double expected) =>
        Assert.Equal(expected, Rain.EffectiveUnderLeaves(rain), 1e-9);

    [Fact] // rain rule R015
    public void What_falls_faster_than_the_soil_takes_in_runs_off()
    {
        Assert.Equal(5, Rain.Runoff([0, 3, 10, 5], 5));
        Assert.Equal(0, Rain.Runoff([0, 3, 10, 5], SoilTexture.Named("sand")!.IntakeMmPerHour));
        Assert.Equal(double.NaN, Rain.Runoff([1, double.NaN], 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => Rain.Runoff([1], 0));
    }

    [Fact]
    public void Rain_below_nothing_is_an_error_that_names_value_and_range()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => Rain.EffectiveOfDay(-1, 3));
        Assert.Contains("from 0 to 2000 mm", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Rain.EffectiveOfEvent(-0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Rain.EffectiveOfMonth(-5));
    }

    [Fact]
    public void More_rain_in_a_month_is_never_worth_less_nor_more_than_it_is() =>
        Gen.Select(Gen.Double[0, 600], Gen.Double[0, 100]).Sample((rain, more) =>
        {
            Assert.True(Rain.EffectiveOfMonth(rain + more) >= Rain.EffectiveOfMonth(rain) - 1e-9);
            Assert.InRange(Rain.EffectiveOfMonth(rain), 0, rain + 1e-9);
            Assert.InRange(Rain.DependableOfMonth(rain), 0, rain + 1e-9);
        });

    [Fact]
    public void More_rain_is_never_worth_less_nor_more_than_it_is() =>
        Gen.Select(Gen.Double[0, 100], Gen.Double[0, 20]).Sample((rain, more) =>
        {
            Assert.True(Rain.EffectiveOfEvent(rain + more) >= Rain.EffectiveOfEvent(rain) - 1e-9);
            Assert.InRange(Rain.EffectiveOfEvent(rain), 0, rain);
        });
}

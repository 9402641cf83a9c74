using CsCheck;
using GardenWatch.Agronomy.Soil;

namespace GardenWatch.Agronomy.Tests.Soil;

public class EmergenceCurveTests
{
    private const string File = "germination-days.csv";

    public static TheoryData<string> Crops => [.. PublishedTable.Rows(File).Select(row => row["crop"]).Distinct()];

    [Theory]
    [MemberData(nameof(Crops))]
    public void At_a_tested_temperature_seed_takes_the_printed_days(string crop)
    {
        var curve = Curve(crop);
        foreach (var row in PublishedTable.Rows(File).Where(row => row["crop"] == crop))
        {
            double days = curve.Days(row.Number("soil_temp_c"));
            if (row["status"] == "days")
                Assert.Equal(row.Number("days_to_emergence"), days, 1e-9);
            else if (row["status"] == "no germination")
                Assert.Equal(double.PositiveInfinity, days);
        }
    }

    [Fact]
    public void Between_two_temperatures_the_rate_is_interpolated()
    {
        // Lettuce at 12.5 °C, between 7 days at 10 °C and 4 days at 15 °C: (1/7 + 1/4) / 2.
        Assert.Equal(0.1964, Curve("Lettuce").RatePerDay(12.5), 0.0001);
        Assert.Equal(5.1, Curve("Lettuce").Days(12.5), 0.05);
    }

    [Theory]
    [InlineData("Bean, snap", 5, 0.0)] // nothing came up at 10 °C nor below
    [InlineData("Bean, snap", -5, 0.0)]
    [InlineData("Lettuce", 40, 0.0)]
    [InlineData("Cabbage", 5, double.NaN)] // not tested below 10 °C
    [InlineData("Cabbage", 33, double.NaN)]
    [InlineData("Cabbage", double.NaN, double.NaN)]
    public void Where_nothing_comes_up_the_rate_is_none_and_where_it_was_not_tried_unknown(string crop, double soil, double rate) =>
        Assert.Equal(rate, Curve(crop).RatePerDay(soil));

    [Fact]
    public void Hours_add_up_and_unknown_ones_are_told_apart()
    {
        var progress = Curve("Lettuce").After([.. Enumerable.Repeat(10.0, 72), .. Enumerable.Repeat(double.NaN, 24)]);
        Assert.Equal(3.0 / 7, progress.Done, 1e-9);
        Assert.Equal(0.25, progress.UnknownShare);
        Assert.Equal(new EmergenceProgress(0, 0), Curve("Lettuce").After([]));
    }

    [Fact]
    public void Between_ten_and_twenty_degrees_warmer_soil_is_never_slower() =>
        Gen.Select(Gen.OneOf(Gen.Const("Carrot"), Gen.Const("Onion"), Gen.Const("Tomato"), Gen.Const("Pea")), Gen.Double[10, 19], Gen.Double[0, 1]).Sample((crop, soil, more) =>
            Assert.True(Curve(crop).RatePerDay(soil + more) >= Curve(crop).RatePerDay(soil) - 1e-12));

    [Fact]
    public void Impossible_trials_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(10, 0)]));
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(10, 5), new(10, 6)]));
        Assert.Equal(double.NaN, new EmergenceCurve([]).RatePerDay(10));
    }

    private static EmergenceCurve Curve(string crop) => new(
        PublishedTable.Rows(File)
            .Where(row => row["crop"] == crop && row["status"] != "not tested")
            .Select(row => new EmergenceTrial(
                row.Number("soil_temp_c"), row["status"] == "days" ? row.Number("days_to_emergence") : null)));
}

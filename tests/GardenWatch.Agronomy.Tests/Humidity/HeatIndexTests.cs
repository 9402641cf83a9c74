using CsCheck;
using GardenWatch.Agronomy.Humidity;

namespace GardenWatch.Agronomy.Tests.Humidity;

public class HeatIndexTests
{
    private const string File = "heat-index.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", row => !LeavesOutTheAdjustment(row));

    public static TheoryData<string> WithoutAdjustment => PublishedTable.Ids(File, "case_id", LeavesOutTheAdjustment);

    private static bool LeavesOutTheAdjustment(PublishedTable.Row row) =>
        row["note"].StartsWith("this chart omits", StringComparison.Ordinal);

    [Theory]
    [MemberData(nameof(Published))]
    public void Heat_index_agrees_with_the_published_chart(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double ours = HeatIndex.Of((row.Number("temp_F") - 32) / 1.8, row.Number("rh_pct")) * 1.8 + 32;
        Assert.Equal(row.Number("expected_hi_F"), ours, row.Number("tolerance_F"));
    }

    [Theory]
    [MemberData(nameof(WithoutAdjustment))]
    public void Where_the_chart_leaves_out_the_adjustment_for_moist_air_the_equation_with_it_is_followed(string id)
    {
        // The weather service's equation page adds (rh - 85) / 10 (87 - t) / 5; its older chart, in its moist corner, does not.
        var row = PublishedTable.Case(File, "case_id", id);
        double t = row.Number("temp_F"), rh = row.Number("rh_pct"), adjustment = (rh - 85) / 10 * (87 - t) / 5;
        double ours = HeatIndex.Of((t - 32) / 1.8, rh) * 1.8 + 32;
        Assert.Equal(row.Number("expected_hi_F"), ours - adjustment, 0.5);
        Assert.InRange(adjustment, 0.5, 2.3);
    }

    [Fact]
    public void Hotter_air_never_feels_cooler_in_moist_air() =>
        Gen.Select(Gen.Double[5, 42], Gen.Double[40, 84]).Sample((air, humidity) =>
            Assert.True(HeatIndex.Of(air + 1, humidity) > HeatIndex.Of(air, humidity)));

    [Fact]
    public void Cold_air_feels_as_it_is_and_unknown_air_is_unknown()
    {
        Assert.Equal(-5, HeatIndex.Of(-5, 80));
        Assert.Equal(double.NaN, HeatIndex.Of(double.NaN, 50));
        Assert.Equal(double.NaN, HeatIndex.Of(30, double.NaN));
    }
}

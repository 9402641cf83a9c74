using GardenWatch.Agronomy.Frost;

namespace GardenWatch.Agronomy.Tests.Frost;

public class NightForecastTests
{
    private const string File = "night-forecast.csv";

    public static TheoryData<string> Published =>
        PublishedTable.Ids(File, "id", row => row["topic"].StartsWith("night_cooling", StringComparison.Ordinal));

    [Theory]
    [MemberData(nameof(Published))]
    public void A_night_cools_along_the_published_curve(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        double In(string name) => row.Input("inputs", name);
        double ours = row["topic"] == "night_cooling_curve"
            ? NightForecast.SquareRootCurve(In("t2_c"), In("tn_c"), In("hours_sunset_to_sunrise"), In("hours_after_sunset"))
            : NightForecast.ExponentialCurve(In("t_sunset_c"), In("tn_c"), In("night_length_h"), In("hours_after_sunset"), In("b"));
        Assert.Equal(row.Number("expected"), ours, row.Number("tolerance"));
    }

    [Fact]
    public void Ten_published_nights_give_the_published_two_step_rule()
    {
        var rule = Fit();
        Assert.Equal(Expected("FFST-FIT-a"), rule.PerAirKelvin, 1e-5);
        Assert.Equal(Expected("FFST-FIT-b"), rule.PerDewPointKelvin, 1e-5);
        Assert.Equal(Expected("FFST-FIT-c"), rule.ConstantC, 1e-5);
        Assert.Equal(Expected("FFST-PRED-1"), rule.LowC(10, 2), 1e-5);
        Assert.Equal(Expected("FFST-PRED-n5"), rule.LowC(4.4, -6.1), 0.002);
    }

    [Fact]
    public void A_rule_needs_three_nights_that_differ()
    {
        Assert.Null(NightForecast.Fit([1, 2], [0, 1], [-1, -2]));
        Assert.Null(NightForecast.Fit([1, 1, 1], [0, 1, 2], [-1, -2, -3]));
        Assert.Null(NightForecast.Fit([1, 2, double.NaN], [0, 1, 2], [-1, -2, -3]));
        Assert.Null(NightForecast.Fit([1, 2, 3], [0, 1, 2], [-1, -2, double.NaN]));
        Assert.Throws<ArgumentException>(() => NightForecast.Fit([1, 2, 3], [0, 1], [-1, -2, -3]));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(16)]
    [InlineData(double.NaN)]
    public void The_square_root_curve_is_unknown_outside_its_night(double hoursAfterSunset) =>
        Assert.Equal(double.NaN, NightForecast.SquareRootCurve(1, -5, 15, hoursAfterSunset));

    private static NightRule Fit()
    {
        var nights = PublishedTable.Rows(File).Where(row => row["topic"] == "radiation_frost_night_observation").ToList();
        Assert.Equal(10, nights.Count);
        return Assert.NotNull(NightForecast.Fit(
            nights.Select(n => n.Input("inputs", "t0_two_h_after_sunset_c")).ToArray(),
            nights.Select(n => n.Input("inputs", "td_c")).ToArray(),
            nights.Select(n => n.Number("expected")).ToArray()));
    }

    private static double Expected(string id) => PublishedTable.Case(File, "id", id).Number("expected");
}

using CsCheck;
using GardenWatch.Agronomy.Soil;

namespace GardenWatch.Agronomy.Tests.Soil;

public class EmergenceCurveTests
{
    private const string File = "germination-days.csv";

    public static TheoryData<string, string> Tables =>
        [.. PublishedTable.Rows(File).Select(row => (row["crop"], row["variant"])).Distinct()];

    // Where two tables of one crop differ (carrot and lettuce, noted in the rows) each is a curve of its own; the 1954 trials
    // as Knott's Handbook prints them are the ones to prefer, the vendor's additions have the lower confidence.
    [Theory]
    [MemberData(nameof(Tables))]
    public void At_a_tested_temperature_seed_takes_the_printed_days(string crop, string variant)
    {
        var curve = Curve(crop, variant);
        foreach (var row in Rows(crop, variant))
        {
            double soil = row.Number("soil_temp_c"), days = curve.Days(soil);
            switch (row["status"])
            {
                case "days":
                    Assert.Equal(row.Number("days_to_emergence"), days, 1e-9);
                    Assert.Equal(SoilForSeed.Right, curve.At(soil));
                    break;
                case "no germination" or "little or no germination":
                    Assert.Equal(double.PositiveInfinity, days);
                    Assert.True(curve.At(soil) is SoilForSeed.TooCold or SoilForSeed.TooHot);
                    break;
                default:
                    // Not tested: nothing is printed, so nothing can be met; between or below trials the curve goes on by itself.
                    Assert.Equal("not tested", row["status"]);
                    break;
            }
        }
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void At_a_tested_temperature_the_printed_share_comes_up(string crop, string variant)
    {
        var curve = Curve(crop, variant);
        foreach (var row in Rows(crop, variant))
        {
            double printed = SharePrinted(row);
            Assert.Equal(printed, curve.ShareComingUp(row.Number("soil_temp_c")) , (a, b) => double.IsNaN(a) || Math.Abs(a - b) < 1e-9);
        }
    }

    [Fact]
    public void All_rows_of_the_published_table_are_there()
    {
        var rows = PublishedTable.Rows(File);
        Assert.Equal(360, rows.Count);
        Assert.Equal(
            (216, 58, 86),
            (rows.Count(row => row["status"] == "days"), rows.Count(row => row["status"].EndsWith("no germination", StringComparison.Ordinal)), rows.Count(row => row["status"] == "not tested")));
        Assert.Equal(174, rows.Count(row => !double.IsNaN(SharePrinted(row))));
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
    [InlineData("Cabbage", 2, 0.0)] // the line through 15 days at 10 °C and 9 at 15 comes to nothing at 2.5 °C
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
    public void Below_the_coldest_trial_the_line_goes_on_down()
    {
        // Cabbage: 1/15 a day at 10 °C and 1/9 at 15, so half way from 10 °C to 2.5 it is 1/30.
        Assert.Equal(1.0 / 30, Curve("Cabbage").RatePerDay(6.25), 1e-9);
        Assert.Equal(SoilForSeed.TooCold, Curve("Cabbage").At(2));
        Assert.Equal(SoilForSeed.TooHot, Curve("Lettuce").At(40));
        Assert.Equal(SoilForSeed.NotKnown, Curve("Cabbage").At(45));
        Assert.Equal(SoilForSeed.NotKnown, Curve("Cabbage").At(double.NaN));
        Assert.True(double.IsNaN(new EmergenceCurve([new(10, 5)]).RatePerDay(5)));
        Assert.True(double.IsNaN(new EmergenceCurve([new(10, 5), new(15, 8)]).RatePerDay(5)));
    }

    [Fact]
    public void The_hour_of_emergence_and_of_worry_follow_from_the_soil()
    {
        var lettuce = Curve("Lettuce");
        double[] tenDegrees = [.. Enumerable.Repeat(10.0, 24 * 20)];
        Assert.Equal(7 * 24, Assert.NotNull(lettuce.HoursUntil(1, tenDegrees)), 1e-6);
        Assert.Equal(10.5 * 24, Assert.NotNull(lettuce.HoursUntil(EmergenceCurve.WorryFrom, tenDegrees)), 1e-6);
        Assert.Null(lettuce.HoursUntil(1, tenDegrees.AsSpan(0, 24 * 6)));
        // Two days of a soil that is too hot, or that is not known, put it off by two days.
        foreach (double pause in new[] { 40, double.NaN })
            Assert.Equal(9 * 24, Assert.NotNull(lettuce.HoursUntil(1, [.. tenDegrees[..72], .. Enumerable.Repeat(pause, 48), .. tenDegrees])), 1e-6);
        Assert.Throws<ArgumentOutOfRangeException>(() => lettuce.HoursUntil(0, tenDegrees));
    }

    [Fact]
    public void A_rate_is_continuous_and_never_negative_and_a_share_is_one() =>
        Gen.Select(Gen.Int[0, Tables.Count - 1], Gen.Double[-10, 45]).Sample((at, soil) =>
        {
            var (crop, variant) = PublishedTable.Rows(File).Select(row => (row["crop"], row["variant"])).Distinct().ElementAt(at);
            var curve = Curve(crop, variant);
            double rate = curve.RatePerDay(soil), near = curve.RatePerDay(soil + 1e-4), share = curve.ShareComingUp(soil);
            Assert.True(double.IsNaN(rate) || rate >= 0);
            Assert.True(double.IsNaN(rate) || double.IsNaN(near) || Math.Abs(rate - near) < 1e-4);
            Assert.True(double.IsNaN(share) || share is >= 0 and <= 1);
        }, iter: 500);

    [Fact]
    public void Impossible_trials_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(10, 0)]));
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(10, 5), new(10, 6)]));
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(100, 6)]));
        Assert.Throws<ArgumentException>(() => new EmergenceCurve([new(10, 6)], [new(10, 1.2)]));
        Assert.Equal(double.NaN, new EmergenceCurve([]).RatePerDay(10));
    }

    private static IEnumerable<PublishedTable.Row> Rows(string crop, string variant) =>
        PublishedTable.Rows(File).Where(row => row["crop"] == crop && row["variant"] == variant);

    // A share of 0 may mean that it was not tested, and 65 % of lettuce at a heat at which none is said to come up contradicts
    // itself: both are left unknown, as the notes of the rows say.
    private static double SharePrinted(PublishedTable.Row row) =>
        row["percent_note"].Length > 0 ? double.NaN : row.Number("percent_normal_seedlings") / 100;

    private static EmergenceCurve Curve(string crop, string variant = "Knott 1997") => new(
        Rows(crop, variant).Where(row => row["status"] != "not tested")
            .Select(row => new EmergenceTrial(row.Number("soil_temp_c"), row["status"] == "days" ? row.Number("days_to_emergence") : null)),
        Rows(crop, variant).Where(row => !double.IsNaN(SharePrinted(row)))
            .Select(row => new SeedlingTrial(row.Number("soil_temp_c"), SharePrinted(row))));
}

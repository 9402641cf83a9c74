using System.Globalization;
using GardenWatch.Agronomy.Frost;

namespace GardenWatch.Agronomy.Tests.Frost;

/// <summary>
/// Published cases on frost that no other table here holds. Where two sources differ the test says which was followed.
/// </summary>
public class FrostCasesTests
{
    private const string File = "frost-cases.csv";

    [Theory]
    [InlineData("COV-01", FrostCover.Tunnel)]
    [InlineData("COV-02", FrostCover.Cloche)]
    [InlineData("COV-03", FrostCover.Sheet)]
    [InlineData("COV-04", FrostCover.LightFleece)]
    [InlineData("COV-05", FrostCover.LightFleece)]
    [InlineData("COV-06", FrostCover.MediumFleece)]
    [InlineData("COV-07", FrostCover.HeavyFleece)]
    [InlineData("COV-08", FrostCover.LightFleece)]
    [InlineData("COV-10", FrostCover.Tunnel)]
    public void A_published_gain_lies_within_the_table_and_no_more_than_it_is_reckoned_with(string id, FrostCover cover)
    {
        var row = Covers.Of(cover);
        double[] gains = [.. PublishedTable.Case(File, "id", id)["expected"].Replace("up to ", "", StringComparison.Ordinal).Split(" to ").Select(k => double.Parse(k, CultureInfo.InvariantCulture))];
        Assert.All(gains, gain => Assert.InRange(gain, row.LeastPublishedKelvins, row.MostPublishedKelvins));
        Assert.True(row.CautiousKelvins <= gains.Max());
    }

    // The cautious rule of the reference: 1 K for light, 2 for medium, never more than 3 to 4 for heavy, radiation nights only.
    [Fact]
    public void Covers_are_reckoned_with_cautiously_and_not_in_wind()
    {
        Assert.All(Covers.Table, row => Assert.InRange(row.CautiousKelvins, row.LeastPublishedKelvins, Math.Min(3, row.MostPublishedKelvins)));
        Assert.Equal(Enum.GetValues<FrostCover>().Order(), Covers.Table.Select(row => row.Cover).Order());
        Assert.Equal(1, Covers.Worth(FrostCover.LightFleece, 1));
        Assert.Equal(1.5, Covers.Worth(FrostCover.LightFleece, double.NaN, layers: 2));
        Assert.Equal(2, Covers.Worth(FrostCover.Frame, 1, layers: 2));
        Assert.Equal(0, Covers.Worth(FrostCover.HeavyFleece, 5));
        Assert.Equal(1.5, Covers.Worth(FrostCover.HeavyFleece, 3.5), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => Covers.Worth(FrostCover.Sheet, -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => Covers.Worth(FrostCover.Sheet, 1, 3));
    }

    // DEW-02 and DEW-17, rules of thumb that the service does not use: its own dew point is near them.
    [Theory]
    [InlineData("DEW-02", 0.1)]
    [InlineData("DEW-17", 0.5)]
    public void A_rule_of_thumb_for_the_dew_point_lies_near_ours(string id, double within)
    {
        var row = PublishedTable.Case(File, "id", id);
        Assert.Equal(row.Number("expected"), Agronomy.Humidity.DewPoint.Of(row.Input("inputs", "t_c"), row.Input("inputs", "rh_pct")), within);
    }
}

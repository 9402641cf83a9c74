using GardenWatch.Agronomy.RainTiming;

namespace GardenWatch.Agronomy.Tests.RainTiming;

public class RainRuleTests
{
    private const string File = "rain-rules-printed.csv";

    public static TheoryData<string> Printed => PublishedTable.Ids(File, "id", _ => true);

    [Theory]
    [MemberData(nameof(Printed))]
    public void A_metric_limit_is_the_printed_one(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        var rule = RainRule.Of(id);
        Check(row.Number("printed_min"), rule.Min);
        Check(row.Number("printed_max"), rule.Max);

        void Check(double printed, double shipped)
        {
            double metric = row["printed_unit"] switch
            {
                "inch" or "inch/h" => printed * 25.4,
                "inch depth" => printed * 2.54,
                "mph" => printed * 0.44704,
                "F" => (printed - 32) / 1.8,
                var other => throw new ArgumentException(other),
            };
            // Extension pages say 25 and 50 mm for one and two inches, rain classes 2.5 and 7.6 mm/h for 0.1 and 0.3.
            double tolerance = row["printed_unit"] switch { "inch" or "inch/h" => 0.032 * metric, "F" => 0.06, _ => 0.03 * metric };
            Assert.Equal(metric, shipped, double.IsNaN(metric) ? 0 : Math.Max(tolerance, 1e-9));
        }
    }

    [Fact]
    public void Every_rule_is_followed_or_says_why_not_and_names_its_source()
    {
        Assert.Equal(71, RainRule.All.Count);
        Assert.All(RainRule.All, rule => Assert.True(rule.UsedBy.Length > 0 != rule.NotUsed.Length > 0, rule.Id));
        Assert.All(RainRule.All, rule => Assert.NotEmpty(rule.Source));
        Assert.All(RainRule.All, rule => Assert.False(rule.Max < rule.Min && rule.Id != "R027", rule.Id)); // R027 counts hours either side of night
        Assert.Throws<KeyNotFoundException>(() => RainRule.Of("R999"));
    }
}

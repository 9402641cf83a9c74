using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class PlanSummaryTests
{
    [Fact]
    public void A_plan_is_told_in_plain_words()
    {
        var plan = PlanFileTests.ReadGood(PlanFileTests.Good).Plan!;
        string said = PlanSummary.Of(plan, new Speech(plan.Units, DateTimeZone.Utc)).Replace('\u00A0', ' ');
        Assert.Equal(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Fixtures", "plan-summary.approved.txt")), said);
    }

    [Fact]
    public void A_plan_of_two_lines_is_told_too()
    {
        var plan = PlanFileTests.ReadGood("garden: Home\nplace: { town: Little Fallow }\n").Plan!;
        string said = PlanSummary.Of(plan, new Speech(plan.Units, DateTimeZone.Utc));
        Assert.Equal(3, said.Count(c => c == '\n'));
        Assert.Contains("Nobody gets the digest", said, StringComparison.Ordinal);
    }
}

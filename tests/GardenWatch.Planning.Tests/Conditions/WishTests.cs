using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Gap 3 of the gathered table of jobs: dull, calm and cool are wished for, not needed.</summary>
public sealed class WishTests
{
    [Fact]
    public void A_chores_wishes_are_read_and_never_asked()
    {
        var chore = Assert.Single(PlanOf("wish: [cloud mean today at least 60 %, 'wind high next 4 hours at most {calm: 4 m/s}']").Plan!.Chores);
        Assert.Equal([Scenes.Read("cloud mean today at least 60 %"), Scenes.Read("wind high next 4 hours at most {calm: 4 m/s}")], chore.Conditions.Wish);
        Assert.Equal(new Condition.AllOf([Scenes.Read("rain today at least 1 mm")]), chore.Conditions.Whole);
    }

    [Fact]
    public void A_flawed_wish_is_told_with_its_place()
    {
        var fault = Assert.Single(PlanOf("wish: cloud mean today at lest 60 %").Faults);
        Assert.Equal((6, 28), (fault.Line, fault.Column));
    }

    [Fact]
    public void A_crops_job_may_wish_and_its_numbers_can_be_tuned()
    {
        const string mine = """
            crop: tomato
            jobs: { set out: { wish: ["cloud mean today at least {dull: 60 %}"], numbers: { dull: 80 % } } }
            """;
        var (shelf, faults) = CropShelf.Read([.. CropShelf.ShippedFiles(), ("crops/tomato.yaml", mine)], ConditionText.Read);
        Assert.Empty(faults);
        var job = Assert.Single(shelf!.Find("tomato")!.Jobs, job => job.Kind == JobKind.SetOut);
        Assert.Equal([Scenes.Read("cloud mean today at least {dull: 80 %}")], job.Conditions.Wish);
        Assert.Equal(0.8, job.Numbers["dull"].Value);
        Assert.NotEmpty(job.Conditions.When);
    }

    private static PlanReading PlanOf(string line) => PlanFile.Read(
        $"garden: A\nplace: {{ town: B }}\nchores:\n  - chore: Weed\n    when: rain today at least 1 mm\n    {line}\n",
        "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], new LocalDate(2026, 4, 1), ConditionText.Read);
}

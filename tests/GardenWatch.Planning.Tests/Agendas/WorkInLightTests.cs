using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

public class WorkInLightTests
{
    private const string Chores = """
        chores:
          - { chore: Prune the apple, kind: prune, minutes: 30 }
          - { chore: Drain the hose, kind: drain }
        """;

    private const string AfterWork = "{ weekdays: 17:30-20:30, weekends: 08:00-19:00 }";

    [Fact]
    public void On_a_winter_weekday_evening_nothing_is_pruned_but_a_hose_is_drained()
    {
        var jobs = Scenario.On(2026, 12, 2).Plan(Chores, AfterWork).At("09:00").Jobs; // a Wednesday; dusk at Grafton is before five
        var prune = Assert.Single(jobs, job => job.Kind == JobKind.Prune);
        var drain = Assert.Single(jobs, job => job.Kind == JobKind.Drain);

        Assert.Equal(Standing.Soon, prune.Standing);
        Assert.Equal(IsoDayOfWeek.Saturday, Scenario.Calendar.DateOf(prune.Best!.Value.From).DayOfWeek);
        Assert.True(Scenario.Calendar.TimeOf(prune.Best.Value.Until) <= new LocalTime(17, 0));
        Assert.Equal(Standing.Now, drain.Standing);
    }

    [Fact]
    public void In_summer_the_evening_slot_is_whole()
    {
        var prune = Assert.Single(Scenario.On(2026, 6, 17).Plan(Chores, AfterWork).At("09:00").Jobs, job => job.Kind == JobKind.Prune);

        Assert.Equal(new LocalTime(20, 30), Scenario.Calendar.TimeOf(prune.Best!.Value.Until));
    }
}

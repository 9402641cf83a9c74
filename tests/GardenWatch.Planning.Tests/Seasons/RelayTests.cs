using GardenWatch.Planning.Agendas;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>One crop after another in a bed: who waits for whom, and what is said when it does not fit.</summary>
public class RelayTests
{
    private const string BeansAfterPeas = """
          - { crop: pea, bed: kitchen bed, id: peas }
          - { crop: kale, bed: kitchen bed, bought: early July, after: peas, id: kale }
        """;

    [Fact]
    public void What_follows_waits_for_the_bed_with_the_days_in_which_it_will_likely_be_free()
    {
        var garden = StageTests.Garden(BeansAfterPeas, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 4, 10), "peas/sow/1"));
        var job = Assert.Single(StageTests.Look(garden, new(2023, 6, 10)).Jobs, job => job.Id == "long-acre/kale/set-out/1");

        Assert.Equal(Standing.Waiting, job.Standing);
        var need = Assert.Single(job.Needs, need => need.Condition == "bed free");
        Assert.False(need.Holds);
        Assert.True(need.Likely!.Start >= new LocalDate(2023, 6, 10) && need.Likely.End > need.Likely.Start);
        Assert.StartsWith("peas in the bed until about ", need.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bed_that_was_cleared_is_free_at_once()
    {
        var garden = StageTests.Garden(BeansAfterPeas, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 4, 10), "peas/sow/1"));
        garden.Record(StageTests.Done(new(2023, 7, 8), "peas/clear/1"));
        var job = Assert.Single(StageTests.Look(garden, new(2023, 7, 9)).Jobs, job => job.Id == "long-acre/kale/set-out/1");

        Assert.DoesNotContain(job.Needs, need => need.Condition == "bed free");
    }

    [Fact]
    public void A_bed_that_is_only_reckoned_taken_does_not_cost_what_follows_its_season()
    {
        var garden = StageTests.Garden(BeansAfterPeas, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 4, 10), "peas/sow/1"));
        var days = garden.Play(new(2023, 6, 1), new(2023, 9, 20), (_, _) => null).ToList();

        Assert.Contains(days, day => day.Agenda.Jobs.Any(job => job.Id == "long-acre/kale/set-out/1" && job.Standing == Standing.Now
            && job.Reasons.Any(reason => reason.Code == "take-out-first" && reason.Text.Contains("take them out first", StringComparison.Ordinal))));
    }

    [Fact]
    public void Once_what_follows_stands_in_the_bed_what_was_there_is_over()
    {
        var garden = StageTests.Garden(BeansAfterPeas, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 4, 10), "peas/sow/1"));
        garden.Record(StageTests.Done(new(2023, 7, 5), "kale/set-out/1"));
        var peas = Assert.Single(StageTests.Look(garden, new(2023, 7, 6)).Sowings, sowing => sowing.Crop == "pea");

        Assert.Equal("finished", peas.Stage);
    }

    [Fact]
    public void A_crop_whose_bed_comes_free_too_late_is_told_so_with_what_can_be_done()
    {
        var garden = StageTests.Garden("""
              - { crop: potato, bed: kitchen bed, id: potatoes }
              - { crop: summer squash, bed: kitchen bed, bought: late June, after: potatoes, id: squash }
            """, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 5, 10), "potatoes/sow/1"));
        var job = Assert.Single(StageTests.Look(garden, new(2023, 6, 10)).Jobs, job => job.Id == "long-acre/squash/set-out/1");

        Assert.Contains(job.Reasons, reason => reason.Code == "relay-clash" && reason.Text.Contains("take the potatoes out early, begin it in pots, or give it another bed", StringComparison.Ordinal));
    }

    [Fact]
    public void Seed_is_started_so_that_the_plants_are_ready_as_the_bed_is_free()
    {
        var free = StageTests.Look(StageTests.Garden("  - { crop: kale, bed: kitchen bed, start: sill, id: kale }", new(2023, 4, 1)), new(2023, 4, 1));
        var garden = StageTests.Garden("""
              - { crop: pea, bed: kitchen bed, id: peas }
              - { crop: kale, bed: kitchen bed, start: sill, after: peas, id: kale }
            """, new(2023, 4, 1));
        garden.Record(StageTests.Done(new(2023, 4, 1), "peas/sow/1"));
        var behind = StageTests.Look(garden, new(2023, 4, 2));

        LocalDate Start(Agenda agenda) => agenda.Ahead.Single(sowing => sowing.Crop == "kale").SowLikely!.Start;
        Assert.True(Start(behind) > Start(free).PlusDays(20), $"{Start(free)} on free ground, {Start(behind)} behind peas");
    }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What waiting jobs and frost phrases take from a place's past years. The years are invented.</summary>
public class PastYearsSituations
{
    private static readonly AnnualDate NewYear = new(1, 1);

    private const string Warm = """
        chores:
          - chore: Try the soil
            when:
              - soil at 5 cm mean past 3 days at least {soil: 26.8 °C}
        """;

    private const string Squash = """
        beds:
          - { bed: kitchen bed, size: 2 m x 2 m }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: winter squash, bed: kitchen bed, start: sill }
        """;

    private static UsualDate On(int early, int middle, int late, int years = 30) => new(NewYear, early, middle, late, years, 30);

    private static readonly UsualDate Never = new(NewYear, null, null, null, 0, 30);

    private static ClimateSummary Years(UsualDate lastFrost, UsualDate firstFrost, params (double Threshold, UsualDate First)[] soils) => new(
        NewYear, 1991, 2020, 30,
        [new(false, 0, lastFrost, firstFrost)],
        [.. soils.Select(soil => new SoilWarm(5, false, soil.Threshold, soil.First))],
        [], [], [.. Enumerable.Repeat(20.0, 52)], [.. Enumerable.Repeat(15.0, 52)],
        ImmutableArray.CreateRange(Enumerable.Repeat(new NormalAir(8, 13, 18), 365)));

    private static Job TheJob(Scenario scenario, JobKind kind) => Assert.Single(scenario.At().Jobs, job => job.Kind == kind);

    [Fact]
    public void A_waiting_job_has_the_range_of_past_years_between_the_thresholds_around_its_need()
    {
        // 24 to 28 °C: days 130 and 150 early, 150 and 180 late. 26.8 lies seven tenths of the way: days 144 and 171.
        var climate = Years(On(100, 110, 125), On(280, 290, 300), (24, On(130, 140, 150)), (28, On(150, 165, 180)));
        var need = Assert.Single(TheJob(Scenario.On(2026, 5, 1).Plan(Warm).Climate(climate), JobKind.Other).Needs);

        Assert.Equal(new DateInterval(new(2026, 5, 24), new(2026, 6, 20)), need.Likely);
    }

    [Fact]
    public void A_need_beyond_the_warmest_that_past_years_tell_has_no_range()
    {
        var climate = Years(On(100, 110, 125), On(280, 290, 300), (20, On(120, 140, 150)));

        Assert.Null(Assert.Single(TheJob(Scenario.On(2026, 5, 1).Plan(Warm).Climate(climate), JobKind.Other).Needs).Likely);
    }

    [Theory]
    [InlineData(110, Standing.Now)] // 20 April less 15 days is the 5th
    [InlineData(125, Standing.Waiting)]
    public void Seeds_are_started_so_many_days_before_the_usual_last_frost(int lastFrost, Standing standing)
    {
        var job = TheJob(Scenario.On(2026, 4, 8).Plan(Squash)
            .Climate(Years(On(lastFrost - 12, lastFrost, lastFrost + 12), On(280, 290, 300))), JobKind.StartIndoors);

        Assert.Equal(standing, job.Standing);
        Assert.Equal("sill", job.BedName);
        if (standing == Standing.Waiting)
            Assert.Contains(job.Needs, need => need.Likely is { } likely && likely.Start == new LocalDate(2026, 4, 20) && likely.Length == 1);
    }

    [Fact]
    public void Where_no_frost_is_usual_it_is_past_in_spring_and_never_near_in_autumn()
    {
        var frostless = Scenario.On(2026, 5, 25).Plan(Squash).Climate(Years(Never, On(350, 355, 360, years: 3)));

        var start = TheJob(frostless, JobKind.StartIndoors);
        Assert.NotEqual(Standing.Missed, start.Standing);
        Assert.Contains("no frost is usual here", TheJob(frostless.Plan("""
            chores:
              - chore: Look at the squash
                when:
                  - days until last spring frost at most 30 days
            """), JobKind.Look).Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_past_years_a_frost_phrase_is_unknown_and_says_so()
    {
        var job = TheJob(Scenario.On(2026, 3, 25).Plan(Squash), JobKind.StartIndoors);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Holds is null && need.Sentence.Contains("is not known here", StringComparison.Ordinal));
    }
}

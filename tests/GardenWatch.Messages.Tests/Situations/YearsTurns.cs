using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>What every garden has to do once a year. Past years are invented: last frost about 30 April, first about 17 October.</summary>
public sealed class YearsTurns
{
    private const string Garden = """
        beds: [ { bed: low bed }, { bed: top bed } ]
        plantings:
          - { crop: tomato, bed: low bed, id: tomatoes, start: low bed }
          - { crop: parsnip, bed: top bed, id: parsnips }
          - { crop: potato, bed: top bed, id: potatoes }
        """;

    private static Scenario On(int month, int day, string plan = Garden) =>
        Scenario.On(2026, month, day).Plan(plan.Replace(", start: low bed", "", StringComparison.Ordinal)).Climate(Scenes.UsualYears).Hourly(WeatherVariable.Air, Scenario.Between(2, 9));

    private static Job? Of(Scenario scenario, string subject, JobKind kind) =>
        Morning.Of(scenario).Agenda.Jobs.SingleOrDefault(job => job.SubjectId == subject && job.Kind == kind);

    [Theory] // seed-list, seed-order; seed-test
    [InlineData(12, 20, false, false)]
    [InlineData(1, 10, true, false)]
    [InlineData(2, 1, true, true)]
    [InlineData(3, 25, false, false)]
    public void Seed_is_ordered_and_tested_in_the_dead_of_winter(int month, int day, bool ordered, bool tested)
    {
        Assert.Equal(ordered, Of(On(month, day), "seed", JobKind.OrderSeed) is { Standing: Standing.Now });
        Assert.Equal(tested, Of(On(month, day), "seed", JobKind.TestSeed) is { Standing: Standing.Now });
    }

    [Fact]
    public void It_is_named_for_how_long_seed_keeps()
    {
        var told = Morning.Of(On(2, 1));

        Assert.Contains("To be sown this season: tomatoes, parsnips.", told.Text, StringComparison.Ordinal);
        Assert.Contains("Best bought fresh each year: parsnips.", told.Text, StringComparison.Ordinal);
        Assert.Contains("Seed keeps 4 years: tomatoes.", told.Text, StringComparison.Ordinal);
        Assert.Contains("fifteen sprouted will do", told.Text, StringComparison.Ordinal);
    }

    [Fact] // what the packets' own years say comes before what is usual
    public void Old_packets_are_named_with_what_is_likely_left_in_them()
    {
        var told = Morning.Of(On(2, 1, """
            beds: [ { bed: low bed } ]
            plantings:
              - { crop: carrot, bed: low bed, id: carrots, seed of: 2024 }
              - { crop: radish, bed: low bed, id: radishes, seed of: 2018 }
              - { crop: lettuce, bed: low bed, id: salad, seed of: 2025 }
            """));

        Assert.Contains("Too old by then to rely on: radishes of 2018", told.Text, StringComparison.Ordinal);
        Assert.Contains("Weaker by then, with what is likely to come up: carrots of 2024 (7 in 10)", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Seed keeps", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Once_answered_it_is_done_with_for_the_year()
    {
        Assert.Null(Of(On(2, 1).Done("mill-bank/seed/order-seed/1", 10), "seed", JobKind.OrderSeed));
        Assert.Equal("mill-bank/seed/order-seed/2", Of(On(2, 1).Done("mill-bank/seed/order-seed/1", 360), "seed", JobKind.OrderSeed)!.Id);
    }

    [Fact] // tools-sharpen
    public void Tools_are_sharpened_before_the_season_with_the_caution() =>
        Assert.Contains("can catch fire", Of(On(2, 1), "tools", JobKind.Clean)!.Cautions[0], StringComparison.Ordinal);

    private const string Standing_ = """
        beds: [ { bed: low bed }, { bed: top bed }, { bed: kale bed } ]
        plantings:
          - { crop: kale, bed: kale bed, set out: 15 July 2026, id: kale }
          - { crop: tomato, bed: low bed, set out: 20 May 2026, id: tomatoes }
          - { crop: potato, bed: top bed, sown: 10 April 2026, id: potatoes }
        """;

    [Theory] // fleece-check-autumn
    [InlineData(8, 20, false)]
    [InlineData(9, 25, true)]
    public void Fleece_is_looked_over_some_weeks_before_the_first_frost(int month, int day, bool asked) =>
        Assert.Equal(asked, Of(On(month, day, Standing_).Hourly(WeatherVariable.Air, Scenario.Between(10, 18)), "fleece", JobKind.Prepare) is not null);

    [Fact] // drain-hose, drain-barrel
    public void The_hose_is_drained_before_the_first_hard_frost_and_not_after_it_nor_in_spring()
    {
        static Scenario Cold(Scenario scenario, int from) => scenario.Hourly(WeatherVariable.Air, Scenario.Between(6, 12)).Days(WeatherVariable.Air, from, from, Scenario.Between(-4, 6));
        var drain = Of(Cold(On(10, 20, Standing_), 1), "water", JobKind.Drain)!;

        Assert.Equal(Standing.Now, drain.Standing);
        Assert.Equal(new LocalDate(2026, 10, 20), Scenario.Calendar.DateOf(drain.ActBy!.Value));
        Assert.Null(Of(On(10, 20, Standing_).Hourly(WeatherVariable.Air, Scenario.Between(6, 12)), "water", JobKind.Drain));
        Assert.Null(Of(Cold(On(10, 20, Standing_), 1).Days(WeatherVariable.Air, -6, -6, Scenario.Between(-3, 6)), "water", JobKind.Drain));
        Assert.Null(Of(Cold(On(4, 20), 1), "water", JobKind.Drain));
        Assert.Null(Of(Cold(On(10, 20, Standing_ + "\nchores: [ { chore: Drain the pump, kind: drain, when: [ air low tonight at most 0 °C ] } ]"), 1), "water", JobKind.Drain));
    }

    [Fact] // look-stored
    public void What_is_in_store_is_looked_over_each_month()
    {
        static Scenario Stored() => On(11, 20, Standing_).Done("mill-bank/potatoes/harvest/1", 60);

        Assert.Contains("In store by the record: potatoes.", Of(Stored(), "stores", JobKind.Look)!.Reasons[0].Text, StringComparison.Ordinal);
        Assert.Null(Of(Stored().Done("mill-bank/stores/look/1", 10), "stores", JobKind.Look));
        Assert.Null(Of(On(11, 20, Standing_), "stores", JobKind.Look));
    }

    [Fact] // mulch-bare-soil
    public void Bare_soil_is_covered_once_the_frosts_have_come()
    {
        var cleared = On(10, 25, Standing_).Done("mill-bank/potatoes/harvest/1", 40).Done("mill-bank/potatoes/clear/1", 35);

        Assert.Equal("top bed", Of(cleared, "top-bed", JobKind.Mulch)!.BedName);
        Assert.Null(Of(cleared, "kale-bed", JobKind.Mulch)); // something stands there yet
    }

    [Fact]
    public void What_is_growing_already_waits_for_no_date_that_nobody_knows()
    {
        var told = Morning.Of(Scenario.On(2026, 7, 1).Plan("""
            beds: [ { bed: low bed } ]
            plantings:
              - { crop: tomato, bed: low bed, growing: yes, id: tomatoes }
              - { crop: potato, bed: low bed, growing: yes, id: potatoes }
              - { crop: carrot, bed: low bed, growing: yes, id: carrots }
            """).Hourly(WeatherVariable.Air, Scenario.Between(14, 24)));

        Assert.DoesNotContain("not known when", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(told.Agenda.Jobs, job => job.Needs.Any(need => need.Holds is null && need.Condition.StartsWith("days since", StringComparison.Ordinal)));
        Assert.Single(told.Agenda.Notes, note => note.Contains("Taken from the plan", StringComparison.Ordinal)); // the one question
    }

    [Fact]
    public void Plants_are_set_out_in_the_evening_where_the_gardener_has_one()
    {
        var job = Morning.Of(Scenario.On(2026, 5, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: winter squash, bed: low bed, bought: 1 May 2026, id: squash } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(15, 26))).The(JobKind.SetOut);

        Assert.Equal(Standing.Now, job.Standing);
        Assert.All(job.Windows, window => Assert.True(Scenario.Calendar.TimeOf(window.From) >= new LocalTime(15, 0)));
    }
}

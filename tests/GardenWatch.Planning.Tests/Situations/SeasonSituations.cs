using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tests.Agendas;
using GardenWatch.Planning.Tests.Seasons;
using NodaTime;

namespace GardenWatch.Planning.Tests.Situations;

/// <summary>Situations of a gardener's year that touch sowings and their stages: what the agenda must and must not say. Weather invented.</summary>
public class SeasonSituations
{
    private const string Squash = """
        beds:
          - { bed: low bed }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: winter squash, bed: low bed, start: sill, id: squash }
        """;

    [Fact]
    public void Away_three_weeks()
    {
        var garden = StageTests.Garden("""
              - { crop: radish, bed: kitchen bed, id: radish, sowings: every 10 days until too warm }
              - { crop: lettuce, bed: low bed, id: lettuce, sowings: 6 every 10 days }
              - { crop: pea, bed: low bed, id: peas }
              - { crop: carrot, bed: low bed, id: carrot }
              - { crop: tomato, bed: kitchen bed, start: sill, id: tomato }
            """, new(2023, 2, 1));
        var days = garden.Play(new(2023, 2, 1), new(2023, 5, 23), (date, _) => date < new LocalDate(2023, 5, 1) ? EntryKind.Done : null).ToList();
        var back = days[^1].Agenda;

        // One job at most for each planting's next batch, nothing overdue, nothing asked twice.
        Assert.All(back.Jobs.Where(job => job.Kind == JobKind.Sow).GroupBy(job => job.SubjectId), jobs => Assert.Single(jobs));
        Assert.DoesNotContain(back.Jobs, job => job.Standing == Standing.Missed);
        var dropped = days.SelectMany(day => day.Agenda.Sowings).Where(sowing => sowing.Stage == "dropped").DistinctBy(sowing => sowing.Id).ToList();
        Assert.NotEmpty(dropped);
        Assert.All(dropped, sowing => Assert.Contains("takes its place", sowing.Sentence, StringComparison.Ordinal));
        // Nothing is taken as dead, and nothing as set out.
        Assert.Contains(back.Sowings, sowing => sowing.Crop == "pea" && sowing.Stage == "up");
        Assert.DoesNotContain(back.Sowings, sowing => sowing.Crop == "tomato" && sowing.Stage == "set out");
    }

    [Fact]
    public void Warm_soil_cold_week()
    {
        double[] lows = [5, 4, 6, 7, 9, 10, 10];
        var agenda = HardenedSquash(Scenario.On(2026, 5, 20).Plan(Squash).ClearAndCalm()
            .Hourly(WeatherVariable.Air, Scenario.Between(17, 28))
            .Days(WeatherVariable.Air, 0, 12, at => Scenario.Between(lows[Math.Clamp(Period.DaysBetween(new(2026, 5, 20), at.Date), 0, 6)], 22)(at))).At();
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.SetOut);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Condition.Contains("soil", StringComparison.Ordinal) && need.Holds == true);
        Assert.Contains(job.Needs, need => need.Condition.Contains("nights", StringComparison.Ordinal) && need.Holds == false);
        Assert.DoesNotContain(job.Needs, need => need.Condition == "hardened");
        Assert.DoesNotContain(job.Reasons, reason => reason.Text.Contains("frost", StringComparison.OrdinalIgnoreCase));
    }

    private static Scenario HardenedSquash(Scenario scenario)
    {
        scenario.Done("mill-bank/squash/start-indoors/1", 35);
        foreach (int day in Enumerable.Range(0, 10))
            scenario.Done($"mill-bank/squash/harden-off/{day * 100 + 1}", 14 - day);
        return scenario;
    }

    [Fact]
    public void Warm_nights_cold_soil()
    {
        var agenda = Scenario.On(2026, 5, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: tomato, bed: low bed, bought: mid May, id: tomato } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(10, 15)).Hourly(WeatherVariable.CloudCover, _ => 95).Hourly(WeatherVariable.Radiation, _ => 20).At();
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.SetOut);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Condition.Contains("soil", StringComparison.Ordinal) && need.Holds == false && need.Margin < 0);
        Assert.Contains("film or a cloche", job.Otherwise, StringComparison.Ordinal);
        Assert.DoesNotContain(job.Needs, need => need.Condition.Contains("nights", StringComparison.Ordinal) && need.Holds == false);
    }

    [Fact]
    public void South()
    {
        var years = new SyntheticYears(-43.5, 2016, 9, seed: 11, meanC: 11, swingC: 6.5);
        var garden = SeasonPlayer.Of("""
            beds:
              - { bed: low bed }
              - { bed: sill, over: windowsill }
            plantings:
              - { crop: carrot, bed: low bed }
              - { crop: tomato, bed: low bed, start: sill }
              - { crop: winter squash, bed: low bed, start: sill }
            """, new(2023, 9, 1), years, years.Climate(new(2016, 1, 1), new(2023, 1, 1)));
        var agenda = garden.AgendaAt(years.Calendar.At(new(2023, 10, 20), new LocalTime(6, 0)), LastSaid.Nothing);

        Assert.Contains(agenda.Jobs, job => job is { Kind: JobKind.Sow, Crop: "carrot" } && job.Standing != Standing.Missed);
        Assert.All(agenda.Ahead, sowing => Assert.InRange(sowing.SowLikely!.Start, new LocalDate(2023, 9, 1), new LocalDate(2024, 2, 1)));
        Assert.All(agenda.Ahead, sowing => Assert.InRange(sowing.Harvest!.Start, new LocalDate(2023, 12, 1), new LocalDate(2024, 5, 1)));
        Assert.DoesNotContain(agenda.Jobs, job => job.Kind is JobKind.SowGreenCover or JobKind.Clear || job.Standing == Standing.Missed);
    }

    [Fact]
    public void Lettuce_in_a_heat_wave()
    {
        var agenda = Scenario.On(2026, 7, 10).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: lettuce, bed: low bed, id: lettuce, sowings: 4 every 10 days } ]
            """).ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(20, 35)).Done("mill-bank/lettuce/sow/1", 2).At();
        var lettuce = Assert.Single(agenda.Sowings);

        Assert.Equal("sown", lettuce.Stage);
        Assert.Contains("too hot to come up now", lettuce.Sentence, StringComparison.Ordinal);
        Assert.Contains("the seed is not lost; look when it cools", lettuce.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("; up ", lettuce.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(agenda.Jobs, job => job is { Kind: JobKind.Sow, Standing: Standing.Now });
    }

    [Fact]
    public void Spinach_in_long_light()
    {
        var agenda = Scenario.On(2026, 5, 10).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: spinach, bed: low bed, id: spinach, sowings: every 10 days } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(9, 17)).Done("mill-bank/spinach/sow/1", 12).At();
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Sow);

        Assert.Equal(Standing.Waiting, job.Standing); // no mark of something missed
        Assert.Contains(job.Needs, need => need.Condition.Contains("daylight", StringComparison.Ordinal) && need.Holds != true);
        Assert.Contains("chard", job.Otherwise, StringComparison.Ordinal);
    }

    [Fact]
    public void Squash_and_the_cold_week()
    {
        double[] lows = [8, 7, 3, 3, 6];
        var agenda = Scenario.On(2026, 9, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: winter squash, bed: low bed, set out: 20 May 2026, id: squash } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(12, 22))
            .Days(WeatherVariable.Air, 0, 10, at => Scenario.Between(lows[Math.Clamp(Period.DaysBetween(new(2026, 9, 20), at.Date), 0, 4)], 16)(at))
            .Days(WeatherVariable.Rain, 2, 5, _ => 1).At();
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Harvest);

        Assert.Equal(Standing.Now, job.Standing);
        Assert.Equal(new LocalDate(2026, 9, 20), Scenario.Calendar.DateOf(job.Best!.Value.From));
        Assert.Contains(job.Reasons, reason => reason.Code == "bearing-expected");
    }

    [Fact]
    public void What_ripens_and_what_is_planted_out_stands_before_what_any_day_will_do()
    {
        var agenda = Scenario.On(2026, 6, 20).Plan("""
            beds: [ { bed: low bed }, { bed: kitchen bed } ]
            plantings:
              - { crop: pea, bed: low bed, sown: 20 March 2026, id: peas }
              - { crop: kale, bed: kitchen bed, bought: mid June, id: kale }
              - { crop: carrot, bed: low bed, sown: 1 May 2026, id: carrot }
            """).Hourly(WeatherVariable.Air, Scenario.Between(12, 22)).At();
        var now = agenda.Jobs.Where(job => job is { Standing: Standing.Now, ActBy: null }).Select(job => job.Kind).ToList();

        Assert.True(now.IndexOf(JobKind.SetOut) >= 0 && now.IndexOf(JobKind.Harvest) > now.IndexOf(JobKind.SetOut), string.Join(", ", now));
        Assert.True(now.IndexOf(JobKind.Thin) > now.IndexOf(JobKind.Harvest), string.Join(", ", now));
    }
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>Chores that repeat: since last done or by date, before rain, after it, in dry calm, with looks between. The weather is invented.</summary>
public sealed class Chores
{
    private static readonly LocalDate Today = new(2026, 6, 10); // a Wednesday

    private static Scenario With(string chore) => Scenario.On(2026, 6, 10).Plan($$"""
        beds: [ { bed: low bed, size: 2 m x 2 m } ]
        chores:
          - { {{chore}}, bed: low bed, id: chore }
        """);

    private static Scenario Rain(Scenario scenario, int day, double mmPerHour) =>
        scenario.Days(WeatherVariable.Rain, day, day, at => at.Hour is > 12 and <= 17 ? mmPerHour : 0);

    private static Job? Of(Scenario scenario) => Morning.Of(scenario).Agenda.Jobs.SingleOrDefault(job => job.SubjectId == "chore" && job.Kind != JobKind.Look);

    [Theory]
    [InlineData(13, false)]
    [InlineData(14, true)]
    [InlineData(30, true)]
    public void A_chore_comes_again_so_many_days_after_it_was_done_and_not_after_it_was_due(int doneDaysAgo, bool asked)
    {
        var job = Of(With("chore: Hoe the beds, every: 2 weeks").Done("mill-bank/chore/other/1", doneDaysAgo));

        Assert.Equal(asked, job is { Standing: Standing.Now });
    }

    [Fact]
    public void One_that_was_done_late_counts_from_then()
    {
        // Due on the first of June, done on the eighth: due again on the twenty-second, and named a week before at the soonest.
        var done = With("chore: Hoe the beds, every: 2 weeks").Done("mill-bank/chore/other/1", 23).Done("mill-bank/chore/other/2", 2);

        Assert.Null(Of(done));
        Assert.Equal("mill-bank/chore/other/3", Of(Scenario.On(2026, 6, 22).Plan("""
            beds: [ { bed: low bed } ]
            chores: [ { chore: Hoe the beds, every: 2 weeks, bed: low bed, id: chore } ]
            """).Done("mill-bank/chore/other/1", 35).Done("mill-bank/chore/other/2", 14))!.Id);
    }

    [Fact]
    public void One_that_was_skipped_comes_again_an_interval_later_and_one_without_an_interval_never()
    {
        var skipped = new JournalEntry(EntryKind.Skip, Today.PlusDays(-3), Scenario.Calendar.At(Today.PlusDays(-3), new(18, 0)), "mill-bank/chore/other/1", null, null, null);

        Assert.Null(Of(With("chore: Hoe the beds, every: 2 weeks").Wrote(skipped)));
        Assert.Null(Of(With("chore: Hoe the beds").Wrote(skipped)));
    }

    [Theory]
    [InlineData("days since 1 June between 0 days and 20 days", true)]
    [InlineData("days since 1 July between 0 days and 20 days", false)]
    public void A_chore_by_date_is_asked_for_in_its_days(string when, bool asked) =>
        Assert.Equal(asked, Of(With($"chore: Order straw, when: [ {when} ], every: 300 days")) is { Standing: Standing.Now });

    [Fact]
    public void Before_rain()
    {
        var before = With("chore: Scatter meal, kind: spread, when: [ rain total next 24 hours between 3 mm and 20 mm ]");

        Assert.Equal(Standing.Now, Of(Rain(before, 0, 1.5))!.Standing);
        Assert.Equal(Standing.Soon, Of(Rain(With("chore: Scatter meal, kind: spread, when: [ rain total next 24 hours between 3 mm and 20 mm ]"), 2, 1.5))!.Standing);
        Assert.Equal(Standing.Waiting, Of(With("chore: Scatter meal, kind: spread, when: [ rain total next 24 hours between 3 mm and 20 mm ]"))!.Standing);
    }

    [Fact]
    public void After_rain()
    {
        static Scenario After() => With("chore: Lay a dark sheet, when: [ rain total past 24 hours at least 5 mm, rain total next 3 hours at most 0.2 mm ]");

        Assert.Equal(Standing.Now, Of(Rain(After(), -1, 2))!.Standing);
        Assert.Equal(Standing.Waiting, Of(After())!.Standing);
        Assert.True(Scenario.Calendar.TimeOf(Of(Rain(After(), 0, 2))!.Best!.Value.From) >= new LocalTime(17, 0)); // once it has fallen
    }

    [Fact]
    public void In_dry_calm()
    {
        static Scenario Calm() => With("chore: Dust the leaves, kind: other, when: [ rain total next 6 hours at most 0.2 mm, wind high next 2 hours at most 3 m/s ]")
            .Hourly(WeatherVariable.Wind, at => at.Hour is > 8 and < 19 ? 6 : 1.5);
        var job = Of(Calm())!;

        Assert.Equal(Standing.Now, job.Standing);
        Assert.All(job.Windows.Where(window => Scenario.Calendar.DateOf(window.From) == Today), window => Assert.True(Scenario.Calendar.TimeOf(window.From) < new LocalTime(8, 0) || Scenario.Calendar.TimeOf(window.From) >= new LocalTime(18, 0)));
        Assert.Equal(Standing.Waiting, Of(Calm().Hourly(WeatherVariable.Wind, _ => 6))!.Standing);
    }

    [Fact]
    public void What_to_do_otherwise_is_said_when_its_weather_will_not_come_and_not_before()
    {
        static Scenario Dry(int waited) => With("chore: Spread feed, when: [ rain total next 24 hours at least 6 mm ], otherwise: \"after 4 days, water in with 10 mm by hand\"")
            .SaidFirst("mill-bank/chore/spread/1", waited);

        Assert.Equal(Standing.Waiting, Of(Dry(3))!.Standing);
        Assert.Equal(Standing.Now, Of(Dry(4))!.Standing);
        Assert.Contains("40 litres for this bed", Morning.Of(Dry(4)).Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Of(Rain(Dry(4), 1, 2))!.Reasons, reason => reason.Code == "by-hand"); // rain is worth waiting for
    }

    [Fact]
    public void The_can_stands_in_for_rain_and_for_nothing_else()
    {
        static Scenario Cold(int soil) => With($"chore: Spread feed, when: [ rain total next 24 hours at least 6 mm, soil at 5 cm mean past 5 days at least {soil} °C ], otherwise: \"after 4 days, water in with 10 mm by hand\"")
            .SaidFirst("mill-bank/chore/spread/1", 4);

        Assert.Equal(Standing.Now, Of(Cold(2))!.Standing);
        Assert.Equal(Standing.Waiting, Of(Cold(40))!.Standing);
    }

    [Theory]
    [InlineData(9, "", 0)]
    [InlineData(10, "", 1)]
    [InlineData(18, "", 0)] // not taken within a week, so it lapses
    [InlineData(10, ", every: 7 days", 1)]
    [InlineData(18, ", every: 7 days", 1)]
    public void Looks_lie_between(int doneDaysAgo, string every, int looks)
    {
        var jobs = Morning.Of(With($"chore: Spread pellets, every: 6 weeks, then: {{ look for: fresh slime, after: 10 days{every} }}").Done("mill-bank/chore/spread/1", doneDaysAgo)).Agenda.Jobs;

        Assert.Equal(looks, jobs.Count(job => job.Kind == JobKind.Look && job.Name == "Look for fresh slime"));
    }

    [Fact]
    public void A_look_that_was_taken_comes_again_after_its_days_until_the_chore_is_due()
    {
        static Scenario Pellets(int doneDaysAgo) => With("chore: Spread pellets, every: 6 weeks, then: { look for: fresh slime, after: 10 days, every: 7 days }").Done("mill-bank/chore/spread/1", doneDaysAgo);

        Assert.DoesNotContain(Morning.Of(Pellets(14).Done("mill-bank/chore/look/1", 4)).Agenda.Jobs, job => job.Kind == JobKind.Look);
        Assert.Equal("mill-bank/chore/look/2", Morning.Of(Pellets(18).Done("mill-bank/chore/look/1", 7)).The(JobKind.Look).Id);
        Assert.DoesNotContain(Morning.Of(Pellets(42).Done("mill-bank/chore/look/1", 31)).Agenda.Jobs, job => job.Kind == JobKind.Look);
    }
}

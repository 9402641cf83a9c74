using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>The season in which nothing is asked for, and the days before and in an absence.</summary>
public sealed class RestAndAbsenceTests
{
    private const string Garlic = """
        beds: [ { bed: low bed } ]
        plantings: [ { crop: garlic, bed: low bed, sown: 20 October } ]
        """;

    private static Scenario Winter(string plan = Garlic) => Scenario.On(2026, 12, 15).Plan(plan).Hourly(WeatherVariable.Air, Scenario.Between(-3, 4));

    /// <summary>As it is once a digest has told it.</summary>
    private static Agenda Told(Func<Scenario> scenario) => scenario().Said(LastSaid.Nothing.After(scenario().At())).At();

    [Fact]
    public void A_garden_rests_in_the_cold_once_all_was_told()
    {
        Assert.False(Winter().At().Rests);
        Assert.True(Told(() => Winter()).Rests);
    }

    [Fact]
    public void A_mild_winter_rests_while_days_are_short_and_a_cold_spell_in_spring_too_but_not_a_mild_march()
    {
        Assert.True(Told(() => Winter().Hourly(WeatherVariable.Air, Scenario.Between(6, 12))).Rests);
        Assert.True(Told(() => Scenario.On(2026, 3, 20).Plan(Garlic).Hourly(WeatherVariable.Air, Scenario.Between(-6, 3))).Rests);
        Assert.False(Told(() => Scenario.On(2026, 3, 20).Plan(Garlic).Hourly(WeatherVariable.Air, Scenario.Between(6, 14))).Rests);
    }

    [Fact]
    public void Nothing_rests_while_something_is_asked_for_or_the_forecast_is_old()
    {
        const string drain = Garlic + "\nchores: [ { chore: Drain the hose, kind: drain, when: [ air low next 3 nights at most 5 °C ] } ]";
        Assert.False(Told(() => Winter(drain)).Rests);
        Assert.False(Told(() => Winter().ForecastAgeHours(40)).Rests);
    }

    [Theory]
    [InlineData("2026-07-08", false)]
    [InlineData("2026-07-09", true)]
    [InlineData("2026-07-11", true)]
    [InlineData("2026-07-12", false)]
    public void What_to_see_to_is_said_from_two_days_before_an_absence_until_it_begins(string date, bool told)
    {
        var on = NodaTime.Text.LocalDatePattern.Iso.Parse(date).Value;
        var agenda = Scenario.On(on.Year, on.Month, on.Day).Plan("""
            away: [ { from: 11 July 2026, to: 26 July 2026, sitter: robin@example.org } ]
            beds: [ { bed: low bed }, { bed: big pot, container: 40 litres }, { bed: cold frame, over: frame } ]
            plantings: [ { crop: summer squash, bed: low bed, set out: 25 May 2026 }, { crop: basil, bed: big pot, growing: yes } ]
            chores: [ { chore: Spread granules, kind: spread, bed: low bed, when: [ rain total next 24 hours at least 6 mm ] } ]
            """)
            .Hourly(WeatherVariable.Air, Scenario.Between(15, 27))
            .Days(WeatherVariable.Rain, 4, 4, at => at.Hour is 8 or 9 ? 5 : 0)
            .At();

        Assert.Equal(told, !agenda.BeforeLeaving.IsEmpty);
        if (!told)
            return;
        string lines = string.Join('\n', agenda.BeforeLeaving);
        Assert.Contains("Away 11 to 26 July: robin@example.org gets a short list each morning.", lines, StringComparison.Ordinal);
        Assert.Contains("Pick all that is ripe on the last evening: Summer squash", lines, StringComparison.Ordinal);
        Assert.Contains("Likely to fall due meanwhile: Spread granules (low bed)", lines, StringComparison.Ordinal);
        Assert.Contains("Water deeply on the last evening. Pots into the shade, close together. The forecast has 10\u00A0mm of rain for you by", lines, StringComparison.Ordinal);
        Assert.Contains("Leave the cold frame open by a hand’s width", lines, StringComparison.Ordinal);
    }

    [Fact]
    public void Who_leaves_before_a_frost_is_told_to_leave_covers_on()
    {
        var agenda = Scenario.On(2026, 5, 4).Plan("""
            away: [ { from: 5 May 2026, to: 9 May 2026 } ]
            beds: [ { bed: low bed, cover: light fleece } ]
            plantings: [ { crop: potato, bed: low bed, growing: yes } ]
            """)
            .ClearAndCalm()
            .Hourly(WeatherVariable.Air, Scenario.Between(8, 17))
            .Days(WeatherVariable.Air, 2, 3, Scenario.Between(0, 12))
            .At();

        string lines = string.Join('\n', agenda.BeforeLeaving);
        Assert.Contains("until then you are told only of what would be lost", lines, StringComparison.Ordinal);
        Assert.Contains("Frost on the leaves is in the forecast for", lines, StringComparison.Ordinal);
        Assert.DoesNotContain("Water deeply", lines, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sitter_waters_and_covers_but_does_not_sow()
    {
        var agenda = Scenario.On(2026, 5, 4).Plan("""
            beds: [ { bed: low bed, cover: light fleece } ]
            plantings: [ { crop: potato, bed: low bed, growing: yes }, { crop: radish, bed: low bed } ]
            """)
            .ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(-1, 16)).At();

        Assert.Contains(agenda.Jobs, job => job is { Kind: JobKind.Sow, Standing: Standing.Now });
        Assert.Equal([JobKind.Cover], agenda.ForSitter().Jobs.Select(job => job.Kind).Distinct());
    }

    [Fact]
    public void What_was_asked_for_on_four_dates_steps_behind_what_is_new_and_what_has_few_days_goes_before_what_has_many()
    {
        Scenario Garden() => Scenario.On(2026, 5, 4).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: radish, bed: low bed } ]
            chores:
              - { chore: Oil the tools, kind: other }
              - { chore: Pull the thistles, kind: other, when: [ rain total past 24 hours at most 5 mm, rain total next 3 hours at most 1 mm ] }
            """).Hourly(WeatherVariable.Air, Scenario.Between(9, 18)).Days(WeatherVariable.Rain, 1, 9, _ => 0.4);

        var jobs = Garden().At().Jobs.Where(job => job.Standing == Standing.Now).ToList();
        Assert.Equal("Oil the tools", jobs[^1].Name);
        var sown = jobs.Single(job => job.Kind == JobKind.Sow);
        var said = LastSaid.Nothing;
        for (int day = 4; day >= 1; day--)
            said = said.AfterTelling([sown], new LocalDate(2026, 5, 4).PlusDays(-day));

        var again = Garden().Said(said).At().Jobs.Where(job => job.Standing == Standing.Now).ToList();
        Assert.Equal(sown.Id, again[^1].Id);
        Assert.True(again[^1].Sinks);
    }
}

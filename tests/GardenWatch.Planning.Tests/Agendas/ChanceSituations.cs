using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What the runs of an ensemble make of frost and rain. The weather is invented.</summary>
public class ChanceSituations
{
    private const string Tomatoes = """
        beds:
          - { bed: low bed, size: 2 m x 2 m, cover: medium fleece }
        plantings:
          - { crop: tomato, bed: low bed, set out: 15 May, plants: 6TUNE }
        """;

    private const string Feeding = """
        beds:
          - { bed: low bed, size: 2 m x 2 m }
        chores:
          - chore: Spread granular fertiliser
            bed: low bed
            every: 6 weeks
            minutes: 15
            when:
              - rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}
            caution: product label
        """;

    private const string Hoeing = """
        chores:
          - chore: Hoe the paths
            when:
              - rain total next 6 hours at most 0.2 mmCHANCE
        """;

    private static Job? Of(Agenda agenda, JobKind kind) => agenda.Jobs.SingleOrDefault(job => job.Kind == kind);

    /// <summary>A mild forecast, and so many of twenty runs in which tonight is bitterly clear and cold.</summary>
    private static Scenario ColdRuns(int cold, string tune = "") => Scenario.On(2026, 5, 20)
        .Plan(Tomatoes.Replace("TUNE", tune, StringComparison.Ordinal))
        .Runs(cold, WeatherVariable.Air, 0, 1, Scenario.Between(-3, 15))
        .RunsAsForecast(20 - cold);

    /// <summary>An amount of rain that falls from two to five in the afternoon of the day of the look.</summary>
    private static Func<LocalDateTime, double> Afternoon(double mm) => at => at.Hour is > 14 and <= 18 ? mm / 4 : 0;

    [Theory]
    [InlineData(3, false)]
    [InlineData(4, true)]
    [InlineData(13, true)]
    public void A_cover_is_advised_from_one_run_in_five_on_though_the_forecast_stays_mild(int cold, bool advised)
    {
        var job = Of(ColdRuns(cold).At(), JobKind.Cover);

        Assert.Equal(advised, job is { Standing: Standing.Now });
        if (advised)
            Assert.Equal(new Chance(cold / 20.0, ChanceSource.Members), job!.Chance);
    }

    [Theory]
    [InlineData("10 %", 2, true)]
    [InlineData("40 %", 7, false)]
    public void The_share_is_tuned_like_any_number(string share, int cold, bool advised) =>
        Assert.Equal(advised, Of(ColdRuns(cold, $", tune: {{ cover: {{ chance: {share} }} }}").At(), JobKind.Cover) is { Standing: Standing.Now });

    [Fact]
    public void A_frosty_forecast_alone_is_enough_for_tonight()
    {
        var agenda = Scenario.On(2026, 5, 20).Plan(Tomatoes.Replace("TUNE", "", StringComparison.Ordinal))
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(-3, 15))
            .Runs(20, WeatherVariable.Air, 0, 1, Scenario.Between(8, 20))
            .At();

        Assert.Equal(Standing.Now, Of(agenda, JobKind.Cover)!.Standing);
    }

    [Fact]
    public void A_night_two_days_on_is_announced_by_the_share_of_runs()
    {
        Agenda With(int cold) => Scenario.On(2026, 5, 20).Plan(Tomatoes.Replace("TUNE", "", StringComparison.Ordinal))
            .Runs(cold, WeatherVariable.Air, 2, 3, Scenario.Between(-3, 15)).RunsAsForecast(20 - cold).At();

        Assert.Null(Of(With(3), JobKind.Cover));
        Assert.Equal(Standing.Soon, Of(With(8), JobKind.Cover)!.Standing);
    }

    [Fact]
    public void Enough_and_not_too_much_is_one_question_to_each_run()
    {
        // Three runs in four bring enough, three in four not too much, yet only half of them both.
        var agenda = Scenario.On(2026, 6, 10).Plan(Feeding)
            .Days(WeatherVariable.Rain, 0, 0, Afternoon(9))
            .Runs(5, WeatherVariable.Rain, 0, 0, Afternoon(2))
            .Runs(10, WeatherVariable.Rain, 0, 0, Afternoon(10))
            .Runs(5, WeatherVariable.Rain, 0, 0, Afternoon(30))
            .At();
        var job = Of(agenda, JobKind.Spread)!;

        Assert.Equal(Standing.Waiting, job.Standing);
        var why = Assert.Single(job.Reasons, reason => reason.Code == "not-sure-enough");
        Assert.Equal(0.5, why.Values["share"]);
        Assert.Contains("5 in 10", why.Text.Replace('\u00A0', ' '), StringComparison.Ordinal);
    }

    [Fact]
    public void A_window_has_its_chance_from_its_first_hour_to_its_last()
    {
        var agenda = Scenario.On(2026, 6, 13).Plan(Hoeing.Replace("CHANCE", "", StringComparison.Ordinal))
            // A Saturday. Of ten runs two turn wet at noon, three more at four, so dry mornings have eight, then five.
            .Runs(2, WeatherVariable.Rain, 0, 0, at => at.Hour > 12 ? 1 : 0)
            .Runs(3, WeatherVariable.Rain, 0, 0, at => at.Hour > 16 ? 1 : 0)
            .RunsAsForecast(5)
            .At();
        var job = Of(agenda, JobKind.Other)!;

        Assert.Equal(Standing.Now, job.Standing);
        foreach (var window in job.Windows.Where(window => Scenario.Calendar.DateOf(window.From) == new LocalDate(2026, 6, 13)))
            Assert.True(window.Until > window.From);
        // Until six hours before noon no run is wet within six hours; from then on eight in ten at most.
        Assert.InRange(job.Chance!.Value.Value, 0.5, 1);
    }

    [Theory]
    [InlineData(" with chance at least 90 %", false)]
    [InlineData(" with chance at least 70 %", true)]
    public void A_phrase_may_ask_for_a_chance_of_its_own(string chance, bool suits)
    {
        var agenda = Scenario.On(2026, 6, 10).Plan(Hoeing.Replace("CHANCE", chance, StringComparison.Ordinal))
            .Runs(8, WeatherVariable.Rain, 8, 9, _ => 0)
            .Runs(2, WeatherVariable.Rain, 0, 8, _ => 1)
            .At();
        var job = Of(agenda, JobKind.Other)!;

        Assert.Equal(suits ? Standing.Now : Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Sentence.Replace('\u00A0', ' ').Contains("8 in 10 have it", StringComparison.Ordinal));
    }

    [Fact]
    public void The_week_has_chances_of_frost_and_of_a_wet_day()
    {
        var week = Scenario.On(2026, 5, 20).Plan(Tomatoes.Replace("TUNE", "", StringComparison.Ordinal))
            .Runs(6, WeatherVariable.Air, 3, 4, Scenario.Between(-4, 15))
            .Runs(8, WeatherVariable.Rain, 2, 2, Afternoon(4))
            .Runs(6, WeatherVariable.Rain, 2, 2, Afternoon(0.6))
            .At().Week;

        Assert.Equal(6 / 20.0, week[3].FrostChance);
        Assert.Equal(0, week[0].FrostChance);
        Assert.Equal(8 / 20.0, week[2].RainChance);
    }

    [Fact]
    public void Without_an_ensemble_no_chance_is_told()
    {
        var agenda = Scenario.On(2026, 5, 20).Plan(Tomatoes.Replace("TUNE", "", StringComparison.Ordinal))
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(-3, 15)).At();

        Assert.Null(Of(agenda, JobKind.Cover)!.Chance);
        Assert.All(agenda.Week, day => Assert.Null(day.RainChance));
    }

    [Theory]
    [InlineData(WeatherVariable.Rain, true)]
    [InlineData(WeatherVariable.Gust, false)]
    public void What_the_runs_lack_of_a_condition_is_said(WeatherVariable lacking, bool said)
    {
        var job = Of(Scenario.On(2026, 6, 10).Plan(Feeding).Days(WeatherVariable.Rain, 0, 0, Afternoon(9)).RunsAsForecast(20).RunsLack(lacking).At(), JobKind.Spread)!;

        Assert.NotNull(job.Chance);
        Assert.Equal(said, job.Reasons.Any(reason => reason.Code == "borrowed" && reason.Text.Contains("tell no rain", StringComparison.Ordinal)));
    }

    [Fact]
    public void Runs_that_share_the_past_with_the_forecast_tell_what_whole_ones_tell()
    {
        Scenario Garden() => Scenario.On(2026, 5, 20).Plan("""
            beds:
              - { bed: low bed, size: 2 m x 2 m, frost pocket: 1 °C, mulch: straw }
              - { bed: big pot, container: 40 litres }
            plantings:
              - { crop: tomato, bed: low bed, set out: 15 May, plants: 6 }
              - { crop: winter squash, bed: big pot, bought: early May }
            chores:
              - chore: Think
                bed: low bed
                when:
                  - warmth base 5 °C total since 12 May at least 90 °C days
                  - soil at 10 cm low past 3 days at least 11 °C
                  - humidity mean past 2 days at most 90 %
            """)
            .Runs(7, WeatherVariable.Air, 0, 9, Scenario.Between(-2, 14))
            .Runs(7, WeatherVariable.Air, 1, 9, Scenario.Between(9, 26))
            .Runs(6, WeatherVariable.Rain, 1, 9, Afternoon(6));
        static string Told(Agenda agenda) => string.Join('\n', agenda.Jobs.Select(job =>
            $"{job.Name} {job.Standing} {job.Best} {job.Chance} {string.Join('|', job.Reasons.Select(reason => reason.Text))} {string.Join('|', job.Needs)}"))
            + string.Join('\n', agenda.Week);

        Assert.Equal(Told(Garden().RunsMadeWhole().At()), Told(Garden().At()));
        Assert.Contains(Garden().At().Jobs, job => job.Chance is not null);
    }

    [Theory]
    [InlineData("", 8)]
    [InlineData("    wish:\n      - wind mean next 2 hours at most 2 m/s\n", 17)]
    public void Of_a_days_windows_the_one_is_advised_that_more_wishes_suit(string wish, int hour)
    {
        // A Wednesday with two slots, windy in the morning.
        var job = Of(Scenario.On(2026, 6, 10).Plan("chores:\n  - chore: Hoe the paths\n    when:\n      - dry next 2 hours\n" + wish,
                hours: "{ weekdays: 08:00-09:30 and 17:30-20:30 }")
            .Days(WeatherVariable.Wind, 0, 0, at => at.Hour < 13 ? 6 : 1).At(), JobKind.Other)!;

        Assert.Equal(2, job.Windows.Count(window => Scenario.Calendar.DateOf(window.From) == new LocalDate(2026, 6, 10)));
        Assert.Equal(hour, Scenario.Calendar.TimeOf(job.Best!.Value.From).Hour);
    }

    [Fact]
    public void Runs_of_a_stale_forecast_are_not_asked()
    {
        var agenda = ColdRuns(13).ForecastAgeHours(40).At();

        Assert.All(agenda.Week, day => Assert.Null(day.FrostChance));
    }
}

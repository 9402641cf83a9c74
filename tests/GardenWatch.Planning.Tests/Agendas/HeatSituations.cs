using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What heat asks for. Situations of the trade; the weather is invented.</summary>
public class HeatSituations
{
    private const string Salad = """
        beds:
          - { bed: salad bed }
        plantings:
          - { crop: lettuce, bed: salad bed, sown: 20 April 2026 }
        """;

    private const string Frame = """
        beds:
          - { bed: cold frame, over: frame }
        plantings:
          - { crop: lettuce, bed: cold frame, set out: 20 May 2026 }
        """;

    private static Scenario On(string plan) => Scenario.On(2026, 6, 16).Plan(plan);

    private static Scenario Hot(double high, string plan = Salad, int days = 0) =>
        On(plan).Days(WeatherVariable.Air, 0, days, Scenario.Between(high - 14, high));

    private static Job[] AgainstHeat(Agenda agenda) => [.. agenda.Jobs.Where(job => job.Threat?.Danger == Danger.Heat)];

    private static Job Shade(Agenda agenda) => Assert.Single(AgainstHeat(agenda));

    private static LastSaid Told(Agenda agenda) => LastSaid.Nothing.After(agenda);

    [Fact]
    public void A_hot_day_asks_for_shade_over_leaves_by_the_mornings_last_hour()
    {
        var shade = Shade(Hot(32).At());

        Assert.Equal(("mill-bank/lettuce-salad-bed/shade/1", JobKind.Shade, Standing.Now), (shade.Id, shade.Kind, shade.Standing));
        Assert.Equal(new LocalTime(7, 30), Scenario.Calendar.TimeOf(shade.ActBy!.Value));
        Assert.Equal("32\u00A0°C today: leaves turn bitter and run to seed.", shade.Reasons[0].Text);
        Assert.NotNull(shade.UndoAt);
    }

    [Theory]
    [InlineData("lettuce", 28, false)]
    [InlineData("lettuce", 30, true)]
    [InlineData("tomato", 32, false)]
    [InlineData("tomato", 35, true)]
    [InlineData("garlic", 38, false)] // neither leaf nor fruit is spoilt
    [InlineData("carrot", 38, false)]
    public void Leaves_and_fruit_bear_heat_by_their_kind(string crop, double high, bool asked)
    {
        var agenda = Hot(high, $"beds:\n  - {{ bed: b }}\nplantings:\n  - {{ crop: {crop}, bed: b, growing: yes }}\n").At();

        Assert.Equal(asked, AgainstHeat(agenda).Length == 1);
    }

    [Theory]
    [InlineData("12 June 2026", true)]
    [InlineData("1 June 2026", false)]
    public void New_plants_of_any_crop_are_shaded_in_their_first_week(string setOut, bool asked)
    {
        var agenda = Hot(29, $"beds:\n  - {{ bed: b }}\nplantings:\n  - {{ crop: kale, bed: b, set out: {setOut} }}\n").At();

        Assert.Equal(asked, AgainstHeat(agenda).Length == 1);
    }

    [Fact]
    public void What_is_shut_is_opened_before_the_sun_bites_and_shut_again()
    {
        var vent = Shade(Hot(24, Frame).At());

        Assert.Equal(("Open the cold frame", JobKind.Vent, "mill-bank/cold-frame/vent/1"), (vent.Name, vent.Kind, vent.Id));
        Assert.InRange(Scenario.Calendar.TimeOf(vent.ActBy!.Value), new LocalTime(6, 30), new LocalTime(7, 30));
        Assert.InRange(Scenario.Calendar.TimeOf(vent.UndoAt!.Value), new LocalTime(17, 0), new LocalTime(19, 0));
        Assert.StartsWith("24\u00A0°C and sun today", vent.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_dull_day_or_an_empty_frame_needs_no_opening()
    {
        Assert.Empty(AgainstHeat(Hot(24, Frame).Hourly(WeatherVariable.Radiation, at => at.Hour is > 6 and < 18 ? 120 : 0).At()));
        Assert.Empty(AgainstHeat(Hot(30, "beds:\n  - { bed: cold frame, over: frame }\nplantings:\n  - { crop: tomato, bed: cold frame, bought: mid July }\n").At()));
        Assert.Empty(AgainstHeat(Hot(30, "beds:\n  - { bed: sill, over: windowsill }\nplantings:\n  - { crop: basil, bed: sill, growing: yes }\n").At()));
    }

    [Fact]
    public void What_is_raised_in_a_frame_and_set_out_elsewhere_counts_in_the_frame()
    {
        var agenda = Hot(26, """
            beds:
              - { bed: cold frame, over: frame }
              - { bed: low bed }
            plantings:
              - { crop: kale, bed: low bed, start: cold frame }
            """).Done("mill-bank/kale-low-bed/start-indoors/1", daysAgo: 20).At();

        Assert.Equal("Open the cold frame", Shade(agenda).Name);
    }

    [Fact]
    public void A_frame_that_a_gale_shuts_is_not_opened_and_is_shaded_instead()
    {
        var jobs = Hot(27, Frame).Days(WeatherVariable.Gust, 0, 0, at => at.Hour is >= 10 and < 20 ? 24 : 8).At().Jobs;

        Assert.DoesNotContain(jobs, job => job.Kind == JobKind.Vent);
        Assert.Contains(Assert.Single(jobs, job => job.Kind == JobKind.Protect).Reasons, reason => reason.Code == "shade-instead");
    }

    [Fact]
    public void Heat_tomorrow_is_left_to_the_digest_that_comes_in_time()
    {
        var evening = On(Salad).Days(WeatherVariable.Air, 1, 1, Scenario.Between(18, 34)).At("17:00");

        Assert.Equal(Standing.Soon, Shade(evening).Standing);
        Assert.Empty(Threats.NewOrWorse(evening, LastSaid.Nothing));
    }

    [Fact]
    public void Heat_tomorrow_is_an_evenings_warning_where_the_gardener_has_no_hour_after_the_digest()
    {
        var evening = Scenario.On(2026, 6, 16).Plan(Salad, hours: "{ weekdays: 18:00-20:30, weekends: 18:00-20:30 }")
            .Days(WeatherVariable.Air, 1, 1, Scenario.Between(18, 34)).At("17:00");

        Assert.Equal(Standing.Now, Shade(evening).Standing);
        Assert.Single(Threats.NewOrWorse(evening, LastSaid.Nothing));
    }

    [Fact]
    public void A_hot_spell_is_told_once_and_again_only_when_it_gets_hotter_by_a_step()
    {
        LastSaid Yesterday(double high) => new(
            LastSaid.Nothing.Jobs.Add("mill-bank/lettuce-salad-bed/shade/1", new(new(2026, 6, 15), new(2026, 6, 15), Standing.Now, high)), LastSaid.Nothing.Stages);
        Scenario Spell(double high) => On(Salad).Days(WeatherVariable.Air, -3, 3, Scenario.Between(high - 14, high));

        Assert.Empty(AgainstHeat(Spell(31).Said(Yesterday(31)).At()));
        Assert.Empty(AgainstHeat(Spell(33).Said(Yesterday(31)).At()));
        Assert.Single(AgainstHeat(Spell(34.5).Said(Yesterday(31)).At()));
        // Seen from an evening after a message of the same day it stays as it was told.
        Assert.Single(AgainstHeat(Spell(31).Said(Told(Spell(31).At())).At("10:00")));
    }

    [Fact]
    public void Whoever_answers_is_not_asked_again_on_each_hot_day()
    {
        var yesterday = new LastSaid(
            LastSaid.Nothing.Jobs.Add("mill-bank/cold-frame/vent/1", new(new(2026, 6, 15), new(2026, 6, 15), Standing.Now, 26)), LastSaid.Nothing.Stages);

        Assert.Empty(AgainstHeat(On(Frame).Days(WeatherVariable.Air, -3, 3, Scenario.Between(12, 26)).Done("mill-bank/cold-frame/vent/1", daysAgo: 1).Said(yesterday).At()));
    }

    [Fact]
    public void After_cool_days_a_new_spell_is_told_anew()
    {
        var longAgo = new LastSaid(
            LastSaid.Nothing.Jobs.Add("mill-bank/lettuce-salad-bed/shade/1", new(new(2026, 6, 10), new(2026, 6, 10), Standing.Now, 32)), LastSaid.Nothing.Stages);

        Assert.Single(AgainstHeat(Hot(32).Said(longAgo).At()));
    }

    [Fact]
    public void Shade_that_was_put_up_stays_up()
    {
        const string Shaded = "mill-bank/lettuce-salad-bed/shade/1";
        Assert.Empty(AgainstHeat(Hot(33).Done(Shaded, daysAgo: 3).At()));
        Assert.Equal("mill-bank/lettuce-salad-bed/shade/2", Shade(Hot(33).Done(Shaded, daysAgo: 9).At()).Id);
    }

    [Theory]
    [InlineData(4, true)] // 4 of 10, over the rule of 0.35
    [InlineData(3, false)]
    public void The_runs_decide_around_the_rule(int hot, bool asked)
    {
        var agenda = On(Salad).Runs(hot, WeatherVariable.Air, 0, 0, Scenario.Between(18, 33)).RunsAsForecast(10 - hot).At();

        Assert.Equal(asked, AgainstHeat(agenda).Length == 1);
    }

    [Theory]
    [InlineData(32, 0)]
    [InlineData(34, 1)]
    public void It_is_worse_by_a_step_only(double high, int warnings)
    {
        var said = Told(Hot(30.9).At());

        Assert.Equal(warnings, Threats.NewOrWorse(Hot(high).Said(said).At("09:00"), said).Length);
    }

    [Theory]
    [InlineData(21.5, 0)] // the number is 20: no walk at noon for as much as forecasts waver
    [InlineData(26, 1)]
    public void In_the_course_of_the_day_heat_is_news_only_beyond_doubt(double high, int warnings)
    {
        const string WithChore = Frame + "\nchores:\n  - { chore: Hoe, bed: cold frame }\n";
        var said = Told(Hot(19, WithChore).At());

        Assert.NotEmpty(said.Jobs);
        Assert.Equal(warnings, Threats.NewOrWorse(Hot(high, WithChore).Said(said).At("10:00"), said).Length);
    }

    [Fact]
    public void A_day_that_turns_out_cooler_is_not_called_off_when_it_is_over()
    {
        var said = Told(Hot(32).At());

        Assert.Empty(Threats.CalledOff(Hot(24).Said(said).At("17:00"), said));
    }

    [Fact]
    public void A_day_the_forecast_leaves_open_after_hot_days_is_shaded_for_and_after_cool_ones_not()
    {
        Scenario Gaps(double before) => On(Salad).Hourly(WeatherVariable.Air, at => at.Date < new LocalDate(2026, 6, 16) ? Scenario.Between(before - 14, before)(at) : double.NaN);

        Assert.Contains(Shade(Gaps(32).At()).Reasons, reason => reason.Code == "unknown-danger");
        Assert.Empty(AgainstHeat(Gaps(22).At()));
    }

    [Fact]
    public void Great_heat_cautions_the_gardener_as_well()
    {
        var shade = Shade(Hot(36).Hourly(WeatherVariable.RelativeHumidity, _ => 45).At());

        Assert.Contains(shade.Cautions, caution => caution.Contains("work", StringComparison.Ordinal) && caution.Contains("drink", StringComparison.Ordinal));
        Assert.Empty(Shade(Hot(29.5).Hourly(WeatherVariable.RelativeHumidity, _ => 30).At()).Cautions);
    }

    [Fact]
    public void In_the_evening_of_a_hot_day_nobody_is_sent_to_shade_anything() =>
        Assert.Empty(AgainstHeat(Hot(33).At("18:00")));
}

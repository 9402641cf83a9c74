using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What a gale asks for. Situations of the trade; the weather is invented.</summary>
public class WindSituations
{
    private const string Garden = """
        beds:
          - { bed: top bed, size: 1.2 m x 2.4 m, cover: light fleece }
          - { bed: cold frame, over: frame }
          - { bed: film house, over: tunnel }
          - { bed: glasshouse, over: greenhouse }
          - { bed: big pot, container: 40 litres }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: tomato, bed: top bed, set out: 20 May 2026 }
          - { crop: carrot, bed: top bed, sown: 1 April 2026 }
          - { crop: lettuce, bed: cold frame, set out: 20 May 2026 }
          - { crop: cucumber, bed: film house, set out: 20 May 2026 }
          - { crop: sweet pepper, bed: glasshouse, set out: 20 May 2026 }
          - { crop: tomato, bed: big pot, set out: 20 May 2026 }
          - { crop: basil, bed: sill, growing: yes }
        """;

    private const string OneBed = """
        beds:
          - { bed: top bed }
        plantings:
          - { crop: tomato, bed: top bed, set out: 20 May 2026 }
        """;

    // A Tuesday: there from 6:00 to 7:30 and from 17:30 to 20:30.
    private static Scenario On(string plan = OneBed) => Scenario.On(2026, 6, 16).Plan(plan);

    private static Func<LocalDateTime, double> Gusts(double most, int from = 22, int until = 24) =>
        at => at.Hour >= from && at.Hour < until ? most : 7;

    private static Scenario Gale(double most, string plan = OneBed) => On(plan).Days(WeatherVariable.Gust, 0, 0, Gusts(most));

    private static Job[] AgainstWind(Agenda agenda) => [.. agenda.Jobs.Where(job => job.Threat?.Danger == Danger.Wind)];

    private static Job Tie(Agenda agenda) => Assert.Single(AgainstWind(agenda));

    [Fact]
    public void A_gale_tonight_asks_for_a_tie_by_the_gardeners_last_hour_with_numbers_how_to_and_cautions()
    {
        var tie = Tie(Gale(24).At());

        Assert.Equal(("Tie the tomatoes", JobKind.Tie, Standing.Now), (tie.Name, tie.Kind, tie.Standing));
        Assert.True(tie.Protects);
        Assert.Equal("mill-bank/tomato-top-bed/tie/1", tie.Id);
        Assert.Equal(new LocalTime(20, 30), Scenario.Calendar.TimeOf(tie.ActBy!.Value));
        Assert.Equal(24, tie.DecidingValue);
        Assert.Equal("Gusts to 86\u00A0km/h today from 21:00 to 23:00: from 72\u00A0km/h on tall stems break or lie down.", tie.Reasons[0].Text);
        Assert.Contains(tie.Cautions, caution => caution.Contains("ladder", StringComparison.Ordinal));
        Assert.NotEmpty(tie.How!);
    }

    [Fact]
    public void Everything_the_wind_can_take_is_named_once_and_nothing_else()
    {
        Assert.Equal(
            ["Close and peg the tunnel over the film house", "Move the big pot out of the wind", "Shut and strap down the cold frame",
                "Shut the greenhouse over the glasshouse", "Tie the tomatoes"],
            AgainstWind(Gale(26, Garden).At()).Select(job => job.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void What_is_shut_names_the_hour_at_which_it_may_be_opened()
    {
        var shut = AgainstWind(Gale(26, Garden).At()).Single(job => job.BedName == "cold frame");

        Assert.Equal("mill-bank/cold-frame/protect/1", shut.Id);
        // The gale ends at eleven at night; the next hours of the gardener begin at six.
        Assert.Equal(Scenario.Calendar.At(new(2026, 6, 17), new(6, 0)), shut.UndoAt);
        Assert.Contains(shut.Reasons, reason => reason.Code == "undo" && reason.Text.Contains("36\u00A0km/h", StringComparison.Ordinal));
    }

    [Fact]
    public void A_cloth_that_lies_on_a_bed_is_taken_in_and_one_in_the_shed_is_not()
    {
        const string Covered = "mill-bank/tomato-top-bed/cover/1";
        var plan = On("""
            beds:
              - { bed: top bed, cover: light fleece }
            plantings:
              - { crop: tomato, bed: top bed, set out: 20 May 2026 }
            """).Days(WeatherVariable.Gust, 0, 0, Gusts(26));
        Assert.DoesNotContain(AgainstWind(plan.At()), job => job.Kind == JobKind.Protect);

        Assert.Contains(AgainstWind(plan.Done(Covered, daysAgo: 1).At()), job => job.Name == "Take in or weigh down the cover of the top bed");
    }

    [Theory]
    [InlineData(19.4)] // a fresh breeze's gusts move stems and break none
    [InlineData(10)]
    public void Less_than_the_number_asks_for_nothing(double gust) => Assert.Empty(AgainstWind(Gale(gust).At()));

    [Fact]
    public void The_number_is_the_gardeners_to_tune() =>
        Assert.Empty(AgainstWind(On("tune: { tie: { gust: 28 m/s } }\n" + OneBed).Days(WeatherVariable.Gust, 0, 0, Gusts(26)).At()));

    [Fact]
    public void Low_crops_and_empty_or_finished_beds_are_left_in_peace()
    {
        Assert.Empty(AgainstWind(Gale(30, """
            beds:
              - { bed: top bed }
              - { bed: cold frame, over: frame }
            plantings:
              - { crop: carrot, bed: top bed, sown: 1 April 2026 }
              - { crop: tomato, bed: top bed, bought: mid July }
            """).At()));
    }

    [Theory]
    [InlineData(4, 10, false)] // 4 of 10 runs: the rule of a tie
    [InlineData(3, 10, true)]
    public void The_runs_decide_around_the_rule_where_the_forecast_is_calm(int gale, int all, bool quiet)
    {
        var agenda = On().Runs(gale, WeatherVariable.Gust, 0, 0, Gusts(25)).RunsAsForecast(all - gale).At();

        Assert.Equal(quiet, AgainstWind(agenda).Length == 0);
        if (!quiet)
            Assert.Equal((0.4, 25), (Tie(agenda).Chance!.Value.Value, Tie(agenda).DecidingValue));
    }

    [Fact]
    public void Missing_gusts_are_judged_by_the_wind_and_else_by_the_last_days()
    {
        var gaps = On().Hourly(WeatherVariable.Gust, _ => double.NaN);
        Assert.Empty(AgainstWind(gaps.At()));
        Assert.Contains(Tie(On().Hourly(WeatherVariable.Gust, _ => double.NaN).Days(WeatherVariable.Wind, 0, 0, _ => 13).At()).Reasons, reason => reason.Code == "unknown-danger");

        Func<LocalDateTime, double> after(double past) => at => at.Date < new LocalDate(2026, 6, 16) ? past : double.NaN;
        Assert.Empty(AgainstWind(On().Hourly(WeatherVariable.Gust, after(8)).Hourly(WeatherVariable.Wind, after(4)).At()));
        Assert.Equal(Standing.Now, Tie(On().Hourly(WeatherVariable.Gust, after(22)).Hourly(WeatherVariable.Wind, after(12)).At()).Standing);
    }

    [Fact]
    public void An_old_forecast_makes_the_advice_careful()
    {
        Assert.Empty(AgainstWind(Gale(19).At()));
        Assert.Contains(Tie(Gale(19).ForecastAgeHours(40).At()).Reasons, reason => reason.Code == "stale-weather");
    }

    [Fact]
    public void A_gale_in_two_days_is_announced_and_no_warning()
    {
        var agenda = On().Days(WeatherVariable.Gust, 2, 2, Gusts(26)).At();

        Assert.Equal(Standing.Soon, Tie(agenda).Standing);
        Assert.Empty(Threats.NewOrWorse(agenda, LastSaid.Nothing));
    }

    [Theory]
    [InlineData(3, Standing.Now)]    // before dawn: no digest comes in time
    [InlineData(8, Standing.Soon)]   // the digest of six and an hour to tie
    [InlineData(15, Standing.Soon)]
    public void In_the_evening_only_what_the_next_digest_is_too_late_for_is_asked_for_now(int hour, Standing standing)
    {
        var agenda = On().Days(WeatherVariable.Gust, 1, 1, Gusts(26, hour, hour + 4)).At("17:00");

        Assert.Equal(standing, Tie(agenda).Standing);
    }

    [Theory]
    [InlineData(22, 0)]
    [InlineData(23.9, 0)]
    [InlineData(24, 1)]
    public void It_is_warned_of_again_only_when_it_is_a_step_stronger(double gust, int warnings)
    {
        var said = LastSaid.Nothing.After(Gale(21).At());
        var evening = Gale(gust).Said(said).At("17:00");

        Assert.Equal(warnings, Threats.NewOrWorse(evening, said).Length);
        if (warnings > 0)
        {
            Assert.Equal(21, Threats.MilderAsTold(Tie(evening), evening, said));
            Assert.Empty(Threats.NewOrWorse(evening, said.After(evening)));
        }
    }

    [Fact]
    public void One_that_the_morning_did_not_know_is_new_and_one_that_went_away_is_called_off_once()
    {
        var calm = LastSaid.Nothing.After(On().At());
        var evening = Gale(24).Said(calm).At("17:00");
        Assert.Single(Threats.NewOrWorse(evening, calm));

        var told = calm.After(evening);
        var later = Gale(12).Said(told).At("19:00");
        var off = Assert.Single(Threats.CalledOff(later, told));
        Assert.Equal("The wind stays lighter, gusts to 43\u00A0km/h at most.", off.Reasons[0].Text);
        Assert.Empty(Threats.CalledOff(Gale(12).Said(told.After(later)).At("20:00"), told.After(later)));
    }

    [Fact]
    public void A_forecast_that_wavers_around_the_number_keeps_what_was_said()
    {
        var said = LastSaid.Nothing.After(On().Runs(4, WeatherVariable.Gust, 0, 0, Gusts(25)).RunsAsForecast(6).At());
        var evening = On().Runs(7, WeatherVariable.Gust, 0, 0, Gusts(25)).RunsAsForecast(13).Said(said).At("17:00");

        Assert.Contains(Tie(evening).Reasons, reason => reason.Code == "kept");
        Assert.Empty(Threats.NewOrWorse(evening, said));
        Assert.Empty(Threats.CalledOff(evening, said));
    }

    [Fact]
    public void A_gale_that_came_is_over_and_not_called_off()
    {
        var said = LastSaid.Nothing.After(On().Days(WeatherVariable.Gust, 0, 0, Gusts(25, 9, 13)).At());

        Assert.Empty(AgainstWind(On().Days(WeatherVariable.Gust, 0, 0, Gusts(25, 9, 13)).Said(said).At("17:00")));
    }

    [Fact]
    public void Ties_hold_a_fortnight_and_what_was_done_today_is_not_asked_again()
    {
        const string Tied = "mill-bank/tomato-top-bed/tie/1";
        Assert.Empty(AgainstWind(Gale(26).Done(Tied, daysAgo: 0).At("19:00")));
        Assert.Empty(AgainstWind(Gale(26).Done(Tied, daysAgo: 10).At()));
        Assert.Equal("mill-bank/tomato-top-bed/tie/2", Tie(Gale(26).Done(Tied, daysAgo: 20).At()).Id);
    }

    [Fact]
    public void A_gardener_with_no_hour_left_is_told_what_to_do_instead()
    {
        var tie = Tie(On().Days(WeatherVariable.Gust, 0, 0, Gusts(26, 13, 18)).At("10:00"));

        Assert.Contains(tie.Reasons, reason => reason.Code == "no-slot");
        Assert.Equal(new LocalTime(12, 0), Scenario.Calendar.TimeOf(tie.ActBy!.Value));
    }

    [Fact]
    public void In_the_middle_of_it_nobody_is_sent_out_without_a_word()
    {
        var tie = Tie(On().Days(WeatherVariable.Gust, 0, 0, Gusts(26, 12, 24)).At("14:00"));

        Assert.Contains(tie.Reasons, reason => reason.Text.Contains("only if it is still quiet", StringComparison.Ordinal));
    }

    [Fact]
    public void A_stronger_gale_never_silences_the_tie()
    {
        foreach (double gust in (double[])[20, 25, 33, 50])
            Assert.Equal(Standing.Now, Tie(Gale(gust).At()).Standing);
    }

    [Fact]
    public void With_nothing_known_at_all_the_advice_is_careful_says_so_and_leaves_hail_to_the_sky()
    {
        var nothing = On(Garden);
        foreach (var variable in (WeatherVariable[])[
            WeatherVariable.Air, WeatherVariable.DewPoint, WeatherVariable.RelativeHumidity, WeatherVariable.CloudCover, WeatherVariable.Wind,
            WeatherVariable.Gust, WeatherVariable.Rain, WeatherVariable.Radiation])
            nothing = nothing.Hourly(variable, _ => double.NaN);

        var jobs = nothing.ForecastAgeHours(60).At().Jobs.Where(job => job.Threat is not null).ToList();

        Assert.Contains(jobs, job => job.Kind == JobKind.Tie);
        Assert.Contains(jobs, job => job.Kind == JobKind.Protect);
        Assert.DoesNotContain(jobs, job => job.Threat!.Danger == Danger.Hail);
        Assert.All(jobs, job => Assert.Contains(job.Reasons, reason => reason.Code == "unknown-danger"));
        Assert.All(jobs, job => Assert.Null(job.DecidingValue));
    }
}

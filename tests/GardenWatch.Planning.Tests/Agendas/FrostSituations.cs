using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What a digest must and must not say on cold nights. Situations of the trade; the weather is invented.</summary>
public class FrostSituations
{
    private const string Tomatoes = """
        beds:
          - { bed: low bed, size: 1.2 m x 2.4 m, frost pocket: 1 °C, cover: light fleece }
        plantings:
          - { crop: tomato, bed: low bed, set out: 5 May 2026 }
        """;

    private const string ToCover = "mill-bank/tomato-low-bed/cover/1";

    private static Scenario ColdNight(double low, double high = 12) =>
        Scenario.On(2026, 5, 7).Plan(Tomatoes).ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(13, 24))
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(low, high));

    private static Job? Cover(Agenda agenda) => agenda.Jobs.SingleOrDefault(job => job.Kind == JobKind.Cover);

    [Fact]
    public void A_cold_clear_night_brings_the_cover_job_first_with_an_hour_to_act_by_and_one_to_undo()
    {
        var agenda = ColdNight(1).At();

        var cover = agenda.Jobs[0];
        Assert.Equal(JobKind.Cover, cover.Kind);
        Assert.Equal(Standing.Now, cover.Standing);
        Assert.True(cover.Protects);
        Assert.Equal(Scenario.Calendar.DateOf(agenda.AsOf), Scenario.Calendar.DateOf(cover.ActBy!.Value));
        Assert.InRange(Scenario.Calendar.TimeOf(cover.ActBy.Value).Hour, 17, 20);
        Assert.Equal(agenda.Date.PlusDays(2), Scenario.Calendar.DateOf(cover.UndoAt!.Value)); // the day between is cool, the next night cold as well
        Assert.NotEmpty(cover.Cautions);
        Assert.Contains("leaves near", cover.Reasons[0].Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Soil_drawn_over_shoots_is_never_taken_off_again()
    {
        Scenario Potatoes() => Scenario.On(2026, 5, 7).Plan("""
            beds:
              - { bed: low bed }
            plantings:
              - { crop: potato, bed: low bed, growing: yes }
            """).ClearAndCalm().Days(WeatherVariable.Air, 0, 1, Scenario.Between(-1, 12));

        var cover = Cover(Potatoes().At())!;
        Assert.Equal("Draw soil over the potato shoots", cover.Name);
        Assert.Null(cover.UndoAt);
        Assert.DoesNotContain(cover.Reasons, reason => reason.Code == "undo");
        Assert.DoesNotContain(Potatoes().Done(cover.Id, daysAgo: 1).At().Jobs, job => job.Kind == JobKind.Uncover);
    }

    [Fact]
    public void A_colder_forecast_never_silences_the_cover()
    {
        foreach (double low in (double[])[2, 0, -3, -8, -20])
            Assert.Equal(Standing.Now, Cover(ColdNight(low).At())?.Standing);
    }

    [Fact]
    public void Two_cold_nights_are_one_job_that_names_both()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan(Tomatoes).ClearAndCalm().Days(WeatherVariable.Air, 0, 2, Scenario.Between(-1, 11)).At();

        var cover = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Cover);
        Assert.Contains(cover.Reasons, reason => reason.Code == "more-nights");
    }

    [Fact]
    public void A_mild_night_brings_no_cover() => Assert.Null(Cover(Scenario.On(2026, 5, 7).Plan(Tomatoes).At()));

    [Fact]
    public void The_same_low_under_cloud_and_wind_leaves_the_leaf_nearer_to_the_air()
    {
        var clear = ColdNight(3).At();
        var clouded = ColdNight(3).Hourly(WeatherVariable.CloudCover, _ => 100).Hourly(WeatherVariable.Wind, _ => 6)
            .Hourly(WeatherVariable.DewPoint, _ => 2).Hourly(WeatherVariable.RelativeHumidity, _ => 90).At();

        double clearLow = clear.Week[0].LeafLowC!.Value, cloudedLow = clouded.Week[0].LeafLowC!.Value;
        Assert.True(clearLow < cloudedLow - 1.5, $"clear {clearLow:0.0}, clouded {cloudedLow:0.0}");
        Assert.True(Cover(clear) is { Standing: Standing.Now });
    }

    [Fact]
    public void A_night_that_the_forecast_leaves_open_after_a_cold_spell_is_covered_for_with_the_reason()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan(Tomatoes)
            .Days(WeatherVariable.Air, -6, 0, Scenario.Between(4, 13))
            .Days(WeatherVariable.Air, 0, 16, at => at.Date > new NodaTime.LocalDate(2026, 5, 7) || at.Hour >= 20 ? double.NaN : 10)
            .ForecastAgeHours(40).At();

        var cover = Cover(agenda);
        Assert.Equal(Standing.Now, cover?.Standing);
        Assert.Contains(cover!.Reasons, reason => reason.Code == "unknown-night");
        Assert.Contains(cover.Reasons, reason => reason.Code == "stale-weather");
    }

    [Fact]
    public void An_old_forecast_makes_the_advice_cautious()
    {
        // Leaf a little over the limit: not covered for on a fresh forecast, covered for on an old one.
        double low = 20;
        while (low > -5 && Cover(ColdNight(low, 15).At()) is null)
            low -= 0.5;
        double justMild = low + 1;

        Assert.Null(Cover(ColdNight(justMild, 15).At()));
        Assert.NotNull(Cover(ColdNight(justMild, 15).ForecastAgeHours(40).At()));
    }

    [Fact]
    public void A_frost_two_nights_off_is_announced_and_not_yet_asked_for()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan(Tomatoes).ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(13, 24))
            .Days(WeatherVariable.Air, 3, 3, Scenario.Between(-1, 12)).At();

        Assert.Equal(Standing.Soon, Cover(agenda)?.Standing);
    }

    [Fact]
    public void Done_for_tonight_is_not_asked_again_and_comes_off_in_the_morning()
    {
        Assert.Null(Cover(ColdNight(1).Done(ToCover, daysAgo: 0).At("19:00")));

        var next = Scenario.On(2026, 5, 8).Plan(Tomatoes).Hourly(WeatherVariable.Air, Scenario.Between(8, 20)).Done(ToCover, daysAgo: 1).At();
        var uncover = Assert.Single(next.Jobs, job => job.Kind == JobKind.Uncover);
        Assert.Equal("Uncover the tomatoes", uncover.Name);
    }

    [Fact]
    public void Between_two_cold_nights_with_a_cool_day_the_cover_stays_on()
    {
        var agenda = ColdNight(0, 9).Done(ToCover, daysAgo: 1).At();

        Assert.DoesNotContain(agenda.Jobs, job => job.Kind == JobKind.Uncover);
        Assert.Contains(Cover(agenda)!.Reasons, reason => reason.Code == "stays-on");
    }

    [Fact]
    public void A_gardener_who_is_only_there_early_is_told_what_to_do_instead()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan(Tomatoes, hours: "{ weekdays: 06:00-07:30, weekends: 06:00-07:30 }").ClearAndCalm()
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(0, 12)).At();

        var cover = Cover(agenda)!;
        Assert.Contains(cover.Reasons, reason => reason.Code == "no-slot");
        Assert.InRange(Scenario.Calendar.TimeOf(cover.ActBy!.Value).Hour, 6, 7);
    }

    [Fact]
    public void The_undo_hour_is_never_after_the_gardener_has_left_for_a_hot_day()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan(Tomatoes).ClearAndCalm().Days(WeatherVariable.Air, 0, 1, Scenario.Between(0, 22)).At();

        var undo = Scenario.Calendar.TimeOf(Cover(agenda)!.UndoAt!.Value);
        Assert.True(undo <= new NodaTime.LocalTime(7, 30), $"undo at {undo}");
    }

    [Fact]
    public void Hardy_plants_and_windowsills_are_left_in_peace()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan("""
            beds:
              - { bed: long bed }
              - { bed: sill, over: windowsill }
            plantings:
              - { crop: garlic, bed: long bed, growing: yes }
              - { crop: basil, bed: sill, growing: yes }
            """).ClearAndCalm().Days(WeatherVariable.Air, 0, 1, Scenario.Between(-1, 11)).At();

        Assert.DoesNotContain(agenda.Jobs, job => job.Kind == JobKind.Cover);
    }

    [Fact]
    public void Batches_of_one_planting_are_covered_by_one_job_and_no_two_jobs_share_an_id()
    {
        var agenda = Scenario.On(2026, 5, 7).Plan("""
            beds:
              - { bed: long bed }
            plantings:
              - { crop: snap bean, bed: long bed, sowings: every 10 days }
              - { crop: tomato, bed: long bed, set out: 1 May 2026 }
            """).ClearAndCalm().Days(WeatherVariable.Air, 0, 1, Scenario.Between(-1, 11))
            .Done("mill-bank/snap-bean-long-bed/sow/1", daysAgo: 30)
            .Done("mill-bank/snap-bean-long-bed/sow/2", daysAgo: 20)
            .Done("mill-bank/snap-bean-long-bed/sow/3", daysAgo: 9).At();

        Assert.Equal(["snap-bean-long-bed", "tomato-long-bed"], agenda.Jobs.Where(job => job.Kind == JobKind.Cover).Select(job => job.SubjectId).Order());
        Assert.Equal(agenda.Jobs.Length, agenda.Jobs.DistinctBy(job => job.Id).Count());
    }

    [Fact]
    public void The_evening_warns_only_of_what_is_new_or_a_degree_worse()
    {
        var morning = ColdNight(1).At();
        var said = LastSaid.Nothing.After(morning);

        Assert.Empty(Threats.NewOrWorse(ColdNight(1).At("17:00"), said));
        Assert.Empty(Threats.NewOrWorse(ColdNight(0.6).At("17:00"), said));
        Assert.Single(Threats.NewOrWorse(ColdNight(-2).At("17:00"), said));
        Assert.Single(Threats.NewOrWorse(ColdNight(1).At("17:00"), LastSaid.Nothing));
    }
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>Spreading ahead of rain, setting out and sowing into warm ground. The weather is invented.</summary>
public class RainAndSoilSituations
{
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
              - rain peak next 24 hours at most {washout: 8 mm/h}
            otherwise: after 4 days, water in with 10 mm by hand
            then: { look for: leaf colour, after: 10 days }
            caution: product label
        """;

    private const string Spread = "mill-bank/spread-granular-fertiliser-low-bed/spread/1";

    private static Job Spreading(Agenda agenda) => Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Spread);

    private static Scenario Rain(int day, int fromHour, int hours, double mmPerHour) =>
        Scenario.On(2026, 6, 10).Plan(Feeding)
            .Days(WeatherVariable.Rain, day, day, at => at.Hour > fromHour && at.Hour <= fromHour + hours ? mmPerHour : 0);

    [Fact]
    public void Gentle_rain_after_the_slot_is_spread_for_before_work()
    {
        var job = Spreading(Rain(day: 0, fromHour: 13, hours: 5, mmPerHour: 1.8).At());

        Assert.Equal(Standing.Now, job.Standing);
        Assert.Equal(new LocalTime(7, 30), Scenario.Calendar.TimeOf(job.Best!.Value.Until));
        Assert.Equal(job.Best.Value.Until, job.ActBy);
        Assert.Contains(job.Reasons, reason => reason.Text.Contains("9\u00A0mm", StringComparison.Ordinal));
        Assert.Contains(job.Cautions, caution => caution.Contains("label", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(6, 7.0)] // 42 mm: too much, though no hour is a washout
    [InlineData(1, 12.0)] // 12 mm in one hour: enough, but it washes off
    public void A_downpour_makes_granules_wait_and_offers_no_watering_by_hand(int hours, double mmPerHour)
    {
        var job = Spreading(Rain(day: 0, fromHour: 12, hours, mmPerHour).SaidFirst(Spread, daysAgo: 9).At());

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.DoesNotContain(job.Reasons, reason => reason.Code == "by-hand");
        Assert.Contains(job.Needs, need => need.Holds == false);
    }

    [Fact]
    public void No_rain_in_sight_for_days_turns_into_watering_in_by_hand_with_litres()
    {
        var waited = Spreading(Scenario.On(2026, 6, 10).Plan(Feeding).SaidFirst(Spread, daysAgo: 4).At());
        Assert.Equal(Standing.Now, waited.Standing);
        Assert.Contains("40\u00A0litres", Assert.Single(waited.Reasons).Text, StringComparison.Ordinal);

        var fresh = Spreading(Scenario.On(2026, 6, 10).Plan(Feeding).At());
        Assert.Equal(Standing.Waiting, fresh.Standing);
    }

    [Fact]
    public void Rain_on_another_day_is_on_the_way()
    {
        // The 13th of June 2026 is a Saturday: rain at noon, so Friday evening or Saturday morning.
        var job = Spreading(Rain(day: 3, fromHour: 12, hours: 6, mmPerHour: 1.5).At());

        Assert.Equal(Standing.Soon, job.Standing);
        Assert.InRange(Scenario.Calendar.DateOf(job.Best!.Value.From), new(2026, 6, 12), new(2026, 6, 13));
    }

    [Fact]
    public void Spreading_is_asked_again_six_weeks_after_it_was_done_and_looked_after_ten_days()
    {
        Assert.DoesNotContain(Rain(0, 13, 5, 1.8).Done(Spread, daysAgo: 20).At().Jobs, job => job.Kind == JobKind.Spread);

        var look = Assert.Single(Rain(0, 13, 5, 1.8).Done(Spread, daysAgo: 10).At().Jobs);
        Assert.Equal(JobKind.Look, look.Kind);

        var again = Spreading(Rain(0, 13, 5, 1.8).Done(Spread, daysAgo: 42).At());
        Assert.EndsWith("/spread/2", again.Id, StringComparison.Ordinal);
    }

    [Fact]
    public void An_old_forecast_withholds_spreading_by_name()
    {
        var agenda = Rain(0, 13, 5, 1.8).ForecastAgeHours(40).At();

        Assert.Equal(Standing.Waiting, Spreading(agenda).Standing);
        Assert.Contains(agenda.Notes, note => note.Contains("Spread granular fertiliser (low bed)", StringComparison.Ordinal));
    }

    private const string SquashAndRadish = """
        beds:
          - { bed: long bed, soil: loam }
        plantings:
          - { crop: winter squash, bed: long bed, bought: 1 May 2026 }
          - { crop: radish, bed: long bed, sowings: every 10 days until too warm }
        """;

    private static Job SetOut(Agenda agenda) => Assert.Single(agenda.Jobs, job => job.Kind == JobKind.SetOut);

    private static Scenario Nights(double low, double high) =>
        Scenario.On(2026, 5, 20).Plan(SquashAndRadish).Hourly(WeatherVariable.Air, Scenario.Between(low, high));

    [Fact]
    public void Warm_soil_and_warm_nights_set_the_squash_out()
    {
        var job = SetOut(Nights(17, 30).At());
        Assert.Equal(Standing.Now, job.Standing);
        Assert.All(job.Needs, need => Assert.True(need.Holds));
    }

    [Fact]
    public void Warm_soil_and_a_cold_week_wait_for_the_nights()
    {
        var agenda = Nights(17, 30).Days(WeatherVariable.Air, 0, 16, Scenario.Between(5, 24)).At();
        var job = SetOut(agenda);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.True(Assert.Single(job.Needs, need => need.Condition.StartsWith("soil", StringComparison.Ordinal)).Holds);
        Assert.False(Assert.Single(job.Needs, need => need.Condition.StartsWith("air low", StringComparison.Ordinal)).Holds);
    }

    [Fact]
    public void Warm_nights_over_cold_soil_wait_for_the_soil()
    {
        var agenda = Nights(2, 12).Days(WeatherVariable.Air, 0, 16, Scenario.Between(10, 14)).At();
        var job = SetOut(agenda);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.False(Assert.Single(job.Needs, need => need.Condition.StartsWith("soil", StringComparison.Ordinal)).Holds);
        Assert.True(Assert.Single(job.Needs, need => need.Condition.StartsWith("air low", StringComparison.Ordinal)).Holds);
    }

    [Fact]
    public void A_batch_done_brings_the_next_ten_days_later_and_the_heat_ends_them()
    {
        const string First = "mill-bank/radish-long-bed/sow/1";
        Job? Sow(Scenario scenario) => scenario.At().Jobs.SingleOrDefault(job => job.Kind == JobKind.Sow);

        Assert.Equal(Standing.Now, Sow(Nights(8, 17))?.Standing);
        Assert.Null(Sow(Nights(8, 17).Done(First, daysAgo: 1)));
        var second = Sow(Nights(8, 17).Done(First, daysAgo: 10));
        Assert.Equal("mill-bank/radish-long-bed/sow/2", second?.Id);
        Assert.Equal(Standing.Missed, Sow(Nights(18, 32))?.Standing);
    }

    [Fact]
    public void The_same_input_gives_the_same_agenda()
    {
        var (a, b) = (Nights(8, 17).At(), Nights(8, 17).At());
        Assert.Equal(a.Jobs.Select(job => job.Id), b.Jobs.Select(job => job.Id));
        Assert.Equal(a.Jobs.SelectMany(job => job.Reasons).Select(reason => reason.Text), b.Jobs.SelectMany(job => job.Reasons).Select(reason => reason.Text));
    }

    [Fact]
    public void Put_off_jobs_stay_silent_until_their_day()
    {
        const string First = "mill-bank/radish-long-bed/sow/1";
        var journal = GardenWatch.Planning.Journals.Journal.AsOf(
            [new(GardenWatch.Planning.Journals.EntryKind.Later, new(2026, 5, 20), Instant.FromUtc(2026, 5, 20, 10, 0), First, null, new(2026, 5, 23), null)],
            Instant.FromUtc(2026, 5, 21, 10, 0));
        Assert.Equal(new LocalDate(2026, 5, 23), journal.PutOffUntil("radish-long-bed", JobKind.Sow, 1));
    }
}

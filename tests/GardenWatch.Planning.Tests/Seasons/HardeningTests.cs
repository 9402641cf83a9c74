using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>From the sill to the bed: started in time, hardened day by day as the weather lets, then set out.</summary>
public class HardeningTests
{
    private const string Tomatoes = "  - { crop: tomato, bed: low bed, start: sill, id: tomato }";

    private static SeasonPlayer Started(LocalDate on)
    {
        var garden = StageTests.Garden(Tomatoes, on.PlusDays(-30));
        garden.Record(StageTests.Done(on, "tomato/start-indoors/1"));
        return garden;
    }

    [Fact]
    public void Seed_is_started_counted_back_from_when_its_bed_is_likely_fit()
    {
        var agenda = StageTests.Look(StageTests.Garden(Tomatoes, new(2023, 2, 1)), new(2023, 2, 1));
        var tomato = Assert.Single(agenda.Ahead);
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.StartIndoors);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Reasons, reason => reason.Code == "counted-back" && reason.Text.EndsWith("they take 5 to 6 weeks.", StringComparison.Ordinal));
        Assert.DoesNotContain(agenda.Jobs, job => job.Kind == JobKind.SetOut);
        // 5 to 6 weeks before the middle of the likely days (Ernest, Univ. of Delaware).
        Assert.Equal(7, Period.DaysBetween(tomato.SowLikely!.Start, tomato.SowLikely.End));
    }

    [Fact]
    public void A_gardeners_own_start_date_is_kept()
    {
        var agenda = StageTests.Look(StageTests.Garden("  - { crop: tomato, bed: low bed, start: sill, tune: { start indoors: { start: 60 days } } }", new(2023, 2, 1)), new(2023, 2, 1));
        var job = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.StartIndoors);

        Assert.DoesNotContain(job.Reasons, reason => reason.Code == "counted-back");
        Assert.Contains(job.Needs, need => need.Condition.Contains("last spring frost", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_morning_says_how_long_and_where_and_a_lost_day_costs_nothing()
    {
        var garden = Started(new(2023, 4, 28));
        var days = garden.Play(new(2023, 4, 29), new(2023, 7, 1), (_, job) => job.Kind == JobKind.HardenOff ? EntryKind.Done : null).ToList();
        var hardening = days.SelectMany(day => day.Agenda.Jobs.Where(job => job.Kind == JobKind.HardenOff && job.Standing == Standing.Now).Select(job => (day.Date, Job: job))).ToList();

        // The profile's seven days (Univ. of Maryland Extension), one job each.
        Assert.Equal(7, hardening.Count);
        Assert.Equal(7, hardening.Select(each => each.Job.Id).Distinct().Count());
        Assert.Contains("About 1\u00A0hour outdoors, in the shade, out of the wind; in again before dark", hardening[0].Job.How, StringComparison.Ordinal);
        Assert.Contains("About 4\u00A0hours outdoors", hardening[2].Job.How, StringComparison.Ordinal);
        Assert.Contains("The whole day outdoors, where they will stand", hardening[6].Job.How, StringComparison.Ordinal);
        Assert.EndsWith(", day 7", hardening[6].Job.Name, StringComparison.Ordinal);
        Assert.Contains(days, day => day.Agenda.Sowings.Any(sowing => sowing.Stage == "hardening"));
    }

    [Fact]
    public void Setting_out_waits_until_they_are_hardened()
    {
        var garden = Started(new(2023, 4, 28));
        var days = garden.Play(new(2023, 4, 29), new(2023, 8, 1), (date, job) => job.Kind == JobKind.HardenOff && date >= new LocalDate(2023, 6, 20) ? EntryKind.Done : null).ToList();
        var waiting = days.Where(day => day.Agenda.Jobs.Any(job => job.Kind == JobKind.SetOut && job.Needs.Any(need => need.Condition == "hardened"))).ToList();

        Assert.NotEmpty(waiting);
        Assert.All(waiting, day => Assert.NotEqual(Standing.Now, day.Agenda.Jobs.Single(job => job.Kind == JobKind.SetOut).Standing));
        Assert.Contains(days, day => day.Date > waiting[^1].Date && day.Agenda.Jobs.Any(job => job is { Kind: JobKind.SetOut, Standing: Standing.Now }));
    }

    [Fact]
    public void A_gardener_who_records_no_hardening_is_still_told_when_the_bed_is_fit()
    {
        var days = Started(new(2023, 4, 28)).Play(new(2023, 4, 29), new(2023, 8, 1), (_, _) => null).ToList();

        Assert.Contains(days, day => day.Agenda.Jobs.Any(job => job is { Kind: JobKind.SetOut, Standing: Standing.Now }
            && job.Reasons.Any(reason => reason.Code == "hardening-unknown")));
    }

    [Fact]
    public void Days_on_which_the_gardener_said_nothing_count_when_the_weather_let_them_out()
    {
        var garden = Started(new(2023, 4, 28));
        bool first = true;
        var days = garden.Play(new(2023, 4, 29), new(2023, 7, 1), (_, job) => job.Kind == JobKind.HardenOff && first && !(first = false) ? EntryKind.Done : null).ToList();
        int last = days.SelectMany(day => day.Agenda.Jobs).Where(job => job.Kind == JobKind.HardenOff).Select(job => int.Parse(job.Id.Split('/')[^1], System.Globalization.CultureInfo.InvariantCulture) / 100).Max();

        Assert.Equal(6, last); // the seventh day is the seventh job; then it is hardened
    }

    [Fact]
    public void Bought_plants_need_no_hardening()
    {
        var garden = StageTests.Garden("  - { crop: tomato, bed: low bed, bought: mid May }", new(2023, 4, 1));
        var days = garden.Play(new(2023, 5, 1), new(2023, 7, 1), (_, _) => null).ToList();

        Assert.DoesNotContain(days, day => day.Agenda.Jobs.Any(job => job.Kind == JobKind.HardenOff));
        Assert.Contains(days, day => day.Agenda.Jobs.Any(job => job is { Kind: JobKind.SetOut, Standing: Standing.Now }));
    }

    [Fact]
    public void Seed_that_was_not_started_in_time_becomes_plants_to_buy()
    {
        var days = StageTests.Garden(Tomatoes, new(2023, 2, 1)).Play(new(2023, 2, 1), new(2023, 8, 1), (_, _) => null).ToList();

        Assert.Contains(days, day => day.Agenda.Jobs.Any(job => job is { Kind: JobKind.SetOut, Standing: Standing.Now }
            && job.Reasons.Any(reason => reason.Text == "Too late to raise them from seed: buy young plants.")));
    }
}

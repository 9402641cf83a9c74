using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>Batches to come: by days or by warmth, counted back from heat, frost and what follows; shortened, never piled up.</summary>
public class SuccessionTests
{
    [Fact]
    public void All_batches_are_known_ahead_with_their_dates()
    {
        var ahead = StageTests.Look(StageTests.Garden("  - { crop: lettuce, bed: low bed, sowings: 3 every 2 weeks }", new(2023, 2, 1)), new(2023, 2, 1)).Ahead;

        Assert.Equal(3, ahead.Length);
        Assert.All(ahead, batch => Assert.True(batch.SowLikely is not null && batch.Harvest is not null));
        Assert.Equal([14, 14], ahead.Zip(ahead.Skip(1), (one, next) => Period.DaysBetween(one.SowLikely!.Start, next.SowLikely!.Start)));
    }

    [Fact]
    public void For_even_harvests_the_gaps_are_long_in_the_cool_and_short_in_the_warm()
    {
        var ahead = StageTests.Look(StageTests.Garden("  - { crop: lettuce, bed: low bed, sowings: 4 every 10 days for even harvests }", new(2023, 2, 1)), new(2023, 2, 1)).Ahead;
        int[] gaps = [.. ahead.Zip(ahead.Skip(1), (one, next) => Period.DaysBetween(one.SowLikely!.Start, next.SowLikely!.Start))];

        Assert.Equal(3, gaps.Length);
        Assert.True(gaps[0] >= gaps[1] && gaps[1] >= gaps[2] && gaps[0] > 10, string.Join(", ", gaps));
    }

    [Fact]
    public void The_list_ends_before_the_heat_and_the_last_batch_is_named()
    {
        var hot = new SyntheticYears(45, 2019, 5, seed: 3, meanC: 14, swingC: 11);
        var garden = SeasonPlayer.Of("""
            beds: [ { bed: low bed } ]
            plantings:
              - { crop: radish, bed: low bed, sowings: every 10 days until too warm }
            """, new(2023, 1, 10), hot, hot.Climate(new(2019, 1, 1), new(2023, 1, 1)));
        var ahead = garden.AgendaAt(hot.Calendar.At(new(2023, 1, 10), new LocalTime(6, 0)), LastSaid.Nothing).Ahead;

        Assert.InRange(ahead.Length, 3, 11);
        Assert.True(ahead[^1].SowLikely!.Start < new LocalDate(2023, 6, 1), ahead[^1].Sentence);
        Assert.True(ahead[^1].IsLast);
        Assert.Contains("the last one here: in the heat it runs to seed from about ", ahead[^1].Sentence, StringComparison.Ordinal);
        Assert.All(ahead.SkipLast(1), batch => Assert.False(batch.IsLast));
    }

    [Fact]
    public void A_late_start_shortens_the_list()
    {
        int Batches(LocalDate firstRead) => StageTests.Look(StageTests.Garden("  - { crop: snap bean, bed: low bed, sowings: every 2 weeks }", firstRead), firstRead).Ahead.Length;

        int early = Batches(new(2023, 5, 1)), late = Batches(new(2023, 7, 1));
        Assert.True(late < early && late > 0, $"{early} from May on, {late} from July on");
    }

    [Fact]
    public void The_last_batch_is_ready_before_the_first_autumn_frost()
    {
        var ahead = StageTests.Look(StageTests.Garden("  - { crop: snap bean, bed: low bed, sowings: every 2 weeks }", new(2023, 5, 1)), new(2023, 5, 1)).Ahead;
        var frost = StageTests.Place.Value.Climate.Frosts.First(frost => frost is { OfLeaf: false, ThresholdC: 0 }).FirstOfAutumn;

        Assert.True(ahead[^1].Harvest!.Start < frost.DateIn(2023, frost.MiddleDay));
    }

    [Theory] // sow-last-radish, sow-winter-spinach, sow-asian-late; weeks before the first frost: succession interval charts of the seed trade
    [InlineData("radish", 4)]
    [InlineData("arugula", 4)]
    [InlineData("spinach", 2)]
    [InlineData("pak choi", 6)]
    [InlineData("lettuce", 8)]
    public void The_last_useful_sowing_is_counted_in_weeks_from_the_first_frost_and_says_so(string crop, int weeks)
    {
        var climate = StageTests.Place.Value.Climate;
        var first = climate.Frosts.First(frost => frost is { OfLeaf: false, ThresholdC: 0 }).FirstOfAutumn;
        var last = first.DateIn(2023, first.MiddleDay)!.Value.PlusWeeks(-weeks);
        var begun = last.PlusDays(-25);
        var ahead = StageTests.Look(StageTests.Garden($"  - {{ crop: {crop}, bed: low bed, sowings: every 10 days }}", begun), begun).Ahead;

        Assert.NotEmpty(ahead);
        Assert.All(ahead, batch => Assert.True(batch.SowLikely!.Start <= last, batch.Sentence));
        Assert.Contains($"{weeks}\u00A0weeks before the usual first frost", ahead.Single(batch => batch.IsLast).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_batch_that_follows_another_crop_is_the_last_so_that_this_one_is_not_late()
    {
        var agenda = StageTests.Look(StageTests.Garden("""
              - { crop: radish, bed: kitchen bed, sowings: every 10 days until too warm }
              - { crop: winter squash, bed: kitchen bed, start: sill, after: radish }
            """, new(2023, 2, 1)), new(2023, 2, 1));
        var last = Assert.Single(agenda.Ahead, batch => batch.IsLast);

        Assert.Equal("radish", last.Crop);
        Assert.Contains("the winter squash want the bed", last.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Who_is_silent_for_a_month_is_asked_for_one_batch_not_for_four()
    {
        var garden = StageTests.Garden("  - { crop: radish, bed: low bed, id: radish, sowings: every 10 days until too warm }", new(2023, 4, 1));
        var days = garden.Play(new(2023, 4, 1), new(2023, 5, 20), (date, _) => date < new LocalDate(2023, 4, 15) || date > new LocalDate(2023, 5, 15) ? EntryKind.Done : null).ToList();

        Assert.All(days, day => Assert.True(day.Agenda.Jobs.Count(job => job.Kind == JobKind.Sow) <= 1));
        var dropped = days.SelectMany(day => day.Agenda.Sowings).Where(sowing => sowing.Stage == "dropped").DistinctBy(sowing => sowing.Id).ToList();
        Assert.InRange(dropped.Count, 1, 3);
        Assert.All(dropped, sowing => Assert.Contains("takes its place", sowing.Sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void A_batch_that_is_skipped_is_not_asked_for_again_and_the_next_comes_in_its_time()
    {
        var garden = StageTests.Garden("  - { crop: radish, bed: low bed, id: radish, sowings: every 10 days until too warm }", new(2023, 4, 10));
        garden.Record(StageTests.Done(new(2023, 4, 20), "radish/sow/1", EntryKind.Skip));
        var agenda = StageTests.Look(garden, new(2023, 5, 1));

        Assert.Equal("long-acre/radish/sow/2", Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Sow).Id);
    }

    [Fact]
    public void One_single_sowing_waits_for_its_season_and_is_missed_only_after_it()
    {
        var garden = StageTests.Garden("  - { crop: winter squash, bed: low bed, id: squash }", new(2023, 4, 1));
        var days = garden.Play(new(2023, 4, 1), new(2023, 10, 1), (_, _) => null).ToList();

        var missed = days.First(day => day.Agenda.Sowings.Any(sowing => sowing.Stage == "missed"));
        Assert.InRange(missed.Date, new LocalDate(2023, 7, 1), new LocalDate(2023, 9, 10));
        Assert.Contains("too little of the season is left", missed.Agenda.Sowings[0].Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(days.Where(day => day.Date > missed.Date), day => day.Agenda.Jobs.Any(job => job.Kind == JobKind.Sow));
    }
}

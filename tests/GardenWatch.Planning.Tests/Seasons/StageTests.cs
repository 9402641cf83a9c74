using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>Stages by the record, else by the plan, else as expected; ranges that narrow.</summary>
public class StageTests
{
    internal static readonly Lazy<(SyntheticYears Weather, ClimateSummary Climate)> Place = new(() =>
    {
        var years = new SyntheticYears(50, 2015, 9, seed: 7, meanC: 10, swingC: 9.5);
        return (years, years.Climate(new(2015, 1, 1), new(2023, 1, 1)));
    });

    internal static SeasonPlayer Garden(string plantings, LocalDate firstRead, bool withClimate = true) => SeasonPlayer.Of("""
        beds:
          - { bed: kitchen bed, size: 1 m x 3 m }
          - { bed: low bed }
          - { bed: sill, over: windowsill }
        plantings:

        """ + plantings, firstRead, Place.Value.Weather, withClimate ? Place.Value.Climate : null);

    internal static Agenda Look(SeasonPlayer garden, LocalDate date, LastSaid? said = null) =>
        garden.AgendaAt(Place.Value.Weather.Calendar.At(date, new LocalTime(6, 0)), said ?? LastSaid.Nothing);

    internal static JournalEntry Done(LocalDate date, string job, EntryKind kind = EntryKind.Done) =>
        new(kind, date, Place.Value.Weather.Calendar.At(date, new LocalTime(18, 0)), $"long-acre/{job}", null, null, null);

    private static SowingOutlook TheOne(SeasonPlayer garden, LocalDate date) => Assert.Single(Look(garden, date).Sowings);

    [Fact]
    public void Each_stage_is_dated_by_the_record()
    {
        var garden = Garden("  - { crop: carrot, bed: low bed, id: carrot }", new(2023, 4, 1));
        garden.Record(Done(new(2023, 4, 10), "carrot/sow/1"));
        Assert.Equal(("sown", Evidence.Seen), (TheOne(garden, new(2023, 4, 15)).Stage, TheOne(garden, new(2023, 4, 15)).By));

        garden.Record(Done(new(2023, 5, 10), "carrot/thin/1"));
        Assert.Equal(("up", Evidence.Seen), (TheOne(garden, new(2023, 5, 11)).Stage, TheOne(garden, new(2023, 5, 11)).By));

        garden.Record(new(EntryKind.Note, new(2023, 6, 1), Place.Value.Weather.Calendar.At(new(2023, 6, 1), new LocalTime(18, 0)), null, "carrot", null, "carrots picked clean by hares"));
        Assert.Equal("up", TheOne(garden, new(2023, 6, 2)).Stage); // a note is no picking

        garden.Record(new(EntryKind.Picked, new(2023, 6, 20), Place.Value.Weather.Calendar.At(new(2023, 6, 20), new LocalTime(18, 0)), null, "carrot", null, "a bunch"));
        Assert.Equal(("bearing", Evidence.Seen), (TheOne(garden, new(2023, 6, 21)).Stage, TheOne(garden, new(2023, 6, 21)).By));
        Assert.Contains("picked since 20 June", TheOne(garden, new(2023, 6, 21)).Sentence, StringComparison.Ordinal);

        garden.Record(Done(new(2023, 7, 20), "carrot/clear/1"));
        Assert.Equal(("finished", Evidence.Seen), (TheOne(garden, new(2023, 7, 21)).Stage, TheOne(garden, new(2023, 7, 21)).By));
        Assert.Empty(Look(garden, new(2023, 8, 20)).Sowings);
    }

    [Fact]
    public void What_nobody_has_seen_is_marked_as_expected()
    {
        var garden = Garden("  - { crop: radish, bed: low bed, id: radish }", new(2023, 4, 1));
        garden.Record(Done(new(2023, 4, 20), "radish/sow/1"));

        var sown = TheOne(garden, new(2023, 4, 22));
        Assert.Equal(("sown", "up"), (sown.Stage, sown.NextStage));
        var up = TheOne(garden, sown.Next!.End.PlusDays(1));
        Assert.Equal(("up", Evidence.Expected), (up.Stage, up.By));
        Assert.Contains("if all went well", up.Sentence, StringComparison.Ordinal);
        var bearing = TheOne(garden, up.Harvest!.End.PlusDays(1));
        Assert.Equal(("bearing", Evidence.Expected), (bearing.Stage, bearing.By));
        var over = TheOne(garden, bearing.Over!.End.PlusDays(1));
        Assert.Equal(("finished", Evidence.Expected), (over.Stage, over.By));
    }

    [Fact]
    public void Emergence_comes_sooner_in_warm_soil_and_its_range_narrows()
    {
        DateInterval UpOf(LocalDate sown, LocalDate look)
        {
            var garden = Garden("  - { crop: radish, bed: low bed, id: radish }", sown);
            garden.Record(Done(sown, "radish/sow/1"));
            return TheOne(garden, look).Next!;
        }
        var cold = UpOf(new(2023, 3, 20), new(2023, 3, 21));
        var warm = UpOf(new(2023, 6, 20), new(2023, 6, 21));

        // Harrington and Minges 1954: 29 days at 5 °C, 11 at 10, 4 at 20.
        Assert.InRange(Period.DaysBetween(new(2023, 3, 20), cold.Start), 12, 29);
        Assert.InRange(Period.DaysBetween(new(2023, 6, 20), warm.Start), 3, 6);
    }

    [Fact]
    public void First_pickings_by_warmth_narrow_as_the_season_goes_on()
    {
        var garden = Garden("  - { crop: snap bean, bed: low bed, id: bean }\n  - { crop: potato, bed: kitchen bed, id: potato }", new(2023, 4, 1));
        garden.Record(Done(new(2023, 4, 20), "potato/sow/1"));
        DateInterval Warm(LocalDate date) => Look(garden, date).Sowings.Single(sowing => sowing.Crop == "potato").Harvest!;

        int early = Warm(new(2023, 4, 21)).Length, later = Warm(new(2023, 7, 20)).Length;
        Assert.True(later < early, $"{early} days of range in April, {later} in July");
    }

    [Fact]
    public void Warmth_and_packet_are_both_told_where_they_disagree()
    {
        var garden = Garden("  - { crop: carrot, bed: low bed, id: carrot }", new(2023, 4, 1));
        garden.Record(Done(new(2023, 4, 10), "carrot/sow/1"));
        string sentence = TheOne(garden, new(2023, 4, 20)).Sentence;

        Assert.Contains("by warmth", sentence, StringComparison.Ordinal);
        Assert.Contains("by the packet", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_past_years_only_the_packet_speaks()
    {
        var garden = Garden("  - { crop: carrot, bed: low bed, id: carrot }", new(2023, 4, 1), withClimate: false);
        garden.Record(Done(new(2023, 4, 10), "carrot/sow/1"));
        string sentence = TheOne(garden, new(2023, 4, 20)).Sentence;

        Assert.DoesNotContain("by warmth", sentence, StringComparison.Ordinal);
        Assert.Contains("by the packet", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void On_a_first_day_in_June_what_the_plan_says_grows_is_assumed_and_asked_about_once()
    {
        var garden = Garden("""
              - { crop: tomato, bed: low bed, set out: mid May, id: tomato }
              - { crop: garlic, bed: kitchen bed, growing: yes, id: garlic }
              - { crop: lettuce, bed: kitchen bed, sown: early May, id: lettuce }
            """, new(2023, 6, 10));
        var first = Look(garden, new(2023, 6, 10));

        Assert.Equal(["set out", "growing", "up"], first.Sowings.Select(sowing => sowing.Stage));
        string note = Assert.Single(first.Notes, note => note.StartsWith("Taken from the plan", StringComparison.Ordinal));
        Assert.Contains("tomatoes (low bed) set out about 15 May", note, StringComparison.Ordinal);
        Assert.DoesNotContain(first.Jobs, job => job.Kind is JobKind.Sow or JobKind.SetOut or JobKind.StartIndoors);
        Assert.Empty(Look(garden, new(2023, 6, 11), LastSaid.Nothing.After(first)).Notes);
    }

    [Fact]
    public void What_is_too_late_this_year_waits_for_the_next_and_says_so_once()
    {
        var garden = Garden("  - { crop: winter squash, bed: low bed, id: squash }", new(2023, 9, 10));
        var first = Look(garden, new(2023, 9, 10));

        Assert.Empty(first.Jobs);
        Assert.Contains("winter squash (low bed)", Assert.Single(first.Notes), StringComparison.Ordinal);
        Assert.Equal(2024, Assert.Single(first.Ahead).SowLikely!.Start.Year);
        Assert.Empty(Look(garden, new(2023, 9, 12)).Notes);
    }

    [Fact]
    public void Seed_that_was_saved_keeps_the_batch_for_seed()
    {
        var garden = Garden("  - { crop: lettuce, bed: low bed, sown: 20 May 2023, id: lettuce }", new(2023, 6, 1));
        garden.Record(Done(new(2023, 9, 20), "lettuce/save-seed/1"));
        Assert.Equal("kept for seed", TheOne(garden, new(2023, 9, 21)).Stage);
    }

    [Fact]
    public void A_tender_crop_that_is_only_reckoned_over_is_still_warned_of_frost()
    {
        var sowing = new Sowing
        {
            Planting = Garden("  - { crop: winter squash, bed: low bed, set out: 20 May 2023, id: squash }", new(2023, 6, 1)).Plan.Plantings[0],
            Batch = 1, Stage = Stage.Finished, By = Evidence.Expected, EndedOn = new LocalDate(2023, 9, 20),
        };

        Assert.True(sowing.StandsInItsBed(new(2023, 10, 10)));
        Assert.False((sowing with { By = Evidence.Seen }).StandsInItsBed(new(2023, 10, 10)));
        Assert.False(sowing.StandsInItsBed(new(2023, 12, 1)));
    }
}

using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Tests.Digests;

public sealed class DigestTests
{
    [Fact]
    public void What_is_lost_comes_first_wherever_it_stood_in_the_agenda()
    {
        var digest = Digest.Of(SampleGarden.FrostyMorning(), SampleGarden.Journal, SampleGarden.Pat, DigestOccasion.OnTime);
        Assert.Equal("quarry-lane/tomato/cover/1", digest.Numbers[0].JobId);
        Assert.Equal("Cover the tomatoes by 7:30\u00A0pm", digest.Headline);
        Assert.Equal(["Before it’s too late", "Today suits", "On the way", "Waiting", "Growing", "Ground", "A year ago"], digest.Sections.Select(s => s.Title));
    }

    [Theory]
    [InlineData(20, 5)] // a Monday
    [InlineData(24, 5)] // a Friday
    [InlineData(25, 6)] // a Saturday
    [InlineData(26, 6)] // a Sunday
    public void A_handful_suits_a_weekday_and_a_few_more_a_weekend(int day, int most)
    {
        var jobs = Enumerable.Range(0, 12).Select(i => SampleGarden.StartSquash() with { Id = $"{i}" });
        var today = Of(SampleGarden.On(new(2026, 4, day), [.. jobs])).Sections.Single(s => s.Title == "Today suits");
        Assert.Equal(most, today.Rows.OfType<JobRow>().Count());
        Assert.StartsWith("Any day soon will do: " + (most + 1), Assert.Single(today.Rows.OfType<LineRow>()).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Beds_that_want_water_share_a_line_and_leave_the_handful_to_other_jobs()
    {
        Job Watering(string bed, double giveMm, double? litres) => SampleGarden.StartSquash() with
        {
            Id = $"quarry-lane/{bed}/water/1", SubjectId = bed, Kind = JobKind.Water, Name = $"Water the {bed}", BedId = bed, BedName = bed,
            Reasons = [new(Reason.WaterToGive, litres is { } all
                ? ImmutableDictionary<string, double>.Empty.Add("giveMm", giveMm).Add("litres", all)
                : ImmutableDictionary<string, double>.Empty.Add("giveMm", giveMm), "Give it that.")],
        };
        var others = Enumerable.Range(0, 5).Select(i => SampleGarden.StartSquash() with { Id = $"{i}" });
        var agenda = SampleGarden.On(SampleGarden.Tuesday, [Watering("low bed", 12, 41.3), Watering("top bed", 9, null), .. others]);
        var digest = Digest.Of(agenda, [], SampleGarden.Kim, DigestOccasion.OnTime);
        var today = digest.Sections.Single(s => s.Title == "Today suits");
        Assert.Equal(5, today.Rows.OfType<JobRow>().Count());
        Assert.Equal(
            "Water in the cool of the day, slowly and at the roots: 6 low bed 40 litres, 7 top bed 9 litres for each square metre.",
            Assert.Single(today.Rows.OfType<LineRow>()).Text.Replace('\u00A0', ' '));
        Assert.Equal([(6, "quarry-lane/low bed/water/1"), (7, "quarry-lane/top bed/water/1")], digest.Numbers.Where(number => number.Number > 5));

        // One alone is said in full, its bed once.
        var row = Assert.Single(Of(SampleGarden.On(SampleGarden.Tuesday, Watering("low bed", 12, 41.3))).Sections.Single(s => s.Title == "Today suits").Rows.OfType<JobRow>());
        Assert.Equal(("Water the low bed", (string?)null), (row.Deed, row.Bed));
    }

    [Theory]
    [InlineData(null, 4)]
    [InlineData(100, 4)]
    [InlineData(60, 3)]
    [InlineData(45, 2)]
    [InlineData(10, 1)] // one is always said whole
    public void What_does_not_fit_into_the_gardener_s_minutes_is_named_in_one_line(int? minutes, int whole)
    {
        var jobs = Enumerable.Range(0, 4).Select(i => SampleGarden.StartSquash() with { Id = $"{i}", Minutes = 20 });
        var today = Of(SampleGarden.On(SampleGarden.Tuesday, [.. jobs]) with { MinutesAtHand = minutes }).Sections.Single(s => s.Title == "Today suits");
        Assert.Equal(whole, today.Rows.OfType<JobRow>().Count());
        Assert.Equal(whole < 4, today.Rows.OfType<LineRow>().Any());
    }

    [Fact]
    public void What_was_asked_for_in_vain_is_only_named_on_weekdays_and_leads_no_message()
    {
        var open = SampleGarden.StartSquash() with { Id = "old", Name = "Start winter squash", TimesAsked = 4 };
        var fresh = SampleGarden.StartSquash() with { Id = "new", Name = "Sow radish" };

        var digest = Of(SampleGarden.On(SampleGarden.Tuesday, open, fresh));
        Assert.Equal("Sow radish", digest.Headline);
        var today = digest.Sections.Single(s => s.Title == "Today suits");
        Assert.Equal("Sow radish", Assert.Single(today.Rows.OfType<JobRow>()).Deed);
        Assert.Equal("Still open, when you like: 2\u00A0start winter squash.", Assert.Single(today.Rows.OfType<LineRow>()).Text);

        var quiet = Of(SampleGarden.On(SampleGarden.Tuesday, open));
        Assert.Equal("Nothing new to do today", quiet.Headline);
        Assert.Contains("nothing new to do", quiet.Subject, StringComparison.Ordinal);
        Assert.Equal([(1, "old")], quiet.Numbers);

        var saturday = Of(SampleGarden.On(SampleGarden.Tuesday.PlusDays(4), open));
        Assert.Equal("Start winter squash", saturday.Headline);
    }

    [Fact]
    public void Frost_is_asked_for_however_often_it_was_said()
    {
        var cover = SampleGarden.CoverTomatoes(SampleGarden.Tuesday) with { TimesAsked = 30 };
        Assert.Equal("Cover the tomatoes by 7:30\u00A0pm", Of(SampleGarden.On(SampleGarden.Tuesday, cover)).Headline);
    }

    [Fact]
    public void A_sitter_is_told_what_cannot_wait_and_nothing_of_the_season()
    {
        var absence = new Planning.Plans.Absence(SampleGarden.Tuesday.PlusDays(-2), SampleGarden.Tuesday.PlusDays(5), "robin@example.org");
        var digest = Digest.Of(
            SampleGarden.FrostyMorning().ForSitter(), SampleGarden.Journal, SampleGarden.Pat, DigestOccasion.OnTime with { Sitting = absence });

        Assert.Equal(["Before it’s too late", "On the way", "Ground"], digest.Sections.Select(s => s.Title));
        Assert.StartsWith("You look after the garden until Sun 26 April: here is only what can’t wait till then.", digest.Lead, StringComparison.Ordinal);
        Assert.All(digest.Numbers, number => Assert.Contains("cover", number.JobId, StringComparison.Ordinal));
    }

    [Fact]
    public void A_garden_at_rest_says_when_the_next_comes()
    {
        string text = DigestText.Write(Digest.Of(
            SampleGarden.QuietMorning(), [], SampleGarden.Pat, DigestOccasion.OnTime with { NextOn = SampleGarden.Tuesday.PlusDays(7) }));
        Assert.Contains("The garden rests: the next digest comes on Tue 28 April, or when", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_window_that_has_begun_is_told_by_its_end()
    {
        var job = SampleGarden.StartSquash() with { Windows = [SampleGarden.Between(SampleGarden.Tuesday, 5, 0, 8, 0)] };
        Assert.Equal("until 8\u00A0am", When(SampleGarden.On(SampleGarden.Tuesday, job)));
    }

    [Fact]
    public void A_window_over_midnight_names_both_days()
    {
        var job = SampleGarden.StartSquash() with { Windows = [new(SampleGarden.At(SampleGarden.Tuesday, 22), SampleGarden.At(SampleGarden.Tuesday.PlusDays(1), 2))] };
        Assert.Equal("10\u00A0pm to tomorrow, 2\u00A0am", When(SampleGarden.On(SampleGarden.Tuesday, job)));
    }

    [Fact]
    public void Hours_are_local_on_the_day_the_clocks_go_forward()
    {
        // 8 March 2026 has 23 hours in New York; 11:30 UTC is 7:30 there after the jump, 6:30 before.
        var sunday = new LocalDate(2026, 3, 8);
        var job = SampleGarden.CoverTomatoes(sunday) with { ActBy = Instant.FromUtc(2026, 3, 8, 23, 30), UndoAt = Instant.FromUtc(2026, 3, 9, 11, 30) };
        var digest = Of(SampleGarden.On(sunday, job));
        Assert.Equal("Cover the tomatoes by 7:30\u00A0pm", digest.Headline);
        Assert.Contains("Off again tomorrow after 7:30 am.", DigestText.Write(digest), StringComparison.Ordinal);
    }

    [Fact]
    public void Units_follow_the_addressee()
    {
        string metric = DigestText.Write(Digest.Of(SampleGarden.FrostyMorning(), [], SampleGarden.Kim, DigestOccasion.OnTime));
        Assert.Contains("Tue 21  14 °C, night 3 °C", metric, StringComparison.Ordinal);
        Assert.Contains("by 19:30", metric, StringComparison.Ordinal);
    }

    [Fact]
    public void Likely_dates_wait_for_the_last_thing_that_is_wanting()
    {
        Assert.Equal("likely 6\u00A0to\u00A015\u00A0May", Row(Of(SampleGarden.QuietMorning()), "squash/set-out/1").When);
    }

    [Fact]
    public void A_waiting_job_with_one_need_without_date_has_no_date()
    {
        var job = SampleGarden.SetOutSquash() with { Needs = [.. SampleGarden.SetOutSquash().Needs, SampleGarden.Needs("Rain not known")] };
        Assert.Null(Row(Of(SampleGarden.On(SampleGarden.Tuesday, job)), "squash/set-out/1").When);
    }

    [Fact]
    public void Growing_names_what_changed_and_on_sundays_all()
    {
        var agenda = SampleGarden.FrostyMorning();
        var same = DigestOccasion.OnTime with { StagesLastSaid = Digest.StagesOf(agenda) };
        Assert.DoesNotContain(Digest.Of(agenda, [], SampleGarden.Pat, same).Sections, s => s.Title == "Growing");
        var sunday = agenda with { Date = SampleGarden.Tuesday.PlusDays(5) };
        Assert.Equal(3, Digest.Of(sunday, [], SampleGarden.Pat, same).Sections.Single(s => s.Title == "Growing").Rows.OfType<SayingRow>().Count());
    }

    [Fact]
    public void A_year_ago_sees_only_what_was_written_down_by_then()
    {
        var agenda = SampleGarden.FrostyMorning() with { AsOf = SampleGarden.At(new(2025, 4, 20), 6) };
        Assert.DoesNotContain(Digest.Of(agenda, SampleGarden.Journal, SampleGarden.Pat, DigestOccasion.OnTime).Sections, s => s.Title == "A year ago");
    }

    [Fact]
    public void A_leap_day_looks_back_to_the_28th()
    {
        var journal = new[] { SampleGarden.Journal[0] with { Date = new(2027, 2, 28), RecordedAt = SampleGarden.At(new(2027, 2, 28), 9), Text = "snowdrops" } };
        var digest = Digest.Of(SampleGarden.On(new(2028, 2, 29), SampleGarden.StartSquash()), journal, SampleGarden.Pat, DigestOccasion.OnTime);
        Assert.Contains("A YEAR AGO you wrote: \"snowdrops\".", DigestText.Write(digest), StringComparison.Ordinal);
    }

    [Fact]
    public void A_frost_two_nights_ahead_is_announced_when_nothing_presses_today()
    {
        var agenda = SampleGarden.On(SampleGarden.Tuesday, SampleGarden.StartSquash()) with
        {
            Week = [.. Enumerable.Range(0, 7).Select(i => SampleGarden.Day(SampleGarden.Tuesday.PlusDays(i), 8, 16) with { FrostChance = i == 2 ? 0.4 : 0 })],
        };
        Assert.EndsWith("frost Thursday night", Of(agenda).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void Unknown_weather_is_called_unknown_never_dry()
    {
        var agenda = SampleGarden.On(SampleGarden.Tuesday, SampleGarden.StartSquash()) with
        {
            Week = [new(SampleGarden.Tuesday, null, null, null, null, null, null, null, null, null)],
        };
        Assert.Equal("Tue 21 April: start winter squash", Of(agenda).Subject);
        Assert.Contains("Tue 21  not known  Rain not known", DigestText.Write(Of(agenda)), StringComparison.Ordinal);
        Assert.DoesNotContain("dry", DigestText.Write(Of(agenda)), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_morning_with_nothing_at_all_says_so_in_two_lines()
    {
        var digest = Of(SampleGarden.On(SampleGarden.Tuesday));
        Assert.Empty(digest.Sections);
        Assert.Empty(digest.Numbers);
        Assert.StartsWith("Tue 21 April: nothing to do\n\n--\n", DigestText.Write(digest), StringComparison.Ordinal);
    }

    [Fact]
    public void Several_skipped_digests_are_told_in_one_sentence()
    {
        var after = DigestOccasion.OnTime with { Skipped = new(new(2026, 3, 29), new(2026, 4, 20)) };
        Assert.StartsWith("Those of 29 March to 20 April were skipped:", Digest.Of(SampleGarden.FrostyMorning(), [], SampleGarden.Pat, after).Lead, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_mailbox_for_answers_none_is_promised()
    {
        var html = DigestHtml.Write(Digest.Of(SampleGarden.FrostyMorning(), [], SampleGarden.Pat, DigestOccasion.OnTime));
        Assert.DoesNotContain("mailto:", html, StringComparison.Ordinal);
        Assert.Contains("replies to this mail are not read", html, StringComparison.Ordinal);
    }

    private static Digest Of(Agenda agenda) => Digest.Of(agenda, [], SampleGarden.Pat, DigestOccasion.OnTime);

    private static string? When(Agenda agenda) => Of(agenda).Sections.SelectMany(s => s.Rows).OfType<JobRow>().Single().When;

    private static JobRow Row(Digest digest, string job)
    {
        int number = digest.Numbers.Single(n => n.JobId == "quarry-lane/" + job).Number;
        return digest.Sections.SelectMany(s => s.Rows).OfType<JobRow>().Single(row => row.Number == number);
    }

    [Theory]
    [InlineData(4.0, false)]
    [InlineData(-0.5, true)]
    public void A_frost_of_few_runs_is_not_told_beside_a_mild_figure(double leafLowC, bool told)
    {
        var agenda = SampleGarden.QuietMorning();
        agenda = agenda with { Week = [.. agenda.Week.Select((day, i) => i == 1 ? day with { FrostChance = 0.25, LeafLowC = leafLowC } : day)] };
        string text = DigestText.Write(Digest.Of(agenda, [], SampleGarden.Pat, DigestOccasion.OnTime));

        Assert.Contains("frost", text, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(told, text.Contains("leaves near", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.1, 0.9, "rain on Saturday")]
    [InlineData(4.0, 0.3, "dry through tomorrow")]
    [InlineData(0.0, 0.05, "dry through Monday")]
    public void The_subject_goes_by_the_share_of_runs_that_rain(double saturdaysMm, double chance, string brief)
    {
        var agenda = SampleGarden.QuietMorning();
        var saturday = agenda.Week.First(day => day.Date.DayOfWeek == IsoDayOfWeek.Saturday).Date;
        agenda = agenda with
        {
            Week = [.. agenda.Week.Select(day => day with
            {
                RainMm = day.Date == saturday ? saturdaysMm : 0, RainChance = day.Date == saturday ? chance : 0.05,
                RainSpell = null, FrostChance = 0, LowC = 8, LeafLowC = 6, HighC = 18,
            })],
        };

        Assert.EndsWith(brief, Digest.Of(agenda, [], SampleGarden.Pat, DigestOccasion.OnTime).Subject, StringComparison.Ordinal);
    }
}

using System.Collections.Immutable;
using System.Text;
using GardenWatch.Messages.Calendars;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Tests.Mail;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Tests.Calendars;

/// <summary>Which jobs a calendar shows, and when.</summary>
public sealed class GardenCalendarTests
{
    private static readonly LocalDate Tuesday = SampleGarden.Tuesday;

    [Fact]
    public void A_frosty_morning_has_the_hour_to_act_by_the_way_back_the_best_hours_and_the_likely_days()
    {
        var entries = EntriesOf(SampleGarden.FrostyMorning());
        Assert.Equal(
            [
                "Set out winter squash (kitchen bed) (likely)",
                "Sow radish, batch 3 (kitchen bed)",
                "Thin radish, batch 2 (kitchen bed)",
                "Start winter squash (indoors)",
                "Cover the tomatoes (low bed) by 7:30 pm",
                "Cover the tomatoes (low bed): off again",
                "Spread slug pellets (low bed)",
            ],
            entries.Select(entry => entry.Summary.Replace('\u00A0', ' ')));
        Assert.Equal(
            [
                new CalendarTime.Days(new(2026, 5, 6), new(2026, 5, 15)),
                Hours(Tuesday, 17, 30, 19, 45),
                Hours(Tuesday, 17, 30, 20, 0),
                new CalendarTime.Days(Tuesday, Tuesday),
                Hours(Tuesday, 19, 0, 19, 30),
                Hours(Tuesday.PlusDays(1), 8, 30, 8, 45),
                Hours(Tuesday.PlusDays(1), 17, 30, 20, 30),
            ],
            entries.Select(entry => entry.When));
        Assert.Equal([true, false, false, false, false, false, false], entries.Select(entry => entry.Tentative));
    }

    [Fact]
    public void The_reason_the_other_hours_and_the_label_stand_in_the_entry()
    {
        var entries = EntriesOf(SampleGarden.FrostyMorning());
        string sow = Plain(entries.Single(entry => entry.Summary.StartsWith("Sow", StringComparison.Ordinal)).Description);
        Assert.StartsWith("6:30 to 7:30 am or 5:30 to 7:45 pm.", Plain(EntriesOf(SampleGarden.FrostyMorning(), SampleGarden.SowRadish(Tuesday) with { Best = SampleGarden.Between(Tuesday, 6, 30, 7, 30) })[0].Description), StringComparison.Ordinal);
        Assert.Contains("Soil 52 °F at dawn and warming", sow, StringComparison.Ordinal);
        Assert.EndsWith("As of Tue 21 April.", sow, StringComparison.Ordinal);
        string spread = entries[^1].Description;
        Assert.Contains("The product label decides the amount", spread, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Standing.Done)]
    [InlineData(Standing.Dropped)]
    [InlineData(Standing.Missed)]
    public void What_is_over_has_no_entry(Standing standing) =>
        Assert.Empty(EntriesOf(SampleGarden.FrostyMorning(), SampleGarden.SowRadish(Tuesday) with { Standing = standing }));

    [Fact]
    public void What_waits_without_a_likely_date_has_no_entry_and_dates_behind_us_are_cut_off()
    {
        var job = SampleGarden.SetOutSquash();
        Assert.Empty(EntriesOf(SampleGarden.FrostyMorning(), job with { Needs = [SampleGarden.Needs("Soil 57 of 62 °F")] }));
        Assert.Empty(EntriesOf(SampleGarden.FrostyMorning(), job with { Needs = [SampleGarden.Needs("Soil", new(Tuesday.PlusDays(-9), Tuesday.PlusDays(-1)))] }));
        Assert.Equal(
            new CalendarTime.Days(Tuesday, Tuesday.PlusDays(3)),
            Assert.Single(EntriesOf(SampleGarden.FrostyMorning(), job with { Needs = [SampleGarden.Needs("Soil", new(Tuesday.PlusDays(-9), Tuesday.PlusDays(3)))] })).When);
    }

    [Fact]
    public void A_window_of_all_day_is_the_day_and_one_that_runs_says_so()
    {
        var agenda = SampleGarden.FrostyMorning();
        var allDay = SampleGarden.ThinRadish(Tuesday) with { Windows = [new(agenda.AsOf, agenda.AsOf + Duration.FromHours(30))] };
        Assert.Equal(new CalendarTime.Days(Tuesday, Tuesday), Assert.Single(EntriesOf(agenda, allDay)).When);
        var running = SampleGarden.ThinRadish(Tuesday) with { Windows = [new(agenda.AsOf, agenda.AsOf + Duration.FromHours(2))] };
        Assert.True(Assert.Single(EntriesOf(agenda, running)).HasBegun);
        Assert.DoesNotContain(EntriesOf(SampleGarden.FrostyMorning()), entry => entry.HasBegun);
    }

    // America/New_York at the changes of 2026: the hours are instants, so none is lost or doubled.
    [Theory]
    [InlineData(2026, 3, 8, "20260308T220000Z/20260309T000000Z")]
    [InlineData(2026, 11, 1, "20261101T230000Z/20261102T010000Z")]
    public void Hours_are_right_on_days_of_23_and_25_hours(int year, int month, int day, string times)
    {
        var date = new LocalDate(year, month, day);
        var job = SampleGarden.ThinRadish(date) with { Windows = [SampleGarden.Between(date, 18, 0, 20, 0)] };
        Assert.Equal(times, Assert.Single(GardenCalendar.EntriesOf(SampleGarden.On(date, job), UnitSystem.Us)).When.ToString());
    }

    [Fact]
    public void A_hostile_or_overgrown_garden_keeps_its_calendar_in_bounds()
    {
        foreach (var agenda in (Agenda[])[HostileGarden.Agenda(), HostileGarden.Overgrown()])
        {
            var entries = EntriesOf(agenda);
            Assert.InRange(entries.Length, 1, 60);
            Assert.Equal(entries.Length, entries.Select(entry => entry.Uid).Distinct().Count());
            byte[] file = FileOf(agenda);
            Assert.InRange(file.Length, 100, 90_000);
            var read = Ical.Net.Calendar.Load(Encoding.UTF8.GetString(file))!;
            Assert.Equal(entries.Select(entry => entry.Uid), read.Events.Select(found => found.Uid));
        }
    }

    [Fact]
    public void A_digest_may_bring_its_calendar_along_and_loses_no_picture_for_it()
    {
        var letter = Digest.Of(SampleGarden.FrostyMorning(), [], SampleGarden.Pat, DigestOccasion.OnTime);
        byte[] calendar = FileOf(SampleGarden.FrostyMorning());
        var mail = Rendered(calendar);
        Assert.Empty(MailLint.Faults(mail.Bytes));
        Assert.Equal(mail.Bytes, Rendered(calendar).Bytes.AsEnumerable());
        var raw = RawMail.Read(mail.Bytes.AsSpan());
        Assert.Equal("multipart/mixed", raw.MediaType);
        Assert.Equal(["multipart/alternative", "text/calendar"], raw.Parts.Select(part => part.MediaType));
        Assert.Equal(calendar, raw.Parts[1].Decoded());
        Assert.Equal("quarry-lane.ics", raw.Parts[1].Parameter("Content-Disposition", "filename"));
        Assert.Equal(RawMail.Read(Rendered(null).Bytes.AsSpan()).Leaves.Count() + 1, raw.Leaves.Count());

        OutgoingMail Rendered(byte[]? with) =>
            OutgoingMail.Render(letter, "digest.1", "garden@example.org", "pat@example.org", SampleGarden.At(Tuesday, 6), calendar: with);
    }

    private static CalendarTime.Hours Hours(LocalDate date, int fromHour, int fromMinute, int untilHour, int untilMinute) =>
        new(SampleGarden.At(date, fromHour, fromMinute), SampleGarden.At(date, untilHour, untilMinute));

    private static ImmutableArray<CalendarEntry> EntriesOf(Agenda agenda, params Job[] jobs) =>
        GardenCalendar.EntriesOf(jobs.Length == 0 ? agenda : agenda with { Jobs = [.. jobs] }, UnitSystem.Us);

    private static byte[] FileOf(Agenda agenda) =>
        CalendarFile.Write(agenda.GardenName, EntriesOf(agenda).Select(entry => new RevisedEntry(entry, 0, agenda.AsOf)));

    private static string Plain(string text) => text.Replace('\u00A0', ' ');
}

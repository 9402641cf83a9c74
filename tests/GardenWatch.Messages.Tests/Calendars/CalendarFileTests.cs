using System.Text;
using CsCheck;
using GardenWatch.Messages.Calendars;
using Ical.Net;
using NodaTime;

namespace GardenWatch.Messages.Tests.Calendars;

/// <summary>The writer, byte by byte after RFC 5545 and as an independent library reads it.</summary>
public sealed class CalendarFileTests
{
    private static readonly Instant Changed = Instant.FromUtc(2026, 4, 21, 10, 0);

    private static readonly CalendarTime SomeHours = new CalendarTime.Hours(Instant.FromUtc(2026, 4, 21, 21, 30), Instant.FromUtc(2026, 4, 21, 23, 45));

    [Fact]
    public void An_entry_reads_back_as_it_was_meant()
    {
        var entry = new CalendarEntry("g/tomato/cover/1", "Cover; the, tomatoes \\ (low bed)", "One line.\nAnother: 41 °F", "low bed", SomeHours, false);
        var read = Assert.Single(Read(Write("Quarry Lane", new RevisedEntry(entry, 3, Changed))).Events);
        Assert.Equal(entry.Uid, read.Uid);
        Assert.Equal("Cover; the, tomatoes \\ (low bed)", read.Summary);
        Assert.Equal("One line.\nAnother: 41 °F", read.Description);
        Assert.Equal("low bed", read.Location);
        Assert.Equal("CONFIRMED", read.Status);
        Assert.Equal("TRANSPARENT", read.Transparency);
        Assert.Equal(3, read.Sequence);
        Assert.Equal(new DateTime(2026, 4, 21, 10, 0, 0, DateTimeKind.Utc), read.DtStamp!.AsUtc);
        Assert.Equal(new DateTime(2026, 4, 21, 10, 0, 0, DateTimeKind.Utc), read.LastModified!.AsUtc);
        Assert.Equal(new DateTime(2026, 4, 21, 21, 30, 0, DateTimeKind.Utc), read.DtStart!.AsUtc);
        Assert.Equal(new DateTime(2026, 4, 21, 23, 45, 0, DateTimeKind.Utc), read.DtEnd!.AsUtc);
        Assert.True(read.DtStart.IsUtc);
        Assert.Empty(read.Alarms);
    }

    // The end of whole days is the day after them: RFC 5545, 3.6.1. Leap day, month's end and year's end.
    [Theory]
    [InlineData(2026, 5, 6, 2026, 5, 15, "20260506", "20260516")]
    [InlineData(2028, 2, 28, 2028, 2, 29, "20280228", "20280301")]
    [InlineData(2026, 12, 31, 2026, 12, 31, "20261231", "20270101")]
    public void Whole_days_are_dates_and_tentative_says_so(int y1, int m1, int d1, int y2, int m2, int d2, string from, string until)
    {
        var entry = new CalendarEntry("k", "Set out squash (likely)", "", null, new CalendarTime.Days(new(y1, m1, d1), new(y2, m2, d2)), true);
        byte[] file = Write("Mill Bank", new RevisedEntry(entry, 0, Changed));
        string text = Encoding.UTF8.GetString(file);
        Assert.Contains($"\r\nDTSTART;VALUE=DATE:{from}\r\nDTEND;VALUE=DATE:{until}\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("DESCRIPTION", text, StringComparison.Ordinal);
        var read = Assert.Single(Read(file).Events);
        Assert.True(read.IsAllDay);
        Assert.Equal("TENTATIVE", read.Status);
    }

    [Fact]
    public void A_garden_without_jobs_is_an_empty_calendar_with_its_name()
    {
        var read = Read(Write("Mill Bank"));
        Assert.Empty(read.Events);
        Assert.Equal("2.0", read.Version);
        Assert.Equal("Mill Bank", read.Properties["X-WR-CALNAME"]!.Value);
        Assert.Null(read.Method);
    }

    [Fact]
    public void Any_words_are_folded_within_75_octets_and_read_back() => Gen.Select(Words, Words).Sample((name, text) =>
    {
        var entry = new CalendarEntry("k" + name, name, text, name, SomeHours, false);
        byte[] file = Write(name, new RevisedEntry(entry, 0, Changed));
        Assert.True(file.AsSpan().EndsWith("\r\n"u8));
        var strict = new UTF8Encoding(false, throwOnInvalidBytes: true);
        int from = 0;
        while (from < file.Length)
        {
            int length = file.AsSpan(from).IndexOf("\r\n"u8);
            var line = file.AsSpan(from, length);
            Assert.InRange(length, 1, 75);
            Assert.False(line.ContainsAny("\r\n"u8));
            // A character split over two lines would not read as UTF-8.
            Assert.NotNull(strict.GetString(line));
            from += length + 2;
        }
        var read = Assert.Single(Read(file).Events);
        Assert.Equal(Kept(name), read.Summary ?? "");
        Assert.Equal(Kept(text), read.Description ?? "");
    }, iter: 500);

    [Fact]
    public void The_uid_is_a_uuid_that_the_key_alone_decides()
    {
        var one = new CalendarEntry("g/radish/sow/1", "a", "", null, SomeHours, false);
        var same = one with { Summary = "b", When = new CalendarTime.Days(new(2026, 1, 1), new(2026, 1, 1)) };
        Assert.Equal(one.Uid, same.Uid);
        Assert.NotEqual(one.Uid, (one with { Key = "g/radish/sow/1/undo" }).Uid);
        Assert.Matches("^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$", one.Uid);
    }

    /// <summary>What breaks lines, escapes and folds, and letters of one to four octets.</summary>
    private static readonly Gen<string> Words = Gen.OneOf([.. ((string[])
        [
            "\r\nBEGIN:VEVENT", "\n", "\r", "\\n", "\\", ";", ",", ":", "\"", "END:VCALENDAR", "ä", "木", "🍅", "e\u0301", "x", " ", "tomato", new string('x', 80), new string('ß', 80), "\u0007",
        ]).Select(Gen.Const)]).Array[0, 10].Select(string.Concat);

    /// <summary>What a text property may hold: lines end alike, control characters are none.</summary>
    private static string Kept(string text) => string.Concat(text.ReplaceLineEndings("\n").EnumerateRunes().Where(rune => rune.Value == '\n' || !Rune.IsControl(rune)));

    private static byte[] Write(string name, params RevisedEntry[] entries) => CalendarFile.Write(name, entries);

    private static Calendar Read(byte[] file) => Calendar.Load(Encoding.UTF8.GetString(file))!;
}

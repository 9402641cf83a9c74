using System.Globalization;
using System.Text;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Calendars;

/// <summary>Entries as RFC 5545 writes them: a calendar to subscribe to, or a file to open.</summary>
/// <remarks>
/// It bears no METHOD: with one it would be a scheduling message (RFC 5546), which asks for an organiser and for answers. So DTSTAMP
/// says when the entry last changed (3.8.7.2), and an unchanged garden gives unchanged bytes.
/// </remarks>
public static class CalendarFile
{
    private const int MostOfLine = 75;

    public static byte[] Write(string gardenName, IEnumerable<RevisedEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        string name = Plain.OneLine(gardenName, Plain.NameLength);
        var lines = new List<byte>();
        Add(lines, "BEGIN:VCALENDAR");
        Add(lines, "VERSION:2.0");
        Add(lines, "PRODID:-//GardenWatch//GardenWatch//EN");
        // NAME is the standard's (RFC 7986); most programs still look for the other only.
        Add(lines, "NAME:" + Text(name));
        Add(lines, "X-WR-CALNAME:" + Text(name));
        Add(lines, "REFRESH-INTERVAL;VALUE=DURATION:PT1H");
        foreach (var entry in entries)
            Add(lines, entry);
        Add(lines, "END:VCALENDAR");
        return [.. lines];
    }

    private static void Add(List<byte> lines, RevisedEntry revised)
    {
        var entry = revised.Entry;
        string changed = CalendarTime.Stamp(revised.ModifiedAt);
        Add(lines, "BEGIN:VEVENT");
        Add(lines, "UID:" + entry.Uid);
        Add(lines, "DTSTAMP:" + changed);
        Add(lines, "LAST-MODIFIED:" + changed);
        Add(lines, "SEQUENCE:" + revised.Sequence.ToString(CultureInfo.InvariantCulture));
        switch (entry.When)
        {
            case CalendarTime.Hours hours:
                Add(lines, "DTSTART:" + CalendarTime.Stamp(hours.From));
                Add(lines, "DTEND:" + CalendarTime.Stamp(hours.Until));
                break;
            case CalendarTime.Days days:
                Add(lines, "DTSTART;VALUE=DATE:" + CalendarTime.Date(days.First));
                // The end is the first day that is not in it any more.
                Add(lines, "DTEND;VALUE=DATE:" + CalendarTime.Date(days.Last.PlusDays(1)));
                break;
        }
        Add(lines, "SUMMARY:" + Text(entry.Summary));
        if (entry.Description.Length > 0)
            Add(lines, "DESCRIPTION:" + Text(entry.Description));
        if (entry.Bed is { } bed)
            Add(lines, "LOCATION:" + Text(bed));
        Add(lines, entry.Tentative ? "STATUS:TENTATIVE" : "STATUS:CONFIRMED");
        // A job offered is no time taken: nobody shall find the gardener busy for it.
        Add(lines, "TRANSP:TRANSPARENT");
        Add(lines, "END:VEVENT");
    }

    /// <summary>3.3.11; control characters have no way to be written.</summary>
    private static string Text(string text)
    {
        var escaped = new StringBuilder(text.Length);
        foreach (var rune in text.ReplaceLineEndings("\n").Replace('\u00A0', ' ').EnumerateRunes())
        {
            if (rune.Value == '\n')
                escaped.Append("\\n");
            else if (rune.Value is '\\' or ';' or ',')
                escaped.Append('\\').Append(rune);
            else if (!Rune.IsControl(rune))
                escaped.Append(rune);
        }
        return escaped.ToString();
    }

    /// <summary>3.1: folded after 75 octets at most, never within a character.</summary>
    private static void Add(List<byte> lines, string line)
    {
        int octets = 0;
        foreach (var rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > MostOfLine)
            {
                lines.AddRange("\r\n "u8);
                octets = 1;
            }
            lines.AddRange(Encoding.UTF8.GetBytes(rune.ToString()));
            octets += rune.Utf8SequenceLength;
        }
        lines.AddRange("\r\n"u8);
    }
}

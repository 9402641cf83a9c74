using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>Hours of a day as written: "06:00-07:30 and 17:30-20:30", "6 am to 8 am", "never".</summary>
internal static partial class HoursText
{
    private const string Example = "such as `06:00-07:30 and 17:30-20:30`";

    public static ImmutableArray<DaySlot>? Slots(string text, out string problem, out string? instead)
    {
        (problem, instead) = ("", Example);
        string plain = WrittenNumber.Plain(text.Length > 200 ? text[..200] : text);
        if (plain is "never" or "none" or "no")
            return [];
        if (plain is "all day" or "always" or "any time")
            return [new(LocalTime.Midnight, LocalTime.Midnight)];
        var slots = ImmutableArray.CreateBuilder<DaySlot>();
        foreach (string part in And().Split(plain))
        {
            var ends = Slot().Match(part);
            if (!ends.Success)
            {
                problem = $"`{part}` is no stretch of hours";
                return null;
            }
            if (Time(ends.Groups["from"].Value) is not { } from || Time(ends.Groups["to"].Value) is not { } to)
            {
                problem = $"`{part}` does not say which half of the day";
                instead = "write `06:00` or `6 am`";
                return null;
            }
            if (to != LocalTime.Midnight && to <= from)
            {
                problem = $"`{part}` ends before it begins";
                return null;
            }
            slots.Add(new(from, to));
        }
        return [.. slots.OrderBy(slot => slot.From)];
    }

    /// <summary>"06:00", "6.30 pm", "noon", "24:00"; null when it is no time, or could be of either half of the day.</summary>
    public static LocalTime? Time(string text)
    {
        string plain = WrittenNumber.Plain(text.Length > 20 ? "" : text);
        if (plain == "noon")
            return LocalTime.Noon;
        if (plain is "midnight" or "24:00")
            return LocalTime.Midnight;
        var match = OneTime().Match(plain);
        if (!match.Success)
            return null;
        int hour = int.Parse(match.Groups["hour"].Value, CultureInfo.InvariantCulture);
        int minute = match.Groups["minute"].Success ? int.Parse(match.Groups["minute"].Value, CultureInfo.InvariantCulture) : 0;
        string half = match.Groups["half"].Value;
        if (minute > 59 || half.Length == 0 && (hour > 23 || !match.Groups["minute"].Success) || half.Length > 0 && hour is < 1 or > 12 && half.Length > 0)
            return null;
        if (half.Length > 0)
            hour = hour % 12 + (half[0] == 'p' ? 12 : 0);
        return new(hour, minute);
    }

    [GeneratedRegex(@"\s*(?:,|;|\band\b)\s*", RegexOptions.CultureInvariant)]
    private static partial Regex And();

    [GeneratedRegex(@"^(?<from>[0-9:. apmnoidht]+?) ?(?:-|–|—|\bto\b|\buntil\b) ?(?<to>[0-9:. apmnoidht]+)$", RegexOptions.CultureInvariant)]
    private static partial Regex Slot();

    [GeneratedRegex(@"^(?<hour>[0-9]{1,2})(?:[:.](?<minute>[0-9]{2}))? ?(?<half>am|pm|a\.m\.|p\.m\.)?$", RegexOptions.CultureInvariant)]
    private static partial Regex OneTime();
}

using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>Dates as gardeners write them: "12 July", "mid April", "late October last year", "2026-04-30".</summary>
public static partial class DateText
{
    private const int Longest = 60;
    private const string Example = "such as `12 July`, `mid April`, `late October last year` or `2026-04-30`";

    private static readonly string[] Months =
    [
        "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
    ];

    /// <summary>Thirds of a month by the almanac's habit; a week at its edges.</summary>
    private static readonly Dictionary<string, (int From, int To)> Parts = new(StringComparer.Ordinal)
    {
        ["early"] = (1, 10), ["mid"] = (11, 20), ["middle of"] = (11, 20), ["late"] = (21, 0),
        ["beginning of"] = (1, 7), ["start of"] = (1, 7), ["first week of"] = (1, 7), ["second week of"] = (8, 14),
        ["third week of"] = (15, 21), ["fourth week of"] = (22, 28), ["end of"] = (-6, 0), ["last week of"] = (-6, 0),
        ["first half of"] = (1, 15), ["second half of"] = (16, 0),
    };

    public static DateReading Read(string text)
    {
        string plain = text.Length > Longest ? "" : WrittenNumber.Plain(text).TrimEnd(',');
        plain = Hedges().Replace(plain, "").Replace("mid-", "mid ", StringComparison.Ordinal);
        if (plain.Length == 0)
            return new DateReading.Fault($"`{Short(text)}` is not a date", Example);
        if (Seasons().IsMatch(plain))
            return new DateReading.Fault($"`{Short(text)}` depends on where one lives", "name a month, such as `late October last year`");
        if (Near(plain) is { } near)
            return new DateReading.Ok(near);
        if (Iso().Match(plain) is { Success: true } iso)
            return Day(text, Number(iso, 3), Number(iso, 2), Number(iso, 1), null);
        if (Dotted().Match(plain) is { Success: true } dotted)
            return Day(text, Number(dotted, 1), Number(dotted, 2), dotted.Groups[3].Success ? Number(dotted, 3) : null, null);
        if (Slashed().Match(plain) is { Success: true } slashed)
            return TwoNumbers(text, Number(slashed, 1), Number(slashed, 2), slashed.Groups[3].Success ? Number(slashed, 3) : null);
        return Spoken(text, plain);
    }

    private static DateReading Spoken(string text, string plain)
    {
        var match = DayMonth().Match(plain) is { Success: true } dayFirst ? dayFirst
            : MonthDay().Match(plain) is { Success: true } monthFirst ? monthFirst
            : PartOfMonth().Match(plain);
        if (!match.Success)
            return new DateReading.Fault($"`{Short(text)}` is not a date", Example);
        if (MonthOf(match.Groups["month"].Value) is not { } month)
        {
            return new DateReading.Fault(
                $"`{match.Groups["month"].Value}` is no month",
                Spelling.Nearest(match.Groups["month"].Value, Months) is { } meant ? $"did you mean {meant}?" : Example);
        }
        int? year = match.Groups["year"].Success ? Number(match, "year") : null;
        int? yearsOn = match.Groups["which"].Value switch { "last" => -1, "this" => 0, "next" => 1, _ => null };
        if (match.Groups["day"].Success)
            return Day(text, Number(match, "day"), month, year, yearsOn);
        string part = match.Groups["part"].Value.Replace("the ", "", StringComparison.Ordinal);
        if (part is "end" or "beginning" or "start" or "middle")
            part += " of";
        var (from, to) = part.Length == 0 ? (1, 0) : Parts[part];
        return OutOfTime(text, year) as DateReading ?? new DateReading.Ok(new WrittenDate.OfMonth(month, from, to, year, yearsOn));
    }

    private static DateReading Day(string text, int day, int month, int? year, int? yearsOn)
    {
        if (OutOfTime(text, year) is { } outOfTime)
            return outOfTime;
        if (month is < 1 or > 12)
            return new DateReading.Fault($"`{Short(text)}` has no month {month}", Example);
        int longest = CalendarSystem.Iso.GetDaysInMonth(year ?? 2024, month);
        return day < 1 || day > longest
            ? new DateReading.Fault($"{Months[month - 1]} has no day {day}{(year is { } y ? $" in {y}" : "")}", $"a day from 1 to {longest}")
            : new DateReading.Ok(new WrittenDate.OfMonth(month, day, day, year, yearsOn));
    }

    private static DateReading TwoNumbers(string text, int first, int second, int? year)
    {
        string ending = year is { } y ? $" {y}" : "";
        if (first is >= 1 and <= 12 && second is >= 1 and <= 12 && first != second)
        {
            string one = $"{first} {Months[second - 1]}{ending}", other = $"{second} {Months[first - 1]}{ending}";
            return new DateReading.Fault($"`{Short(text)}` can mean {one} or {other}", $"`{one}` or `{other}`");
        }
        return second > 12 ? Day(text, second, first, year, null) : Day(text, first, second, year, null);
    }

    private static WrittenDate.FromAnchor? Near(string plain)
    {
        int? days = plain switch { "yesterday" => -1, "today" or "now" => 0, "tomorrow" => 1, _ => null };
        if (days is null && Ago().Match(plain) is { Success: true } ago
            && QuantityText.Read(ago.Groups["span"].Value, Dimension.Days) is QuantityReading.Ok past)
            days = -(int)Math.Min(past.Quantity.Value, 3660);
        if (days is null && In().Match(plain) is { Success: true } ahead
            && QuantityText.Read(ahead.Groups["span"].Value, Dimension.Days) is QuantityReading.Ok coming)
            days = (int)Math.Min(coming.Quantity.Value, 3660);
        return days is { } found ? new(found) : null;
    }

    private static DateReading.Fault? OutOfTime(string text, int? year) =>
        year is < 1900 or > 2200 ? new($"`{Short(text)}` is in the year {year}", "a year from 1900 to 2200, or none") : null;

    private static int? MonthOf(string word)
    {
        string letters = word.TrimEnd('.');
        int found = letters == "sept" ? 8
            : Array.FindIndex(Months, m => m.Equals(letters, StringComparison.OrdinalIgnoreCase)
                || letters.Length == 3 && m.StartsWith(letters, StringComparison.OrdinalIgnoreCase));
        return found < 0 ? null : found + 1;
    }

    private static int Number(Match match, int group) => int.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);

    private static int Number(Match match, string group) => int.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);

    private static string Short(string text) => text.Length > Longest ? text[..Longest].Trim() + "…" : text.Trim();

    private const string When = @"(?:,? (?<year>[0-9]{4})| (?:of )?(?<which>last|this|next) year)?$";

    [GeneratedRegex(@"^(?:(?:on|about|around|circa|roughly|since|in the|the|~|ca\.) ?)+", RegexOptions.CultureInvariant)]
    private static partial Regex Hedges();

    [GeneratedRegex(@"\b(?:spring|summer|autumn|fall|winter)\b", RegexOptions.CultureInvariant)]
    private static partial Regex Seasons();

    [GeneratedRegex(@"^([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})$", RegexOptions.CultureInvariant)]
    private static partial Regex Iso();

    [GeneratedRegex(@"^([0-9]{1,2})\. ?([0-9]{1,2})\.(?: ?([0-9]{4}))?$", RegexOptions.CultureInvariant)]
    private static partial Regex Dotted();

    [GeneratedRegex(@"^([0-9]{1,2})[/.-]([0-9]{1,2})(?:[/.-]([0-9]{4}))?$", RegexOptions.CultureInvariant)]
    private static partial Regex Slashed();

    [GeneratedRegex(@"^(?<day>[0-9]{1,2})(?:st|nd|rd|th|\.)? (?:of )?(?<month>[a-z]+\.?)" + When, RegexOptions.CultureInvariant)]
    private static partial Regex DayMonth();

    [GeneratedRegex(@"^(?<month>[a-z]+\.?) (?:the )?(?<day>[0-9]{1,2})(?:st|nd|rd|th)?" + When, RegexOptions.CultureInvariant)]
    private static partial Regex MonthDay();

    [GeneratedRegex(@"^(?:(?<part>early|mid|late|(?:the )?(?:middle|beginning|start|end|(?:first|second|third|fourth|last) week|(?:first|second) half) of|end|beginning|start|middle) )?(?<month>[a-z]+\.?)" + When, RegexOptions.CultureInvariant)]
    private static partial Regex PartOfMonth();

    [GeneratedRegex(@"^(?<span>.+) ago$", RegexOptions.CultureInvariant)]
    private static partial Regex Ago();

    [GeneratedRegex(@"^in (?<span>.+)$", RegexOptions.CultureInvariant)]
    private static partial Regex In();
}

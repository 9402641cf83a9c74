using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Replies;

/// <summary>A day as it was told, which is another one behind us than before us: "Saturday" of a deed and of a plan.</summary>
/// <param name="Past">The local date, when it is about what was done; null when it can't lie there.</param>
/// <param name="Coming">When it is about what is to be done.</param>
internal readonly record struct DayTold(LocalDate? Past, LocalDate? Coming)
{
    private const int LongestDays = 366;

    /// <summary>The day that begins at a word, and how many words it takes.</summary>
    public static (DayTold Day, int Taken)? At(ReadOnlySpan<Lexeme> words, LocalDate today)
    {
        int at = 0;
        while (at < words.Length && at < 3 && (words[at].Means("until") || words[at].Means("agobefore")))
            at++;
        bool before = at > 0 && words[at - 1].Means("agobefore");
        bool last = at < words.Length && words[at].Means("last");
        if (last)
            at++;
        if (at >= words.Length)
            return null;
        var word = words[at];
        var rest = words[(at + 1)..];
        return Named(word, last, today) is { } named ? (named, at + 1)
            : Iso(word) is { } iso ? (Exactly(iso, today), at + 1)
            : Span(words[at..], before, today) is { } span ? (span.Day, at + span.Taken)
            : OfMonth(word, rest, today) is { } dated ? (dated.Day, at + dated.Taken)
            : null;
    }

    private static DayTold? Named(Lexeme word, bool last, LocalDate today)
    {
        if (word.Means("today"))
            return new(word.Text is "last night" ? today.PlusDays(-1) : today, today.PlusDays(1));
        if (word.Means("yesterday"))
            return new(today.PlusDays(-1), null);
        if (word.Means("beforeyesterday"))
            return new(today.PlusDays(-2), null);
        if (word.Means("tomorrow"))
            return new(null, today.PlusDays(1));
        if (word.Means("overmorrow"))
            return new(null, today.PlusDays(2));
        if (word.Means("nextweek"))
            return new(null, today.PlusDays(7));
        if (word.Means("weekend"))
            return new(null, today.Next(IsoDayOfWeek.Saturday));
        if (word.Count("weekday") is { } weekday)
        {
            var past = today.DayOfWeek == (IsoDayOfWeek)weekday ? last ? today.PlusDays(-7) : today : today.Previous((IsoDayOfWeek)weekday);
            return new(past, last ? null : today.Next((IsoDayOfWeek)weekday));
        }
        return null;
    }

    private static LocalDate? Iso(Lexeme word) =>
        word.Text.Length == 10 && LocalDatePattern.Iso.Parse(word.Text) is { Success: true } parsed ? parsed.Value : null;

    /// <summary>"3 days", "a week", "two days ago".</summary>
    private static (DayTold Day, int Taken)? Span(ReadOnlySpan<Lexeme> words, bool before, LocalDate today)
    {
        if (words.Length < 2)
            return null;
        int? count = words[0] is { IsNumber: true, Number: { } number } && number == Math.Floor(number) && number is >= 1 and <= LongestDays ? (int)number
            : words[0].Count("number") ?? (words[0].Count("anumber") is > 0 and var some ? some : null);
        int each = words[1].Means("day") ? 1 : words[1].Means("week") ? 7 : 0;
        if (count is not { } told || each == 0 || told * each > LongestDays)
            return null;
        bool ago = before || (words.Length > 2 && words[2].Means("ago"));
        int taken = words.Length > 2 && words[2].Means("ago") ? 3 : 2;
        return (ago ? new DayTold(today.PlusDays(-told * each), null) : new(null, today.PlusDays(told * each)), taken);
    }

    /// <summary>"25 April", "April 25th", "the 25th".</summary>
    private static (DayTold Day, int Taken)? OfMonth(Lexeme word, ReadOnlySpan<Lexeme> rest, LocalDate today)
    {
        int at = 0;
        if (word.Count("month") is { } first && rest.Length > 0 && DayOf(rest[0]) is { } dayAfter)
        {
            at = rest.Length > 1 && IsEnding(rest[1]) ? 2 : 1;
            return InMonth(first, dayAfter, today) is { } told ? (told, at + 1) : null;
        }
        if (DayOf(word) is not { } day)
            return null;
        bool ending = rest.Length > 0 && IsEnding(rest[0]);
        if (ending)
            at++;
        if (at < rest.Length && rest[at].Text is "of")
            at++;
        if (at < rest.Length && rest[at].Count("month") is { } month)
            return InMonth(month, day, today) is { } told ? (told, at + 2) : null;
        return ending && rest[0].Text != "." && InAnyMonth(day, today) is { } bare ? (bare, 2) : null;
    }

    private static int? DayOf(Lexeme word) =>
        word is { IsNumber: true, Number: { } number } && number == Math.Floor(number) && number is >= 1 and <= 31 && word.Text.All(char.IsAsciiDigit) ? (int)number : null;

    private static bool IsEnding(Lexeme word) => word.Text is "th" or "st" or "nd" or "rd" or ".";

    private static DayTold? InMonth(int month, int day, LocalDate today)
    {
        LocalDate? past = null, coming = null;
        for (int year = today.Year - 1; year <= today.Year + 1; year++)
        {
            if (day > CalendarSystem.Iso.GetDaysInMonth(year, month))
                continue;
            var date = new LocalDate(year, month, day);
            if (date <= today)
                past = date;
            else
                coming ??= date;
        }
        return past is null && coming is null ? null : new(past, coming);
    }

    private static DayTold? InAnyMonth(int day, LocalDate today)
    {
        LocalDate? past = null, coming = null;
        for (int months = -1; months <= 1; months++)
        {
            var month = today.PlusMonths(months);
            if (day > CalendarSystem.Iso.GetDaysInMonth(month.Year, month.Month))
                continue;
            var date = new LocalDate(month.Year, month.Month, day);
            if (date <= today)
                past = date;
            else
                coming ??= date;
        }
        return past is null && coming is null ? null : new(past, coming);
    }

    private static DayTold Exactly(LocalDate date, LocalDate today) => date <= today ? new(date, null) : new(null, date);

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Past:yyyy-MM-dd} or {Coming:yyyy-MM-dd}");
}

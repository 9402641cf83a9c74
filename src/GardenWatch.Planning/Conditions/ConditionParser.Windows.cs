using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Planning.Conditions;

/// <summary>Windows and the moments they count from.</summary>
internal ref partial struct ConditionParser
{
    /// <summary>More than any past the service keeps.</summary>
    private const int MostHours = 24 * 366;

    private TimeWindow? WindowHere(MeasureRow row, Statistic statistic)
    {
        int start = _cursor.Next;
        if (_cursor.AtEnd)
        {
            FailHere<Condition>("the phrase ends before its window", $"such as `{row.Example}`");
            return null;
        }
        if (AnyWindow(row) is not { } window)
            return null;
        if (ConditionLanguage.Fits(row, statistic, window.Kind))
            return window;
        string what = statistic == Statistic.Itself ? row.Words[0] : $"{row.Words[0]} {ConditionLanguage.Row(statistic).Words[0]}";
        string fitting = ConditionWords.List(ConditionLanguage.Windows
            .Where(w => ConditionLanguage.Fits(row, statistic, w.Kind))
            .Select(w => $"`{w.Words.Replace("{n}", "3", StringComparison.Ordinal).Replace("{moment}", "sown", StringComparison.Ordinal)}`"));
        Fail<Condition>(start, _cursor.At - start, $"`{_text[start.._cursor.At]}` does not fit {what}; {fitting} would", $"such as `{row.Example}`");
        return null;
    }

    private TimeWindow? AnyWindow(MeasureRow row)
    {
        int start = _cursor.Next;
        if (_cursor.Take("today"))
            return new(WindowKind.Today);
        if (_cursor.Take("tonight"))
            return new(WindowKind.Tonight);
        if (_cursor.Take("tomorrow"))
            return new(WindowKind.Tomorrow);
        if (_cursor.Take("past"))
            return Span(start, past: true);
        if (_cursor.Take("next"))
            return Span(start, past: false);
        if (_cursor.Take("since"))
            return MomentHere() is { } from ? new(WindowKind.Since, 0, from) : null;
        if (_cursor.Take("until"))
            return MomentHere() is { } to ? new(WindowKind.Until, 0, to) : null;
        FailWord<Condition>("a window is wanted here: past or next so many hours, days or nights, today, tonight, tomorrow or since",
            ConditionWords.WindowOpenings, $"such as `{row.Example}`");
        return null;
    }

    private TimeWindow? Span(int start, bool past)
    {
        int countAt = _cursor.Next;
        if (!_cursor.TakeNumber(out int count))
        {
            if (ConditionWords.Numbers.TryGetValue(_cursor.Word.ToString(), out count))
                _cursor.At = _cursor.Next + _cursor.Word.Length;
            else
                count = 1;
        }
        foreach (var (words, pastKind, nextKind, each) in ConditionWords.Spans)
        {
            if (!_cursor.Take(words))
                continue;
            int most = (pastKind == WindowKind.PastHours ? MostHours : MostHours / 24) / each;
            if (count >= 1 && count <= most)
                return new(past ? pastKind : nextKind, count * each);
            Fail<Condition>(countAt, _cursor.LengthAt(countAt), $"a window is of 1 to {most} {words}", null);
            return null;
        }
        string direction = past ? "past" : "next";
        FailWord<Condition>("a window counts hours, days or nights", ["hours", "days", "nights"], $"such as `{direction} 24 hours` or `{direction} 3 days`");
        return null;
    }

    private Moment? MomentHere()
    {
        foreach (var (words, milestone) in ConditionWords.Milestones)
        {
            if (_cursor.Take(words))
                return new Moment.Of(milestone);
        }
        int start = _cursor.Next;
        if (IsoDate() is { } iso)
            return new Moment.OnDate(iso);
        if (_cursor.TakeNumber(out int day) && TakeMonth(out int month))
            return Date(start, day, month);
        _cursor.At = start;
        if (TakeMonth(out month) && _cursor.TakeNumber(out day))
            return Date(start, day, month);
        _cursor.At = start;
        return FailWord<Moment>("neither a moment nor a date", [.. ConditionWords.MilestoneWords, .. ConditionWords.Months],
            "a moment such as sown, up, set out or last done, or a date such as 1 March");
    }

    private LocalDate? IsoDate()
    {
        int start = _cursor.Next;
        const int Length = 10;
        if (start + Length > _text.Length || _text[start + 4] != '-')
            return null;
        var parsed = LocalDatePattern.Iso.Parse(_text.Substring(start, Length));
        if (!parsed.Success)
            return null;
        _cursor.At = start + Length;
        return parsed.Value;
    }

    private bool TakeMonth(out int month)
    {
        var word = _cursor.Word;
        for (month = 1; month <= 12; month++)
        {
            string name = ConditionWords.Months[month - 1];
            if (word.Length >= 3 && name.AsSpan().StartsWith(word, StringComparison.OrdinalIgnoreCase))
            {
                _cursor.At = _cursor.Next + word.Length;
                return true;
            }
        }
        return false;
    }

    private Moment? Date(int start, int day, int month)
    {
        int end = _cursor.At;
        int? year = _cursor.TakeNumber(out int written) ? written : null;
        if (year is < 1900 or > 2200)
        {
            // Not a year: the number belongs to what follows.
            _cursor.At = end;
            year = null;
        }
        int longest = CalendarSystem.Iso.GetDaysInMonth(year ?? 2000, month);
        if (day < 1 || day > longest)
            return Fail<Moment>(start, _cursor.At - start, $"`{_text[start.._cursor.At]}` is no date; the month has {longest} days", null);
        return year is { } y ? new Moment.OnDate(new(y, month, day)) : new Moment.EachYear(new(month, day));
    }
}

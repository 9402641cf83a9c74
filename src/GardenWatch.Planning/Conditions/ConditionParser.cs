using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>Recursive descent over the tables of <see cref="ConditionLanguage"/>. Stops at the first flaw and keeps it.</summary>
internal ref partial struct ConditionParser(string text, ReadOnlySpan<string> boundNames)
{
    private const int LongestText = 2000;
    private const int DeepestNesting = 8;
    private const string Sample = "`rain total next 24 hours at least 6 mm`";

    private readonly string _text = text;
    private readonly ReadOnlySpan<string> _boundNames = boundNames;
    private PhraseCursor _cursor = new(text);
    private int _depth;

    /// <summary>Why <see cref="Condition"/> gave nothing.</summary>
    public Flaw? Flaw { get; private set; }

    /// <summary>A whole text: one phrase, phrases in turn, or "all of (...; ...)".</summary>
    public Condition? Condition()
    {
        if (_text.Length > LongestText)
            return Fail<Condition>(LongestText, _text.Length - LongestText, $"a condition of more than {LongestText} letters is too long", null);
        if (Part() is not { } condition)
            return null;
        return _cursor.AtEnd ? condition : Trailing(condition);
    }

    private Condition? Part()
    {
        if (TakeComposed("all of", out var parts))
            return parts is null ? null : new Condition.AllOf(parts.Value);
        if (TakeComposed("any of", out parts))
            return parts is null ? null : new Condition.AnyOf(parts.Value);
        if (TakeComposed("none of", out parts))
            return parts is null ? null : new Condition.NoneOf(parts.Value);
        if (Phrase() is not { } first)
            return null;
        int comma = _cursor.Next;
        if (!_cursor.Take(","))
            return first;
        if (!_cursor.Take("then"))
            return FailHere<Condition>("after a comma `then` is wanted, as in `dry next 2 hours, then rain total next 24 hours at least 6 mm`", null);
        if (!TurnsOver(first.Window.Kind))
            return Fail<Condition>(comma, 1, "`then` goes on from the end of a window such as `next 2 hours`; this one has no such end", null);
        if (Phrase() is not { } second)
            return null;
        return TurnsOver(second.Window.Kind)
            ? new Condition.InTurn(first, second)
            : Fail<Condition>(comma, 1, "what comes after `then` needs a window such as `next 24 hours`", null);
    }

    private static bool TurnsOver(WindowKind kind) => kind is WindowKind.NextHours or WindowKind.NextDays;

    private bool TakeComposed(string opening, out ImmutableArray<Condition>? parts)
    {
        parts = null;
        if (!_cursor.Take(opening))
            return false;
        if (++_depth > DeepestNesting)
        {
            FailHere<Condition>($"this is nested more than {DeepestNesting} deep; put some of it into `any:` or `none:` of the file", null);
            return true;
        }
        if (!_cursor.Take("("))
        {
            FailHere<Condition>($"`{opening}` wants its phrases in brackets, parted by semicolons", null);
            return true;
        }
        var gathered = ImmutableArray.CreateBuilder<Condition>();
        while (!_cursor.Take(")"))
        {
            if (gathered.Count > 0 && !_cursor.Take(";"))
            {
                FailHere<Condition>("a semicolon or a closing bracket is wanted here", null, cure: _cursor.AtEnd ? ")" : null);
                return true;
            }
            if (Part() is not { } part)
                return true;
            gathered.Add(part);
        }
        _depth--;
        parts = gathered.DrainToImmutable();
        return true;
    }

    private Condition.Phrase? Phrase()
    {
        if (_cursor.AtEnd)
            return FailHere<Condition.Phrase>("a condition is missing", $"such as {Sample}");
        if (_cursor.Take("dry"))
            return NoneOf(ConditionLanguage.Row(Measure.Rain), new(Measure.Rain));
        bool none = _cursor.Take("no");
        int measureAt = _cursor.Next;
        if (MeasureHere() is not { } row)
            return null;
        if (MeasuredHere(row) is not { } measured)
            return null;
        if (none)
        {
            return row.Usual is Statistic.Total or Statistic.Hours
                ? NoneOf(row, measured)
                : Fail<Condition.Phrase>(measureAt, _cursor.At - measureAt, $"`no` goes with what is counted or falls, not with {row.Words[0]}", "such as `no thunder next 6 hours`");
        }
        if (StatisticHere(row) is not { } statistic)
            return null;
        Operand? level = null;
        if (ConditionLanguage.Row(statistic).TakesLevel)
        {
            level = OperandHere(row.Dimension, measured, QuantityEnds.AtWindow);
            if (level is null)
                return null;
        }
        if (WindowHere(row, statistic) is not { } window || ComparisonHere() is not { } comparison)
            return null;
        var dimension = ConditionLanguage.DimensionOf(row.Measure, statistic);
        int limitAt = _cursor.Next;
        if (row.Measure == Measure.WaterDeficit && SaysShare(limitAt))
            (measured, dimension) = (new(Measure.WaterDeficitShare), Dimension.Share);
        if (OperandHere(dimension, measured, comparison == Comparison.Between ? QuantityEnds.AtAnd : QuantityEnds.AtChance) is not { } limit)
            return null;
        Operand? upTo = null;
        if (comparison == Comparison.Between)
        {
            if (!_cursor.Take("and"))
                return FailHere<Condition.Phrase>("`between` wants two quantities with `and` in the middle", "such as `between 6 mm and 15 mm`");
            upTo = OperandHere(dimension, measured, QuantityEnds.AtChance);
            if (upTo is null)
                return null;
            if (limit.Name is not null && limit.Name == upTo.Name)
                return Fail<Condition.Phrase>(limitAt, _cursor.At - limitAt, $"both ends of `between` are named {limit.Name}, so tuning would make them one", "two names, such as `between {enough: 6 mm} and {too much: 15 mm}`");
            if (limit.Default is { } low && upTo.Default is { } high && low.Value > high.Value)
                return Fail<Condition.Phrase>(limitAt, _cursor.At - limitAt, "the first quantity of `between` is the larger one, so nothing can lie between", null,
                    Swapped(limitAt, _cursor.At));
        }
        return ChanceHere(out double? chance) ? new(measured, statistic, level, window, comparison, limit, upTo, chance) : null;
    }

    /// <summary>"dry next 2 hours", "no thunder next 6 hours".</summary>
    private Condition.Phrase? NoneOf(MeasureRow row, Measured measured)
    {
        var statistic = row.Usual!.Value;
        var most = row.Measure == Measure.Rain ? ConditionLanguage.Dry : new(0, row.Dimension);
        return WindowHere(row, statistic) is { } window && ChanceHere(out double? chance)
            ? new(measured, statistic, null, window, Comparison.AtMost, new(null, most), null, chance)
            : null;
    }

    private Statistic? StatisticHere(MeasureRow row)
    {
        foreach (var (words, statistic) in ConditionWords.Statistics)
        {
            int start = _cursor.Next;
            if (!_cursor.Take(words))
                continue;
            if (row.Statistics.Contains(statistic))
                return statistic;
            if (statistic is Statistic.Hours or Statistic.Run)
            {
                // The beginning of "hours above", perhaps, so nothing is said yet.
                _cursor.At = start;
                continue;
            }
            string fitting = ConditionWords.List(row.Statistics.Where(s => s != Statistic.Itself).Select(s => ConditionLanguage.Row(s).Words[0]));
            bool none = fitting.Length == 0;
            Fail<Condition>(start, _cursor.At - start,
                none ? $"{row.Words[0]} takes no `{words}`, it has one value a day" : $"{row.Words[0]} has no {words}; {fitting} fit{(row.Statistics.Length == 1 ? "s" : "")}",
                $"such as `{row.Example}`",
                none ? "" : row.Usual is { } usual ? ConditionLanguage.Row(usual).Words[0] : null);
            return null;
        }
        if (row.Usual is { } implied && (StartsWindow() || !LooksLikeStatistic()))
            return implied;
        if (StartsWindow())
        {
            string choices = ConditionWords.List(row.Statistics.Where(s => !ConditionLanguage.Row(s).TakesLevel).Take(3).Select(s => ConditionLanguage.Row(s).Words[0]));
            FailHere<Condition>($"{row.Words[0]} needs to say what of the window counts: {choices}", $"such as `{row.Example}`");
            return null;
        }
        FailWord<Condition>($"neither a statistic nor a window of {row.Words[0]}", [.. row.Statistics.SelectMany(s => ConditionLanguage.Row(s).Words), .. ConditionWords.WindowOpenings], $"such as `{row.Example}`");
        return null;
    }

    private readonly bool StartsWindow()
    {
        foreach (string opening in ConditionWords.WindowOpenings)
        {
            if (_cursor.EndOf(opening, _cursor.At) >= 0)
                return true;
        }
        return false;
    }

    /// <summary>Nearer to a statistic's word than to a window's.</summary>
    private readonly bool LooksLikeStatistic() =>
        ConditionWords.Nearest(_text, _cursor.Next, ConditionWords.StatisticWords).Near is not null &&
        ConditionWords.Nearest(_text, _cursor.Next, ConditionWords.WindowOpenings).Near is null;

    private Comparison? ComparisonHere()
    {
        foreach (var (words, comparison) in ConditionWords.Comparisons)
        {
            if (_cursor.Take(words))
                return comparison;
        }
        if (_cursor.AtEnd || _cursor.Word is ";" or ")" or ",")
        {
            FailHere<Condition>("the phrase ends without a comparison and a quantity", "at least, at most, above, below or between, then a quantity");
            return null;
        }
        FailWord<Condition>("a comparison is wanted here: at least, at most, above, below or between", ConditionWords.ComparisonWords, null);
        return null;
    }

    /// <summary>True when there is none, too.</summary>
    private bool ChanceHere(out double? chance)
    {
        chance = _cursor.Take("with") ? Chance() : null;
        return Flaw is null;
    }

    private double? Chance()
    {
        if (!_cursor.Take("chance"))
        {
            FailHere<Condition>("after `with` comes `chance at least` and a share", "such as `with chance at least 70 %`", cure: "chance");
            return null;
        }
        if (!_cursor.Take("at least") && !_cursor.Take(">=") && !_cursor.Take("≥"))
        {
            FailHere<Condition>("a chance is asked as `chance at least` and a share", "such as `with chance at least 70 %`",
                cure: char.IsAsciiDigit(_cursor.Word.IsEmpty ? ' ' : _cursor.Word[0]) ? "at least " : null, length: 0);
            return null;
        }
        int start = _cursor.Next;
        if (QuantityHere(Dimension.Share, default, QuantityEnds.AtChance) is not { } share)
            return null;
        if (share.Value > 0)
            return share.Value;
        Fail<Condition>(start, _cursor.At - start, "a chance of nothing asks nothing", "leave the chance out");
        return null;
    }

    private Condition? Trailing(Condition condition)
    {
        if (_cursor.Word is ";")
            return FailHere<Condition>("one condition ends here", "each condition on its own line, or `all of (...; ...)`");
        if (condition is Condition.Phrase { Chance: null })
            return FailWord<Condition>("nothing can follow here but `with chance at least` and a share", ["with chance at least"], null);
        return FailWord<Condition>("nothing can follow here", [], null);
    }

    private string? Swapped(int start, int end)
    {
        string both = _text[start..end];
        int and = both.IndexOf(" and ", StringComparison.OrdinalIgnoreCase);
        return and < 0 || both.Contains('{', StringComparison.Ordinal) ? null : $"{both[(and + 5)..].Trim()} and {both[..and].Trim()}";
    }

    private T? Fail<T>(int start, int length, string problem, string? advice, string? cure = null) where T : class
    {
        Flaw ??= new(start, length, problem, cure, advice);
        return null;
    }

    private T? FailHere<T>(string problem, string? advice, string? cure = null, int? length = null) where T : class
    {
        int start = _cursor.Next;
        return Fail<T>(Math.Min(start, _text.Length), length ?? _cursor.LengthAt(start), problem, advice, cure);
    }

    /// <summary>Names the word that is wrong and the nearest right one.</summary>
    private T? FailWord<T>(string problem, IReadOnlyList<string> candidates, string? advice) where T : class
    {
        int start = _cursor.Next;
        var (near, length) = ConditionWords.Nearest(_text, start, candidates);
        int ownLength = _cursor.LengthAt(start);
        string word = _text.Substring(start, near is null ? ownLength : length);
        if (word.Length == 0)
            return FailHere<T>($"the phrase ends where it should go on: {problem}", advice);
        return near is null
            ? Fail<T>(start, ownLength, $"`{word}`: {problem}", advice)
            : Fail<T>(start, length, $"`{word}`: {problem}; did you mean {near}?", $"`{near}`", near);
    }
}

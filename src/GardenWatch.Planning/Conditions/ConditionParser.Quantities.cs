using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>Quantities and named numbers. Where a quantity ends is the grammar's; what it says is <see cref="QuantityText"/>'s.</summary>
internal ref partial struct ConditionParser
{
    private const int LongestName = 40;

    /// <summary>What may follow a quantity.</summary>
    private enum QuantityEnds { AtChance, AtAnd, AtWindow, AtStatistic, AtBrace }

    private Operand? OperandHere(Dimension dimension, Measured measured, QuantityEnds ends)
    {
        int start = _cursor.Next;
        if (!_cursor.Take("{"))
            return QuantityHere(dimension, measured, ends) is { } plain ? new(null, plain) : null;
        int close = _text.IndexOf('}', start);
        if (close < 0)
            return Fail<Operand>(start, 1, "a named number has no closing brace", "such as `{enough: 6 mm}`");
        int colon = _text.IndexOf(':', start, close - start);
        int nameEnd = colon < 0 ? close : colon;
        string name = string.Join(' ', _text[(start + 1)..nameEnd].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).ToLowerInvariant();
        if (name.Length is 0 or > LongestName || !name.All(c => char.IsLetterOrDigit(c) || c is ' ' or '-'))
            return Fail<Operand>(start, close + 1 - start, "a named number is a name of letters, a colon and a quantity", "such as `{enough: 6 mm}`");
        if (colon < 0)
        {
            if (!_boundNames.Contains(name))
                return Fail<Operand>(start, close + 1 - start, $"`{{{name}}}` has no number here", $"`{{{name}: ...}}` with the number it starts from");
            _cursor.At = close + 1;
            return new(name, null);
        }
        _cursor.At = colon + 1;
        if (QuantityHere(dimension, measured, QuantityEnds.AtBrace) is not { } quantity)
            return null;
        _cursor.At = close + 1;
        return new(name, quantity);
    }

    private Quantity? QuantityHere(Dimension dimension, Measured measured, QuantityEnds ends)
    {
        int start = _cursor.Next;
        int end = EndOfQuantity(start, ends);
        string written = _text[start..end];
        _cursor.At = end;
        if (written.Length == 0)
        {
            string? sample = QuantityText.Read("", dimension) is QuantityReading.Fault(_, var example) ? example : null;
            Fail<Condition>(Math.Min(start, _text.Length), 0, "a quantity is missing here", sample);
            return null;
        }
        switch (QuantityText.Read(InDegreeDays(written, dimension, measured), dimension))
        {
            case QuantityReading.Ok(var quantity):
                return ConditionText.Kept(quantity);
            case QuantityReading.Fault(var problem, var instead):
                Fail<Condition>(start, end - start, problem, instead);
                return null;
            default:
                return null;
        }
    }

    /// <summary>Whether one of the quantities that end a phrase is a share.</summary>
    private readonly bool SaysShare(int start)
    {
        for (int at = start; at < _text.Length && _text[at] is not (';' or ')'); at++)
        {
            bool begins = char.IsWhiteSpace(_text[at - 1]);
            if (begins && (_cursor.EndOf("with", at) >= 0 || _cursor.EndOf("then", at) >= 0))
                break;
            if (_text[at] == '%' || (begins && AnyOf(["percent", "per cent", "pct"], at)))
                return true;
        }
        return false;
    }

    /// <summary>"190 degree-days" counts in the degrees in which the base was written.</summary>
    private readonly string InDegreeDays(string written, Dimension dimension, Measured measured)
    {
        if (dimension != Dimension.Warmth || measured.BaseCelsius is null)
            return written;
        foreach (string ending in (ReadOnlySpan<string>)["degree-days", "degree days", "degree-day"])
        {
            if (written.EndsWith(ending, StringComparison.OrdinalIgnoreCase))
                return string.Concat(written.AsSpan(0, written.Length - ending.Length), BaseInFahrenheit() ? "°F days" : "°C days");
        }
        return written;
    }

    private readonly bool BaseInFahrenheit()
    {
        int at = _text.LastIndexOf("base", _cursor.At - 1, StringComparison.OrdinalIgnoreCase);
        for (int i = at + 4; at >= 0 && i < _cursor.At; i++)
        {
            if (char.ToLowerInvariant(_text[i]) is 'f' or 'c')
                return char.ToLowerInvariant(_text[i]) == 'f';
        }
        return false;
    }

    private readonly int EndOfQuantity(int start, QuantityEnds ends)
    {
        int at = start;
        while (at < _text.Length)
        {
            char c = _text[at];
            bool stops = c is ';' or ')' or '{' or '}'
                || (c == ',' && _cursor.EndOf("then", at + 1) >= 0)
                || ((at == start || char.IsWhiteSpace(_text[at - 1])) && StopsAt(at, ends));
            if (stops)
                break;
            at++;
        }
        while (at > start && char.IsWhiteSpace(_text[at - 1]))
            at--;
        return at;
    }

    private readonly bool StopsAt(int at, QuantityEnds ends) => ends switch
    {
        QuantityEnds.AtChance => _cursor.EndOf("with", at) >= 0,
        // "one and a half inches" goes on; "6 mm and 15 mm" does not.
        QuantityEnds.AtAnd => _cursor.EndOf("and", at) >= 0 && _cursor.EndOf("and a", at) < 0,
        QuantityEnds.AtWindow => AnyOf(ConditionWords.WindowOpenings, at),
        QuantityEnds.AtStatistic => AnyOf(ConditionWords.WindowOpenings, at) || AnyOf(ConditionWords.StatisticWords, at)
            || AnyOf(ConditionWords.ComparisonWords, at) || _cursor.EndOf("ceiling", at) >= 0 || _cursor.EndOf("by", at) >= 0,
        _ => false,
    };

    private readonly bool AnyOf(string[] words, int at)
    {
        foreach (string word in words)
        {
            if (_cursor.EndOf(word, at) >= 0)
                return true;
        }
        return false;
    }
}

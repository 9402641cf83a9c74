using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>Measures and what makes them definite: a depth, a base, a ceiling, a method.</summary>
internal ref partial struct ConditionParser
{
    private MeasureRow? MeasureHere()
    {
        foreach (var (words, row) in ConditionWords.Measures)
        {
            if (_cursor.Take(words))
                return row;
        }
        return FailWord<MeasureRow>("no such measure", ConditionWords.MeasureWords, $"one of {string.Join(", ", ConditionLanguage.Measures.Select(m => m.Words[0]))}");
    }

    private Measured? MeasuredHere(MeasureRow row)
    {
        double? depth = null, floor = null, ceiling = null;
        int start = _cursor.Next;
        // "soil at least" is no depth: there the window is what is missing.
        bool hasDepth = _cursor.EndOf("at least", start) < 0 && _cursor.EndOf("at most", start) < 0 && _cursor.Take("at");
        if (hasDepth && row.Measure != Measure.Soil)
            return Fail(start, 2, $"only soil has a depth; {row.Words[0]} has none");
        if (hasDepth)
        {
            if (QuantityHere(Dimension.Length, default, QuantityEnds.AtStatistic) is not { } written)
                return null;
            if (written.Value is < 0 or > ConditionLanguage.DeepestSoilMetres)
                return Fail(start, _cursor.At - start, "soil is known from the surface down to 2 m");
            depth = written.Value;
        }
        if (row.Measure == Measure.Soil)
            depth ??= ConditionLanguage.UsualSoilDepthMetres;
        if (row.Measure == Measure.Warmth)
        {
            if (!_cursor.Take("base"))
            {
                FailHere<Condition>("warmth wants its base, the temperature above which it counts", $"such as `{row.Example}`");
                return null;
            }
            if (QuantityHere(Dimension.Temperature, default, QuantityEnds.AtStatistic) is not { } lower)
                return null;
            floor = lower.Value;
            int ceilingAt = _cursor.Next;
            if (_cursor.Take("ceiling"))
            {
                if (QuantityHere(Dimension.Temperature, default, QuantityEnds.AtStatistic) is not { } upper)
                    return null;
                if (upper.Value <= lower.Value)
                    return Fail(ceilingAt, _cursor.At - ceilingAt, "the ceiling is not above the base, so no warmth would ever count");
                ceiling = upper.Value;
            }
            if (_cursor.Take("by"))
                return MethodHere(ceiling is not null) is { } method ? new(row.Measure, depth, floor, ceiling, method) : null;
        }
        return new(row.Measure, depth, floor, ceiling);
    }

    private WarmthMethod? MethodHere(bool hasCeiling)
    {
        int start = _cursor.Next;
        foreach (var (words, row) in ConditionWords.WarmthMethods)
        {
            if (!_cursor.Take(words))
                continue;
            if (hasCeiling || !row.NeedsCeiling)
                return row.Method;
            Fail<Condition>(start, _cursor.At - start, $"`{words}` wants a ceiling", "such as `warmth base 15 °C ceiling 32 °C by reducing ceiling total since set out at least 300 °C days`");
            return null;
        }
        FailWord<Condition>("no method of reckoning warmth", ConditionWords.WarmthMethodWords, $"one of {string.Join(", ", ConditionWords.WarmthMethodWords)}");
        return null;
    }

    private Measured? Fail(int start, int length, string problem)
    {
        Fail<Condition>(start, length, problem, null);
        return null;
    }
}

using System.Globalization;
using System.Text;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Planning.Conditions;

/// <summary>Writes a condition so that it reads back as the same one.</summary>
internal static class ConditionPrinting
{
    public static string Print(Condition condition, Speech? speech)
    {
        var text = new StringBuilder();
        Write(text, condition, speech?.Units ?? UnitSystem.Metric);
        return text.ToString();
    }

    private static void Write(StringBuilder text, Condition condition, UnitSystem units)
    {
        switch (condition)
        {
            case Condition.Phrase phrase:
                Write(text, phrase, units);
                break;
            case Condition.InTurn(var first, var then):
                Write(text, first, units);
                text.Append(", then ");
                Write(text, then, units);
                break;
            case Condition.AllOf(var parts):
                Write(text, "all of", parts, units);
                break;
            case Condition.AnyOf(var parts):
                Write(text, "any of", parts, units);
                break;
            case Condition.NoneOf(var parts):
                Write(text, "none of", parts, units);
                break;
        }
    }

    private static void Write(StringBuilder text, string opening, IEnumerable<Condition> parts, UnitSystem units)
    {
        text.Append(opening).Append(" (");
        string separator = "";
        foreach (var part in parts)
        {
            text.Append(separator);
            Write(text, part, units);
            separator = "; ";
        }
        text.Append(')');
    }

    private static void Write(StringBuilder text, Condition.Phrase phrase, UnitSystem units)
    {
        var row = ConditionLanguage.Row(phrase.Of.Measure);
        text.Append(row.Words[0]);
        if (phrase.Of.DepthMetres is { } depth)
            text.Append(" at ").Append(InUnits(new(depth, Dimension.Length), units));
        if (phrase.Of.BaseCelsius is { } floor)
            text.Append(" base ").Append(InUnits(new(floor, Dimension.Temperature), units));
        if (phrase.Of.CeilingCelsius is { } ceiling)
            text.Append(" ceiling ").Append(InUnits(new(ceiling, Dimension.Temperature), units));
        if (phrase.Of.Method != WarmthMethod.Hours)
            text.Append(" by ").Append(ConditionLanguage.Row(phrase.Of.Method).Words);
        if (phrase.Statistic != Statistic.Itself)
            text.Append(' ').Append(ConditionLanguage.Row(phrase.Statistic).Words[0]);
        if (phrase.Level is { } level)
            text.Append(' ').Append(Written(level, units));
        text.Append(' ').Append(Written(phrase.Window));
        text.Append(' ').Append(ConditionLanguage.Row(phrase.Comparison).Words[0]);
        text.Append(' ').Append(Written(phrase.Limit, units));
        if (phrase.UpTo is { } upTo)
            text.Append(" and ").Append(Written(upTo, units));
        if (phrase.Chance is { } chance)
            text.Append(" with chance at least ").Append(InUnits(new(chance, Dimension.Share), units));
    }

    public static string Written(TimeWindow window)
    {
        string words = ConditionLanguage.Row(window.Kind).Words;
        if (window.Count == 1)
            words = words.TrimEnd('s');
        words = words.Replace("{n}", window.Count.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);
        return window.Moment is { } moment ? words.Replace("{moment}", Written(moment), StringComparison.Ordinal) : words;
    }

    private static string Written(Moment moment) => moment switch
    {
        Moment.Of(var milestone) => ConditionLanguage.Row(milestone).Words[0],
        Moment.OnDate(var date) => $"{Tongue.English.Date(date)} {date.Year.ToString(CultureInfo.InvariantCulture)}",
        Moment.EachYear(var date) => Tongue.English.Date(date.InYear(2000)),
        _ => "",
    };

    private static string Written(Operand operand, UnitSystem units) => operand switch
    {
        { Name: null, Default: { } plain } => InUnits(plain, units),
        { Default: { } tunable } => $"{{{operand.Name}: {InUnits(tunable, units)}}}",
        _ => $"{{{operand.Name}}}",
    };

    /// <summary>
    /// As a gardener would write it and as it reads back to the very number: in the garden's own unit while that takes no
    /// more than hundredths, else in the unit that takes the fewest digits, else to the last digit kept.
    /// </summary>
    private static string InUnits(Quantity quantity, UnitSystem units)
    {
        const int Hundredths = 2;
        (string Written, int Decimals)? shortest = null;
        foreach (var (factor, offset, unit) in Units(quantity.Dimension, units))
        {
            string number = Digits(Math.Round((quantity.Value - offset) / factor, 6));
            if (QuantityText.Read(number + unit, quantity.Dimension) is not QuantityReading.Ok(var read) || ConditionText.Kept(read) != quantity)
                continue;
            int point = number.IndexOf('.', StringComparison.Ordinal);
            int decimals = point < 0 ? 0 : number.Length - point - 1;
            if (shortest is null && decimals <= Hundredths)
                return number + unit;
            if (shortest is null || decimals < shortest.Value.Decimals)
                shortest = (number + unit, decimals);
        }
        return shortest?.Written
            ?? Digits(quantity.Value) + Units(quantity.Dimension, UnitSystem.Metric).FirstOrDefault(u => u.Factor == 1).Unit;
    }

    private static string Digits(double value)
    {
        string digits = (value == 0 ? 0 : value).ToString("0.#########", CultureInfo.InvariantCulture);
        // "1.875" might be a thousand and some; "1.8750" can't.
        int point = digits.IndexOf('.', StringComparison.Ordinal);
        return point >= 0 && digits.Length - point == 4 ? digits + "0" : digits;
    }

    /// <summary>Kept value = written × factor + offset; the units that a gardener of the system would try, in their order.</summary>
    private static (double Factor, double Offset, string Unit)[] Units(Dimension dimension, UnitSystem units) => (dimension, units) switch
    {
        (Dimension.Temperature, UnitSystem.Us) => [(1 / 1.8, -32 / 1.8, " °F"), (1, 0, " °C")],
        (Dimension.Temperature, _) => [(1, 0, " °C"), (1 / 1.8, -32 / 1.8, " °F")],
        (Dimension.WaterDepth, UnitSystem.Us) => [(25.4, 0, " in"), (1, 0, " mm")],
        (Dimension.WaterDepth, _) => [(1, 0, " mm"), (25.4, 0, " in")],
        (Dimension.RainRate, UnitSystem.Us) => [(25.4, 0, " in/h"), (1, 0, " mm/h")],
        (Dimension.RainRate, _) => [(1, 0, " mm/h"), (25.4, 0, " in/h")],
        (Dimension.Speed, UnitSystem.Us) => [(0.44704, 0, " mph"), (1, 0, " m/s"), (1 / 3.6, 0, " km/h")],
        (Dimension.Speed, _) => [(1, 0, " m/s"), (1 / 3.6, 0, " km/h"), (0.44704, 0, " mph")],
        (Dimension.Length, UnitSystem.Us) => [(0.0254, 0, " in"), (0.01, 0, " cm"), (0.001, 0, " mm"), (1, 0, " m")],
        (Dimension.Length, _) => [(0.01, 0, " cm"), (0.001, 0, " mm"), (1, 0, " m"), (0.0254, 0, " in")],
        (Dimension.Warmth, UnitSystem.Us) => [(1 / 1.8, 0, " °F days"), (1, 0, " °C days")],
        (Dimension.Warmth, _) => [(1, 0, " °C days"), (1 / 1.8, 0, " °F days")],
        (Dimension.Share, _) => [(0.01, 0, " %")],
        (Dimension.Hours, _) => [(1, 0, " hours")],
        (Dimension.Days, _) => [(1, 0, " days")],
        (Dimension.Severity, _) => [(1, 0, " values")],
        _ => [(1, 0, " W/m²")],
    };
}

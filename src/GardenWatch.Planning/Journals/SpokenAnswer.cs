using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Journals;

/// <summary>Readings, pickings and dates as a gardener says them, in a command or a mail. What is not clear comes back as <see cref="Answer.Unclear"/>.</summary>
public static class SpokenAnswer
{
    // A day named without its year that is so near ahead was meant so, and is told to be still to come.
    private const int NearAheadDays = 31;

    private const string ReadingExamples = "write it as: reading soil 14 C at 5 cm, reading air low 38 F, reading rain 12 mm";
    private const string PickedExamples = "write it as: picked tomato 1.2 kg, picked 3 squash";

    /// <param name="text">What follows the word "reading": "soil 57 F at 2 in in the kitchen bed", "air low 3 C", "rain none".</param>
    public static Answer Reading(string text, LocalDate? on = null, string? bed = null)
    {
        string said = WrittenNumber.Plain(text);
        return Beginning(said, "soil temperature", "soil") is { } soil ? Soil(text, soil, on, bed)
            : Beginning(said, "air low", "low", "air", "night low", "frost") is { } low ? Measured(text, ReadingKind.AirLow, low, Dimension.Temperature, null, on, bed)
            : Beginning(said, "rain", "rain gauge", "gauge") is { } rain ? Rain(text, rain, on)
            : new Answer.Unclear(text, $"“{text.Trim()}” is no reading; {ReadingExamples}.");
    }

    /// <param name="text">What follows the word "reset": "soil", "air low", "rain".</param>
    public static Answer Reset(string text, string? bed = null) => WrittenNumber.Plain(text) switch
    {
        "soil" => new Answer.Reset(ReadingKind.Soil, bed),
        "air low" or "low" or "air" => new Answer.Reset(ReadingKind.AirLow, bed),
        "rain" => new Answer.Reset(ReadingKind.Rain),
        _ => new Answer.Unclear(text, "What shall begin anew: soil, air low or rain? Write it as: reading reset soil."),
    };

    /// <param name="text">What follows the word "picked": "tomato 1.2 kg", "3 squash", "2 lb of beans", "lettuce".</param>
    public static Answer Picked(string text, LocalDate? on = null)
    {
        string said = WrittenNumber.Plain(text);
        if (said.Length == 0)
            return new Answer.Unclear(text, $"What was picked? Please {PickedExamples}.");
        if (WrittenNumber.Read(said) is WrittenNumber.Ok { Rest.Length: > 0 } first && !char.IsAsciiDigit(first.Rest[0]))
            return Amount(text, said[..^first.Rest.Length], first.Rest, first.Value, on);
        int digit = said.AsSpan(1).IndexOfAnyInRange('0', '9') + 1;
        if (digit == 0)
            return new Answer.Picked(Bare(said), On: on);
        string what = said[..digit].Trim(), amount = said[digit..];
        if (WrittenNumber.Read(amount) is WrittenNumber.Ok { Rest: "", Value: >= 0 and var pieces })
            return new Answer.Picked(Bare(what), Pieces: pieces, On: on);
        return QuantityText.Read(amount, Dimension.Mass) switch
        {
            QuantityReading.Ok weight => new Answer.Picked(Bare(what), Grams: weight.Quantity.Value, On: on),
            QuantityReading.Fault fault => new Answer.Unclear(text, Sentence(fault)),
            _ => throw new InvalidOperationException("No such reading."),
        };
    }

    /// <summary>A day as said on a day: "yesterday", "12 May". Null with what is wrong.</summary>
    public static LocalDate? Day(string text, LocalDate today, out string? wrong)
    {
        wrong = null;
        switch (DateText.Read(text))
        {
            case DateReading.Ok(var written):
                var nearest = written.Resolve(today);
                var range = nearest.From > today && Period.DaysBetween(today, nearest.From) <= NearAheadDays ? nearest : written.Resolve(today, Looking.Back);
                if (range.From == range.To)
                    return range.From;
                wrong = $"“{text.Trim()}” is more than one day; name the day, such as `12 May`.";
                return null;
            case DateReading.Fault(var problem, var instead):
                wrong = instead is null ? $"{problem}." : $"{problem}; write {instead}.";
                return null;
            default:
                throw new InvalidOperationException("No such reading.");
        }
    }

    private static Answer Soil(string text, string said, LocalDate? on, string? bed)
    {
        string temperature = said, depth = "";
        if (said.IndexOf(" at ", StringComparison.Ordinal) is > 0 and var at)
            (temperature, depth) = (said[..at], said[(at + 4)..]);
        if (depth.Length == 0)
            return Measured(text, ReadingKind.Soil, temperature, Dimension.Temperature, null, on, bed);
        var length = QuantityText.Read(depth, Dimension.Length);
        // "2 in in the kitchen bed": the last "in" that leaves a depth before it.
        for (int from = depth.LastIndexOf(" in ", StringComparison.Ordinal); length is QuantityReading.Fault && from > 0; from = depth.LastIndexOf(" in ", from - 1, StringComparison.Ordinal))
            if (QuantityText.Read(depth[..from], Dimension.Length) is QuantityReading.Ok apart)
                (length, bed) = (apart, bed ?? depth[(from + 4)..]);
        return length switch
        {
            QuantityReading.Ok(var metres) => Measured(text, ReadingKind.Soil, temperature, Dimension.Temperature, metres.Value, on, bed),
            QuantityReading.Fault fault => new Answer.Unclear(text, Sentence(fault)),
            _ => throw new InvalidOperationException("No such reading."),
        };
    }

    private static Answer Rain(string text, string said, LocalDate? on) => said is "none" or "nothing" or "no" or "0"
        ? new Answer.Reading(ReadingKind.Rain, 0, On: on)
        : Measured(text, ReadingKind.Rain, said, Dimension.WaterDepth, null, on, null);

    private static Answer Measured(string text, ReadingKind kind, string said, Dimension dimension, double? depth, LocalDate? on, string? bed)
    {
        var reading = QuantityText.Read(said, dimension);
        if (reading is QuantityReading.Fault && said.IndexOf(" in ", StringComparison.Ordinal) is > 0 and var at
            && QuantityText.Read(said[..at], dimension) is QuantityReading.Ok apart)
            (reading, bed) = (apart, bed ?? said[(at + 4)..]);
        return reading switch
        {
            QuantityReading.Ok(var quantity) => new Answer.Reading(kind, quantity.Value, depth, bed, on),
            QuantityReading.Fault fault => new Answer.Unclear(text, Sentence(fault)),
            _ => throw new InvalidOperationException("No such reading."),
        };
    }

    /// <summary>"2 lb of beans", "3 squash", "three heads of lettuce".</summary>
    private static Answer Amount(string text, string number, string rest, double value, LocalDate? on)
    {
        int end = rest.IndexOf(' ', StringComparison.Ordinal);
        if (end > 0 && QuantityText.Read(number + rest[..end], Dimension.Mass) is QuantityReading.Ok weight)
            return new Answer.Picked(Bare(rest[end..]), Grams: weight.Quantity.Value, On: on);
        if (end < 0 && QuantityText.Read(number + rest, Dimension.Mass) is QuantityReading.Ok)
            return new Answer.Unclear(text, $"{text.Trim()} of what? Please {PickedExamples}.");
        return value < 0
            ? new Answer.Unclear(text, $"“{text.Trim()}” is less than nothing; {PickedExamples}.")
            : new Answer.Picked(Bare(rest), Pieces: value, On: on);
    }

    /// <summary>Without what only joins: "of", and what is counted of it ("heads of").</summary>
    private static string Bare(string said)
    {
        string what = said.Trim();
        int of = what.IndexOf(" of ", StringComparison.Ordinal);
        return of > 0 ? what[(of + 4)..] : what.StartsWith("of ", StringComparison.Ordinal) ? what[3..] : what;
    }

    /// <summary>What follows the longest of some words at the beginning; null when none of them stands there.</summary>
    private static string? Beginning(string said, params ReadOnlySpan<string> words)
    {
        string? rest = null;
        foreach (string word in words)
            if (said.StartsWith(word + " ", StringComparison.Ordinal) && (rest is null || said.Length - word.Length - 1 < rest.Length))
                rest = said[(word.Length + 1)..];
        return rest;
    }

    private static string Sentence(QuantityReading.Fault fault) => fault.Instead is null ? $"{fault.Problem}." : $"{fault.Problem}; write {fault.Instead}.";
}

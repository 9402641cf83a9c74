using System.Collections.Immutable;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>What was read off by hand: "soil 14C at 2 in low bed", "rain 12 mm", "low -2 last night".</summary>
internal static class MeasureClause
{
    private const int LongestBed = 4;
    private const double InchMetres = 0.0254;

    private static readonly (string Meaning, ReadingKind Kind)[] Kinds = [("soil", ReadingKind.Soil), ("rain", ReadingKind.Rain), ("low", ReadingKind.AirLow)];

    public static ImmutableArray<Answer>? Read(ReadOnlySpan<Lexeme> words, Speech speech, LocalDate today)
    {
        ReadingKind? kind = null;
        double? value = null, depth = null;
        string? unit = null;
        DayTold? day = null;
        var bed = new List<string>();
        bool inBed = false;
        for (int i = 0; i < words.Length;)
        {
            var word = words[i];
            // "Low" of "low bed" is no measure once there is one.
            if (kind is null && Kinds.FirstOrDefault(each => word.Means(each.Meaning)) is { Meaning: not null } found)
            {
                kind = found.Kind;
                i++;
            }
            else if (kind is not null && value is not null && word.Means("at") && i + 2 < words.Length && LengthAt(words[(i + 1)..]) is { } told && depth is null)
            {
                (depth, inBed) = (told, true);
                i += 3;
            }
            else if (value is null && NumberAt(words[i..]) is { } number)
            {
                value = number.Value;
                i += number.Taken;
                if (i < words.Length && UnitOf(words[i]) is { } known)
                {
                    unit = known;
                    i++;
                    // "12 mm of rain", "57 degrees F".
                    if (known == "degrees" && i < words.Length && UnitOf(words[i]) is "celsius" or "fahrenheit")
                        unit = UnitOf(words[i++]);
                }
            }
            else if (bed.Count == 0 && day is null && DayTold.At(words[i..], today) is { } told2)
            {
                day = told2.Day;
                i += told2.Taken;
            }
            else if (value is not null && word.Means("in") && bed.Count == 0)
            {
                inBed = true;
                i++;
            }
            else if (inBed && bed.Count < LongestBed && word.Number is null && char.IsLetter(word.Text[0]) && (bed.Count > 0 || word.Text is not ("the" or "my" or "our")))
            {
                bed.Add(word.Text);
                i++;
            }
            else if (word.Means("reads") || word.Means("filler") || word.Means("and"))
                i++;
            else
                return null;
        }
        if (kind is not { } measured || value is not { } read || day is { Past: null })
            return null;
        return InSi(measured, read, unit, speech.Units) is { } si
            ? [new Answer.Reading(measured, si, depth, bed.Count > 0 ? string.Join(' ', bed) : null, day?.Past == today ? null : day?.Past)]
            : [new Answer.Unclear(ReplyReader.Own, measured == ReadingKind.Rain
                ? speech.Say("How much rain is that? Write a unit, as in “rain 12 mm” or “rain 0.5 in”.")
                : speech.Say("Which unit is that? Write it, as in “soil 14 C” or “soil 57 F”."))];
    }

    private static double? LengthAt(ReadOnlySpan<Lexeme> words) =>
        words[0].Number is not { } number ? null
        : words[1].Means("centimetre") ? number / 100
        : words[1].Means("millimetre") ? number / 1000
        : words[1].Means("inch") ? number * InchMetres
        : null;

    private static (double Value, int Taken)? NumberAt(ReadOnlySpan<Lexeme> words)
    {
        bool below = words[0].Text is "-" or "−" or "–" or "minus";
        int at = below ? 1 : 0;
        if (at >= words.Length)
            return null;
        double? number = words[at].Number is { } written && words[at].Text.Length < 10 ? written
            : words[at].Means("anumber 0.5") ? 0.5 : words[at].Count("number");
        return number is { } value ? (below ? -value : value, at + 1) : null;
    }

    private static string? UnitOf(Lexeme word) =>
        ((ReadOnlySpan<string>)["celsius", "fahrenheit", "millimetre", "centimetre", "inch", "degrees"]).ToArray().FirstOrDefault(word.Means);

    /// <summary>°C or mm; null when the unit does not fit, or what comes of it is seen in no garden.</summary>
    private static double? InSi(ReadingKind kind, double value, string? unit, UnitSystem units)
    {
        if (kind == ReadingKind.Rain)
        {
            double? mm = unit switch
            {
                "millimetre" => value,
                "centimetre" => value * 10,
                "inch" => value * 25.4,
                null => units == UnitSystem.Us ? value * 25.4 : value,
                _ => null,
            };
            return mm is >= 0 and <= 300 ? mm : null;
        }
        double? celsius = unit switch
        {
            "celsius" => value,
            "fahrenheit" => (value - 32) / 1.8,
            "degrees" or null => units == UnitSystem.Us ? (value - 32) / 1.8 : value,
            _ => null,
        };
        var (least, most) = kind == ReadingKind.Soil ? (-8.0, 50.0) : (-45.0, 40.0);
        return celsius >= least && celsius <= most ? celsius : null;
    }
}

using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>Conditions as people write them, and back.</summary>
public static class ConditionText
{
    private const int MostMended = 6;

    /// <summary>Reads a phrase. A named number must bring its own default: <c>{enough: 6 mm}</c>.</summary>
    public static ConditionReading Read(string phrase) => Read(phrase, []);

    /// <param name="boundNames">Names that a profile binds, so that <c>{leaf}</c> needs no number of its own.</param>
    public static ConditionReading Read(string phrase, params ReadOnlySpan<string> boundNames)
    {
        var parser = new ConditionParser(phrase, boundNames);
        if (parser.Condition() is { } condition)
            return new ConditionReading.Ok(condition);
        var flaw = parser.Flaw!;
        return new ConditionReading.Fault(flaw.Start + 1, flaw.Problem, Mended(phrase, flaw, boundNames) ?? flaw.Advice);
    }

    /// <summary>A phrase that the program itself brings.</summary>
    /// <exception cref="InvalidOperationException">It is not of the language.</exception>
    internal static Condition Own(string phrase) => Read(phrase) is ConditionReading.Ok ok ? ok.Condition : throw new InvalidOperationException($"`{phrase}` is not of the language.");

    /// <summary>What parses back to the same condition; in the garden's units where they hold the quantity exactly.</summary>
    public static string Print(Condition condition, Speech? speech = null) => ConditionPrinting.Print(condition, speech);

    /// <summary>A billionth of a unit is kept, so that whatever was read can also be written.</summary>
    internal static Quantity Kept(Quantity read) => read with { Value = Math.Round(read.Value, 9) };

    /// <summary>The whole phrase with each flaw's likeliest cure, if that makes it right.</summary>
    private static string? Mended(string phrase, Flaw flaw, ReadOnlySpan<string> boundNames)
    {
        for (int cure = 0; cure < MostMended && flaw.Cure is not null; cure++)
        {
            phrase = string.Concat(phrase.AsSpan(0, flaw.Start), flaw.Cure, phrase.AsSpan(flaw.Start + flaw.Length));
            var parser = new ConditionParser(phrase, boundNames);
            if (parser.Condition() is not null)
                return $"`{string.Join(' ', phrase.Split(' ', StringSplitOptions.RemoveEmptyEntries))}`";
            flaw = parser.Flaw!;
        }
        return null;
    }
}

/// <summary>The first thing that is wrong in a phrase.</summary>
/// <param name="Cure">What to put in the place of the flawed stretch; null when it can't be guessed.</param>
/// <param name="Advice">What to say when curing it does not make the phrase right.</param>
internal sealed record Flaw(int Start, int Length, string Problem, string? Cure, string? Advice);

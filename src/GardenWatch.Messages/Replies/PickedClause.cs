using System.Collections.Immutable;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>What was brought in: "picked 1.2 kg tomatoes", "12 cucumbers harvested".</summary>
internal static class PickedClause
{
    private const int LongestName = 4;
    private static readonly (string Unit, double Grams)[] Weights = [("kilogram", 1000), ("gram", 1), ("pound", 453.59237), ("ounce", 28.349523125)];

    /// <param name="goesOn">After "picked 2 kg tomatoes and", where the verb is not said again.</param>
    public static ImmutableArray<Answer>? Read(ReadOnlySpan<Lexeme> words, bool goesOn, LocalDate today)
    {
        bool picked = goesOn, surely = goesOn;
        double? amount = null, grams = null;
        DayTold? day = null;
        var what = new List<string>();
        for (int i = 0; i < words.Length;)
        {
            var word = words[i];
            if (word.Means("picked"))
            {
                (picked, surely) = (true, true);
                i++;
            }
            else if (word.Means("gathered"))
            {
                picked = true;
                i++;
            }
            else if (amount is null && what.Count == 0 && AmountAt(words, i) is { } told)
            {
                (amount, grams) = (told.Amount, told.Grams);
                i += told.Taken;
            }
            else if (DayTold.At(words[i..], today) is { } when)
            {
                if (day is not null)
                    return null;
                day = when.Day;
                i += when.Taken;
            }
            else if (what.Count == 0 && (word.Means("ofsome") || word.Means("filler")))
                i++;
            else if (word.Text is ":" or "!" or "-" || (what.Count > 0 && word.Means("filler") && word.Text is "now" or "already"))
                i++;
            else if (word.Number is null && word.Text.Length > 1 && word.Text.All(c => char.IsLetter(c) || c is ' ' or '\'') && !word.Means("doubt") && what.Count < LongestName)
            {
                what.Add(word.Text);
                i++;
            }
            else
                return null;
        }
        // "Pulled the weeds" is no harvest, "pulled 12 radishes" is.
        if (what.Count == 0 || day is { Past: null } || !picked || !(surely || amount is not null))
            return null;
        return [new Answer.Picked(string.Join(' ', what), grams, grams is null ? amount : null, day?.Past == today ? null : day?.Past)];
    }

    private static double? GramsOf(Lexeme word) => Weights.FirstOrDefault(weight => word.Means(weight.Unit)) is { Unit: not null } unit ? unit.Grams : null;

    private static (double Amount, double? Grams, int Taken)? AmountAt(ReadOnlySpan<Lexeme> words, int at)
    {
        double? number = words[at].Number is { } written and > 0 and < 100_000 ? written
            : words[at].Means("anumber 0.5") ? 0.5 : words[at].Count("number") ?? words[at].Count("anumber");
        if (number is not { } amount)
            return null;
        // "1,200 g" can mean two weights a thousandfold apart.
        if (words[at].Text.Length >= 5 && words[at].Text[^4] is ',' or '.')
            return null;
        int next = at + 1;
        if (next < words.Length && words[next].Means("anumber 1") && words[at].Means("anumber 0.5"))
            next++;
        if (next < words.Length && GramsOf(words[next]) is { } each)
            return (amount, amount * each, next + 1 - at);
        // "A lettuce" is one, though "a" is often said of nothing counted: "a bowl of peas".
        return words[at].Number is null && words[at].Count("anumber") == 1 ? null : (amount, null, next - at);
    }
}

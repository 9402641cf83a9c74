using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Planning.Tests.Tongues;

/// <summary>A language that says everything in English between ⟦ and ⟧: what stands outside was not looked up.</summary>
internal static partial class MarkedTongue
{
    // Signs of units and the halves of the twelve-hour clock are no words of a sentence.
    private static readonly FrozenSet<string> Signs = FrozenSet.Create(StringComparer.Ordinal, "mm", "cm", "km", "am", "pm");

    public static Tongue Tongue { get; } = Of(Phrases.Of(CropShelf.Shipped(ConditionText.Read)));

    public static string Marked(string phrase) => Literal().Replace(phrase, match => match.Value.Any(char.IsLetter) ? $"⟦{match.Value}⟧" : match.Value);

    public static string Unmarked(string text) => text.Replace("⟦", "", StringComparison.Ordinal).Replace("⟧", "", StringComparison.Ordinal);

    /// <summary>Words that were not looked up.</summary>
    /// <param name="own">The gardener's own words, which are nobody's to translate.</param>
    public static ImmutableArray<string> Outside(string text, IEnumerable<string> own)
    {
        string rest = Inside().Replace(text, "·");
        foreach (string words in own.Where(words => words.Length > 0).OrderByDescending(words => words.Length))
            rest = rest.Replace(words, "·", StringComparison.OrdinalIgnoreCase);
        return [.. LongerWord().Matches(rest).Select(match => match.Value).Where(word => !Signs.Contains(word))];
    }

    private static Tongue Of(Phrases phrases) => Tongue.English with
    {
        Code = "x-marked",
        Months = [.. Tongue.English.Months.Select(Marked)],
        Weekdays = [.. Tongue.English.Weekdays.Select(Marked)],
        ShortWeekdays = [.. Tongue.English.ShortWeekdays.Select(Marked)],
        Phrases = phrases.Words.ToFrozenDictionary(phrase => phrase, Marked),
        Counts = phrases.Counted.ToFrozenDictionary(phrase => phrase, phrase => ImmutableDictionary<PluralCategory, string>.Empty.Add(PluralCategory.Other, Marked(phrase))),
    };

    [GeneratedRegex(@"⟦[^⟦⟧]*(⟧|…|$)", RegexOptions.CultureInvariant)]
    private static partial Regex Inside();

    [GeneratedRegex(@"(?<=^|\})[^{}]+(?=\{|$)", RegexOptions.CultureInvariant)]
    private static partial Regex Literal();

    [GeneratedRegex(@"\p{L}{2,}", RegexOptions.CultureInvariant)]
    private static partial Regex LongerWord();
}

using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Reflection;

namespace GardenWatch.Messages.Replies;

/// <summary>A file of words: one meaning a line, <c>meaning: word | word of several | …</c>; <c>#</c> begins a remark.</summary>
internal sealed class WordTable
{
    private readonly FrozenDictionary<string, ImmutableArray<string>> _meaningsOf;
    private readonly FrozenDictionary<string, ImmutableArray<string>> _wordsOf;

    private WordTable(string text)
    {
        var wordsOf = text.Split('\n', StringSplitOptions.TrimEntries)
            .Where(line => line.Length > 0 && line[0] != '#')
            .Select(line => (Colon: line.IndexOf(": ", StringComparison.Ordinal), Line: line))
            .Select(entry => (Meaning: entry.Line[..entry.Colon], Words: entry.Line[(entry.Colon + 2)..].Split(" | ", StringSplitOptions.TrimEntries)))
            .GroupBy(entry => entry.Meaning, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.SelectMany(entry => entry.Words).ToImmutableArray(), StringComparer.Ordinal);
        _wordsOf = wordsOf.ToFrozenDictionary(StringComparer.Ordinal);
        _meaningsOf = wordsOf.SelectMany(entry => entry.Value.Select(word => (Word: word, Meaning: entry.Key)))
            .GroupBy(pair => pair.Word, StringComparer.Ordinal)
            .ToFrozenDictionary(group => group.Key, group => group.Select(pair => pair.Meaning).Distinct().ToImmutableArray(), StringComparer.Ordinal);
        LongestPhrase = _meaningsOf.Keys.Max(phrase => phrase.AsSpan().Count(' ') + 1);
    }

    /// <summary>In words.</summary>
    public int LongestPhrase { get; }

    public static WordTable Shipped(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"words/{name}")
            ?? throw new InvalidOperationException($"The table of words {name} is not in the program.");
        using var reader = new StreamReader(stream);
        return new(reader.ReadToEnd());
    }

    /// <summary>All words of a meaning; none when the language has none.</summary>
    public ImmutableArray<string> WordsOf(string meaning) => _wordsOf.GetValueOrDefault(meaning, []);

    public ImmutableArray<string> MeaningsOf(string phrase) => _meaningsOf.GetValueOrDefault(phrase, []);

    public bool Has(string phrase) => _meaningsOf.ContainsKey(phrase);
}

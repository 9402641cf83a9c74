using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Replies;

/// <summary>A word or phrase of a sentence with what it may mean, or a number.</summary>
/// <param name="Text">In small letters, as written.</param>
/// <param name="Start">Its place in the sentence, as <paramref name="End"/>.</param>
internal readonly record struct Lexeme(string Text, double? Number, ImmutableArray<string> Meanings, int Start, int End)
{
    public bool Means(string meaning) => Meanings.Contains(meaning);

    public bool IsNumber => Number is not null && char.IsAsciiDigit(Text[0]);

    /// <summary>The number behind "number 3", "weekday 6", "month 4"; null when it has no such meaning.</summary>
    public int? Count(string meaning)
    {
        foreach (string each in Meanings)
            if (each.StartsWith(meaning, StringComparison.Ordinal) && each.Length > meaning.Length && each[meaning.Length] == ' '
                && int.TryParse(each.AsSpan(meaning.Length + 1), NumberStyles.None, CultureInfo.InvariantCulture, out int count))
                return count;
        return null;
    }

    /// <summary>The bases of a verb form: "sow" of "sowed".</summary>
    public IEnumerable<string> Verbs => Meanings.Where(meaning => meaning.StartsWith("verb ", StringComparison.Ordinal)).Select(meaning => meaning[5..]);
}

/// <summary>A language in which digests are answered: its table of words, and how sentences become words of it.</summary>
internal sealed class ReplyTongue
{
    private const int LongestPhraseLetters = 40;
    private const int ShortestMistyped = 3, ShortestMeant = 4;

    /// <summary>Of these a mistyped letter is put right; nothing else is guessed.</summary>
    private static readonly string[] Guessed = ["done", "later", "skip", "all", "soil", "rain", "picked", "undo", "tomorrow", "yesterday", "weekday 1", "weekday 2", "weekday 3", "weekday 4", "weekday 5", "weekday 6", "weekday 7"];

    private readonly ImmutableArray<string> _guessable;

    private ReplyTongue(string name)
    {
        Table = WordTable.Shipped(name);
        _guessable = [.. Guessed.SelectMany(meaning => Table.WordsOf(meaning)).Where(word => word.Length >= ShortestMeant && word.All(char.IsLetter)).Distinct()];
    }

    /// <summary>English first, which everybody may write in.</summary>
    public static ImmutableArray<ReplyTongue> All { get; } = [new("en"), new("de")];

    public WordTable Table { get; }

    public ImmutableArray<Lexeme> Lexemes(string sentence)
    {
        var tokens = Tokens(sentence);
        var lexemes = ImmutableArray.CreateBuilder<Lexeme>(tokens.Count);
        for (int i = 0; i < tokens.Count;)
        {
            var (lexeme, taken) = LongestAt(sentence, tokens, i);
            lexemes.Add(lexeme);
            i += taken;
        }
        return lexemes.ToImmutable();
    }

    private (Lexeme Lexeme, int Taken) LongestAt(string sentence, List<(int Start, int End, double? Number)> tokens, int at)
    {
        int start = tokens[at].Start;
        for (int count = Math.Min(Table.LongestPhrase * 2, tokens.Count - at); count > 0; count--)
        {
            int end = tokens[at + count - 1].End;
            if (end - start > LongestPhraseLetters)
                continue;
            string phrase = Plainly(sentence[start..end]);
            if (Table.MeaningsOf(phrase) is { Length: > 0 } meanings)
                return (new(phrase, count == 1 ? tokens[at].Number : null, meanings, start, end), count);
        }
        string text = Plainly(sentence[start..tokens[at].End]);
        var guess = tokens[at].Number is null ? Nearest(text) : null;
        return (new(text, tokens[at].Number, guess is null ? [] : Table.MeaningsOf(guess), start, tokens[at].End), 1);
    }

    /// <summary>One letter may be wrong, but not the first: "gone" is no "done".</summary>
    private string? Nearest(string word)
    {
        if (word.Length < ShortestMistyped || word.Length > 14 || !word.All(char.IsLetter))
            return null;
        string? found = null;
        foreach (string candidate in _guessable)
        {
            if (candidate[0] != word[0] || Math.Abs(candidate.Length - word.Length) > 1 || Spelling.Slips(word, candidate) != 1)
                continue;
            if (found is not null && !Table.MeaningsOf(found).SequenceEqual(Table.MeaningsOf(candidate)))
                return null;
            found = candidate;
        }
        return found;
    }

    private static string Plainly(string text)
    {
        var plain = new System.Text.StringBuilder(text.Length);
        foreach (char c in text)
        {
            if (char.IsWhiteSpace(c))
            {
                if (plain.Length > 0 && plain[^1] != ' ')
                    plain.Append(' ');
            }
            else
            {
                plain.Append(c is '’' or '‘' or '´' or '`' ? '\'' : c is '”' or '“' ? '"' : c is 'º' ? '°' : char.ToLowerInvariant(c));
            }
        }
        return plain.ToString();
    }

    private static List<(int Start, int End, double? Number)> Tokens(string sentence)
    {
        var tokens = new List<(int, int, double?)>();
        for (int i = 0; i < sentence.Length;)
        {
            char c = sentence[i];
            if (char.IsWhiteSpace(c) || c is '\uFE0F' or '\u200D')
            {
                i++;
                continue;
            }
            int end = i + 1;
            double? number = null;
            if (char.IsAsciiDigit(c))
                (end, number) = NumberAt(sentence, i);
            else if (char.IsLetter(c))
                while (end < sentence.Length && (char.IsLetter(sentence[end]) || (sentence[end] is '\'' or '’' && end + 1 < sentence.Length && char.IsLetter(sentence[end + 1]))))
                    end++;
            else if (char.IsHighSurrogate(c) && end < sentence.Length && char.IsLowSurrogate(sentence[end]))
                end++;
            else if (Vulgar(c) is { } part)
                number = part;
            tokens.Add((i, end, number));
            i = end;
        }
        return tokens;
    }

    private static (int End, double? Number) NumberAt(string sentence, int start)
    {
        int end = DigitsFrom(sentence, start);
        double? whole = Parsed(sentence[start..end]);
        // 2026-04-25 is one thing, and so are 1.5, 1,5 and 1/2.
        if (end - start == 4 && end + 6 <= sentence.Length && sentence[end] == '-' && sentence[end + 3] == '-'
            && DigitsFrom(sentence, end + 1) == end + 3 && DigitsFrom(sentence, end + 4) == end + 6)
            return (end + 6, whole);
        if (end < sentence.Length && Vulgar(sentence[end]) is { } part)
            return (end + 1, whole + part);
        if (end + 1 < sentence.Length && char.IsAsciiDigit(sentence[end + 1]))
        {
            int second = DigitsFrom(sentence, end + 1);
            if (sentence[end] is '.' or ',')
                return (second, Parsed(sentence[start..end] + "." + sentence[(end + 1)..second]));
            if (sentence[end] == '/' && Parsed(sentence[(end + 1)..second]) is > 0 and var under)
                return (second, whole / under);
        }
        return (end, whole);
    }

    private static int DigitsFrom(string text, int at)
    {
        while (at < text.Length && char.IsAsciiDigit(text[at]))
            at++;
        return at;
    }

    private static double? Parsed(string digits) =>
        digits.Length <= 15 && double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) ? value : null;

    private static double? Vulgar(char c) => c switch { '½' => 0.5, '¼' => 0.25, '¾' => 0.75, '⅓' => 1.0 / 3, '⅔' => 2.0 / 3, _ => null };
}

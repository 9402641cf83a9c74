using System.Collections.Immutable;

namespace GardenWatch.Messages.Replies;

/// <param name="Asks">It ends in a question mark.</param>
/// <param name="Opens">It is the first of its line.</param>
internal readonly record struct Sentence(string Text, bool Asks, bool Opens);

/// <summary>Divides words into sentences: at line ends, full stops and semicolons, but not within "1. done" or "1.2 kg".</summary>
internal static class Sentences
{
    private const int Most = 400;
    private const int WrappedFrom = 50;

    public static ImmutableArray<Sentence> Of(string text)
    {
        var found = ImmutableArray.CreateBuilder<Sentence>();
        foreach (string line in Unwrapped(text))
        {
            bool opens = true;
            for (int start = 0; start < line.Length && found.Count < Most;)
            {
                int end = EndFrom(line, start);
                string sentence = line[start..end].Trim().TrimEnd('.', ';', '!').TrimEnd();
                if (sentence.Length > 0 && sentence != "?")
                {
                    found.Add(new(sentence, sentence.EndsWith('?'), opens));
                    opens = false;
                }
                start = end;
            }
        }
        return found.ToImmutable();
    }

    /// <summary>A long line that ends in the middle of a sentence goes on in the next: mail programs break them.</summary>
    private static IEnumerable<string> Unwrapped(string text)
    {
        string open = "";
        foreach (string raw in text.Split('\n'))
        {
            string line = raw.Trim().TrimStart('•', '*', '·').TrimStart();
            if (line.StartsWith("- ", StringComparison.Ordinal))
                line = line[2..].TrimStart();
            bool goesOn = open.Length > 0 && line.Length > 0 && (char.IsLower(line[0]) || char.IsAsciiDigit(line[0]) && open.EndsWith(','));
            if (open.Length > 0 && !goesOn)
            {
                yield return open;
                open = "";
            }
            line = goesOn ? open + " " + line : line;
            bool wrapped = raw.TrimEnd().Length >= WrappedFrom && line.Length > 0 && line[^1] is not ('.' or '!' or '?' or ';');
            if (wrapped)
                open = line;
            else
            {
                open = "";
                yield return line;
            }
        }
        if (open.Length > 0)
            yield return open;
    }

    private static int EndFrom(string line, int start)
    {
        for (int i = start; i < line.Length; i++)
        {
            if (line[i] == ';')
                return i + 1;
            if (line[i] is not ('.' or '!' or '?') || (i + 1 < line.Length && !char.IsWhiteSpace(line[i + 1])))
                continue;
            // "1. done", "no. 2", "nr. 2".
            string before = line[start..i].Trim();
            if (line[i] == '.' && i + 1 < line.Length && (before.Length is > 0 and <= 2 && before.All(char.IsAsciiDigit)
                || before.EndsWith("no", StringComparison.OrdinalIgnoreCase) && i + 2 < line.Length && char.IsAsciiDigit(line[i + 2])
                || before.EndsWith("nr", StringComparison.OrdinalIgnoreCase)
                || before.EndsWith("deg", StringComparison.OrdinalIgnoreCase)))
                continue;
            return i + 1;
        }
        return line.Length;
    }
}

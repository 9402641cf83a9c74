using System.Text;

namespace GardenWatch.Messages.Replies;

/// <summary>Which lines of a body were written before, and by somebody else.</summary>
internal static class Quotes
{
    private const int LongestIntroduction = 4;
    private const int LongestLine = 400;
    /// <summary>A shorter line may well be the gardener's own: "rain on Thursday".</summary>
    private const int TellingLetters = 14;

    private static readonly WordTable Words = WordTable.Shipped("quotes");

    /// <param name="asked">The text that is answered; null when not known.</param>
    public static bool[] In(string[] lines, string? asked)
    {
        string known = asked is null ? "" : LettersOf(asked);
        bool[] marked = Array.ConvertAll(lines, IsMarked);
        bool[] quoted = Array.ConvertAll(lines, line => IsMarked(line) || IsOurs(line, known));
        for (int i = 0; i < lines.Length; i++)
        {
            if (quoted[i])
                continue;
            if (IsOriginal(lines[i]) || IsHeader(lines, i))
                return AllFrom(quoted, i);
            int length = IntroductionAt(lines, quoted, i);
            if (length == 0)
                continue;
            Array.Fill(quoted, true, i, length);
            // Without marks nothing tells the quote from what might follow it, and few write below such a one.
            if (!Array.Exists(marked[(i + length)..], line => line))
                return AllFrom(quoted, i);
        }
        // Blank lines within a quote are of it.
        for (int i = 1; i < lines.Length; i++)
            quoted[i] |= lines[i].Length == 0 && quoted[i - 1] && Array.FindIndex(lines, i, line => line.Length > 0) is >= 0 and var next && quoted[next];
        return quoted;
    }

    public static string WithoutMarks(string line) => line.TrimStart('>', '|', ' ');

    private static bool IsMarked(string line) => line.StartsWith('>') || line.StartsWith("&gt;", StringComparison.Ordinal)
        // A few programs put the initials of the one quoted before the mark.
        || (line.IndexOf('>', StringComparison.Ordinal) is > 0 and < 4 and var mark && line[..mark].All(char.IsAsciiLetterUpper));

    private static bool IsOurs(string line, string known) =>
        LettersOf(line) is { Length: >= TellingLetters } letters && known.Contains(letters, StringComparison.Ordinal)
        || Words.WordsOf("ours").Any(start => line.StartsWith(start, StringComparison.OrdinalIgnoreCase));

    /// <summary>"-----Original Message-----".</summary>
    private static bool IsOriginal(string line)
    {
        string words = line.Trim('-', '_', ' ', '*', ':').ToLowerInvariant();
        return line.Length < LongestLine && Words.WordsOf("original").Contains(words)
            && (line.StartsWith("--", StringComparison.Ordinal) || line.EndsWith(':') || line.StartsWith('_') || line.StartsWith('*'));
    }

    /// <summary>"From: …", "Sent: …", "To: …", as some programs write above what they quote.</summary>
    private static bool IsHeader(string[] lines, int at)
    {
        if (!Begins(lines[at], "from"))
            return false;
        int others = 0;
        for (int i = at + 1; i < Math.Min(lines.Length, at + 8); i++)
            others += Begins(lines[i], "header") ? 1 : 0;
        return others >= 2;
    }

    private static bool Begins(string line, string meaning)
    {
        string bare = line.TrimStart('*', ' ');
        int colon = bare.IndexOf(':', StringComparison.Ordinal);
        return colon is > 0 and < 20 && Words.WordsOf(meaning).Contains(bare[..colon].TrimEnd('*', ' ', '\u00A0').ToLowerInvariant());
    }

    /// <summary>How many lines introduce a quote here: "On Tue, 21 Apr 2026 at 06:00, … wrote:", often broken in two or three.</summary>
    private static int IntroductionAt(string[] lines, bool[] quoted, int at)
    {
        var joined = new StringBuilder();
        for (int length = 1; length <= LongestIntroduction && at + length <= lines.Length && !quoted[at + length - 1]; length++)
        {
            string line = lines[at + length - 1];
            if (line.Length is 0 or > LongestLine)
                return 0;
            joined.Append(' ').Append(line.TrimEnd('*', ' '));
            if (IsIntroduction(joined.ToString().Trim().ToLowerInvariant()))
                return length;
        }
        return 0;
    }

    private static bool IsIntroduction(string line)
    {
        if (!line.EndsWith(':') && !line.EndsWith('：'))
            return false;
        string bare = line.TrimEnd(':', '：', ' ', '\u00A0');
        bool addressed = line.Contains('@', StringComparison.Ordinal) && line.Contains('<', StringComparison.Ordinal);
        bool dated = bare.Any(char.IsAsciiDigit);
        bool wrote = Words.WordsOf("wrote").Any(word => Holds(bare, word));
        bool opens = char.IsAsciiDigit(bare.FirstOrDefault()) || Words.WordsOf("on").Any(word => bare.StartsWith(word + " ", StringComparison.Ordinal));
        return (wrote && (addressed || (dated && opens))) || (addressed && dated && opens);
    }

    private static bool Holds(string line, string word)
    {
        int at = line.IndexOf(word, StringComparison.Ordinal);
        return at >= 0 && (at == 0 || line[at - 1] == ' ') && (at + word.Length == line.Length || line[at + word.Length] is ' ' or ',' or ':' or '<');
    }

    private static bool[] AllFrom(bool[] quoted, int at)
    {
        Array.Fill(quoted, true, at, quoted.Length - at);
        return quoted;
    }

    private static string LettersOf(string text)
    {
        var letters = new StringBuilder(text.Length);
        foreach (char c in text)
            if (char.IsLetterOrDigit(c))
                letters.Append(char.ToLowerInvariant(c));
        return letters.ToString();
    }
}

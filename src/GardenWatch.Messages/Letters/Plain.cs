using System.Globalization;
using System.Text;

namespace GardenWatch.Messages.Letters;

/// <summary>Makes words from a plan, a journal or a server harmless in a line of a message.</summary>
internal static class Plain
{
    /// <summary>Names: long enough for "Winter squash, batch 12 (kitchen bed by the wall)".</summary>
    public const int NameLength = 60;

    /// <summary>Sentences: a message stays under its size whatever a file says.</summary>
    public const int SentenceLength = 400;

    private const string CutMark = "…";

    /// <summary>
    /// One line without control, direction and other invisible characters, its white space collapsed, cut after
    /// <paramref name="most"/> visible characters.
    /// </summary>
    public static string OneLine(string? text, int most)
    {
        if (string.IsNullOrEmpty(text))
            return "";
        var line = new StringBuilder(Math.Min(text.Length, most * 2));
        bool space = false;
        foreach (var rune in text.EnumerateRunes())
        {
            if (IsSpace(rune))
            {
                space = true;
                continue;
            }
            if (IsInvisible(rune))
                continue;
            if (space && line.Length > 0)
                line.Append(' ');
            space = false;
            line.Append(rune);
        }
        return Cut(line.ToString(), most);
    }

    /// <summary>Cut at a whole visible character, with a mark that shows it.</summary>
    public static string Cut(string text, int most)
    {
        if (text.Length <= most)
            return text;
        var characters = StringInfo.ParseCombiningCharacters(text);
        // An endless pile of combining marks is one visible character: its length in memory is bounded as well.
        int end = characters.Length > most ? characters[most - 1] : text.Length;
        end = Math.Min(end, most * 4);
        if (end >= text.Length)
            return text;
        string cut = WholeRunes(text, end).TrimEnd();
        // No torn word, where one is not as long as all that is left.
        int space = cut.LastIndexOf(' ');
        return (space > cut.Length - LongestWord ? cut[..space].TrimEnd(' ', ',', ';', ':') : cut) + CutMark;
    }

    private const int LongestWord = 24;

    /// <summary>How many columns it takes, one for each visible character.</summary>
    public static int Width(string text) => new StringInfo(text).LengthInTextElements;

    private static string WholeRunes(string text, int end) =>
        text[..(char.IsHighSurrogate(text[end - 1]) ? end - 1 : end)];

    private static bool IsSpace(Rune rune) => rune.Value != '\u00A0'
        && (Rune.IsWhiteSpace(rune) || Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control);

    // Joiners stay: scripts and emoji are spelt with them. EnumerateRunes turns lone surrogates into U+FFFD.
    private static bool IsInvisible(Rune rune) => rune.Value is not (0x200C or 0x200D)
        && (Rune.GetUnicodeCategory(rune) is UnicodeCategory.Format or UnicodeCategory.PrivateUse
            || (rune.Value & 0xFFFE) == 0xFFFE);
}

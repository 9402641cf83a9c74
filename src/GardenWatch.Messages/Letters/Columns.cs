using System.Globalization;
using System.Text;

namespace GardenWatch.Messages.Letters;

/// <summary>Plain text in 72 columns: what fits in a quoted reply and on a narrow terminal.</summary>
internal sealed class Columns
{
    public const int Wide = 72;

    private readonly StringBuilder _text = new();

    public Columns Blank()
    {
        _text.Append('\n');
        return this;
    }

    /// <summary>Words broken at spaces; lines after the first are indented by <paramref name="hang"/> columns.</summary>
    public Columns Line(string words, int indent = 0, int hang = -1)
    {
        hang = hang < 0 ? indent : hang;
        _text.Append(' ', indent);
        int column = indent;
        bool first = true;
        foreach (var word in words.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Pieces(word, Wide - hang)))
        {
            int width = Plain.Width(word);
            if (!first && column + 1 + width > Wide)
            {
                _text.Append('\n').Append(' ', hang);
                column = hang;
                first = true;
            }
            if (!first)
            {
                _text.Append(' ');
                column++;
            }
            _text.Append(Typed(word));
            column += width;
            first = false;
        }
        return Blank();
    }

    public override string ToString() => _text.ToString();

    /// <summary>As a keyboard types it: a reader quotes, searches and answers in it.</summary>
    private static string Typed(string word) => word
        .Replace('\u00A0', ' ').Replace('’', '\'').Replace('‘', '\'').Replace('“', '"').Replace('”', '"');

    /// <summary>A word too long for a line is broken, an address is not: broken, it would lead nowhere.</summary>
    private static List<string> Pieces(string word, int room)
    {
        if (Plain.Width(word) <= room || word.StartsWith("https://", StringComparison.Ordinal) || word.StartsWith("http://", StringComparison.Ordinal))
            return [word];
        var pieces = new List<string>();
        int start = 0, width = 0;
        var characters = StringInfo.ParseCombiningCharacters(word);
        foreach (int at in characters)
        {
            if (width == room)
            {
                pieces.Add(word[start..at]);
                (start, width) = (at, 0);
            }
            width++;
        }
        pieces.Add(word[start..]);
        return pieces;
    }
}

using System.Text;

namespace GardenWatch.Messages.Mail;

/// <summary>
/// Text as RFC 2045, 6.7 puts it on its way: seven bits, lines of 76 at most. The mail library's own encoder makes some of 78, which a
/// strict relay may break or refuse.
/// </summary>
internal static class QuotedPrintable
{
    private const int MostOfLine = 76;

    /// <param name="text">Its lines may end in any way; they go out with CRLF.</param>
    public static byte[] Encode(string text)
    {
        var encoded = new List<byte>(text.Length * 5 / 4);
        foreach (string line in text.ReplaceLineEndings("\n").Split('\n').Select((line, i) => i == 0 ? line : "\n" + line))
            Add(encoded, line);
        return [.. encoded];
    }

    private static void Add(List<byte> encoded, string line)
    {
        int column = 0;
        if (line.StartsWith('\n'))
        {
            encoded.AddRange("\r\n"u8);
            line = line[1..];
        }
        // Mailbox files of one kind begin a mail with this word, and some programs change it.
        bool isFrom = line.StartsWith("From ", StringComparison.Ordinal);
        int left = line.Length;
        foreach (var rune in line.EnumerateRunes())
        {
            left -= rune.Utf16SequenceLength;
            byte[] bytes = Bytes(rune, isLast: left == 0, escape: isFrom && column == 0);
            // A whole character to a line, and room for the sign that the line goes on.
            if (column + bytes.Length > MostOfLine - (left > 0 ? 1 : 0))
            {
                encoded.AddRange("=\r\n"u8);
                column = 0;
            }
            encoded.AddRange(bytes);
            column += bytes.Length;
        }
    }

    private static byte[] Bytes(Rune rune, bool isLast, bool escape)
    {
        bool plain = rune.Value is (>= 33 and <= 126 and not '=') || (rune.Value is ' ' or '\t' && !isLast);
        return plain && !escape
            ? [(byte)rune.Value]
            : [.. Encoding.UTF8.GetBytes(rune.ToString()).SelectMany(b => Encoding.ASCII.GetBytes($"={b:X2}"))];
    }
}

using System.Text;
using System.Text.RegularExpressions;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>One header field with the lines it stands on (RFC 5322, 2.2) and its encoded words (RFC 2047).</summary>
internal sealed partial record RawHeader(string Name, IReadOnlyList<string> Lines)
{
    /// <summary>Unfolded: the line ends are gone, the white space after them stays.</summary>
    public string Value { get; } = string.Concat(Lines)[(Name.Length + 1)..].Trim();

    public bool Is(string name) => Name.Equals(name, StringComparison.OrdinalIgnoreCase);

    public IEnumerable<string> EncodedWords => EncodedWord().Matches(Value).Select(match => match.Value);

    /// <summary>As a reader sees it: white space between two encoded words is none (RFC 2047, 6.2).</summary>
    public string Shown => EncodedWord().Replace(BetweenWords().Replace(Value, "$1$2"), match => WordOf(match.Value));

    /// <exception cref="DecoderFallbackException">A character is split between two words.</exception>
    public static string WordOf(string encoded)
    {
        var match = EncodedWord().Match(encoded);
        if (!match.Groups["charset"].Value.Equals("utf-8", StringComparison.OrdinalIgnoreCase))
            throw new FormatException($"{encoded} is not UTF-8.");
        string text = match.Groups["text"].Value;
        byte[] bytes = match.Groups["kind"].Value is "B" or "b" ? Convert.FromBase64String(text) : Quoted(text);
        return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes);
    }

    public static IReadOnlyList<RawHeader> ReadAll(string block)
    {
        var headers = new List<RawHeader>();
        var lines = new List<string>();
        foreach (string line in block.Split("\r\n").SkipLast(1))
        {
            if (line.Length > 0 && line[0] is ' ' or '\t')
            {
                if (lines.Count == 0)
                    throw new FormatException("The header begins with a folded line.");
                lines.Add(line);
                continue;
            }
            Take();
            lines = [line];
        }
        Take();
        return headers;

        void Take()
        {
            if (lines.Count == 0)
                return;
            int colon = lines[0].IndexOf(':', StringComparison.Ordinal);
            if (colon < 1)
                throw new FormatException($"No header: {lines[0]}");
            headers.Add(new(lines[0][..colon], lines));
        }
    }

    private static byte[] Quoted(string text)
    {
        var bytes = new List<byte>(text.Length);
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] == '=')
            {
                bytes.Add(Convert.FromHexString(text.AsSpan(i + 1, 2))[0]);
                i += 2;
            }
            else
            {
                bytes.Add((byte)(text[i] == '_' ? ' ' : text[i]));
            }
        }
        return [.. bytes];
    }

    [GeneratedRegex(@"=\?(?<charset>[^?*\s]+)(\*[^?]*)?\?(?<kind>[bBqQ])\?(?<text>[^?\s]*)\?=")]
    private static partial Regex EncodedWord();

    [GeneratedRegex(@"(\?=)\s+(=\?)")]
    private static partial Regex BetweenWords();
}

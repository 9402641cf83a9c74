using System.Text;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>
/// A mail taken apart byte by byte after RFC 5322 and 2045 to 2047, by code of the tests alone: a slip that writer and reader of one
/// library share would not show.
/// </summary>
internal sealed class RawMail
{
    private RawMail(IReadOnlyList<RawHeader> headers, byte[] body) => (Headers, Body) = (headers, body);

    public IReadOnlyList<RawHeader> Headers { get; }

    /// <summary>As it stands, still encoded.</summary>
    public byte[] Body { get; }

    public IReadOnlyList<RawMail> Parts { get; private set; } = [];

    /// <summary>What stands before the first boundary and after the last.</summary>
    public string Around { get; private set; } = "";

    public string? this[string name] => Headers.FirstOrDefault(header => header.Is(name))?.Value;

    public string MediaType => (this["Content-Type"] ?? "text/plain").Split(';')[0].Trim().ToLowerInvariant();

    public string Encoding => (this["Content-Transfer-Encoding"] ?? "7bit").Trim().ToLowerInvariant();

    public IEnumerable<RawMail> Leaves => Parts.Count == 0 ? [this] : Parts.SelectMany(part => part.Leaves);

    public IEnumerable<RawMail> All => [this, .. Parts.SelectMany(part => part.All)];

    public static RawMail Read(ReadOnlySpan<byte> bytes)
    {
        int split = bytes.IndexOf("\r\n\r\n"u8);
        if (split < 0)
            throw new FormatException("No empty line ends the header.");
        var mail = new RawMail(RawHeader.ReadAll(System.Text.Encoding.Latin1.GetString(bytes[..(split + 2)])), bytes[(split + 4)..].ToArray());
        if (mail.MediaType.StartsWith("multipart/", StringComparison.Ordinal))
            mail.TakeApart(mail.Parameter("Content-Type", "boundary") ?? throw new FormatException("A multipart without boundary."));
        return mail;
    }

    /// <summary>A parameter of a structured header, with the quotes off.</summary>
    public string? Parameter(string header, string name)
    {
        foreach (string piece in PiecesOf(this[header] ?? "").Skip(1))
        {
            int equals = piece.IndexOf('=', StringComparison.Ordinal);
            if (equals > 0 && piece[..equals].Trim().Equals(name, StringComparison.OrdinalIgnoreCase))
                return piece[(equals + 1)..].Trim().Trim('"');
        }
        return null;
    }

    /// <summary>The part's bytes with their transfer encoding off.</summary>
    public byte[] Decoded() => Encoding switch
    {
        "base64" => Convert.FromBase64String(System.Text.Encoding.ASCII.GetString(Body)),
        "quoted-printable" => QuotedPrintable(Body),
        "7bit" => Body,
        var other => throw new FormatException($"Content-Transfer-Encoding {other}"),
    };

    public string Text() => new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(Decoded());

    private void TakeApart(string boundary)
    {
        byte[] delimiter = System.Text.Encoding.ASCII.GetBytes("--" + boundary);
        var parts = new List<RawMail>();
        var around = new StringBuilder();
        int from = -1, at = 0;
        bool closed = false;
        while (at < Body.Length)
        {
            int end = Body.AsSpan(at).IndexOf("\r\n"u8);
            int next = end < 0 ? Body.Length : at + end + 2;
            var line = Body.AsSpan(at, (end < 0 ? Body.Length - at : end));
            bool ends = line.SequenceEqual((byte[])[.. delimiter, .. "--"u8]);
            if (!closed && (ends || line.SequenceEqual(delimiter)))
            {
                // RFC 2046, 5.1.1: the line end before a boundary belongs to the boundary.
                if (from >= 0)
                    parts.Add(Read(Body.AsSpan(from, Math.Max(0, at - 2 - from))));
                (from, closed) = (next, ends);
            }
            else if (from < 0 || closed)
            {
                around.Append(System.Text.Encoding.Latin1.GetString(line));
            }
            at = next;
        }
        if (!closed)
            throw new FormatException($"The boundary {boundary} is not closed.");
        (Parts, Around) = (parts, around.ToString());
    }

    private static byte[] QuotedPrintable(byte[] body)
    {
        var decoded = new List<byte>(body.Length);
        for (int i = 0; i < body.Length; i++)
        {
            if (body[i] != '=')
            {
                decoded.Add(body[i]);
                continue;
            }
            if (i + 2 >= body.Length)
                throw new FormatException("An equals sign at the end.");
            if (body[i + 1] != '\r' || body[i + 2] != '\n')
                decoded.Add(Convert.FromHexString(System.Text.Encoding.ASCII.GetString(body, i + 1, 2))[0]);
            i += 2;
        }
        return [.. decoded];
    }

    private static List<string> PiecesOf(string value)
    {
        var pieces = new List<string>();
        var piece = new StringBuilder();
        bool quoted = false;
        foreach (char c in value)
        {
            if (c == '"')
                quoted = !quoted;
            if (c == ';' && !quoted)
            {
                pieces.Add(piece.ToString());
                piece.Clear();
                continue;
            }
            piece.Append(c);
        }
        return [.. pieces, piece.ToString()];
    }
}

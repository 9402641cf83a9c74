using System.Collections.Immutable;
using System.Text;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using MimeKit;

namespace GardenWatch.Messages.Replies;

/// <summary>What a gardener wrote in a mail, without what was quoted, signed or added by a program.</summary>
/// <param name="Pictures">Attached or shown in the text, in the mail's order, without those of our own message.</param>
public sealed record ReplyText(ImmutableArray<OwnWords> Words, ImmutableArray<MimePart> Pictures)
{
    /// <summary>Nobody answers a digest at such length by hand.</summary>
    public const int LongestBody = 64 * 1024;

    private const int MostLines = 2000;
    private const int MostParts = 100;
    private const int DeepestPart = 10;

    public bool IsEmpty => Words.IsEmpty && Pictures.IsEmpty;

    /// <param name="asked">The text of the mail that is answered, where it is still known: its lines are quotes wherever they stand.</param>
    public static ReplyText Of(MimeMessage message, string? asked = null)
    {
        ArgumentNullException.ThrowIfNull(message);
        var parts = new List<MimePart>();
        Gather(message.Body, parts, 0);
        var pictures = parts.Where(IsPicture).ToImmutableArray();
        string? text = parts.OfType<TextPart>().Where(part => part.IsPlain && !part.IsAttachment).Select(Plainly).FirstOrDefault(Says)
            ?? parts.OfType<TextPart>().Where(part => part.IsHtml && !part.IsAttachment).Select(part => HtmlWords.Of(Decoded(part))).FirstOrDefault(Says);
        return new(text is null ? [] : OwnWordsOf(text, NamesOf(message), asked), pictures);
    }

    /// <summary>The pictures alone.</summary>
    public static IEnumerable<MimePart> PicturesOf(MimeMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        var parts = new List<MimePart>();
        Gather(message.Body, parts, 0);
        return parts.Where(IsPicture);
    }

    /// <summary>One that our message showed, and that came back with the quote.</summary>
    internal static bool IsOurPicture(string? contentId) => contentId?.TrimEnd('>').EndsWith(Picture.IdEnding, StringComparison.OrdinalIgnoreCase) == true;

    private static bool IsPicture(MimePart part) => part.ContentType.IsMimeType("image", "*") && !IsOurPicture(part.ContentId);

    /// <summary>From the body as text.</summary>
    /// <param name="names">Words of the writer's name, by which a signed last line is known.</param>
    public static ImmutableArray<OwnWords> OwnWordsOf(string text, IReadOnlyCollection<string> names, string? asked = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] lines = [.. Bounded(text).ReplaceLineEndings("\n").Split('\n').Take(MostLines).Select(Visible)];
        bool[] quoted = Quotes.In(lines, asked);
        bool[] dropped = Signatures.In(lines, quoted, names);
        var found = ImmutableArray.CreateBuilder<OwnWords>();
        var above = new List<string>();
        var own = new List<string>();
        for (int i = 0; i < lines.Length; i++)
        {
            if (dropped[i])
                continue;
            if (!quoted[i])
            {
                own.Add(lines[i]);
                continue;
            }
            if (Take(between: true))
                above.Clear();
            above.Add(Quotes.WithoutMarks(lines[i]));
        }
        Take(between: false);
        return found.ToImmutable();

        bool Take(bool between)
        {
            string words = string.Join('\n', own).Trim();
            own.Clear();
            if (words.Length == 0)
                return false;
            found.Add(new(words, [.. above], between));
            return true;
        }
    }

    private static bool Says(string text) => !string.IsNullOrWhiteSpace(text);

    private static string Bounded(string text) => text.Length <= LongestBody ? text : text[..LongestBody];

    /// <summary>One line of what can be seen; blanks at its end tell a signature's mark and stay.</summary>
    private static string Visible(string line) =>
        line is "-- " ? line : Plain.OneLine(line.Replace('\u00A0', ' '), 1000);

    private static void Gather(MimeEntity? entity, List<MimePart> parts, int depth)
    {
        if (parts.Count >= MostParts || depth > DeepestPart)
            return;
        if (entity is Multipart several)
        {
            foreach (var part in several)
                Gather(part, parts, depth + 1);
        }
        else if (entity is MimePart part)
        {
            parts.Add(part);
        }
    }

    private static string Plainly(TextPart part)
    {
        string text = Decoded(part);
        return part.IsFlowed ? Unflowed(text, part.ContentType.Parameters["delsp"]?.Equals("yes", StringComparison.OrdinalIgnoreCase) == true) : text;
    }

    /// <summary>A charset that is unknown or wrong gives signs for what can't be read, never a fault.</summary>
    private static string Decoded(TextPart part)
    {
        if (part.Content is null)
            return "";
        using var bytes = new BoundedStream(LongestBody * 4);
        part.Content.DecodeTo(bytes);
        byte[] content = bytes.ToArray();
        try
        {
            string? charset = part.ContentType.Charset;
            return charset is null || charset.Equals("utf-8", StringComparison.OrdinalIgnoreCase) || charset.Equals("us-ascii", StringComparison.OrdinalIgnoreCase)
                ? Guessed(content)
                // The many of before Unicode are in a provider of their own.
                : (CodePagesEncodingProvider.Instance.GetEncoding(charset) ?? Encoding.GetEncoding(charset)).GetString(content);
        }
        catch (Exception fault) when (fault is NotSupportedException or ArgumentException)
        {
            return Guessed(content);
        }
    }

    /// <summary>UTF-8 where it is that, else the Latin letters that most programs mean which say nothing.</summary>
    private static string Guessed(byte[] content)
    {
        try
        {
            return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(content);
        }
        catch (DecoderFallbackException)
        {
            return Encoding.Latin1.GetString(content);
        }
    }

    /// <summary>RFC 3676: a line that ends in a blank goes on in the next one, when both are quoted as deep.</summary>
    private static string Unflowed(string text, bool deleteBlank)
    {
        var flowed = new StringBuilder(text.Length);
        int depthBefore = -1;
        foreach (string line in text.ReplaceLineEndings("\n").Split('\n'))
        {
            int depth = line.TakeWhile(c => c == '>').Count();
            string words = line[depth..];
            if (words.StartsWith(' '))
                words = words[1..];
            bool goesOn = depthBefore == depth;
            if (!goesOn)
                flowed.Append(flowed.Length > 0 && depthBefore >= 0 ? "\n" : "").Append('>', depth).Append(depth > 0 ? " " : "");
            bool flows = words.EndsWith(' ') && words != "-- ";
            flowed.Append(flows && deleteBlank ? words[..^1] : words);
            if (!flows)
                flowed.Append('\n');
            depthBefore = flows ? depth : -1;
        }
        return flowed.ToString();
    }

    private static HashSet<string> NamesOf(MimeMessage message) =>
    [
        .. message.From.Mailboxes.Take(3)
            .SelectMany(from => $"{from.Name} {from.Address.Split('@')[0]}".Split([' ', '.', '_', '-', ',', '"'], StringSplitOptions.RemoveEmptyEntries))
            .Select(word => word.ToLowerInvariant()),
    ];

    /// <summary>Takes so many bytes and drops the rest: a packed body may be far longer than its mail.</summary>
    private sealed class BoundedStream(int most) : MemoryStream
    {
        public override void Write(byte[] buffer, int offset, int count) => base.Write(buffer, offset, (int)Math.Min(count, most - Length));

        public override void Write(ReadOnlySpan<byte> buffer) => base.Write(buffer[..(int)Math.Min(buffer.Length, most - Length)]);
    }
}

using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>All that a mail on its way may do wrong, each with the rule it breaks.</summary>
internal static partial class MailLint
{
    /// <summary>RFC 5322, 3.6: at most once; the others as RFC 2045, 2369, 2919 and 3834 have them.</summary>
    private static readonly string[] Known =
    [
        "From", "To", "Reply-To", "Subject", "Date", "Message-Id", "In-Reply-To", "References", "MIME-Version", "Content-Type",
        "Auto-Submitted", "List-Id", "List-Unsubscribe",
    ];

    private static readonly string[] KnownInParts = ["Content-Type", "Content-Transfer-Encoding", "Content-Disposition", "Content-Id"];

    public static List<string> Faults(ImmutableArray<byte> bytes)
    {
        var faults = new List<string>();
        faults.AddRange(OfLines(bytes));
        if (faults.Count > 0)
            return faults;
        RawMail mail;
        try
        {
            mail = RawMail.Read(bytes.AsSpan());
        }
        catch (FormatException fault)
        {
            return [fault.Message];
        }
        faults.AddRange(OfHeaders(mail, isWhole: true));
        faults.AddRange(mail.All.Skip(1).SelectMany(part => OfHeaders(part, isWhole: false)));
        faults.AddRange(mail.All.SelectMany(OfPart));
        faults.AddRange(OfBoundaries(mail, bytes));
        faults.AddRange(OfPictures(mail));
        return faults;
    }

    /// <summary>RFC 5321, 2.3.8 and 4.5.3.1.6; RFC 2045, 2.7.</summary>
    private static IEnumerable<string> OfLines(ImmutableArray<byte> bytes)
    {
        int line = 0;
        for (int i = 0; i < bytes.Length; i++)
        {
            if (bytes[i] == '\r' && (i + 1 == bytes.Length || bytes[i + 1] != '\n'))
                yield return $"A bare CR at {i}.";
            if (bytes[i] == '\n' && (i == 0 || bytes[i - 1] != '\r'))
                yield return $"A bare LF at {i}.";
            if (bytes[i] is 0 or > 127)
                yield return $"The byte {bytes[i]} at {i} is not of seven bits.";
            if (bytes[i] == '\n')
                line = 0;
            else if (++line > 999)
                yield return $"A line longer than 998 at {i}.";
        }
        if (!bytes.AsSpan().EndsWith("\r\n"u8))
            yield return "The last line has no end.";
    }

    private static IEnumerable<string> OfHeaders(RawMail mail, bool isWhole)
    {
        foreach (var header in mail.Headers)
        {
            if (!(isWhole ? Known : KnownInParts).Any(header.Is))
                yield return $"The header {header.Name} is not ours.";
            if (header.Lines.Any(line => line.Length > 78 && line.Replace(header.Name + ":", "", StringComparison.Ordinal).Trim().Contains(' ', StringComparison.Ordinal)))
                yield return $"{header.Name} is not folded at 78.";
            if (header.Lines.Any(line => string.IsNullOrWhiteSpace(line)))
                yield return $"{header.Name} has a line of nothing but spaces.";
            if (header.Value.Any(c => char.IsControl(c) && c != '\t'))
                yield return $"{header.Name} has a control character.";
            foreach (string word in header.EncodedWords)
            {
                if (word.Length > 75)
                    yield return $"An encoded word of {header.Name} is {word.Length} long.";
                if (!IsWhole(word))
                    yield return $"{header.Name} splits a character between two encoded words.";
            }
            if (EncodedTorn().IsMatch(EncodedWhole().Replace(header.Value, "")))
                yield return $"{header.Name} holds half an encoded word: {header.Value}";
        }
        foreach (var twice in mail.Headers.GroupBy(header => header.Name, StringComparer.OrdinalIgnoreCase).Where(group => group.Count() > 1))
            yield return $"The header {twice.Key} stands there {twice.Count()} times.";
        if (!isWhole)
            yield break;
        foreach (string needed in (string[])["From", "To", "Subject", "Date", "Message-Id", "MIME-Version", "Auto-Submitted", "List-Id"])
            if (mail[needed] is null)
                yield return $"The header {needed} is missing.";
        if (!Id().IsMatch(mail["Message-Id"] ?? ""))
            yield return $"The Message-ID {mail["Message-Id"]} is none.";
        if (!Stamp().IsMatch(mail["Date"] ?? ""))
            yield return $"The date {mail["Date"]} is none.";
        if (mail["In-Reply-To"] != mail["References"])
            yield return "In-Reply-To and References name different mails.";
    }

    private static IEnumerable<string> OfPart(RawMail part)
    {
        if (part.Parts.Count > 0)
        {
            if (part.Around.Length > 0)
                yield return $"{part.MediaType} has text outside of its parts.";
            // RFC 2045, 6.4: a multipart is never encoded itself.
            if (part.Encoding != "7bit")
                yield return $"{part.MediaType} is encoded as {part.Encoding}.";
            yield break;
        }
        if (part.MediaType.StartsWith("text/", StringComparison.Ordinal) && part.Parameter("Content-Type", "charset") != "utf-8")
            yield return $"{part.MediaType} does not name its character set.";
        if (part["Content-Transfer-Encoding"] is null)
            yield return $"{part.MediaType} does not name its encoding.";
        if (part.Encoding is "quoted-printable" or "base64")
        {
            string[] lines = System.Text.Encoding.ASCII.GetString(part.Body).Split("\r\n");
            foreach (string line in lines.Where(line => line.Length > 76))
                yield return $"A line of {part.MediaType} is {line.Length} long, and 76 is the most.";
            if (part.Encoding == "quoted-printable" && lines.Any(line => line.EndsWith(' ') || line.EndsWith('\t') || HalfEscape().IsMatch(line)))
                yield return $"{part.MediaType} has a line that ends in white space or an escape that is none.";
        }
        if (!IsReadable(part))
            yield return $"{part.MediaType} does not read back.";
    }

    private static IEnumerable<string> OfBoundaries(RawMail mail, ImmutableArray<byte> bytes)
    {
        string[] boundaries = [.. mail.All.Where(part => part.Parts.Count > 0).Select(part => part.Parameter("Content-Type", "boundary")!)];
        if (boundaries.Distinct().Count() != boundaries.Length)
            yield return "Two parts share a boundary.";
        string[] lines = System.Text.Encoding.ASCII.GetString(bytes.AsSpan()).Split("\r\n");
        foreach (string boundary in boundaries)
        {
            if (boundary.Length is 0 or > 70 || boundary.EndsWith(' '))
                yield return $"The boundary {boundary} is none (RFC 2046, 5.1.1).";
            var part = mail.All.Single(of => of.Parameter("Content-Type", "boundary") == boundary);
            int expected = part.Parts.Count + 1;
            int found = lines.Count(line => line == "--" + boundary || line == $"--{boundary}--");
            if (found != expected)
                yield return $"The boundary {boundary} stands there {found} times, and {expected} are its own.";
        }
    }

    private static IEnumerable<string> OfPictures(RawMail mail)
    {
        var leaves = mail.Leaves.ToList();
        string html = leaves.FirstOrDefault(part => part.MediaType == "text/html")?.Text() ?? "";
        var named = Cid().Matches(html).Select(match => match.Groups[1].Value).ToHashSet(StringComparer.Ordinal);
        var present = leaves.Select(part => part["Content-Id"]?.Trim('<', '>')).OfType<string>().ToList();
        foreach (string missing in named.Except(present))
            yield return $"The picture {missing} is named and not there.";
        foreach (string unused in present.Except(named))
            yield return $"The picture {unused} is there and not named.";
        if (present.Distinct().Count() != present.Count)
            yield return "Two pictures share an id.";
    }

    private static bool IsWhole(string word)
    {
        try
        {
            return RawHeader.WordOf(word) is not null;
        }
        catch (Exception fault) when (fault is DecoderFallbackException or FormatException)
        {
            return false;
        }
    }

    private static bool IsReadable(RawMail part)
    {
        try
        {
            return part.MediaType.StartsWith("text/", StringComparison.Ordinal) ? part.Text().Length > 0 : part.Decoded().Length > 0;
        }
        catch (Exception fault) when (fault is DecoderFallbackException or FormatException)
        {
            return false;
        }
    }

    [GeneratedRegex(@"^<[A-Za-z0-9._-]+@[A-Za-z0-9.-]+>$")]
    private static partial Regex Id();

    // RFC 5322, 3.3, without what it calls obsolete.
    [GeneratedRegex(@"^(Mon|Tue|Wed|Thu|Fri|Sat|Sun), \d\d? (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{4} \d\d:\d\d:\d\d [+-]\d{4}$")]
    private static partial Regex Stamp();

    [GeneratedRegex(@"=(?![0-9A-F]{2}).")]
    private static partial Regex HalfEscape();

    [GeneratedRegex("(?:src|srcset)=\"cid:([^\"\\s]+)")]
    private static partial Regex Cid();

    [GeneratedRegex(@"=\?[^?\s]+\?[bBqQ]\?[^?\s]*\?=")]
    private static partial Regex EncodedWhole();

    [GeneratedRegex(@"=\?utf-8\?", RegexOptions.IgnoreCase)]
    private static partial Regex EncodedTorn();
}

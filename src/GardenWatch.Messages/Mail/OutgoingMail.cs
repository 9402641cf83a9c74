using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using MimeKit;
using NodaTime;

namespace GardenWatch.Messages.Mail;

/// <summary>One mail to one person, rendered once; sending it again sends the same bytes under the same Message-ID.</summary>
/// <param name="MessageId">Without angle brackets.</param>
/// <param name="From">The envelope's sender, an address alone.</param>
/// <param name="To">The envelope's recipient, an address alone.</param>
/// <param name="Bytes">RFC 5322 with CRLF line ends.</param>
public sealed record OutgoingMail(string MessageId, string From, string To, ImmutableArray<byte> Bytes)
{
    /// <summary>Text and HTML of a letter as mail. Equal arguments give equal bytes.</summary>
    /// <param name="idLeft">The Message-ID before its <c>@</c>, made of the outbox key; letters, figures, dots and hyphens.</param>
    /// <param name="from">"garden@example.org" or "Our garden &lt;garden@example.org&gt;"; without a name the garden's is used.</param>
    /// <param name="writtenAt">The Date of the mail.</param>
    /// <param name="under">Message-ID of the day's digest, under which a warning is shown; null for none.</param>
    /// <param name="calendar">A calendar file to go with it; null for none.</param>
    public static OutgoingMail Render(
        Letter letter, string idLeft, string from, string to, Instant writtenAt, string? under = null, byte[]? calendar = null)
    {
        if (idLeft.Length == 0 || !idLeft.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_'))
            throw new ArgumentException("The left part of a Message-ID is letters, figures, dots and hyphens.", nameof(idLeft));
        var sender = MailboxAddress.Parse(from);
        var recipient = MailboxAddress.Parse(to);
        if (string.IsNullOrEmpty(sender.Name))
            sender.Name = Plain.OneLine(letter.GardenName, Plain.NameLength);
        var envelope = new Envelope(idLeft, sender, recipient, writtenAt, under, calendar);
        byte[] bytes = [];
        if (letter.AnswerAddress is not null)
            letter = letter with { AnswerMark = idLeft };
        foreach (var lighter in MailWeight.Lighter(letter))
        {
            bytes = Whole(lighter, envelope);
            // Readers cut the words; a file beside them does not count.
            if (bytes.Length - (calendar?.Length ?? 0) * 4 / 3 <= MailWeight.Most)
                break;
        }
        return new($"{idLeft}@{sender.Domain}", sender.Address, recipient.Address, [.. bytes]);
    }

    private readonly record struct Envelope(string IdLeft, MailboxAddress Sender, MailboxAddress Recipient, Instant WrittenAt, string? Under, byte[]? Calendar);

    private static byte[] Whole(Letter letter, Envelope envelope)
    {
        using var message = new MimeMessage { MessageId = $"{envelope.IdLeft}@{envelope.Sender.Domain}", Subject = "" };
        message.From.Add(envelope.Sender);
        message.To.Add(envelope.Recipient);
        HeaderText.Set(Header(HeaderId.From), envelope.Sender);
        HeaderText.Set(Header(HeaderId.To), envelope.Recipient);
        HeaderText.Set(Header(HeaderId.Subject), Plain.OneLine(letter.Subject, Plain.SentenceLength));
        message.Date = envelope.WrittenAt.InZone(letter.Zone).ToDateTimeOffset();
        if (letter.AnswerAddress is { } answers)
        {
            var reads = MailboxAddress.Parse(answers);
            message.ReplyTo.Add(reads);
            // RFC 2369: only where somebody acts on it.
            message.Headers.Add(HeaderId.ListUnsubscribe, $"<mailto:{reads.Address}?subject=stop%20%5B{envelope.IdLeft}%5D>");
        }
        if (envelope.Under is { } under)
        {
            message.InReplyTo = under;
            message.References.Add(under);
        }
        // RFC 3834: no holiday notice shall answer this.
        message.Headers.Add("Auto-Submitted", "auto-generated");
        message.Headers.Add(HeaderId.ListId, $"<{ListLabel(letter.GardenId)}.{envelope.Sender.Domain}>");
        // Fixed boundaries, where MimeKit would draw them by lot: the same mail has the same bytes.
        string boundary = "=_" + envelope.IdLeft[..Math.Min(envelope.IdLeft.Length, 60)];
        var plain = Part("plain", DigestText.Write(letter));
        var twins = new MultipartAlternative { plain, Html(letter, boundary + ".r") };
        twins.Boundary = boundary;
        message.Body = envelope.Calendar is { } calendar ? WithCalendar(twins, calendar, ListLabel(letter.GardenId), boundary + ".c") : twins;

        using var bytes = new MemoryStream();
        var format = FormatOptions.Default.Clone();
        format.NewLineFormat = NewLineFormat.Dos;
        message.WriteTo(format, bytes);
        return bytes.ToArray();

        Header Header(HeaderId id) => message.Headers[message.Headers.IndexOf(id)];
    }

    /// <summary>The HTML, and with it the pictures that it names (RFC 2387).</summary>
    private static MimeEntity Html(Letter letter, string boundary)
    {
        if (Painted(letter) is not { Count: > 0 } pictures)
            return Part("html", DigestHtml.Write(letter.WithPictures(_ => null)));
        var related = new MultipartRelated { Root = Part("html", DigestHtml.Write(letter)) };
        related.Boundary = boundary;
        foreach (var (name, contentId, png) in pictures)
        {
            related.Add(new MimePart("image", "png")
            {
                Content = new MimeContent(new MemoryStream([.. png], writable: false)),
                ContentId = contentId,
                ContentDisposition = new ContentDisposition(ContentDisposition.Inline),
                ContentTransferEncoding = ContentEncoding.Base64,
                FileName = name,
            });
        }
        return related;
    }

    /// <summary>Beside the twins, as a file that calendar programs open.</summary>
    private static Multipart WithCalendar(MimeEntity twins, byte[] calendar, string name, string boundary)
    {
        var part = new MimePart("text", "calendar")
        {
            Content = new MimeContent(new MemoryStream(calendar, writable: false)),
            ContentDisposition = new ContentDisposition(ContentDisposition.Attachment),
            ContentTransferEncoding = ContentEncoding.Base64,
            FileName = name + ".ics",
        };
        part.ContentType.Charset = "utf-8";
        var both = new Multipart("mixed") { twins, part };
        both.Boundary = boundary;
        return both;
    }

    /// <summary>Each picture and its dark twin; none when one can't be painted, for a message goes out with or without.</summary>
    private static List<(string Name, string ContentId, ImmutableArray<byte> Png)> Painted(Letter letter)
    {
        try
        {
            return [.. from picture in letter.Pictures
                       from dark in Enumerable.Repeat(false, 1).Concat(Enumerable.Repeat(true, picture.HasDark ? 1 : 0))
                       select (picture.FileName(dark), picture.ContentId(dark), picture.Png(dark))];
        }
        catch (Exception)
        {
            return [];
        }
    }

    private static TextPart Part(string kind, string text)
    {
        var part = new TextPart(kind)
        {
            ContentTransferEncoding = ContentEncoding.QuotedPrintable,
            Content = new MimeContent(new MemoryStream(QuotedPrintable.Encode(text), writable: false), ContentEncoding.QuotedPrintable),
        };
        part.ContentType.Charset = "utf-8";
        return part;
    }

    /// <summary>The garden's id as a label of a domain name: List-Id lets a mail program sort by garden.</summary>
    private static string ListLabel(string gardenId)
    {
        string label = new([.. gardenId.Where(c => char.IsAsciiLetterOrDigit(c) || c == '-').Take(60)]);
        return label.Length > 0 ? label : "garden";
    }
}

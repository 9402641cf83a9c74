using System.Collections.Immutable;
using System.Text;
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
    public static OutgoingMail Render(
        Letter letter, string idLeft, string from, string to, Instant writtenAt, string? under = null)
    {
        if (idLeft.Length == 0 || !idLeft.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_'))
            throw new ArgumentException("The left part of a Message-ID is letters, figures, dots and hyphens.", nameof(idLeft));
        var sender = MailboxAddress.Parse(from);
        var recipient = MailboxAddress.Parse(to);
        if (string.IsNullOrEmpty(sender.Name))
            sender.Name = letter.GardenName;
        string id = $"{idLeft}@{sender.Domain}";

        using var message = new MimeMessage { MessageId = id, Subject = letter.Subject };
        message.From.Add(sender);
        message.To.Add(recipient);
        message.Date = writtenAt.InZone(letter.Zone).ToDateTimeOffset();
        if (letter.AnswerAddress is { } answers)
            message.ReplyTo.Add(MailboxAddress.Parse(answers));
        if (under is not null)
        {
            message.InReplyTo = under;
            message.References.Add(under);
        }
        // RFC 3834: no holiday notice shall answer this.
        message.Headers.Add("Auto-Submitted", "auto-generated");
        message.Headers.Add("X-Auto-Response-Suppress", "OOF, AutoReply");
        message.Headers.Add(HeaderId.ListId, $"<{ListLabel(letter.GardenId)}.{sender.Domain}>");
        message.Body = new MultipartAlternative
        {
            Part("plain", DigestText.Write(letter)),
            Part("html", DigestHtml.Write(letter)),
        };
        // Fixed, where MimeKit would draw one by lot: the same mail has the same bytes.
        ((Multipart)message.Body).Boundary = "=_" + idLeft[..Math.Min(idLeft.Length, 60)];

        using var bytes = new MemoryStream();
        var format = FormatOptions.Default.Clone();
        format.NewLineFormat = NewLineFormat.Dos;
        message.WriteTo(format, bytes);
        return new(id, sender.Address, recipient.Address, [.. bytes.ToArray()]);
    }

    private static TextPart Part(string kind, string text)
    {
        var part = new TextPart(kind) { ContentTransferEncoding = ContentEncoding.QuotedPrintable };
        part.SetText(Encoding.UTF8, text);
        return part;
    }

    /// <summary>The garden's id as a label of a domain name: List-Id lets a mail program sort by garden.</summary>
    private static string ListLabel(string gardenId)
    {
        string label = new([.. gardenId.Where(c => char.IsAsciiLetterOrDigit(c) || c == '-').Take(60)]);
        return label.Length > 0 ? label : "garden";
    }
}

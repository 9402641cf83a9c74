using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Letters;
using MimeKit;

namespace GardenWatch.Messages.Replies;

/// <summary>A server's word that a mail of ours did not arrive.</summary>
/// <param name="MessageIds">What may be the Message-ID of ours, without brackets.</param>
/// <param name="ForGood">5.x.x; false where it is still tried.</param>
/// <param name="Reason">In the server's words, in a line.</param>
public sealed partial record BouncedMail(ImmutableArray<string> MessageIds, bool ForGood, string Reason)
{
    private const int LongestReason = 160;
    private const int LongestText = 100_000;
    private const int MostIds = 20;

    /// <summary>Null when the mail is no such word. RFC 3464 where the server keeps to it, else by what such mails usually say.</summary>
    public static BouncedMail? Of(MimeMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        var report = message.BodyParts.OfType<MessageDeliveryStatus>().FirstOrDefault();
        string text = TextOf(message);
        if (report is null && !SeemsOne(message, text))
            return null;
        var ids = IdsIn(message).Concat(Ids().Matches(text).Select(found => found.Groups[1].Value)).Where(id => id != message.MessageId).Distinct(StringComparer.Ordinal);
        return report is not null && ByReport(report) is { } told
            ? new([.. ids.Take(MostIds)], told.ForGood, told.Reason)
            : new([.. ids.Take(MostIds)], !Delayed().IsMatch(text), Plain.OneLine(Codes().Match(text).Value, LongestReason));
    }

    private static (bool ForGood, string Reason)? ByReport(MessageDeliveryStatus report)
    {
        try
        {
            // The first group is of the message, the others are of a recipient each.
            var recipient = report.StatusGroups.FirstOrDefault(group => group.Contains("Action"));
            if (recipient?["Action"]?.Trim().ToLowerInvariant() is not { } action)
                return null;
            string reason = recipient["Diagnostic-Code"] ?? recipient["Status"] ?? action;
            int words = reason.IndexOf(';', StringComparison.Ordinal);
            return (action.StartsWith("failed", StringComparison.Ordinal), Plain.OneLine(words < 0 ? reason : reason[(words + 1)..], LongestReason));
        }
        catch (FormatException)
        {
            return null;
        }
    }

    /// <summary>What came back of our mail, whole or its headers.</summary>
    private static IEnumerable<string> IdsIn(MimeMessage message) =>
        message.BodyParts.OfType<MessagePart>().Select(part => part.Message?.MessageId).OfType<string>()
            .Concat(MailReferences.Of(message.Headers));

    private static bool SeemsOne(MimeMessage message, string text)
    {
        string from = message.From.ToString().ToLowerInvariant();
        bool bySystem = from.Contains("mailer-daemon", StringComparison.Ordinal) || from.Contains("postmaster", StringComparison.Ordinal)
            || message.Headers[HeaderId.ReturnPath]?.Trim() is "<>";
        return bySystem && (Codes().IsMatch(text) || Undelivered().IsMatch(text) || Undelivered().IsMatch(message.Subject ?? ""));
    }

    private static string TextOf(MimeMessage message)
    {
        var text = new StringBuilder();
        foreach (var part in message.BodyParts.Take(20))
        {
            if (text.Length > LongestText)
                break;
            if (part is TextPart words)
                text.AppendLine(words.IsHtml ? HtmlWords.Of(words.Text) : words.Text);
        }
        return text.Length > LongestText ? text.ToString(0, LongestText) : text.ToString();
    }

    [GeneratedRegex(@"(?im)^[ \t>]*message-id:\s*<([^<>\s]{3,250})>", RegexOptions.CultureInvariant)]
    private static partial Regex Ids();

    [GeneratedRegex(@"\b(?:[45][0-9]{2}[ -])?[45]\.[0-9]{1,3}\.[0-9]{1,3}\b[^\r\n]{0,200}|\b5[0-9]{2}[ -][^\r\n]{3,200}", RegexOptions.CultureInvariant)]
    private static partial Regex Codes();

    [GeneratedRegex(@"(?i)undeliver|could not be delivered|delivery (?:has )?failed|delivery status notification|returned mail|failure notice|unzustellbar|non remis|no entregado|user unknown|mailbox (?:is )?full|no such user", RegexOptions.CultureInvariant)]
    private static partial Regex Undelivered();

    [GeneratedRegex(@"(?i)will (?:be )?(?:retr|keep trying|continue)|has been delayed|\bdelayed\b|(?<![0-9])4\.[0-9]\.[0-9]", RegexOptions.CultureInvariant)]
    private static partial Regex Delayed();
}

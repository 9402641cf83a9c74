using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Letters;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace GardenWatch.Messages.Mail;

/// <summary>Where in the conversation a mail server said no.</summary>
internal enum ReplyTo { Connection, Login, Sender, Addressee, Mail }

/// <summary>A mail server's no: "550 5.7.1 relaying denied".</summary>
/// <param name="Code">RFC 5321, 4.2; 4xx puts off, 5xx refuses.</param>
/// <param name="Status">The three figures of RFC 3463 where the server gives them: "5.7.1".</param>
/// <param name="Words">Its words, of one line, without the codes.</param>
internal sealed partial record ServerReply(ReplyTo To, int Code, string? Status, string Words)
{
    /// <summary>Null when the fault is no reply of a server.</summary>
    public static ServerReply? Of(Exception fault) => fault switch
    {
        SmtpCommandException command => Of(
            command.ErrorCode switch
            {
                SmtpErrorCode.SenderNotAccepted => ReplyTo.Sender,
                SmtpErrorCode.RecipientNotAccepted => ReplyTo.Addressee,
                SmtpErrorCode.MessageNotAccepted => ReplyTo.Mail,
                _ when command.StatusCode is SmtpStatusCode.AuthenticationInvalidCredentials or SmtpStatusCode.AuthenticationMechanismTooWeak => ReplyTo.Login,
                _ => ReplyTo.Connection,
            },
            (int)command.StatusCode, fault.Message),
        ServiceNotAuthenticatedException => Of(ReplyTo.Sender, 530, fault.Message),
        AuthenticationException => Of(ReplyTo.Login, 535, fault.Message),
        _ => null,
    };

    /// <param name="code">When the words do not begin with one.</param>
    public static ServerReply Of(ReplyTo to, int code, string message)
    {
        string words = Plain.OneLine(message, 400);
        if (LeadingCode().Match(words) is { Success: true } leading)
        {
            code = int.Parse(leading.Groups[1].ValueSpan, CultureInfo.InvariantCulture);
            words = words[leading.Length..];
        }
        string? status = FirstStatus().Match(words) is { Success: true } found ? found.Value : null;
        return new(to, code, status, AnyStatus().Replace(words, " ").Trim());
    }

    public bool IsPuttingOff => Code is >= 400 and < 500;

    /// <summary>The server's own words with its codes, without the addresses and links in them: they end up in logs.</summary>
    public string Quoted
    {
        get
        {
            string words = Plain.Cut(Spaces().Replace(Addresses().Replace(Links().Replace(Words, ""), "(address)"), " ").Trim(' ', '.', ':', ','), 160);
            return " (" + string.Join(' ', new[] { Code.ToString(CultureInfo.InvariantCulture), Status, words }.Where(part => !string.IsNullOrEmpty(part))) + ")";
        }
    }

    /// <summary>One of these is among its words, whatever the case.</summary>
    public bool Says(params ReadOnlySpan<string> any)
    {
        foreach (string words in any)
            if (Words.Contains(words, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }

    /// <summary>"x.7.1" fits 4.7.1 and 5.7.1.</summary>
    public bool Is(params ReadOnlySpan<string> any)
    {
        foreach (string status in any)
            if (Status is not null && (status[0] == 'x' ? Status[1..] == status[1..] : Status == status))
                return true;
        return false;
    }

    [GeneratedRegex(@"^([245]\d\d)[:\s-]\s*")]
    private static partial Regex LeadingCode();

    [GeneratedRegex(@"(?<![\d.])[245]\.\d{1,3}\.\d{1,3}(?![\d.])")]
    private static partial Regex FirstStatus();

    // In a reply of several lines each begins with it.
    [GeneratedRegex(@"(?:^|\s)#?[245]\.\d{1,3}\.\d{1,3}(?![\d.])[:-]?")]
    private static partial Regex AnyStatus();

    [GeneratedRegex(@"<?[^\s<>]+@[^\s<>]+>?", RegexOptions.CultureInvariant)]
    private static partial Regex Addresses();

    [GeneratedRegex(@"<?https?://\S+", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Links();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}

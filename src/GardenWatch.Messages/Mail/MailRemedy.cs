using System.Net.Sockets;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Letters;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace GardenWatch.Messages.Mail;

/// <summary>What went wrong on the way to the mail server, and what to change.</summary>
public static partial class MailRemedy
{
    /// <summary>What an outcome asks the gardener to do next, with its reason.</summary>
    public static string For(SendOutcome outcome) => outcome switch
    {
        SendOutcome.Accepted => "The server took the mail. If it does not arrive, look in the folder for unwanted mail.",
        SendOutcome.TryLater(var reason) => $"{reason} Nothing was sent; it is tried again.",
        SendOutcome.Refused(var reason) => $"{reason} Nothing was sent.",
        SendOutcome.InDoubt(var reason) => $"{reason} It may have arrived all the same: look before you send it again.",
        _ => "",
    };

    /// <summary>The fault and its remedy in sentences.</summary>
    internal static string Sentence(Exception fault, MailOptions options)
    {
        string server = $"{Plain.OneLine(options.Host, Plain.NameLength)}, port {options.Port}";
        return fault switch
        {
            AuthenticationException or SmtpCommandException { StatusCode: SmtpStatusCode.AuthenticationInvalidCredentials } =>
                $"The server refused the login{Said(fault)}. Many providers want an app password here, made in the account's security settings, not the one you log in with; the user is often the whole address.",
            ServiceNotAuthenticatedException =>
                "The server wants a login first. Add user and password file under mail.",
            SmtpCommandException command => Refusal(command),
            SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain } =>
                $"The name {Plain.OneLine(options.Host, Plain.NameLength)} was not found. Look for a slip in mail host, and whether this machine reaches the internet.",
            SocketException { SocketErrorCode: SocketError.ConnectionRefused } =>
                $"Nothing answers at {server}. Check host and port: 587 with security: starttls, or 465 with security: tls.",
            SslHandshakeException => Handshake(options, server),
            NotSupportedException when options.Security == MailSecurity.StartTls =>
                $"{server} offers no STARTTLS, so nothing was said in clear. Try port 465 with security: tls.",
            NotSupportedException =>
                $"{server} lacks something this mail needs: {Plain.OneLine(fault.Message, 160)}",
            TimeoutException =>
                $"{server} did not answer in time. If that stays so, check port and security: 465 goes with tls, 587 with starttls; some networks block both.",
            SocketException { SocketErrorCode: SocketError.ConnectionReset or SocketError.ConnectionAborted } or SmtpProtocolException or IOException =>
                $"{server} broke the conversation off. If that stays so, check port and security: 465 goes with tls, 587 with starttls.",
            SocketException =>
                $"{server} is out of reach. Check this machine's network, and host and port under mail.",
            OperationCanceledException =>
                "The service was stopped while the mail was on its way.",
            _ => $"Mail to {server} failed: {Plain.OneLine(fault.Message, 160)}",
        };
    }

    private static string Refusal(SmtpCommandException fault)
    {
        bool later = (int)fault.StatusCode is >= 400 and < 500;
        return fault.ErrorCode switch
        {
            SmtpErrorCode.SenderNotAccepted =>
                $"The server refused the sender{Said(fault)}. Set mail from to the address of the account you log in with.",
            SmtpErrorCode.RecipientNotAccepted when later =>
                $"The server does not take mail for this addressee at the moment{Said(fault)}.",
            SmtpErrorCode.RecipientNotAccepted =>
                $"The server refused the addressee{Said(fault)}. Look for a slip in the address under digest to; some servers pass mail on only after a login.",
            _ when later => $"The server put the mail off{Said(fault)}.",
            _ => $"The server refused the mail{Said(fault)}. Its own words say why; often it takes mail only from the account's own address.",
        };
    }

    private static string Handshake(MailOptions options, string server) => options.Security == MailSecurity.Tls && options.Port != 465
        ? $"{server} did not begin with TLS. Port 465 goes with security: tls, 587 with starttls."
        : $"The certificate of {server} is not trusted, is out of date or bears another name. Write host as the certificate names it; for a mail server of your own, give its certificate under mail as certificate file."
            + (options.CheckWithdrawn ? " If only the list of withdrawn certificates is out of reach, check withdrawn: no leaves that out." : "");

    /// <summary>The server's own words with its code, without the addresses in them: they end up in logs.</summary>
    private static string Said(Exception fault)
    {
        string words = Addresses().Replace(Plain.OneLine(fault.Message, 200), "(address)").TrimEnd('.');
        string code = fault is SmtpCommandException command ? $"{(int)command.StatusCode} " : "";
        return words.Length == 0 && code.Length == 0 ? "" : $" ({(words.StartsWith(code, StringComparison.Ordinal) ? "" : code)}{words})";
    }

    [GeneratedRegex(@"<?[^\s<>]+@[^\s<>]+>?", RegexOptions.CultureInvariant)]
    private static partial Regex Addresses();
}

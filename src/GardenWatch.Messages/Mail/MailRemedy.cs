using System.Net.Sockets;
using GardenWatch.Messages.Letters;
using MailKit.Net.Smtp;
using MailKit.Security;

namespace GardenWatch.Messages.Mail;

/// <summary>What went wrong on the way to the mail server, and what to change.</summary>
public static class MailRemedy
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
    /// <param name="doubt">What was seen of the server's certificate, if it was not taken.</param>
    internal static string Sentence(Exception fault, MailOptions options, CertificateDoubt? doubt = null)
    {
        if (ServerReply.Of(fault) is { } reply)
            return ReplyMeaning.Sentence(reply);
        string host = Plain.OneLine(options.Host, Plain.NameLength);
        string server = $"{host}, port {options.Port}";
        return fault switch
        {
            SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData } =>
                $"The name {host} was not found. Look for a slip in mail host, and whether this machine reaches the internet.",
            SocketException { SocketErrorCode: SocketError.TryAgain } =>
                $"The name {host} was not found just now: the network's name service does not answer. If it stays so, look whether this machine reaches the internet.",
            SocketException { SocketErrorCode: SocketError.ConnectionRefused } =>
                $"Nothing answers at {server}. Check host and port: 587 with security: starttls, or 465 with security: tls.",
            SslHandshakeException => doubt?.Sentence ?? Handshake(options, server),
            NotSupportedException when options.Security == MailSecurity.StartTls =>
                $"{server} offers no STARTTLS, so nothing was said in clear. Try port 465 with security: tls.",
            NotSupportedException =>
                $"{server} lacks something this mail needs: {Plain.OneLine(fault.Message, 160)}",
            TimeoutException or SocketException { SocketErrorCode: SocketError.TimedOut } => $"{server} did not answer in time. {Silent(options)}",
            SocketException { SocketErrorCode: SocketError.NetworkUnreachable or SocketError.HostUnreachable or SocketError.NetworkDown } =>
                $"There is no way to {server} from here. Look whether this machine reaches the internet; some networks and providers bar mail ports.",
            SocketException { SocketErrorCode: SocketError.ConnectionReset or SocketError.ConnectionAborted } or SmtpProtocolException or IOException =>
                $"{server} broke the conversation off. If that stays so, check port and security: 465 goes with tls, 587 with starttls.",
            SocketException =>
                $"{server} is out of reach. Check this machine's network, and host and port under mail.",
            OperationCanceledException =>
                "The service was stopped while the mail was on its way.",
            _ => $"Mail to {server} failed: {Plain.OneLine(fault.Message, 160)}",
        };
    }

    /// <summary>A port that is barred swallows everything: no answer at all, and not even a refusal.</summary>
    private static string Silent(MailOptions options) => options.Port == 25
        ? "Most home connections bar port 25. Use 587 with security: starttls, or 465 with security: tls."
        : "If that stays so, check port and security: 465 goes with tls, 587 with starttls; some networks and guest lines bar one or both, so try the other.";

    private static string Handshake(MailOptions options, string server) => options.Security == MailSecurity.Tls && options.Port != 465
        ? $"{server} did not begin with TLS. Port 465 goes with security: tls, 587 with starttls."
        : $"No secure line to {server} could be agreed on. Port 465 goes with security: tls, 587 with starttls; a very old mail server may lack TLS 1.2.";
}

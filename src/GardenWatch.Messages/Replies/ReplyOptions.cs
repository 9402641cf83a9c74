using System.Net;
using GardenWatch.Messages.Mail;
using MimeKit;

namespace GardenWatch.Messages.Replies;

/// <summary>The mailbox in which answers are read, over IMAP. Nothing is changed in it.</summary>
public sealed class ReplyOptions
{
    public string Host { get; set; } = "";
    public int Port { get; set; } = 993;
    public MailSecurity Security { get; set; } = MailSecurity.Tls;
    public string User { get; set; } = "";
    /// <summary>The password itself; the host has read it from its file.</summary>
    public string? Password { get; set; }
    public string Folder { get; set; } = "INBOX";
    /// <summary>To which answers are sent: an address whose mail comes into that folder.</summary>
    public string Address { get; set; } = "";
    /// <summary>How often is looked where the server does not tell of new mail, and at the latest where it does.</summary>
    public TimeSpan PollEvery { get; set; } = TimeSpan.FromMinutes(5);
    public bool Insecure { get; set; }
    /// <summary>As those of <see cref="MailOptions"/>.</summary>
    public string? CertificateFile { get; set; }
    public bool CheckWithdrawn { get; set; } = true;
    /// <summary>For each question to the server but that for new mail.</summary>
    public TimeSpan AnswerWithin { get; set; } = TimeSpan.FromSeconds(60);
    /// <summary>Off for a server that says it tells of new mail, and does not.</summary>
    public bool Idle { get; set; } = true;

    /// <summary>Everything wrong with these settings, each in a sentence with the remedy.</summary>
    public IEnumerable<string> Faults()
    {
        if (Uri.CheckHostName(Host) == UriHostNameType.Unknown)
            yield return $"replies: host is \"{Host}\"; write the name of your provider's server for incoming mail (IMAP), such as imap.example.org.";
        if (Port is 465 or 587 or 25)
            yield return $"replies: port is {Port}, which is for outgoing mail; use 993 with security: tls, or 143 with security: starttls.";
        if (Port == 993 && Security == MailSecurity.StartTls)
            yield return "replies: port is 993, which speaks TLS from the start; write security: tls, or port: 143.";
        if (User.Length == 0)
            yield return "replies: user is missing; write the account whose mail is read, often the whole address.";
        else if (Password is null)
            yield return "replies: password file is missing; name a file with the account's password.";
        if (!MailboxAddress.TryParse(Address, out var address) || !address.Address.Contains('@', StringComparison.Ordinal))
            yield return $"replies: address is \"{Address}\"; write the address to which answers shall go, such as garden@example.org.";
        if (Security == MailSecurity.None && !Insecure && !IsThisMachine)
            yield return $"replies: security is none, which would send the password to {Host} in clear; write security: tls. (insecure: yes allows it on a network that is all yours.)";
        if (CertificateFile is not null && !File.Exists(CertificateFile))
            yield return $"replies: certificate file is {CertificateFile}, which is not there; give the PEM file of your own mail server's certificate, or leave it out.";
        if (PollEvery < TimeSpan.FromMinutes(1) || PollEvery > TimeSpan.FromHours(24))
            yield return $"replies: poll every is {PollEvery}; write 1 minute to 24 hours.";
    }

    private bool IsThisMachine => string.Equals(Host, "localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(Host, out var address) && IPAddress.IsLoopback(address));

    internal MailOptions AsMail() => new()
    {
        Host = Host, Port = Port, Security = Security, User = User, Password = Password, From = Address,
        CertificateFile = CertificateFile, CheckWithdrawn = CheckWithdrawn,
    };
}

using System.Net;
using MimeKit;

namespace GardenWatch.Messages.Mail;

public enum MailSecurity
{
    /// <summary>Begins in clear and must go over to TLS before anything is said (port 587).</summary>
    StartTls,
    /// <summary>TLS from the first byte (port 465).</summary>
    Tls,
    /// <summary>In clear, for a relay on this machine.</summary>
    None,
}

/// <summary>Where mail is handed over, and as whom.</summary>
public sealed class MailOptions
{
    public string Host { get; set; } = "";
    public int Port { get; set; } = 587;
    public MailSecurity Security { get; set; } = MailSecurity.StartTls;
    public string? User { get; set; }
    /// <summary>The password itself; the host has read it from its file.</summary>
    public string? Password { get; set; }
    /// <summary>"garden@example.org" or "Our garden &lt;garden@example.org&gt;".</summary>
    public string From { get; set; } = "";
    /// <summary><c>insecure: yes</c> lets a password go over another machine's wire in clear.</summary>
    public bool Insecure { get; set; }
    /// <summary>PEM file with the certificate of one's own mail server, or of the authority that signed it.</summary>
    public string? CertificateFile { get; set; }
    /// <summary>Off where the authority's list of withdrawn certificates can't be reached from home.</summary>
    public bool CheckWithdrawn { get; set; } = true;
    /// <summary>For the connection, greeting and login.</summary>
    public TimeSpan ConnectTimeout { get; set; } = TimeSpan.FromSeconds(30);
    /// <summary>For each answer from MAIL to the final dot. RFC 5321 4.5.3.2.6 gives the dot ten minutes; giving up sooner doubles mail.</summary>
    public TimeSpan SendTimeout { get; set; } = TimeSpan.FromMinutes(10);

    /// <summary>The address of <see cref="From"/> alone: the envelope's sender.</summary>
    public string FromAddress => MailboxAddress.TryParse(From, out var mailbox) ? mailbox.Address : From;

    /// <summary>Everything wrong with these settings, each in a sentence with the remedy.</summary>
    public IEnumerable<string> Faults()
    {
        if (Uri.CheckHostName(Host) == UriHostNameType.Unknown)
            yield return $"mail: host is \"{Host}\"; write the name of your provider's outgoing server, such as mail.example.org.";
        if (Port is < 1 or > 65535)
            yield return $"mail: port is {Port}; use 587 with security: starttls, or 465 with security: tls.";
        if (Port == 465 && Security == MailSecurity.StartTls)
            yield return "mail: port 465 speaks TLS from the start; write security: tls, or port: 587.";
        if (Port == 587 && Security == MailSecurity.Tls)
            yield return "mail: port 587 begins in clear; write security: starttls, or port: 465.";
        if (!MailboxAddress.TryParse(From, out var from) || !from.Address.Contains('@', StringComparison.Ordinal))
            yield return $"mail: from is \"{From}\"; write one address, such as garden@example.org.";
        else if (!from.Address.All(char.IsAscii))
            yield return $"mail: from is \"{From}\"; many servers take only plain Latin letters in an address.";
        if (User is null != Password is null)
            yield return User is null
                ? "mail: there is a password but no user; add user, often the whole address."
                : "mail: there is a user but no password; add password file.";
        if (Security == MailSecurity.None && User is not null && !Insecure && !IsThisMachine)
            yield return $"mail: security: none would send the password to {Host} in clear; write security: starttls. (insecure: yes allows it on a network that is all yours.)";
        if (CertificateFile is not null && !File.Exists(CertificateFile))
            yield return $"mail: certificate file {CertificateFile} is not there; give the PEM file of your own mail server's certificate, or leave it out.";
        if (ConnectTimeout <= TimeSpan.Zero)
            yield return $"mail: connect timeout is {ConnectTimeout}; use 00:00:30 or so.";
        if (SendTimeout <= TimeSpan.Zero)
            yield return $"mail: send timeout is {SendTimeout}; use 00:10:00: giving up sooner can double a mail.";
    }

    private bool IsThisMachine => string.Equals(Host, "localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(Host, out var address) && IPAddress.IsLoopback(address));
}

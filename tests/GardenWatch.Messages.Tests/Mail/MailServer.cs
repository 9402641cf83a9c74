using GardenWatch.Messages.Mail;
using GardenWatch.Peers.Smtp;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>A mail server of the test's own, trusted through the certificate file as a gardener would.</summary>
internal sealed class MailServer : IAsyncDisposable
{
    private readonly string _certificate = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.pem");

    public MailServer(SmtpServerSettings? settings = null)
    {
        Server = new(settings);
        File.WriteAllText(_certificate, Server.CertificatePem);
        Options = new()
        {
            Host = "localhost",
            Port = Server.Port,
            Security = Server.Settings.TlsFromTheStart ? MailSecurity.Tls : MailSecurity.StartTls,
            User = "garden@example.org",
            Password = "plain-radish",
            From = "garden@example.org",
            CertificateFile = _certificate,
        };
    }

    public ScriptedSmtpServer Server { get; }

    public MailOptions Options { get; }

    public Task<SendOutcome> Send(CancellationToken cancellationToken)
    {
        var mail = OutgoingMailTests.Rendered("frosty-morning");
        return new SmtpPostbox(Options).Send(mail.Bytes.AsMemory(), mail.From, mail.To, cancellationToken);
    }

    public async ValueTask DisposeAsync()
    {
        await Server.DisposeAsync();
        File.Delete(_certificate);
    }
}

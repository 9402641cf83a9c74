using System.Net.Security;
using System.Security.Cryptography.X509Certificates;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Messages.Mail;

/// <summary>Why a mail server's certificate was not taken; looked at during the handshake, so that the remedy can name it.</summary>
internal sealed class CertificateDoubt
{
    /// <summary>A sentence with the remedy; null while nothing was found wrong.</summary>
    public string? Sentence { get; private set; }

    /// <summary>The same check as before, whose no is explained.</summary>
    public RemoteCertificateValidationCallback Watching(RemoteCertificateValidationCallback check, MailOptions options) =>
        (sender, shown, chain, errors) =>
        {
            bool fine = check(sender, shown, chain, errors);
            if (!fine)
                Sentence = Of(shown, chain, errors, options);
            return fine;
        };

    private static string Of(X509Certificate? shown, X509Chain? chain, SslPolicyErrors errors, MailOptions options)
    {
        string host = Plain.OneLine(options.Host, Plain.NameLength);
        if (shown is null)
            return $"{host} showed no certificate. Check host and port under mail.";
        using var certificate = X509CertificateLoader.LoadCertificate(shown.GetRawCertData());
        if (errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
        {
            string name = Plain.OneLine(certificate.GetNameInfo(X509NameType.DnsName, false), Plain.NameLength);
            return $"The certificate of {host} bears another name{(name.Length > 0 ? $", {name}" : "")}. Write host as the provider's help pages name the outgoing server; for a mail server of your own, as its certificate does.";
        }
        var statuses = (chain?.ChainStatus ?? []).Aggregate(X509ChainStatusFlags.NoError, (all, status) => all | status.Status);
        if (statuses.HasFlag(X509ChainStatusFlags.NotTimeValid))
        {
            string until = Tongue.English.Date(LocalDate.FromDateTime(certificate.NotAfter.ToUniversalTime()));
            return $"The certificate of {host} is out of date: it runs to {until} {certificate.NotAfter.Year.ToString(System.Globalization.CultureInfo.InvariantCulture)}. If this machine's date is right, the server's keeper has to renew it.";
        }
        if (statuses.HasFlag(X509ChainStatusFlags.Revoked))
            return $"The certificate of {host} was withdrawn. Nothing is sent to it; its keeper has to put a new one in place.";
        if (statuses.HasFlag(X509ChainStatusFlags.RevocationStatusUnknown) || statuses.HasFlag(X509ChainStatusFlags.OfflineRevocation))
            return $"Whether the certificate of {host} was withdrawn could not be looked up from here. If the network bars that for good, check withdrawn: no leaves it out.";
        return $"The certificate of {host} is signed by nobody this machine knows. For a mail server of your own, give its certificate under mail as certificate file; otherwise install this machine's updates, and check that host is the provider's.";
    }
}

using System.Net.Security;
using System.Security.Cryptography.X509Certificates;

namespace GardenWatch.Messages.Mail;

/// <summary>Trust in the certificate of one's own mail server, named in the settings, and in nothing else.</summary>
internal static class OwnCertificate
{
    /// <summary>
    /// A check by which the chain must end in a certificate of the file, be in date and carry the host's name. What the
    /// system trusts anyway passes as before.
    /// </summary>
    public static RemoteCertificateValidationCallback Trusting(string file, string host)
    {
        return (_, shown, sent, errors) =>
        {
            if (errors == SslPolicyErrors.None)
                return true;
            if (shown is null || errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
                return false;
            using var certificate = X509CertificateLoader.LoadCertificate(shown.GetRawCertData());
            using var chain = new X509Chain();
            chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
            chain.ChainPolicy.CustomTrustStore.ImportFromPemFile(file);
            // What the server sent along may stand between its certificate and the file's.
            if (sent is not null)
                chain.ChainPolicy.ExtraStore.AddRange(sent.ChainPolicy.ExtraStore);
            // One's own authority publishes no list of withdrawn certificates.
            chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
            return chain.Build(certificate) && certificate.MatchesHostname(host);
        };
    }
}

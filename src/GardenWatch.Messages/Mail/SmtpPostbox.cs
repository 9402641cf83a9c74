using System.Net.Security;
using System.Net.Sockets;
using GardenWatch.Messages.Letters;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace GardenWatch.Messages.Mail;

/// <summary>Hands mail to the gardener's own provider, one connection for each.</summary>
public sealed class SmtpPostbox(MailOptions options) : IPostbox
{
    public async Task<SendOutcome> Send(ReadOnlyMemory<byte> mail, string from, string to, CancellationToken cancellationToken)
    {
        using var stream = new MemoryStream(mail.ToArray(), writable: false);
        using var message = await MimeMessage.LoadAsync(stream, cancellationToken).ConfigureAwait(false);
        using var client = new SmtpClient { CheckCertificateRevocation = options.CheckWithdrawn };
        var doubt = new CertificateDoubt();
        client.ServerCertificateValidationCallback = doubt.Watching(
            options.CertificateFile is { } file ? OwnCertificate.Trusting(file, options.Host) : (_, _, _, errors) => errors == SslPolicyErrors.None, options);

        if (await Reach(client, doubt, cancellationToken).ConfigureAwait(false) is { } notReached)
            return notReached;
        var outcome = await HandOver(client, message, from, to, cancellationToken).ConfigureAwait(false);
        if (outcome is not SendOutcome.InDoubt && client.IsConnected)
            await Leave(client).ConfigureAwait(false);
        return outcome;
    }

    /// <summary>Connects and logs in. Whatever goes wrong here, nothing was sent; null when all is well.</summary>
    private async Task<SendOutcome?> Reach(SmtpClient client, CertificateDoubt doubt, CancellationToken cancellationToken)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        deadline.CancelAfter(options.ConnectTimeout);
        client.Timeout = Milliseconds(options.ConnectTimeout);
        try
        {
            await client.ConnectAsync(options.Host, options.Port, SocketOptions(), deadline.Token).ConfigureAwait(false);
            if (options.User is not null)
                await client.AuthenticateAsync(options.User, options.Password ?? "", deadline.Token).ConfigureAwait(false);
            return null;
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            return new SendOutcome.TryLater(MailRemedy.Sentence(new TimeoutException(), options));
        }
        // Settings that can't fit this server: another try would end the same.
        catch (NotSupportedException fault)
        {
            return new SendOutcome.Refused(MailRemedy.Sentence(fault, options));
        }
        // A login that is refused is tried again too: the mail waits for the password to be put right, within its time.
        catch (Exception fault) when (IsOutside(fault) || fault is AuthenticationException or SslHandshakeException or CommandException)
        {
            return new SendOutcome.TryLater(MailRemedy.Sentence(fault, options, doubt));
        }
    }

    private async Task<SendOutcome> HandOver(
        SmtpClient client, MimeMessage message, string from, string to, CancellationToken cancellationToken)
    {
        client.Timeout = Milliseconds(options.SendTimeout);
        var body = new BodyWatch();
        try
        {
            string reply = await client.SendAsync(
                message, new MailboxAddress("", from), [new MailboxAddress("", to)], cancellationToken, body).ConfigureAwait(false);
            return new SendOutcome.Accepted(Plain.OneLine(reply, 200));
        }
        catch (SmtpCommandException fault)
        {
            string said = MailRemedy.Sentence(fault, options);
            return (int)fault.StatusCode is >= 400 and < 500 ? new SendOutcome.TryLater(said) : new SendOutcome.Refused(said);
        }
        catch (Exception fault) when (fault is NotSupportedException or ServiceNotAuthenticatedException or InvalidOperationException and not ObjectDisposedException)
        {
            return new SendOutcome.Refused(MailRemedy.Sentence(fault, options));
        }
        catch (Exception fault) when (body.HasBegun && (IsOutside(fault) || fault is OperationCanceledException))
        {
            return new SendOutcome.InDoubt(MailRemedy.Sentence(fault, options));
        }
        catch (Exception fault) when (IsOutside(fault))
        {
            return new SendOutcome.TryLater(MailRemedy.Sentence(fault, options));
        }
    }

    /// <summary>The mail's fate is known by now; a server that is gone already changes nothing, nor is it waited for long.</summary>
    private static async Task Leave(SmtpClient client)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(5));
        try
        {
            await client.DisconnectAsync(quit: true, patience.Token).ConfigureAwait(false);
        }
        catch (Exception fault) when (IsOutside(fault) || fault is OperationCanceledException or CommandException)
        {
            // Disposing closes what is left.
        }
    }

    /// <summary>Not <c>StartTlsWhenAvailable</c>, nor <c>Auto</c>: both go on in clear where STARTTLS is not offered.</summary>
    private SecureSocketOptions SocketOptions() => options.Security switch
    {
        MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
        MailSecurity.StartTls => SecureSocketOptions.StartTls,
        _ => SecureSocketOptions.None,
    };

    private static bool IsOutside(Exception fault) => fault is IOException or SocketException or ProtocolException
        or TimeoutException or ServiceNotConnectedException;

    private static int Milliseconds(TimeSpan time) => (int)Math.Min(time.TotalMilliseconds, int.MaxValue);

    /// <summary>Knows whether the first of the body went out: until then the server can't have the mail.</summary>
    private sealed class BodyWatch : ITransferProgress
    {
        public bool HasBegun { get; private set; }

        public void Report(long bytesTransferred, long totalSize) => HasBegun = true;

        public void Report(long bytesTransferred) => HasBegun = true;
    }
}

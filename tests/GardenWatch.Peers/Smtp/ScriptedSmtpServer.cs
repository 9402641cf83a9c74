using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;

namespace GardenWatch.Peers.Smtp;

/// <summary>
/// A mail server on this machine that keeps what it takes and, on request, fails as real ones do. It listens on a free
/// port of 127.0.0.1, so another process can be pointed at it.
/// </summary>
public sealed class ScriptedSmtpServer : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly ConcurrentQueue<SmtpFault> _script = new();
    private readonly ConcurrentBag<Task> _conversations = [];
    private readonly TaskCompletionSource _released = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Lock _gate = new();
    private readonly List<ReceivedMail> _kept = [];
    private readonly List<string> _heardInClear = [];
    private readonly Task _listening;
    private TaskCompletionSource _changed = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int _connections;

    public ScriptedSmtpServer(SmtpServerSettings? settings = null)
    {
        Settings = settings ?? new();
        _listener.Start();
        Port = ((IPEndPoint)_listener.LocalEndpoint).Port;
        _listening = Listen();
    }

    public int Port { get; }

    public SmtpServerSettings Settings { get; }

    /// <summary>For a client that shall trust this server: its certificate, and the one that ran out, PEM.</summary>
    public string CertificatePem => Certificate.ExportCertificatePem() + "\n" + ExpiredCertificate.ExportCertificatePem();

    /// <summary>How often a client came.</summary>
    public int Connections => Volatile.Read(ref _connections);

    /// <summary>Mails taken, in order.</summary>
    public IReadOnlyList<ReceivedMail> Kept
    {
        get
        {
            lock (_gate)
                return [.. _kept];
        }
    }

    /// <summary>Every line that came before TLS, or without it; those of mail bodies too.</summary>
    public IReadOnlyList<string> HeardInClear
    {
        get
        {
            lock (_gate)
                return [.. _heardInClear];
        }
    }

    internal X509Certificate2 Certificate { get; } = ServerCertificate.For("localhost", IPAddress.Loopback);

    internal X509Certificate2 OtherCertificate { get; } = ServerCertificate.For("elsewhere.example.org", null);

    internal X509Certificate2 ExpiredCertificate { get; } = ServerCertificate.For("localhost", IPAddress.Loopback, daysLeft: -1);

    internal Task Released => _released.Task;

    /// <summary>The next connections fail like this, one each; those after them do not.</summary>
    public ScriptedSmtpServer Next(params SmtpFault[] faults)
    {
        foreach (var fault in faults)
            _script.Enqueue(fault);
        return this;
    }

    /// <summary>Ends every <see cref="SmtpFault.HangAfterDot"/>.</summary>
    public void Release() => _released.TrySetResult();

    /// <summary>Waits until so many mails were kept.</summary>
    public async Task<IReadOnlyList<ReceivedMail>> WaitForMail(int count, CancellationToken cancellationToken)
    {
        while (true)
        {
            Task changed;
            lock (_gate)
            {
                if (_kept.Count >= count)
                    return [.. _kept];
                changed = _changed.Task;
            }
            await changed.WaitAsync(cancellationToken).ConfigureAwait(false);
        }
    }

    /// <summary>Waits until nobody is being talked to: after a client was killed, what it sent in full is kept by then.</summary>
    public Task Quiet() => Task.WhenAll(_conversations);

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync().ConfigureAwait(false);
        Release();
        await _listening.ConfigureAwait(false);
        _listener.Stop();
        await Task.WhenAll(_conversations).ConfigureAwait(false);
        Certificate.Dispose();
        OtherCertificate.Dispose();
        ExpiredCertificate.Dispose();
        _listener.Dispose();
        _stop.Dispose();
    }

    internal void Keep(ReceivedMail mail)
    {
        TaskCompletionSource changed;
        lock (_gate)
        {
            _kept.Add(mail);
            changed = _changed;
            _changed = new(TaskCreationOptions.RunContinuationsAsynchronously);
        }
        changed.SetResult();
    }

    internal void Hear(string line)
    {
        lock (_gate)
            _heardInClear.Add(line);
    }

    private async Task Listen()
    {
        try
        {
            while (true)
            {
                var client = await _listener.AcceptTcpClientAsync(_stop.Token).ConfigureAwait(false);
                Interlocked.Increment(ref _connections);
                var fault = _script.TryDequeue(out var next) ? next : SmtpFault.None;
                _conversations.Add(new SmtpConversation(this, client, fault).Run(_stop.Token));
            }
        }
        catch (OperationCanceledException)
        {
            // Disposed: no more connections.
        }
    }
}

/// <summary>What the server offers and asks for.</summary>
public sealed record SmtpServerSettings
{
    /// <summary>TLS from the first byte, as on port 465; otherwise STARTTLS is offered.</summary>
    public bool TlsFromTheStart { get; init; }
    /// <summary>The one login it takes; null takes any, and mail without login.</summary>
    public (string User, string Password)? Login { get; init; }
    public int MostBytes { get; init; } = 1_000_000;
    /// <summary>
    /// Answers of one's own, by what they answer: GREETING, AUTH, MAIL, RCPT, DATA, or DOT for the mail itself. Several lines are told
    /// apart by a line end, and sent as RFC 5321, 4.2.1 has it.
    /// </summary>
    public IReadOnlyDictionary<string, string> Answers { get; init; } = ImmutableDictionary<string, string>.Empty;
    /// <summary>530 to MAIL until the line is secure.</summary>
    public bool DemandsTls { get; init; }
}

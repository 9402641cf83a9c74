using System.Diagnostics;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using MailKit;
using MailKit.Net.Imap;
using MailKit.Security;

namespace GardenWatch.Acceptance.Mailbox;

/// <summary>
/// A provider on this machine: Postfix takes mail after a login, Dovecot knows the logins and lets the mail be read over IMAP. Both
/// are the test's own processes with files of their own, and end with it. As a class fixture it is started once for its tests.
/// </summary>
public sealed class RealMailbox : IAsyncLifetime
{
    private const int SigTerm = 15;
    private const string PostfixProgram = "/usr/sbin/postfix", DovecotProgram = "/usr/sbin/dovecot";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(50);

    private readonly Greylist _greylist = new();
    private ServerFiles? _files;
    private Process? _dovecot, _postfix;
    private string? _missing;

    internal MailboxPorts Ports { get; } = MailboxPorts.Free();

    internal Greylist Greylist => _greylist;

    /// <summary>For the `mail:` settings: login and certificate of the account that may send.</summary>
    internal string Settings(string? password = null) =>
        $"security: starttls, user: {ServerFiles.Accounts[0].Address}, password: {password ?? ServerFiles.Accounts[0].Password}, certificate file: {_files!.Certificate}";

    /// <summary>By which the servers are known, as a PEM file.</summary>
    internal string Certificate => _files!.Certificate;

    /// <summary>Skips the test where the servers can't be had.</summary>
    internal void Needed() => Assert.SkipWhen(_missing is not null, _missing ?? "");

    public async ValueTask InitializeAsync()
    {
        _missing = await Missing();
        if (_missing is not null)
            return;
        _files = new(Ports, _greylist.Port);
        await Run("chown", "postfix", _files.Data);
        _dovecot = Start(DovecotProgram, "-F", "-c", _files.DovecotSettings);
        _postfix = Start(PostfixProgram, "-c", _files.PostfixFolder, "start-fg");
        foreach (int port in (int[])[Ports.Logins, Ports.Imap, Ports.Submission, Ports.SmallSubmission, Ports.GreySubmission])
            await Listens(port);
    }

    public async ValueTask DisposeAsync()
    {
        if (_files is not null)
        {
            // What was started is a script, and the servers hang from a process that it began.
            await Run(PostfixProgram, "-c", _files.PostfixFolder, "abort");
            foreach (var process in (Process?[])[_dovecot, _postfix])
                await End(process);
            _files.Dispose();
        }
        await _greylist.DisposeAsync();
    }

    /// <summary>Over IMAP, as a mail program reads: waits until so many mails are in an account's inbox, oldest first.</summary>
    internal async Task<IReadOnlyList<byte[]>> Inbox(string address, int mails)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(Patience);
        using var client = await Connected(address, patience.Token);
        var inbox = client.Inbox!;
        await inbox.OpenAsync(FolderAccess.ReadOnly, patience.Token);
        try
        {
            while (inbox.Count < mails)
            {
                await Task.Delay(BetweenLooks, patience.Token);
                await client.NoOpAsync(patience.Token);
            }
        }
        catch (OperationCanceledException) when (!TestContext.Current.CancellationToken.IsCancellationRequested)
        {
            Assert.Fail($"{inbox.Count} of {mails} mails came. The servers said:\n{_files!.Logs}");
        }
        var read = new List<byte[]>();
        for (int i = 0; i < inbox.Count; i++)
        {
            await using var stream = await inbox.GetStreamAsync(i, patience.Token);
            using var copy = new MemoryStream();
            await stream.CopyToAsync(copy, patience.Token);
            read.Add(copy.ToArray());
        }
        await client.DisconnectAsync(quit: true, patience.Token);
        return read;
    }

    /// <summary>A mail into an account's inbox.</summary>
    internal async Task Put(string address, byte[] mail, CancellationToken cancellationToken)
    {
        using var client = await Connected(address, cancellationToken);
        using var message = await MimeKit.MimeMessage.LoadAsync(new MemoryStream(mail), cancellationToken);
        await client.Inbox!.AppendAsync(message, MessageFlags.None, cancellationToken);
        await client.DisconnectAsync(quit: true, cancellationToken);
    }

    /// <summary>The server by which mail is read ends, with all its lines, and begins again.</summary>
    internal async Task RestartReading()
    {
        await End(_dovecot);
        _dovecot = Start(DovecotProgram, "-F", "-c", _files!.DovecotSettings);
        await Listens(Ports.Imap);
    }

    /// <summary>A mail program's own connection, logged in.</summary>
    internal async Task<ImapClient> Connected(string address, CancellationToken cancellationToken)
    {
        string shown = (await File.ReadAllTextAsync(_files!.Certificate, cancellationToken)).ReplaceLineEndings();
        var client = new ImapClient
        {
            CheckCertificateRevocation = false,
            ServerCertificateValidationCallback = (_, certificate, _, _) =>
                certificate is System.Security.Cryptography.X509Certificates.X509Certificate2 same && same.ExportCertificatePem().ReplaceLineEndings() == shown,
        };
        await client.ConnectAsync("localhost", Ports.Imap, SecureSocketOptions.StartTls, cancellationToken);
        await client.AuthenticateAsync(address, ServerFiles.Accounts.First(account => account.Address == address).Password, cancellationToken);
        return client;
    }

    /// <summary>Why the servers can't be run here; null when they can.</summary>
    private static async Task<string?> Missing()
    {
        if (!OperatingSystem.IsLinux() || !Environment.IsPrivilegedProcess)
            return "Postfix and Dovecot start as root only.";
        if (!File.Exists(PostfixProgram) || !File.Exists(DovecotProgram) || !File.Exists("/usr/lib/dovecot/imap"))
            return "postfix and dovecot-imapd are not installed.";
        string version = await Run(DovecotProgram, "--version");
        return version.StartsWith("2.3.", StringComparison.Ordinal) ? null : $"The settings are for Dovecot 2.3, and {version.Trim()} is installed.";
    }

    private static Process Start(string program, params string[] words)
    {
        var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    private static async Task<string> Run(string program, params string[] words)
    {
        using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardOutput = true })!;
        string said = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return said;
    }

    private static async Task End(Process? process)
    {
        if (process is null)
            return;
        using (process)
        {
            if (!process.HasExited)
                _ = SendSignal(process.Id, SigTerm);
            using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(5));
            try
            {
                await process.WaitForExitAsync(patience.Token);
            }
            catch (OperationCanceledException)
            {
                process.Kill(entireProcessTree: true);
            }
        }
    }

    private async Task Listens(int port)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (true)
        {
            using var probe = new TcpClient();
            try
            {
                await probe.ConnectAsync("127.0.0.1", port, patience.Token);
                return;
            }
            catch (SocketException)
            {
                await Task.Delay(BetweenLooks, patience.Token);
            }
            catch (OperationCanceledException)
            {
                throw new InvalidOperationException($"Nothing listens at {port}. The servers said:\n{_files!.Logs}");
            }
        }
    }

    [DllImport("libc", EntryPoint = "kill")]
    private static extern int SendSignal(int process, int signal);
}

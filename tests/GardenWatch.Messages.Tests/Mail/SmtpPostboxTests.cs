using System.Net;
using System.Net.Sockets;
using GardenWatch.Messages.Mail;
using GardenWatch.Peers.Smtp;

namespace GardenWatch.Messages.Tests.Mail;

public sealed class SmtpPostboxTests
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false, "localhost")]
    [InlineData(true, "localhost")]
    [InlineData(false, "127.0.0.1")]
    public async Task A_mail_arrives_once_over_tls_as_it_was_rendered(bool tlsFromTheStart, string host)
    {
        await using var mail = new MailServer(new() { TlsFromTheStart = tlsFromTheStart, Login = ("garden@example.org", "plain-radish") });
        mail.Options.Host = host;
        var outcome = Assert.IsType<SendOutcome.Accepted>(await mail.Send(Ct));
        Assert.Contains("kept as 1", outcome.Reply, StringComparison.Ordinal);
        var kept = Assert.Single(mail.Server.Kept);
        Assert.Equal(OutgoingMailTests.Rendered("frosty-morning").Bytes, kept.Bytes.AsEnumerable());
        Assert.Equal("garden@example.org", kept.From);
        Assert.Equal(["pat@example.org"], kept.To);
        Assert.Equal("garden@example.org", kept.User);
        Assert.True(kept.OverTls);
    }

    // What the server does, what it means, and how many mails it kept.
    [Theory]
    [InlineData(SmtpFault.CutAtOnce, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.BusyGreeting, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.BarredGreeting, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.NoStartTls, typeof(SendOutcome.Refused), 0)]
    [InlineData(SmtpFault.BadCertificate, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.ExpiredCertificate, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.LoginRefused, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.MailPutOff, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.MailRefused, typeof(SendOutcome.Refused), 0)]
    [InlineData(SmtpFault.RcptPutOff, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.RcptRefused, typeof(SendOutcome.Refused), 0)]
    [InlineData(SmtpFault.DataPutOff, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.DataRefused, typeof(SendOutcome.Refused), 0)]
    [InlineData(SmtpFault.DotPutOff, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.DotRefused, typeof(SendOutcome.Refused), 0)]
    [InlineData(SmtpFault.DropBeforeData, typeof(SendOutcome.TryLater), 0)]
    [InlineData(SmtpFault.DropAfterDot, typeof(SendOutcome.InDoubt), 1)]
    [InlineData(SmtpFault.DropBeforeQuit, typeof(SendOutcome.Accepted), 1)]
    public async Task Each_fault_has_its_outcome(SmtpFault fault, Type outcome, int kept)
    {
        await using var mail = new MailServer();
        mail.Server.Next(fault);
        var got = await mail.Send(Ct);
        Assert.IsType(outcome, got);
        Assert.Equal(kept, mail.Server.Kept.Count);
        // The next try finds a server that works, and delivers.
        Assert.IsType<SendOutcome.Accepted>(await mail.Send(Ct));
        Assert.Equal(kept + 1, mail.Server.Kept.Count);
    }

    [Fact]
    public async Task No_answer_after_the_dot_is_doubt()
    {
        await using var mail = new MailServer();
        // Long enough for a busy machine to reach the dot, and all of it is waited.
        mail.Options.SendTimeout = TimeSpan.FromSeconds(5);
        mail.Server.Next(SmtpFault.HangAfterDot);
        Assert.IsType<SendOutcome.InDoubt>(await mail.Send(Ct));
        Assert.Single(mail.Server.Kept);
    }

    [Fact]
    public async Task A_slow_answer_after_the_dot_is_waited_for()
    {
        await using var mail = new MailServer();
        mail.Server.Next(SmtpFault.HangAfterDot);
        var sending = mail.Send(Ct);
        await mail.Server.WaitForMail(1, Ct);
        Assert.False(sending.IsCompleted);
        mail.Server.Release();
        Assert.IsType<SendOutcome.Accepted>(await sending);
    }

    [Fact]
    public async Task Stopping_after_the_dot_is_doubt_and_before_it_is_none()
    {
        await using var mail = new MailServer();
        mail.Server.Next(SmtpFault.HangAfterDot);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Ct);
        var sending = mail.Send(stop.Token);
        await mail.Server.WaitForMail(1, Ct);
        await stop.CancelAsync();
        Assert.IsType<SendOutcome.InDoubt>(await sending);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => mail.Send(stop.Token));
        Assert.Single(mail.Server.Kept);
    }

    [Fact]
    public async Task Where_starttls_is_not_offered_nothing_is_said_in_clear()
    {
        await using var mail = new MailServer();
        mail.Server.Next(SmtpFault.NoStartTls);
        var refused = Assert.IsType<SendOutcome.Refused>(await mail.Send(Ct));
        Assert.Contains("no STARTTLS", refused.Reason, StringComparison.Ordinal);
        Assert.All(mail.Server.HeardInClear, line => Assert.True(line.Split(' ')[0] is "EHLO" or "QUIT", line));
    }

    [Fact]
    public async Task A_certificate_that_is_not_in_the_file_is_not_trusted()
    {
        await using var mail = new MailServer();
        mail.Options.CertificateFile = null;
        var later = Assert.IsType<SendOutcome.TryLater>(await mail.Send(Ct));
        Assert.Contains("certificate file", later.Reason, StringComparison.Ordinal);
        Assert.Empty(mail.Server.Kept);
        Assert.DoesNotContain(mail.Server.HeardInClear, line => line.StartsWith("AUTH", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_certificate_of_the_file_for_another_host_is_not_trusted()
    {
        await using var one = new MailServer();
        await using var other = new MailServer();
        one.Server.Next(SmtpFault.BadCertificate);
        one.Options.CertificateFile = other.Options.CertificateFile;
        Assert.IsType<SendOutcome.TryLater>(await one.Send(Ct));
        Assert.IsType<SendOutcome.TryLater>(await one.Send(Ct));
        Assert.Empty(one.Server.Kept);
    }

    [Fact]
    public async Task A_relay_on_this_machine_may_be_spoken_to_in_clear()
    {
        await using var mail = new MailServer();
        (mail.Options.Security, mail.Options.User, mail.Options.Password) = (MailSecurity.None, null, null);
        Assert.Empty(mail.Options.Faults());
        Assert.IsType<SendOutcome.Accepted>(await mail.Send(Ct));
        Assert.False(Assert.Single(mail.Server.Kept).OverTls);
    }

    [Fact]
    public async Task A_login_that_is_refused_names_the_app_password_and_no_address()
    {
        await using var mail = new MailServer(new() { Login = ("garden@example.org", "another") });
        string remedy = MailRemedy.For(await mail.Send(Ct));
        Assert.Contains("app password", remedy, StringComparison.Ordinal);
        Assert.Contains("535", remedy, StringComparison.Ordinal);
        Assert.DoesNotContain("garden@", remedy, StringComparison.Ordinal);
        Assert.DoesNotContain("plain-radish", remedy, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_wants_a_login_says_so()
    {
        await using var mail = new MailServer(new() { Login = ("garden@example.org", "plain-radish") });
        (mail.Options.User, mail.Options.Password) = (null, null);
        Assert.Contains("login", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
        Assert.Empty(mail.Server.Kept);
    }

    [Theory]
    [InlineData(SmtpFault.MailRefused, "mail from")]
    [InlineData(SmtpFault.RcptRefused, "slip in the address")]
    [InlineData(SmtpFault.CutAtOnce, "port and security")]
    [InlineData(SmtpFault.DotPutOff, "451")]
    public async Task The_remedy_fits_the_fault(SmtpFault fault, string words)
    {
        await using var mail = new MailServer();
        mail.Server.Next(fault);
        string remedy = MailRemedy.For(await mail.Send(Ct));
        Assert.Contains(words, remedy, StringComparison.Ordinal);
        Assert.DoesNotContain("@", remedy, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_port_where_nothing_listens_names_the_right_pairs()
    {
        await using var mail = new MailServer();
        mail.Options.Port = ClosedPort();
        Assert.Contains("587 with security: starttls", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_host_that_is_no_name_is_called_not_found()
    {
        await using var mail = new MailServer();
        mail.Options.Host = "mail.invalid"; // RFC 2606: never resolves
        Assert.Contains("was not found", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Tls_to_a_port_that_begins_in_clear_names_the_pair()
    {
        await using var mail = new MailServer();
        mail.Options.Security = MailSecurity.Tls;
        Assert.Contains("587 with starttls", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
    }

    private static int ClosedPort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

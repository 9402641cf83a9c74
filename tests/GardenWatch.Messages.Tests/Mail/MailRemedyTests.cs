using System.Collections.Immutable;
using GardenWatch.Messages.Mail;
using GardenWatch.Peers.Smtp;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>What large and small providers answer, and what the gardener is told to change.</summary>
public sealed class MailRemedyTests
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    // Answers in the manner of RFC 5321, 4954, 3463 and of large providers, without their names. Each says where it comes, what the
    // gardener hears, and what of it is the remedy.
    [Theory]
    [InlineData("AUTH", "535 5.7.8 Username and Password not accepted. For more see\n5.7.8 https://help.example.org/login a1-b2 - smtp", "refused the login", "app password")]
    [InlineData("AUTH", "535 5.7.8 Error: authentication failed: UGFzc3dvcmQ6", "refused the login", "the whole address")]
    [InlineData("AUTH", "535 5.7.0 Invalid login or password", "refused the login", "app password")]
    [InlineData("AUTH", "535 Incorrect authentication data", "refused the login", "slip or a space in the password file")]
    [InlineData("AUTH", "534 5.7.9 Application-specific password required. Learn more at\n5.7.9 https://help.example.org/x", "wants an app password", "two-step sign-in")]
    [InlineData("AUTH", "535 5.7.9 use an app password", "wants an app password", "not the one you log in with")]
    [InlineData("AUTH", "535 5.7.0 Please generate an app password in your account settings", "wants an app password", "password file")]
    [InlineData("AUTH", "534 5.7.14 Please log in via your web browser and then try again.", "holds this login back", "Sign in once on the provider's website")]
    [InlineData("AUTH", "535 5.7.1 Your account has been blocked, verify your identity", "holds this login back", "Sign in once")]
    [InlineData("AUTH", "535 5.7.139 Authentication unsuccessful, basic authentication is disabled. [AB12]", "may not send by a program with a password", "switched on")]
    [InlineData("AUTH", "535 5.7.139 SmtpClientAuthentication is disabled for the mailbox", "may not send by a program", "account of another provider")]
    [InlineData("AUTH", "454 4.7.0 Too many login attempts, please try again later.", "no login at the moment", "old password")]
    [InlineData("AUTH", "421 4.7.0 Temporary System Problem. Try again later.", "no login at the moment", "Nothing to change")]
    [InlineData("MAIL", "530 5.7.0 Must issue a STARTTLS command first", "no mail in clear", "security: starttls with port 587")]
    [InlineData("MAIL", "538 5.7.11 Encryption required for requested authentication mechanism", "no mail in clear", "security: tls with port 465")]
    [InlineData("MAIL", "530 5.7.0 Authentication Required", "only after a login", "user and password file")]
    [InlineData("MAIL", "530 5.7.1 Client was not authenticated", "only after a login", "user and password file")]
    [InlineData("RCPT", "554 5.7.1 <pat@example.org>: Relay access denied", "only after a login", "not the outgoing server of this account")]
    [InlineData("RCPT", "550 5.7.1 Unable to relay", "only after a login", "user and password file")]
    [InlineData("RCPT", "553 5.7.1 <garden@example.org>: Sender address rejected: not owned by user sam@example.org", "refused the sender", "mail from to the address of the account")]
    [InlineData("MAIL", "550 5.7.1 From address is not yours", "refused the sender", "mail from")]
    [InlineData("DOT", "550 5.7.60 Client does not have permissions to send as this sender", "refused the sender", "second address of that account")]
    [InlineData("MAIL", "553 sender not allowed", "refused the sender", "mail from")]
    [InlineData("DOT", "550 5.7.26 This mail has been blocked because the sender is unauthenticated: SPF and DKIM did not pass", "could not tell that mail with this sender", "name records")]
    [InlineData("GREETING", "421 4.7.0 too many connections from your address", "limit for sending", "another program")]
    [InlineData("RCPT", "450 4.2.1 The user is receiving mail at a rate too fast", "limit for sending", "after an hour")]
    [InlineData("RCPT", "452 4.5.3 Your message has too many recipients", "limit for sending", "A digest a day")]
    [InlineData("MAIL", "550 5.4.5 Daily user sending limit exceeded", "limit for sending", "others after a day")]
    [InlineData("RCPT", "450 4.2.0 <pat@example.org>: Recipient address rejected: Greylisted, see http://postgrey.example.org", "come again later", "the next tries get through")]
    [InlineData("RCPT", "451 4.7.1 Greylisting in action, please come back later", "come again later", "Nothing to change")]
    [InlineData("RCPT", "452 4.2.2 Mailbox full", "mailbox is full", "Make room")]
    [InlineData("RCPT", "552 5.2.2 over quota", "mailbox is full", "Make room")]
    [InlineData("MAIL", "552 5.3.4 Message size exceeds fixed limit", "too large", "raise it")]
    [InlineData("DOT", "552 5.3.4 Error: message file too big", "too large", "100 kilobytes")]
    [InlineData("DOT", "554 5.7.1 Message rejected as spam", "for unwanted", "address book")]
    [InlineData("DOT", "550 5.7.1 Our system has detected that this message is likely unsolicited mail", "for unwanted", "ask the provider")]
    [InlineData("GREETING", "554 5.7.1 Service unavailable; client host blocked using a block list", "no mail from this connection", "provider's outgoing server")]
    [InlineData("RCPT", "550 5.1.1 The email account that you tried to reach does not exist", "refused the addressee", "slip in the address under digest to")]
    [InlineData("RCPT", "550 5.2.1 disabled", "refused the addressee", "slip in the address")]
    [InlineData("RCPT", "550 5.1.2 Host not found", "behind the @ is not known", "slip in the address")]
    [InlineData("RCPT", "450 4.2.0 mailbox busy", "at the moment", "Nothing to change")]
    [InlineData("DOT", "451 4.3.0 queue file write error", "put the mail off", "Nothing to change")]
    [InlineData("DOT", "554 5.0.0 no", "refused the mail", "own words say why")]
    public async Task An_answer_has_its_meaning_and_its_remedy(string to, string answer, string happened, string remedy)
    {
        await using var mail = new MailServer(new() { Answers = ImmutableDictionary<string, string>.Empty.Add(to, answer) });
        var outcome = await mail.Send(Ct);
        string told = MailRemedy.For(outcome);
        Assert.Contains(happened, told, StringComparison.Ordinal);
        Assert.Contains(remedy, told, StringComparison.Ordinal);
        Assert.Contains($"({answer[..3]}", told, StringComparison.Ordinal);
        Assert.Contains("Nothing was sent", told, StringComparison.Ordinal);
        Assert.DoesNotContain("example.org", told.Replace("(address)", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("http", told, StringComparison.Ordinal);
        Assert.DoesNotContain("plain-radish", told, StringComparison.Ordinal);
        Assert.Empty(mail.Server.Kept);
        // A login that is refused waits for the password to be put right; else the first figure decides.
        bool later = answer[0] == '4' || to is "AUTH" or "GREETING";
        Assert.IsType(later ? typeof(SendOutcome.TryLater) : typeof(SendOutcome.Refused), outcome);
    }

    [Theory]
    [InlineData(SmtpFault.BadCertificate, "bears another name, elsewhere.example.org")]
    [InlineData(SmtpFault.ExpiredCertificate, "is out of date: it runs to")]
    public async Task A_certificate_that_is_not_taken_is_told_apart(SmtpFault fault, string words)
    {
        await using var mail = new MailServer();
        mail.Server.Next(fault);
        Assert.Contains(words, MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_certificate_that_nobody_signed_names_the_file_to_give()
    {
        await using var mail = new MailServer();
        mail.Options.CertificateFile = null;
        string told = MailRemedy.For(await mail.Send(Ct));
        Assert.Contains("signed by nobody this machine knows", told, StringComparison.Ordinal);
        Assert.Contains("certificate file", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_says_nothing_names_the_other_port()
    {
        await using var mail = new MailServer();
        mail.Options.ConnectTimeout = TimeSpan.FromMilliseconds(300);
        mail.Server.Next(SmtpFault.StallAtOnce);
        Assert.Contains("try the other", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(25, "Most home connections bar port 25")]
    [InlineData(587, "some networks and guest lines bar one or both")]
    public void Silence_is_explained_by_the_port(int port, string words) => Assert.Contains(
        words, MailRemedy.Sentence(new TimeoutException(), new MailOptions { Host = "mail.example.org", Port = port }), StringComparison.Ordinal);

    [Fact]
    public async Task A_server_that_demands_tls_is_not_sent_to_in_clear()
    {
        await using var mail = new MailServer(new() { DemandsTls = true });
        (mail.Options.Security, mail.Options.User, mail.Options.Password) = (MailSecurity.None, null, null);
        Assert.Contains("security: starttls", MailRemedy.For(await mail.Send(Ct)), StringComparison.Ordinal);
        Assert.Empty(mail.Server.Kept);
    }

    [Theory]
    [InlineData("535: 5.7.8 bad login for garden@example.org", 535, "5.7.8", " (535 5.7.8 bad login for (address))")]
    [InlineData("5.7.1 one 5.7.1 two", 550, "5.7.1", " (550 5.7.1 one two)")]
    [InlineData("", 550, null, " (550)")]
    [InlineData("no route to 192.0.2.7", 550, null, " (550 no route to 192.0.2.7)")]
    public void Codes_are_found_and_addresses_are_left_out(string message, int code, string? status, string quoted)
    {
        var reply = ServerReply.Of(ReplyTo.Mail, 550, message);
        Assert.Equal((code, status, quoted), (reply.Code, reply.Status, reply.Quoted));
    }
}

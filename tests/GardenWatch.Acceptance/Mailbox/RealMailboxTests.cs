using System.Text;
using GardenWatch.Acceptance.Trials;
using MimeKit;

namespace GardenWatch.Acceptance.Mailbox;

/// <summary>The program's mail in a mailbox as providers run them: sent through Postfix, read back from Dovecot.</summary>
public sealed class RealMailboxTests(RealMailbox mailbox) : IClassFixture<RealMailbox>
{
    [Fact]
    public async Task A_digest_arrives_byte_for_byte_and_the_evenings_warning_hangs_under_it()
    {
        mailbox.Needed();
        bool frost = false;
        await using var house = await TrialHouse.Open(weather: (at, variable) => frost ? TrialWeather.Frosty(at, variable) : TrialWeather.Mild(at, variable));
        house.WriteSettings(mailbox.Settings(), mailbox.Ports.Submission);

        await Live(house, minutesAfter: 0);
        frost = true;
        await Live(house, minutesAfter: 11 * 60 + 5);

        var read = await mailbox.Inbox("pat@example.org", mails: 2);
        var stored = house.Records.Read("SELECT kind, subject, hex(bytes) FROM outbox ORDER BY id");
        Assert.Equal(["digest", "warning"], stored.Select(row => row[0]));
        using var digest = Parsed(read[0]);
        using var warning = Parsed(read[1]);
        for (int i = 0; i < 2; i++)
        {
            // A mail server writes its trace above the mail, and changes nothing of it.
            byte[] sent = Convert.FromHexString(stored[i][2]);
            Assert.Equal(sent, read[i][^sent.Length..]);
            Assert.StartsWith("Return-Path:", Encoding.ASCII.GetString(read[i]), StringComparison.Ordinal);
        }
        Assert.Equal(stored[0][1], digest.Subject);
        Assert.Contains("Mill Bank", digest.From.ToString(), StringComparison.Ordinal);
        Assert.All(digest.BodyParts.OfType<MimePart>().Where(part => part.ContentType.IsMimeType("image", "png")), picture =>
        {
            using var content = new MemoryStream();
            picture.Content!.DecodeTo(content, TestContext.Current.CancellationToken);
            Assert.Equal("\x89PNG", Encoding.Latin1.GetString(content.ToArray()[..4]));
        });
        Assert.Equal(digest.MessageId, warning.InReplyTo);
        Assert.Equal(digest.MessageId, Assert.Single(warning.References));
        Assert.Equal("auto-generated", warning.Headers["Auto-Submitted"]);
    }

    [Fact]
    public async Task A_server_that_knows_nobody_yet_gets_the_digest_at_the_second_try()
    {
        mailbox.Needed();
        await using var house = await TrialHouse.Open(TrialPlan.For("sam@example.org"));
        house.WriteSettings(mailbox.Settings(), mailbox.Ports.GreySubmission);
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            Assert.Contains("come again later", await service.Says("was not taken"), StringComparison.Ordinal);
            await service.Stop();
        }
        Assert.Equal(1, mailbox.Greylist.Asked);

        await Live(house, minutesAfter: 5);

        Assert.Single(await mailbox.Inbox("sam@example.org", mails: 1));
        Assert.Equal(2, mailbox.Greylist.Asked);
    }

    [Fact]
    public async Task A_wrong_password_is_refused_and_the_remedy_told()
    {
        mailbox.Needed();
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailbox.Settings("not-the-radish"), mailbox.Ports.Submission);
        var ended = await house.Command(TrialHouse.Morning(12), "send-test", "garden@example.org");
        Assert.Equal(3, ended.Code);
        Assert.Contains("The server refused the login (535 5.7.8", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.Contains("app password", ended.All, StringComparison.Ordinal);
        Assert.DoesNotContain("not-the-radish", ended.All, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sender_that_is_not_the_accounts_own_is_refused_and_the_remedy_told()
    {
        mailbox.Needed();
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailbox.Settings().Replace("user: garden@example.org, password: plain-radish", "user: pat@example.org, password: early-carrot", StringComparison.Ordinal), mailbox.Ports.Submission);
        var ended = await house.Command(TrialHouse.Morning(12), "send-test", "garden@example.org");
        Assert.Equal(1, ended.Code);
        Assert.Contains("The server refused the sender (553 5.7.1", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.Contains("Set mail from to the address of the account", ended.All, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_mail_too_large_for_the_server_is_said_to_be()
    {
        mailbox.Needed();
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty);
        house.WriteSettings(mailbox.Settings(), mailbox.Ports.SmallSubmission);
        await using var service = house.Run(TrialHouse.Morning(12));
        string line = await service.Says("was refused for good");
        Assert.Contains("too large", line, StringComparison.Ordinal);
        await service.Stop();
    }

    /// <summary>One life of the service, until a mail is marked as sent.</summary>
    private static async Task Live(TrialHouse house, int minutesAfter)
    {
        await using var service = house.Run(TrialHouse.Morning(12, minutesAfter));
        await service.Says("was accepted");
        Assert.Equal(0, (await service.Stop()).Code);
    }

    private static MimeMessage Parsed(byte[] mail)
    {
        using var stream = new MemoryStream(mail);
        return MimeMessage.Load(stream);
    }
}

using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.Smtp;

namespace GardenWatch.Acceptance;

/// <summary>Mail server down, refusing, dropping after DATA: queued on disk, retried with growing gaps; failure visible.</summary>
public class MailServerOutTests
{
    [Fact]
    public async Task A_mail_server_that_is_down_gets_the_digest_when_it_is_back()
    {
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailPort: TrialHouse.FreePort());
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("was not taken");
            var ready = await service.Ready(answer => answer.GetProperty("mail").GetString() != "nothing waits");
            Assert.Contains("mail:", ready.GetProperty("faults").ToString(), StringComparison.Ordinal);
            Assert.Equal(System.Net.HttpStatusCode.ServiceUnavailable, await service.Status("/readyz"));
            // A restart would not help, so the service itself is well.
            Assert.Equal(System.Net.HttpStatusCode.OK, await service.Status("/healthz"));
            await service.Stop();
        }
        Assert.Equal("pending", Assert.Single(house.Records.States()).Value);

        house.WriteSettings();
        await house.Live(TrialHouse.Morning(12, minutesAfter: 5), mails: 1);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 10), mails: 0);
    }

    [Fact]
    public async Task What_is_not_out_by_noon_is_dropped_and_the_next_morning_has_its_own()
    {
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailPort: TrialHouse.FreePort());
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("was not taken");
            await service.Stop();
        }
        house.WriteSettings();

        await house.Live(TrialHouse.Morning(12, minutesAfter: (6 * 60) + 1), mails: 0);
        Assert.Equal("expired", Assert.Single(house.Records.States()).Value);

        await house.Live(TrialHouse.Morning(13), mails: 1);
        Assert.Contains("Wed 13 May", house.Mail.Kept[0].Words(), StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData(SmtpFault.CutAtOnce)]
    [InlineData(SmtpFault.BusyGreeting)]
    [InlineData(SmtpFault.MailPutOff)]
    [InlineData(SmtpFault.RcptPutOff)]
    [InlineData(SmtpFault.DataPutOff)]
    [InlineData(SmtpFault.DotPutOff)]
    public async Task One_that_puts_it_off_is_asked_again(SmtpFault fault)
    {
        await using var house = await TrialHouse.Open();
        house.Mail.Next(fault);
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("was not taken");
            await service.Stop();
        }
        Assert.Empty(house.Mail.Kept);

        await house.Live(TrialHouse.Morning(12, minutesAfter: 5), mails: 1);
    }

    [Fact]
    public async Task One_addressee_who_is_refused_does_not_cost_the_other_theirs()
    {
        await using var house = await TrialHouse.Open(TrialPlan.For("pat@example.org", "sam@example.org"));
        house.Mail.Next(SmtpFault.RcptRefused);
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            string line = await service.Says("was refused for good");
            Assert.DoesNotContain("@example.org", line, StringComparison.Ordinal);
            await house.MailsCome(1);
            await service.Stop();
        }
        Assert.Equal(["refused", "sent"], house.Records.States().Values.Order());

        await house.Live(TrialHouse.Morning(12, minutesAfter: 30), mails: 0);
        await house.Live(TrialHouse.Morning(13), mails: 2);
    }

    [Fact]
    public async Task What_may_have_arrived_is_offered_again_as_it_was_and_not_at_once()
    {
        await using var house = await TrialHouse.Open();
        house.Mail.Next(SmtpFault.DropAfterDot);
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("may or may not have arrived");
            Assert.Equal(0, (await service.Stop()).Code);
        }
        await house.Live(TrialHouse.Morning(12, minutesAfter: 5), mails: 0);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 15), mails: 1);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 30), mails: 0);

        Assert.Equal(house.Mail.Kept[0].Bytes, house.Mail.Kept[1].Bytes);
    }

    [Theory]
    [InlineData(SmtpFault.None, "security: none", 0, "took the mail for pat@example.org")]
    [InlineData(SmtpFault.RcptRefused, "security: none", 1, "Look for a slip in the address under digest to")]
    [InlineData(SmtpFault.MailRefused, "security: none", 1, "Set mail from to the address of the account")]
    [InlineData(SmtpFault.DotRefused, "security: none", 1, "The server took the mail for unwanted and refused it")]
    [InlineData(SmtpFault.MailPutOff, "security: none", 3, "Nothing was sent")]
    [InlineData(SmtpFault.CutAtOnce, "security: none", 3, "broke the conversation off")]
    [InlineData(SmtpFault.DropAfterDot, "security: none", 3, "It may have arrived all the same")]
    [InlineData(SmtpFault.NoStartTls, "security: starttls", 1, "Try port 465 with security: tls")]
    [InlineData(SmtpFault.BadCertificate, "security: starttls", 3, "bears another name")]
    [InlineData(SmtpFault.LoginRefused, "security: none, user: garden@example.org, password: secret words", 3, "Many providers want an app password")]
    public async Task Send_test_names_the_remedy(SmtpFault fault, string settings, int code, string remedy)
    {
        await using var house = await TrialHouse.Open();
        house.WriteSettings(settings);
        house.Mail.Next(fault);

        var ended = await house.Command(TrialHouse.Morning(12), "send-test");

        Assert.Equal(code, ended.Code);
        Assert.Contains(remedy, ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.DoesNotContain("secret words", ended.All, StringComparison.Ordinal);
        if (settings.Contains("starttls", StringComparison.Ordinal))
            Assert.DoesNotContain(house.Mail.HeardInClear, line => line.StartsWith("MAIL", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Send_test_says_when_nothing_answers_at_the_port()
    {
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailPort: TrialHouse.FreePort());

        var ended = await house.Command(TrialHouse.Morning(12), "send-test", "lee@example.org");

        Assert.Equal(3, ended.Code);
        Assert.Contains("Nothing answers at localhost", ended.WithoutStackTrace().All, StringComparison.Ordinal);
    }
}

using GardenWatch.Messages.Mail;

namespace GardenWatch.Messages.Tests.Mail;

public sealed class MailOptionsTests
{
    [Fact]
    public void Usual_settings_are_fine() => Assert.Empty(Usual().Faults());

    [Fact]
    public void Faults_are_told_all_at_once()
    {
        var options = Usual();
        (options.Host, options.Port, options.From, options.Password) = ("not a host", 0, "nobody", null);
        Assert.Equal(4, options.Faults().Count());
    }

    [Theory]
    [InlineData(465, MailSecurity.StartTls, "security: tls")]
    [InlineData(587, MailSecurity.Tls, "security: starttls")]
    public void A_port_and_security_that_do_not_fit_name_the_pair(int port, MailSecurity security, string words)
    {
        var options = Usual();
        (options.Port, options.Security) = (port, security);
        Assert.Contains(words, Assert.Single(options.Faults()), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mail.example.org", false, false)]
    [InlineData("mail.example.org", true, true)]
    [InlineData("localhost", false, true)]
    [InlineData("127.0.0.1", false, true)]
    [InlineData("::1", false, true)]
    [InlineData("192.0.2.7", false, false)]
    public void A_password_goes_in_clear_only_within_this_machine_or_on_an_explicit_word(string host, bool insecure, bool fine)
    {
        var options = Usual();
        (options.Host, options.Security, options.Port, options.Insecure) = (host, MailSecurity.None, 25, insecure);
        Assert.Equal(fine, !options.Faults().Any());
    }

    [Fact]
    public void No_fault_repeats_the_password()
    {
        var options = Usual();
        (options.Host, options.User) = ("", null);
        Assert.DoesNotContain(options.Faults(), fault => fault.Contains("plain-radish", StringComparison.Ordinal));
    }

    [Fact]
    public void The_dot_is_given_the_ten_minutes_of_rfc_5321() => Assert.Equal(TimeSpan.FromMinutes(10), new MailOptions().SendTimeout);

    private static MailOptions Usual() => new()
    {
        Host = "mail.example.org",
        User = "garden@example.org",
        Password = "plain-radish",
        From = "Our garden <garden@example.org>",
    };
}

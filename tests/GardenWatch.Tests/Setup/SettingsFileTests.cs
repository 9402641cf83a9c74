using System.Net;
using GardenWatch.Messages.Mail;
using GardenWatch.Setup;
using NodaTime;

namespace GardenWatch.Tests.Setup;

public sealed class SettingsFileTests : IDisposable
{
    private readonly TemporaryFolder config = new();
    private readonly Dictionary<string, string> environment = [];

    public void Dispose() => config.Dispose();

    private SettingsOutcome Outcome(string? yaml)
    {
        if (yaml is not null)
            config.Write("gardenwatch.yaml", yaml);
        return SettingsFile.Read(new(config.Path), environment);
    }

    private SettingsOutcome.Read Read(string? yaml) =>
        Outcome(yaml) is SettingsOutcome.Read read ? read
        : throw new Xunit.Sdk.XunitException(string.Join('\n', ((SettingsOutcome.Faulty)Outcome(yaml)).Faults));

    private IReadOnlyList<SettingsFault> Faults(string? yaml) => Assert.IsType<SettingsOutcome.Faulty>(Outcome(yaml)).Faults;

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("# nothing set\n")]
    public void Without_a_word_the_defaults_hold(string? yaml)
    {
        var settings = Read(yaml).Settings;

        Assert.Equal("/var/lib/gardenwatch", settings.DataFolder);
        Assert.Equal(new("https://api.open-meteo.com/v1/forecast"), settings.Weather.Forecast);
        Assert.Equal(TimeSpan.FromHours(1), settings.Weather.PullEvery);
        Assert.Equal(new(IPAddress.Loopback, 8710), settings.WebListen);
        Assert.Equal(new(17, 0), settings.EveningLookAt);
        Assert.Null(settings.Mail);
        Assert.Null(settings.Heartbeat);
        Assert.Null(settings.BackupFolder);
    }

    [Fact]
    public void Every_key_is_read()
    {
        config.Write("mail-password", "s3cret with blank \n");
        var settings = Read(
            """
            data: ../data
            weather:
              forecast: http://127.0.0.1:8080/forecast
              ensemble: http://127.0.0.1:8080/ensemble
              archive: http://127.0.0.1:8080/archive
              geocoding: http://127.0.0.1:8080/search
              elevation: http://127.0.0.1:8080/elevation
              pull every: 90 minutes
              user agent: Quarry Lane (pat@example.org)
              ensemble model: gfs_seamless
              ensemble calls per day: 300
              past years: 12
              past years per day: 4
              past years pause: 5 minutes
            mail: { host: mail.example.org, port: 465, security: tls, user: garden@example.org, password file: mail-password, from: Garden <garden@example.org>, check withdrawn: no }
            web: { listen: "[::1]:9000" }
            heartbeat: https://example.org/ping/garden
            evening look: "16:30"
            backup folder: /mnt/usb/garden
            """).Settings;

        Assert.Equal(Path.GetFullPath("../data", config.Path), settings.DataFolder);
        Assert.Equal(new("http://127.0.0.1:8080/elevation"), settings.Weather.Elevation);
        Assert.Equal(TimeSpan.FromMinutes(90), settings.Weather.PullEvery);
        Assert.Equal("Quarry Lane (pat@example.org)", settings.Weather.UserAgent);
        Assert.Equal(("gfs_seamless", 300), (settings.Weather.EnsembleModel, settings.Weather.EnsembleCallsPerDay));
        Assert.Equal(
            (12, 4, TimeSpan.FromMinutes(5)),
            (settings.Weather.PastYears, settings.Weather.PastYearsPerDay, settings.Weather.PastYearsPause));
        var mail = settings.Mail!;
        Assert.Equal(("mail.example.org", 465, MailSecurity.Tls, "garden@example.org"), (mail.Host, mail.Port, mail.Security, mail.User));
        Assert.Equal("s3cret with blank ", mail.Password);
        Assert.Equal("garden@example.org", mail.FromAddress);
        Assert.False(mail.CheckWithdrawn);
        Assert.Equal(new(IPAddress.IPv6Loopback, 9000), settings.WebListen);
        Assert.Equal(new("https://example.org/ping/garden"), settings.Heartbeat);
        Assert.Equal(new LocalTime(16, 30), settings.EveningLookAt);
        Assert.Equal("/mnt/usb/garden", settings.BackupFolder);
    }

    [Fact]
    public void All_faults_come_at_once_with_line_and_remedy()
    {
        var faults = Faults(
            """
            dada: /var/lib/gardenwatch
            weather: { forecast: api.example.org, pull every: 5 minutes }
            mail:
              host: mail.example.org
              port: many
              securty: tls
            web: { listen: 8710 }
            evening look: 05:00
            heartbeat: [a, b]
            """);

        Assert.Equal([1, 2, 2, 5, 6, 7, 8, 9], faults.Select(fault => fault.Line));
        Assert.All(faults, fault => Assert.EndsWith("gardenwatch.yaml", fault.Where, StringComparison.Ordinal));
        Assert.Contains("`data`", faults[0].Remedy, StringComparison.Ordinal);
        Assert.Contains("`security`", faults[4].Remedy, StringComparison.Ordinal);
        Assert.Equal((6, 3), (faults[4].Line, faults[4].Column));
        Assert.Contains("00:15:00", faults.First(fault => fault.Problem.Contains("pull every", StringComparison.Ordinal)).Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mail: { host: mail.example.org, from: nobody }", "from is \"nobody\"")]
    [InlineData("mail: { host: mail.example.org, from: a@example.org, port: 465 }", "port 465")]
    [InlineData("mail: { host: mail.example.org, from: a@example.org, user: a }", "no password")]
    [InlineData("mail: { from: a@example.org }", "no mail server")]
    [InlineData("weather: { ensemble model: ECMWF IFS }", "ensemble model is 'ECMWF IFS'")]
    [InlineData("weather: { ensemble calls per day: plenty }", "ensemble calls per day")]
    [InlineData("weather: { past years: 100 }", "past years")]
    [InlineData("weather: { past years per day: 0 }", "past years per day")]
    [InlineData("weather: { past years pause: 5 }", "past years pause")]
    [InlineData("weather: { past years pause: \"00:00:05\" }", "past years pause is 00:00:05")]
    [InlineData("mail: { host: mail.example.org, from: a@example.org, user: a, password file: missing }", "cannot be read")]
    [InlineData("mail: { host: mail.example.org, from: a@example.org, user: a, password: x, password file: y }", "Both")]
    [InlineData("mail: garden@example.org", "holds no keys")]
    [InlineData("data: [", "no YAML")]
    [InlineData("data: a\ndata: b", "no YAML")]
    public void One_fault_is_told_once(string yaml, string problem)
    {
        var fault = Assert.Single(Faults(yaml));

        Assert.Contains(problem, fault.Problem, StringComparison.OrdinalIgnoreCase);
        Assert.True(fault.Line > 0);
    }

    [Fact]
    public void The_environment_wins_over_the_file()
    {
        environment["GardenWatch__Mail__Host"] = "127.0.0.1";
        environment["GARDENWATCH__WEATHER__PULLEVERY"] = "2 hours";
        environment["GardenWatch__EveningLook"] = "18:00";
        environment["GardenWatch__Weather__PastYears"] = "0";
        environment["PATH"] = "/usr/bin";

        var read = Read("mail: { host: mail.example.org, from: a@example.org }\nevening look: \"16:00\"");

        Assert.Equal("127.0.0.1", read.Settings.Mail!.Host);
        Assert.Equal(TimeSpan.FromHours(2), read.Settings.Weather.PullEvery);
        Assert.Equal(0, read.Settings.Weather.PastYears);
        Assert.Equal(new LocalTime(18, 0), read.Settings.EveningLookAt);
        Assert.Contains(new ShownSetting("mail: host", "127.0.0.1", "environment GardenWatch__Mail__Host"), read.Shown);
        Assert.Contains(new ShownSetting("mail: from", "a@example.org", "gardenwatch.yaml:1"), read.Shown);
        Assert.Contains(new ShownSetting("web: listen", "127.0.0.1:8710", "default"), read.Shown);
    }

    [Fact]
    public void A_misspelt_variable_is_told()
    {
        environment["GardenWatch__Mail__Hots"] = "127.0.0.1";

        var fault = Assert.Single(Faults(null));

        Assert.Contains("GardenWatch__Mail__Hots", fault.Where, StringComparison.Ordinal);
        Assert.Contains("GardenWatch__Mail__Host", fault.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_credential_of_the_service_manager_comes_before_the_file_beside_the_settings()
    {
        using var credentials = new TemporaryFolder();
        credentials.Write("mail-password", "from the manager\r\n");
        config.Write("mail-password", "from the folder\n");
        environment["CREDENTIALS_DIRECTORY"] = credentials.Path;

        var mail = Read("mail: { host: mail.example.org, from: a@example.org, user: a, password file: mail-password }").Settings.Mail!;

        Assert.Equal("from the manager", mail.Password);
    }

    [Fact]
    public void Secrets_are_never_shown()
    {
        environment["GardenWatch__Mail__Password"] = "hunter22";
        environment["GardenWatch__Heartbeat"] = "https://example.org/ping/hunter22";

        var read = Read("mail: { host: mail.example.org, from: a@example.org, user: a }");

        Assert.Equal("hunter22", read.Settings.Mail!.Password);
        Assert.DoesNotContain(read.Shown, shown => shown.Value.Contains("hunter22", StringComparison.Ordinal));
        Assert.DoesNotContain("hunter22", read.Settings.ToString()!.Replace(read.Settings.Heartbeat!.ToString(), "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains(new ShownSetting("mail: password", "********", "environment GardenWatch__Mail__Password"), read.Shown);
    }

    [Theory]
    [InlineData("fifteen-letters", false)]
    [InlineData("sixteen-letters!", true)]
    public void A_secret_that_could_be_found_by_trying_is_not_taken(string secret, bool taken)
    {
        config.Write("hook-secret", secret);
        const string settings = "webhook: { address: \"https://example.org/hooks/garden\", secret file: hook-secret }";

        if (taken)
        {
            Assert.Equal(secret, Read(settings).Settings.Webhook!.Secret);
            return;
        }
        string fault = Assert.Single(Faults(settings)).ToString();
        Assert.Contains("the secret has 15 characters, and at least 16 are needed", fault, StringComparison.Ordinal);
        Assert.Contains("write a long random one", fault, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(secret, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void The_sample_names_every_key_and_is_valid()
    {
        string sample = File.ReadAllText(Path.Combine(FailpointTests.Repository(), "config-samples", "gardenwatch.yaml"));
        foreach (string secret in (string[])["mail-password", "push-token", "webhook-secret", "hub-password"])
            config.Write(secret, "long-enough-for-anything-that-asks");
        foreach (string password in (string[])["page-password", "page-password-sam"])
            config.Write(password, GardenWatch.Web.PagePassword.Of("long enough for anyone").Written());
        // The sample leaves optional keys as comments; here each is switched on.
        string whole = string.Join('\n', sample.Split('\n').Select(line => line.StartsWith("#:", StringComparison.Ordinal) ? line[2..] : line));

        var read = Read(whole);

        Assert.All(
            SettingKey.All.Where(key => key != SettingKey.MailPassword && key != SettingKey.MailCertificateFile && key != SettingKey.HubCertificateFile && key != SettingKey.RepliesCertificateFile),
            key => Assert.Contains(read.Shown, shown => shown.Name == key.Name && shown.From.StartsWith("gardenwatch.yaml:", StringComparison.Ordinal)));
        Assert.IsType<SettingsOutcome.Read>(Outcome(sample));
    }
}

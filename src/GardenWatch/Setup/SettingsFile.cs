using System.Net;
using GardenWatch.Messages.Mail;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Setup;

/// <summary>Reads <c>gardenwatch.yaml</c> and its overrides; all faults come at once.</summary>
public static class SettingsFile
{
    public static SettingsOutcome Read(ConfigFolder folder, IReadOnlyDictionary<string, string> environment)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(environment);
        var faults = new List<SettingsFault>();
        var values = new SettingValues(WrittenSettings.Read(folder.SettingsFile, environment, faults, out var written), faults);
        string? credentials = environment.GetValueOrDefault(SecretFile.CredentialsVariable);
        var password = MailPassword.Find(values, folder, credentials);
        var mail = Mail(values, folder, password);
        var settings = new Settings
        {
            DataFolder = Path.GetFullPath(values.Text(SettingKey.Data)!, folder.Path),
            Weather = Weather(values),
            Mail = mail,
            Replies = ReplySettings.Of(values, folder, credentials, mail),
            Push = ChannelSettings.Push(values, folder, credentials),
            Webhook = ChannelSettings.Webhook(values, folder, credentials),
            HomeHub = ChannelSettings.HomeHub(values, folder, credentials),
            WebListen = Listen(values),
            WebAddress = values.Address(SettingKey.WebAddress, "https://garden.example.org"),
            People = written?.Read(folder, credentials, faults) ?? [],
            Heartbeat = values.Address(SettingKey.Heartbeat, "https://example.org/ping/garden"),
            EveningLookAt = EveningLook(values),
            BackupFolder = values.Text(SettingKey.BackupFolder) is { } path ? Path.GetFullPath(path, folder.Path) : null,
        };
        PageReach.Check(settings, isOpen: values.Choice(SettingKey.WebOpen), values);
        return faults.Count > 0
            ? new SettingsOutcome.Faulty([.. faults.OrderBy(fault => fault.Where, StringComparer.Ordinal).ThenBy(fault => fault.Line)])
            : new SettingsOutcome.Read(settings, [.. Shown(values, password), .. PeopleShown(settings)]);
    }

    private static OpenMeteoOptions Weather(SettingValues values)
    {
        var weather = new OpenMeteoOptions();
        weather.Forecast = values.Address(SettingKey.Forecast) ?? weather.Forecast;
        weather.Ensemble = values.Address(SettingKey.Ensemble) ?? weather.Ensemble;
        weather.Archive = values.Address(SettingKey.Archive) ?? weather.Archive;
        weather.Geocoding = values.Address(SettingKey.Geocoding) ?? weather.Geocoding;
        weather.Elevation = values.Address(SettingKey.Elevation) ?? weather.Elevation;
        weather.PullEvery = values.Span(SettingKey.PullEvery) ?? weather.PullEvery;
        weather.UserAgent = values.Text(SettingKey.UserAgent) ?? weather.UserAgent;
        weather.EnsembleModel = values.Text(SettingKey.EnsembleModel) ?? weather.EnsembleModel;
        weather.EnsembleCallsPerDay = values.Number(SettingKey.EnsembleCallsPerDay, 0, 5000) ?? weather.EnsembleCallsPerDay;
        weather.PastYears = values.Number(SettingKey.PastYears, 0, 60) ?? weather.PastYears;
        weather.PastYearsPerDay = values.Number(SettingKey.PastYearsPerDay, 1, 60) ?? weather.PastYearsPerDay;
        weather.PastYearsPause = values.Span(SettingKey.PastYearsPause) ?? weather.PastYearsPause;
        values.AddFaults(weather.Faults(), SettingKey.PullEvery);
        return weather;
    }

    private static MailOptions? Mail(SettingValues values, ConfigFolder folder, MailPassword? password)
    {
        if (values.Text(SettingKey.MailHost) is not { } host)
        {
            if (values.FirstOf("mail") is { } stray)
                values.Add(stray.Fault("`mail:` is there, but names no mail server.", "Add `host: mail.example.org` to it."));
            return null;
        }
        int faultsBefore = values.FaultCount;
        var security = Security(values);
        var mail = new MailOptions
        {
            Host = host,
            Security = security,
            Port = values.Number(SettingKey.MailPort, 1, 65535)
                ?? security switch { MailSecurity.Tls => 465, MailSecurity.StartTls => 587, _ => 25 },
            User = values.Text(SettingKey.MailUser),
            Password = password?.Password,
            From = values.Text(SettingKey.MailFrom) ?? "",
            Insecure = values.Choice(SettingKey.MailInsecure),
            CertificateFile = values.Text(SettingKey.MailCertificateFile) is { } path ? Path.GetFullPath(path, folder.Path) : null,
            CheckWithdrawn = values.Choice(SettingKey.MailCheckWithdrawn),
        };
        // A word that could not be read would only be found fault with twice.
        if (values.FaultCount == faultsBefore && password is not { Password: null })
            values.AddFaults(mail.Faults(), SettingKey.MailHost);
        return mail;
    }

    private static MailSecurity Security(SettingValues values)
    {
        string word = values.Text(SettingKey.MailSecurity)!;
        switch (word.ToLowerInvariant())
        {
            case "tls": return MailSecurity.Tls;
            case "starttls": return MailSecurity.StartTls;
            case "none": return MailSecurity.None;
            default:
                values.AddFault(SettingKey.MailSecurity, "Write `starttls` (port 587), `tls` (port 465), or `none` for a mail server on this machine.");
                return MailSecurity.StartTls;
        }
    }

    private static IPEndPoint Listen(SettingValues values)
    {
        string text = values.Text(SettingKey.WebListen)!;
        // Without the colon, a bare number would be read as an address.
        if (text.Contains(':', StringComparison.Ordinal) && IPEndPoint.TryParse(text, out var point))
            return point;
        values.AddFault(SettingKey.WebListen, "Write address and port, as `listen: 127.0.0.1:8710`; that one is reached from this machine only.");
        return new(IPAddress.Loopback, 0);
    }

    private static LocalTime EveningLook(SettingValues values)
    {
        if (values.Hour(SettingKey.EveningLook) is { } hour && hour >= LocalTime.Noon)
            return hour;
        values.AddFault(SettingKey.EveningLook, "Write an hour from 12:00 to 23:59, as `evening look: \"17:00\"`: while there is light to cover by.");
        return LocalTime.Noon;
    }

    private static IEnumerable<ShownSetting> PeopleShown(Settings settings) => settings.People.Select(person => new ShownSetting(
        "web: people", $"{person.Name} ({(person.Gardens.IsEmpty ? "all gardens" : string.Join(", ", person.Gardens))})", ConfigFolder.SettingsName));

    private static IEnumerable<ShownSetting> Shown(SettingValues values, MailPassword? password)
    {
        foreach (var key in SettingKey.All)
        {
            if (key == SettingKey.MailPassword)
            {
                if (password is not null)
                    yield return new(key.Name, "********", password.From);
            }
            else if (values.Value(key) is { } value)
            {
                // The end of such an address is a token, as good as a password.
                bool tells = key == SettingKey.Heartbeat || key == SettingKey.PushAddress || key == SettingKey.WebhookAddress;
                yield return new(key.Name, tells ? new Uri(value.Text).GetLeftPart(UriPartial.Authority) + "/..." : value.Text, value.From);
            }
        }
    }
}

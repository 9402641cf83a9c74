using System.Collections.Immutable;

namespace GardenWatch.Setup;

/// <summary>One key of <c>gardenwatch.yaml</c>, and the environment variable that overrides it.</summary>
/// <param name="Section">Empty for a key of the first level.</param>
public sealed record SettingKey(string Section, string Word, string? Default)
{
    public const string Prefix = "GardenWatch__";

    /// <summary>Of a section that is also switched on by one word: <c>replies: yes</c> is <c>replies: { read: yes }</c>.</summary>
    public const string OfSection = "read";

    public static readonly SettingKey Data = new("", "data", "/var/lib/gardenwatch");
    public static readonly SettingKey Forecast = new("weather", "forecast", "https://api.open-meteo.com/v1/forecast");
    public static readonly SettingKey Ensemble = new("weather", "ensemble", "https://ensemble-api.open-meteo.com/v1/ensemble");
    public static readonly SettingKey Archive = new("weather", "archive", "https://archive-api.open-meteo.com/v1/archive");
    public static readonly SettingKey Geocoding = new("weather", "geocoding", "https://geocoding-api.open-meteo.com/v1/search");
    public static readonly SettingKey Elevation = new("weather", "elevation", "https://api.open-meteo.com/v1/elevation");
    public static readonly SettingKey UserAgent = new("weather", "user agent", "GardenWatch/0.1 (home garden, non-commercial)");
    public static readonly SettingKey PullEvery = new("weather", "pull every", "60 minutes");
    public static readonly SettingKey EnsembleModel = new("weather", "ensemble model", "ecmwf_ifs025");
    public static readonly SettingKey EnsembleCallsPerDay = new("weather", "ensemble calls per day", "500");
    public static readonly SettingKey PastYears = new("weather", "past years", "30");
    public static readonly SettingKey PastYearsPerDay = new("weather", "past years per day", "10");
    public static readonly SettingKey PastYearsPause = new("weather", "past years pause", "2 minutes");
    public static readonly SettingKey MailHost = new("mail", "host", null);
    public static readonly SettingKey MailPort = new("mail", "port", null);
    public static readonly SettingKey MailSecurity = new("mail", "security", "starttls");
    public static readonly SettingKey MailUser = new("mail", "user", null);
    public static readonly SettingKey MailPassword = new("mail", "password", null);
    public static readonly SettingKey MailPasswordFile = new("mail", "password file", null);
    public static readonly SettingKey MailFrom = new("mail", "from", null);
    public static readonly SettingKey MailInsecure = new("mail", "insecure", "no");
    public static readonly SettingKey MailCertificateFile = new("mail", "certificate file", null);
    public static readonly SettingKey MailCheckWithdrawn = new("mail", "check withdrawn", "yes");
    public static readonly SettingKey RepliesRead = new("replies", SettingKey.OfSection, null);
    public static readonly SettingKey RepliesHost = new("replies", "host", null);
    public static readonly SettingKey RepliesPort = new("replies", "port", null);
    public static readonly SettingKey RepliesSecurity = new("replies", "security", "tls");
    public static readonly SettingKey RepliesUser = new("replies", "user", null);
    public static readonly SettingKey RepliesPasswordFile = new("replies", "password file", null);
    public static readonly SettingKey RepliesFolder = new("replies", "folder", "INBOX");
    public static readonly SettingKey RepliesAddress = new("replies", "address", null);
    public static readonly SettingKey RepliesPollEvery = new("replies", "poll every", "5 minutes");
    public static readonly SettingKey RepliesInsecure = new("replies", "insecure", "no");
    public static readonly SettingKey RepliesCertificateFile = new("replies", "certificate file", null);
    public static readonly SettingKey PushAddress = new("push", "address", null);
    public static readonly SettingKey PushTokenFile = new("push", "token file", null);
    public static readonly SettingKey PushLink = new("push", "link", null);
    public static readonly SettingKey PushInsecure = new("push", "insecure", "no");
    public static readonly SettingKey WebhookAddress = new("webhook", "address", null);
    public static readonly SettingKey WebhookSecretFile = new("webhook", "secret file", null);
    public static readonly SettingKey HubHost = new("home hub", "host", null);
    public static readonly SettingKey HubPort = new("home hub", "port", null);
    public static readonly SettingKey HubSecurity = new("home hub", "security", "none");
    public static readonly SettingKey HubUser = new("home hub", "user", null);
    public static readonly SettingKey HubPasswordFile = new("home hub", "password file", null);
    public static readonly SettingKey HubTopic = new("home hub", "topic", "gardenwatch");
    public static readonly SettingKey HubDiscovery = new("home hub", "discovery", null);
    public static readonly SettingKey HubCertificateFile = new("home hub", "certificate file", null);
    public static readonly SettingKey HubInsecure = new("home hub", "insecure", "no");
    public static readonly SettingKey WebListen = new("web", "listen", "127.0.0.1:8710");
    public static readonly SettingKey WebOpen = new("web", "open", "no");
    public static readonly SettingKey WebAddress = new("web", "address", null);
    public static readonly SettingKey Heartbeat = new("", "heartbeat", null);
    public static readonly SettingKey EveningLook = new("", "evening look", "17:00");
    public static readonly SettingKey BackupFolder = new("", "backup folder", null);

    public static readonly ImmutableArray<SettingKey> All =
    [
        Data, Forecast, Ensemble, Archive, Geocoding, Elevation, PullEvery, UserAgent, EnsembleModel, EnsembleCallsPerDay,
        PastYears, PastYearsPerDay, PastYearsPause, MailHost, MailPort, MailSecurity, MailUser,
        MailPassword, MailPasswordFile, MailFrom, MailInsecure, MailCertificateFile, MailCheckWithdrawn,
        RepliesRead, RepliesHost, RepliesPort, RepliesSecurity, RepliesUser, RepliesPasswordFile, RepliesFolder, RepliesAddress, RepliesPollEvery,
        RepliesInsecure, RepliesCertificateFile, PushAddress, PushTokenFile, PushLink, PushInsecure, WebhookAddress, WebhookSecretFile,
        HubHost, HubPort, HubSecurity, HubUser, HubPasswordFile, HubTopic, HubDiscovery, HubCertificateFile, HubInsecure, WebListen, WebOpen, WebAddress,
        Heartbeat, EveningLook, BackupFolder,
    ];

    /// <summary>"mail: host", as one would point to it.</summary>
    public string Name => Section.Length == 0 ? Word : $"{Section}: {Word}";

    /// <summary>"GardenWatch__Mail__PasswordFile".</summary>
    public string Variable => Prefix + (Section.Length == 0 ? "" : Joined(Section) + "__") + Joined(Word);

    public static bool IsSection(string word) => All.Any(key => key.Section == word && word.Length > 0);

    private static string Joined(string words) =>
        string.Concat(words.Split(' ').Select(word => char.ToUpperInvariant(word[0]) + word[1..]));
}

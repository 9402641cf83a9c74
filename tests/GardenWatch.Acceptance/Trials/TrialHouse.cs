using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Peers.Smtp;
using MimeKit;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Acceptance.Trials;

/// <summary>A gardener's machine in a temporary folder: files, a data folder, a mail server and a weather service.</summary>
internal sealed class TrialHouse : IAsyncDisposable
{
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    private readonly string _side;

    private TrialHouse(ScriptedSmtpServer mail, WeatherStandIn weather, string side) => (Mail, Weather, _side) = (mail, weather, side);

    /// <summary>Neither ensemble nor past years, so that calls for the forecast can be counted.</summary>
    private const string ForecastAlone = "{ ensemble calls per day: 0, past years: 0 }";

    public ScriptedSmtpServer Mail { get; }

    /// <summary>Of the health page.</summary>
    public int Port { get; } = FreePort();

    public WeatherStandIn Weather { get; }

    public string Folder { get; } = Directory.CreateTempSubdirectory("gardenwatch-trial-").FullName;

    public string Data => Path.Combine(Folder, "data");

    public string PlanFile => Path.Combine(Folder, "garden.yaml");

    public StoredRecords Records => new(Data);

    public static async Task<TrialHouse> Open(
        string? plan = null, Func<Instant, string, double?>? weather = null, SmtpServerSettings? mail = null, string side = ForecastAlone)
    {
        _ = TheProgram.Path;
        var house = new TrialHouse(
            new ScriptedSmtpServer(mail),
            await WeatherStandIn.Start(weather ?? TrialWeather.Mild, Morning(12), TestContext.Current.CancellationToken),
            side);
        house.WriteSettings();
        await File.WriteAllTextAsync(house.PlanFile, plan ?? TrialPlan.For("pat@example.org"));
        return house;
    }

    /// <summary>Six on a morning in May 2026 where the trial's garden is, and so many minutes after.</summary>
    public static Instant Morning(int day, int minutesAfter = 0) =>
        MorningAfter(day - 1) + Duration.FromMinutes(minutesAfter);

    /// <summary>Six on the morning so many days after the first of May; clocks may have changed meanwhile.</summary>
    public static Instant MorningAfter(int days) => Berlin.AtStrictly(new LocalDate(2026, 5, 1).PlusDays(days) + new LocalTime(6, 0)).ToInstant();

    public void WriteSettings(string mailMore = "security: none", int? mailPort = null) =>
        File.WriteAllText(Path.Combine(Folder, "gardenwatch.yaml"), $$"""
            data: data
            weather:
              forecast: {{Weather.Forecast}}
              ensemble: {{Weather.Root}}v1/ensemble
              archive: {{Weather.Root}}v1/archive
              geocoding: {{Weather.Geocoding}}
              elevation: {{Weather.Elevation}}
              {{_side.Trim('{', '}', ' ').Replace(", ", "\n  ", StringComparison.Ordinal)}}
            mail: { host: localhost, port: {{mailPort ?? Mail.Port}}, from: garden@example.org, {{mailMore}} }
            web: { listen: "127.0.0.1:{{Port}}" }
            """);

    /// <summary>A life of the service that begins at an instant; by the real clock when none is given.</summary>
    public RunningService Run(Instant? asOf, string? failpoint = null)
    {
        var words = new List<string> { "run", "--config", Folder };
        if (asOf is { } at)
        {
            Weather.Now = at;
            words.AddRange(["--as-of", InstantPattern.General.Format(at)]);
        }
        var environment = new Dictionary<string, string>();
        if (failpoint is not null)
            environment["GARDENWATCH_FAILPOINT"] = failpoint;
        return new(TheProgram.Start(Folder, environment, words), Port);
    }

    /// <summary>One life of the service, from an instant until what was due then is done, and a clean end.</summary>
    /// <param name="mails">How many are to come.</param>
    public async Task<string> Live(Instant asOf, int mails)
    {
        int before = Mail.Kept.Count;
        await using var service = Run(asOf);
        await service.Knocked();
        await MailsCome(before + mails);
        var ended = await service.Stop();
        Assert.Equal(0, ended.Code);
        Assert.Equal(before + mails, Mail.Kept.Count);
        Assert.DoesNotContain("Exception", ended.Out, StringComparison.Ordinal);
        return ended.Out;
    }

    /// <summary>A command at an instant.</summary>
    public Task<Ended> Command(Instant asOf, params string[] words)
    {
        Weather.Now = asOf;
        return TheProgram.Run(Folder, [.. words, "--config", Folder, "--as-of", InstantPattern.General.Format(asOf)]);
    }

    public async Task<IReadOnlyList<ReceivedMail>> MailsCome(int count)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromSeconds(90));
        return await Mail.WaitForMail(count, patience.Token);
    }

    public async ValueTask DisposeAsync()
    {
        await Mail.DisposeAsync();
        await Weather.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    public static int FreePort() => Peers.FreePort.OnLoopback();
}

internal static class MailReading
{
    public static MimeMessage Parsed(this ReceivedMail mail)
    {
        using var stream = new MemoryStream([.. mail.Bytes]);
        return MimeMessage.Load(stream);
    }

    /// <summary>The plain text, its lines run together, so that a sentence can be looked for.</summary>
    public static string Words(this ReceivedMail mail)
    {
        using var message = mail.Parsed();
        return string.Join(' ', message.TextBody!.Split((char[])[' ', '\r', '\n', '\u00A0', '\u202F'], StringSplitOptions.RemoveEmptyEntries));
    }

    public static string Id(this ReceivedMail mail)
    {
        using var message = mail.Parsed();
        return message.MessageId!;
    }

}

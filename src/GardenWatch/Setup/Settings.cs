using System.Collections.Immutable;
using System.Net;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Plans;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Setup;

/// <summary>How the service is set up; what the gardens want is in their plans.</summary>
public sealed record Settings
{
    public required string DataFolder { get; init; }
    public required OpenMeteoOptions Weather { get; init; }
    /// <summary>Null when no mail is set up: `today` works, `run` has no way out.</summary>
    public MailOptions? Mail { get; init; }
    /// <summary>Null when replies are not read.</summary>
    public ReplyOptions? Replies { get; init; }
    /// <summary>Null when none is set up, as the next two.</summary>
    public PushOptions? Push { get; init; }
    public WebhookOptions? Webhook { get; init; }
    public HomeHubOptions? HomeHub { get; init; }
    public required IPEndPoint WebListen { get; init; }
    /// <summary>By which people reach the page, without a slash at its end; null when none is set, and then no links are put in mails.</summary>
    public Uri? WebAddress { get; init; }
    /// <summary>Who may see the page, each by a password; empty when it is open to whoever is on this machine.</summary>
    public ImmutableArray<WebPerson> People { get; init; } = [];
    public Uri? Heartbeat { get; init; }
    public required LocalTime EveningLookAt { get; init; }
    /// <summary>A second home for the nightly backups; null for none.</summary>
    public string? BackupFolder { get; init; }

    /// <summary>The channels that plans may name.</summary>
    public ImmutableArray<string> ChannelsSetUp =>
        [.. ChannelWords.All.Where(word => word switch
        {
            ChannelWords.Push => Push is not null,
            ChannelWords.Webhook => Webhook is not null,
            _ => HomeHub is not null,
        })];
}

/// <summary>One thing wrong in the settings: where, what, and what to write instead.</summary>
/// <param name="Where">A file, or "environment" and a variable's name.</param>
/// <param name="Line">From one; zero when the place has no lines.</param>
public sealed record SettingsFault(string Where, int Line, int Column, string Problem, string Remedy)
{
    public override string ToString() => Line > 0 ? $"{Where}:{Line}:{Column}: {Problem} {Remedy}" : $"{Where}: {Problem} {Remedy}";
}

/// <summary>One setting as `check --show` prints it. A secret's value is masked.</summary>
/// <param name="From">"default", "gardenwatch.yaml:3", "environment GardenWatch__Mail__Host", a file's name.</param>
public sealed record ShownSetting(string Name, string Value, string From);

public abstract record SettingsOutcome
{
    private SettingsOutcome() { }
    public sealed record Read(Settings Settings, IReadOnlyList<ShownSetting> Shown) : SettingsOutcome;
    public sealed record Faulty(IReadOnlyList<SettingsFault> Faults) : SettingsOutcome;
}

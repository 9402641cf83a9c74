using System.Globalization;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Setup;

namespace GardenWatch.Tests.Setup;

/// <summary>What holds a secret may come into a log line or a fault by its name; it must not take the secret along.</summary>
public sealed class SecretsTests
{
    private const string Secret = "s3cret-that-nobody-may-read";

    public static TheoryData<string> Holders => ["mail", "push", "push by path", "webhook", "home hub", "settings", "mail password", "written value"];

    [Theory]
    [MemberData(nameof(Holders))]
    public void No_secret_is_printed(string holder)
    {
        string printed = string.Create(CultureInfo.InvariantCulture, $"{Holding(holder)}");

        Assert.DoesNotContain("s3cret", printed, StringComparison.OrdinalIgnoreCase);
    }

    private static object Holding(string holder)
    {
        var mail = new MailOptions { Host = "mail.example.org", User = "garden", Password = Secret };
        var push = new PushOptions(new("https://push.example.org/garden")) { Token = Secret };
        var webhook = new WebhookOptions(new("https://example.org/hooks"), Secret);
        var hub = new HomeHubOptions("hub.example.org") { User = "garden", Password = Secret };
        return holder switch
        {
            "mail" => mail,
            "push" => push,
            "push by path" => new PushOptions(new($"https://push.example.org/{Secret}")),
            "webhook" => webhook,
            "home hub" => hub,
            "settings" => new Settings
            {
                DataFolder = "/data", Weather = new(), Mail = mail, Push = push, Webhook = webhook, HomeHub = hub,
                WebListen = new(System.Net.IPAddress.Loopback, 0), EveningLookAt = new(17, 0),
            },
            "mail password" => new MailPassword(Secret, "mail-password"),
            _ => new WrittenValue(Secret, "gardenwatch.yaml", 3, 5),
        };
    }
}

using GardenWatch.Messages.Channels;

namespace GardenWatch.Setup;

/// <summary>Reads the ways out beside mail. Each is set up by its address, and then needs its secret.</summary>
internal static class ChannelSettings
{
    public static PushOptions? Push(SettingValues values, ConfigFolder folder, string? credentials)
    {
        if (!IsSetUp(values, SettingKey.PushAddress, "https://push.example.org/garden"))
            return null;
        int faultsBefore = values.FaultCount;
        var address = values.Address(SettingKey.PushAddress, "https://push.example.org/garden");
        var push = new PushOptions(address ?? new("https://push.example.org"))
        {
            Token = SecretFile.Of(SettingKey.PushTokenFile, "token", values, folder, credentials),
            Link = values.Address(SettingKey.PushLink, "http://garden.example.org:8710/"),
            Insecure = values.Choice(SettingKey.PushInsecure),
        };
        if (values.FaultCount == faultsBefore)
            values.AddFaults(push.Faults(), SettingKey.PushAddress);
        return push;
    }

    public static WebhookOptions? Webhook(SettingValues values, ConfigFolder folder, string? credentials)
    {
        const string example = "https://example.org/hooks/garden";
        if (!IsSetUp(values, SettingKey.WebhookAddress, example))
            return null;
        int faultsBefore = values.FaultCount;
        var address = values.Address(SettingKey.WebhookAddress, example);
        if (values.Value(SettingKey.WebhookSecretFile) is null)
            values.Add(values.Value(SettingKey.WebhookAddress)!.Fault("`webhook` has no secret, so its receiver could not know who calls.", "Add `secret file: webhook-secret`."));
        string? secret = SecretFile.Of(SettingKey.WebhookSecretFile, "secret", values, folder, credentials);
        var webhook = new WebhookOptions(address ?? new(example), secret ?? "");
        if (values.FaultCount == faultsBefore)
            values.AddFaults(webhook.Faults(), SettingKey.WebhookSecretFile);
        return webhook;
    }

    public static HomeHubOptions? HomeHub(SettingValues values, ConfigFolder folder, string? credentials)
    {
        if (!IsSetUp(values, SettingKey.HubHost, "hub.example.org"))
            return null;
        int faultsBefore = values.FaultCount;
        bool tls = IsTls(values);
        var hub = new HomeHubOptions(values.Text(SettingKey.HubHost)!)
        {
            Port = values.Number(SettingKey.HubPort, 1, 65535) ?? (tls ? 8883 : 1883),
            Tls = tls,
            User = values.Text(SettingKey.HubUser),
            Password = SecretFile.Of(SettingKey.HubPasswordFile, "password", values, folder, credentials),
            Topic = values.Text(SettingKey.HubTopic)!,
            Discovery = values.Text(SettingKey.HubDiscovery),
            CertificateFile = values.Text(SettingKey.HubCertificateFile) is { } file ? Path.GetFullPath(file, folder.Path) : null,
            Insecure = values.Choice(SettingKey.HubInsecure),
        };
        if (values.FaultCount == faultsBefore)
            values.AddFaults(hub.Faults(), SettingKey.HubHost);
        return hub;
    }

    private static bool IsTls(SettingValues values)
    {
        switch (values.Text(SettingKey.HubSecurity)!.ToLowerInvariant())
        {
            case "tls": return true;
            case "none": return false;
            default:
                values.AddFault(SettingKey.HubSecurity, "Write `none` (port 1883) or `tls` (port 8883).");
                return false;
        }
    }

    /// <summary>A section without the key that sets it up is a slip, and told.</summary>
    private static bool IsSetUp(SettingValues values, SettingKey key, string example)
    {
        if (values.Value(key) is not null)
            return true;
        if (values.FirstOf(key.Section) is { } stray)
            values.Add(stray.Fault($"`{key.Section}:` is there, but its `{key.Word}` is not.", $"Add `{key.Word}: {example}` to it."));
        return false;
    }
}

using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using MQTTnet;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace GardenWatch.Messages.Tests.Channels;

public sealed class HomeHubChannelTests
{
    private const string MosquittoPath = "/usr/sbin/mosquitto";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_hub_that_starts_later_finds_the_state_and_the_sensors()
    {
        using var broker = await Broker(out int port);
        var hub = new HomeHubChannel(new("127.0.0.1") { Port = port, Discovery = "announced" });

        Assert.IsType<SendOutcome.Accepted>(await hub.Send(hub.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));

        AssertTheHubKnowsTheGarden(await RetainedBy(port, atLeast: 8));
    }

    [Fact]
    public async Task So_does_a_hub_behind_another_broker()
    {
        Assert.SkipUnless(File.Exists(MosquittoPath), "Debian's package mosquitto is not installed.");
        int port = FreePort();
        string config = Path.GetTempFileName();
        await File.WriteAllTextAsync(config, $"listener {port} 127.0.0.1\nallow_anonymous true\n", Ct);
        using var broker = Process.Start(new ProcessStartInfo(MosquittoPath, ["-c", config]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        try
        {
            var hub = new HomeHubChannel(new("127.0.0.1") { Port = port, Discovery = "announced" });
            byte[] rendered = hub.Render(ChannelSamples.FrostyDigest);
            // It takes a moment to listen; until then it is out of reach, as a hub that starts is.
            while (await hub.Send(rendered, "digest.1", Ct) is not SendOutcome.Accepted && !broker.HasExited)
                Ct.ThrowIfCancellationRequested();

            AssertTheHubKnowsTheGarden(await RetainedBy(port, atLeast: 8));
        }
        finally
        {
            broker.Kill();
            await broker.WaitForExitAsync(CancellationToken.None);
            File.Delete(config);
        }
    }

    private static void AssertTheHubKnowsTheGarden(IReadOnlyDictionary<string, string> retained)
    {
        using var state = JsonDocument.Parse(retained["gardenwatch/quarry-lane/state"]);
        Assert.Equal("2026-04-21", state.RootElement.GetProperty("date").GetString());
        Assert.Equal(1, state.RootElement.GetProperty("pressing").GetInt32());
        Assert.Equal("Cover the tomatoes", state.RootElement.GetProperty("list")[0].GetProperty("name").GetString());
        Assert.Equal("""{"subject":"","urgent":false,"until":null}""", retained["gardenwatch/quarry-lane/warning"]);
        using var sensor = JsonDocument.Parse(retained["announced/sensor/gardenwatch_quarry_lane_leafLowC/config"]);
        Assert.Equal("gardenwatch/quarry-lane/state", sensor.RootElement.GetProperty("state_topic").GetString());
        Assert.Equal("{{ value_json.leafLowC }}", sensor.RootElement.GetProperty("value_template").GetString());
        Assert.Equal("°C", sensor.RootElement.GetProperty("unit_of_measurement").GetString());
        Assert.True(state.RootElement.TryGetProperty("leafLowC", out _));
        Assert.Equal(6, retained.Keys.Count(topic => topic.StartsWith("announced/", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_warning_stands_until_the_next_digest()
    {
        using var broker = await Broker(out int port);
        var hub = new HomeHubChannel(new("127.0.0.1") { Port = port });

        await hub.Send(hub.Render(ChannelSamples.FrostWarning), "warning.1", Ct);
        string warned = (await RetainedBy(port, atLeast: 1))["gardenwatch/quarry-lane/warning"];
        await hub.Send(hub.Render(ChannelSamples.FrostyDigest), "digest.2", Ct);
        string after = (await RetainedBy(port, atLeast: 2))["gardenwatch/quarry-lane/warning"];

        using var json = JsonDocument.Parse(warned);
        Assert.True(json.RootElement.GetProperty("urgent").GetBoolean());
        Assert.StartsWith("Frost tonight", json.RootElement.GetProperty("subject").GetString(), StringComparison.Ordinal);
        Assert.Contains("\"subject\":\"\"", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_password_and_an_absent_broker_are_told_with_their_remedies()
    {
        int port;
        using (var broker = await Broker(out port))
        {
            broker.ValidatingConnectionAsync += asked =>
            {
                asked.ReasonCode = asked.Password == "right" ? MqttConnectReasonCode.Success : MqttConnectReasonCode.BadUserNameOrPassword;
                return Task.CompletedTask;
            };
            var right = new HomeHubChannel(new("127.0.0.1") { Port = port, User = "garden", Password = "right" });
            var wrong = new HomeHubChannel(new("127.0.0.1") { Port = port, User = "garden", Password = "s3cret" });

            Assert.IsType<SendOutcome.Accepted>(await right.Send(right.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));
            var refused = Assert.IsType<SendOutcome.TryLater>(await wrong.Send(wrong.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));
            Assert.Contains("password file", refused.Reason, StringComparison.Ordinal);
            Assert.DoesNotContain("s3cret", refused.Reason, StringComparison.Ordinal);
            await broker.StopAsync();
        }
        var alone = new HomeHubChannel(new("127.0.0.1") { Port = port });
        var away = Assert.IsType<SendOutcome.TryLater>(await alone.Send(alone.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));
        Assert.Contains("out of reach", away.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_broker_that_says_nothing_is_given_up()
    {
        using var mute = new TcpListener(IPAddress.Loopback, 0);
        mute.Start();
        var hub = new HomeHubChannel(new("127.0.0.1") { Port = ((IPEndPoint)mute.LocalEndpoint).Port, Patience = TimeSpan.FromSeconds(1) });

        Assert.IsType<SendOutcome.TryLater>(await hub.Send(hub.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));
    }

    private static Task<MqttServer> Broker(out int port)
    {
        port = FreePort();
        var broker = new MqttServerFactory().CreateMqttServer(new MqttServerOptionsBuilder()
            .WithDefaultEndpoint().WithDefaultEndpointPort(port).WithDefaultEndpointBoundIPAddress(IPAddress.Loopback)
            .WithDefaultEndpointBoundIPV6Address(IPAddress.None).Build());
        return Started();

        async Task<MqttServer> Started()
        {
            await broker.StartAsync();
            return broker;
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>What a hub hears that begins to listen now.</summary>
    private static async Task<IReadOnlyDictionary<string, string>> RetainedBy(int port, int atLeast)
    {
        var heard = new ConcurrentDictionary<string, string>(StringComparer.Ordinal);
        var enough = new TaskCompletionSource();
        using var client = new MqttClientFactory().CreateMqttClient();
        client.ApplicationMessageReceivedAsync += told =>
        {
            Assert.True(told.ApplicationMessage.Retain);
            heard[told.ApplicationMessage.Topic] = Encoding.UTF8.GetString(told.ApplicationMessage.Payload);
            if (heard.Count >= atLeast)
                enough.TrySetResult();
            return Task.CompletedTask;
        };
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).Build(), Ct);
        await client.SubscribeAsync("#", MqttQualityOfServiceLevel.AtLeastOnce, Ct);
        await enough.Task.WaitAsync(Ct);
        await client.DisconnectAsync(cancellationToken: Ct);
        return heard;
    }
}

using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
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
        string folder = Directory.CreateTempSubdirectory("gardenwatch-hub-").FullName;
        try
        {
            using var broker = await Mosquitto.Start(folder, "allow_anonymous true\n", Ct);
            var hub = new HomeHubChannel(new("127.0.0.1") { Port = broker.Port, Discovery = "announced" });
            byte[] rendered = hub.Render(ChannelSamples.FrostyDigest);

            Assert.IsType<SendOutcome.Accepted>(await broker.WhenItListens(() => hub.Send(rendered, "digest.1", Ct)));

            AssertTheHubKnowsTheGarden(await RetainedBy(broker.Port, atLeast: 8));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task A_broker_with_a_certificate_of_its_own_is_reached_by_TLS_and_only_with_that_certificate()
    {
        Assert.SkipUnless(File.Exists(MosquittoPath), "Debian's package mosquitto is not installed.");
        string folder = Directory.CreateTempSubdirectory("gardenwatch-hub-").FullName;
        try
        {
            using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
            var asked = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256);
            var names = new SubjectAlternativeNameBuilder();
            names.AddDnsName("localhost");
            asked.CertificateExtensions.Add(names.Build());
            using var certificate = asked.CreateSelfSigned(new DateTimeOffset(2000, 1, 1, 0, 0, 0, TimeSpan.Zero), new DateTimeOffset(2099, 1, 1, 0, 0, 0, TimeSpan.Zero));
            string pem = Path.Combine(folder, "broker.pem"), secret = Path.Combine(folder, "broker.key");
            await File.WriteAllTextAsync(pem, certificate.ExportCertificatePem(), Ct);
            await File.WriteAllTextAsync(secret, key.ExportPkcs8PrivateKeyPem(), Ct);
            using var broker = await Mosquitto.Start(folder, $"certfile {pem}\nkeyfile {secret}\nallow_anonymous true\n", Ct);
            byte[] rendered = new HomeHubChannel(new("localhost")).Render(ChannelSamples.FrostyDigest);

            var trusting = new HomeHubChannel(new("localhost") { Port = broker.Port, Tls = true, CertificateFile = pem });
            var distrusting = new HomeHubChannel(new("localhost") { Port = broker.Port, Tls = true });
            Assert.IsType<SendOutcome.Accepted>(await broker.WhenItListens(() => trusting.Send(rendered, "digest.1", Ct)));
            var refused = Assert.IsType<SendOutcome.TryLater>(await distrusting.Send(rendered, "digest.1", Ct));
            Assert.Contains("certificate file under home hub", refused.Reason, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task Another_brokers_refusal_of_a_password_is_told_with_its_remedy()
    {
        Assert.SkipUnless(File.Exists(MosquittoPath), "Debian's package mosquitto is not installed.");
        string folder = Directory.CreateTempSubdirectory("gardenwatch-hub-").FullName;
        try
        {
            string passwords = Path.Combine(folder, "passwords");
            // As mosquitto_passwd writes it: PBKDF2 with SHA-512, 101 rounds, twelve bytes of salt.
            byte[] salt = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
            byte[] hash = Rfc2898DeriveBytes.Pbkdf2("right", salt, 101, HashAlgorithmName.SHA512, 64);
            await File.WriteAllTextAsync(passwords, $"garden:$7$101${Convert.ToBase64String(salt)}${Convert.ToBase64String(hash)}\n", Ct);
            using var broker = await Mosquitto.Start(folder, $"allow_anonymous false\npassword_file {passwords}\n", Ct);
            var right = new HomeHubChannel(new("127.0.0.1") { Port = broker.Port, User = "garden", Password = "right" });
            var wrong = new HomeHubChannel(new("127.0.0.1") { Port = broker.Port, User = "garden", Password = "s3cret" });
            byte[] rendered = right.Render(ChannelSamples.FrostyDigest);

            Assert.IsType<SendOutcome.Accepted>(await broker.WhenItListens(() => right.Send(rendered, "digest.1", Ct)));
            var refused = Assert.IsType<SendOutcome.TryLater>(await wrong.Send(rendered, "digest.1", Ct));
            Assert.Contains("does not let us in", refused.Reason, StringComparison.Ordinal);
            Assert.Contains("Look at user and password file under home hub", refused.Reason, StringComparison.Ordinal);
            Assert.DoesNotContain("s3cret", refused.Reason, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_past_warning_goes_off_by_itself()
    {
        var hub = new HomeHubChannel(new("127.0.0.1") { Discovery = "announced" });
        string line = Encoding.UTF8.GetString(hub.Render(ChannelSamples.FrostWarning)).Split('\n').Single(told => told.Contains("_subject/config", StringComparison.Ordinal));
        using var sensor = JsonDocument.Parse(line[(line.IndexOf('\t', StringComparison.Ordinal) + 1)..]);

        // Written in the morning, over at ten in the evening.
        Assert.Equal((int)(ChannelSamples.FrostWarning.Until - SampleGarden.FrostyMorning().AsOf).TotalSeconds, sensor.RootElement.GetProperty("expire_after").GetInt32());
        Assert.Contains("as_timestamp(value_json.until) > as_timestamp(now())", sensor.RootElement.GetProperty("value_template").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_test_leaves_nothing_behind()
    {
        using var broker = await Broker(out int port);
        var hub = new HomeHubChannel(new("127.0.0.1") { Port = port, Discovery = "announced" });

        Assert.IsType<SendOutcome.Accepted>(await hub.Send(hub.Render(ChannelNote.Test(ChannelSamples.Noon)), "test.1", Ct));

        Assert.Empty(await broker.GetRetainedMessagesAsync());
    }

    [Theory]
    [InlineData("a-b", "a_b")]
    [InlineData("a-b-c", "a_b-c")]
    [InlineData("a", "a_jobs")]
    public void Gardens_of_like_ids_have_sensors_of_their_own(string one, string other)
    {
        Assert.Empty(SensorsOf(one).Intersect(SensorsOf(other)));
        Assert.Equal(6, SensorsOf(one).Count);
        Assert.Contains("announced/sensor/gardenwatch_mill_jobs/config", SensorsOf("mill"));
    }

    private static HashSet<string> SensorsOf(string garden) =>
        [.. Encoding.UTF8.GetString(new HomeHubChannel(new("127.0.0.1") { Discovery = "announced" }).Render(ChannelSamples.FrostyDigest with { GardenId = garden }))
            .Split('\n').Select(line => line.Split('\t')[0]).Where(topic => topic.StartsWith("announced/", StringComparison.Ordinal))];

    private static void AssertTheHubKnowsTheGarden(IReadOnlyDictionary<string, string> retained)
    {
        using var state = JsonDocument.Parse(retained["gardenwatch/quarry-lane/state"]);
        Assert.Equal("2026-04-21", state.RootElement.GetProperty("date").GetString());
        Assert.Equal(1, state.RootElement.GetProperty("pressing").GetInt32());
        Assert.Equal("Cover the tomatoes", state.RootElement.GetProperty("list")[0].GetProperty("name").GetString());
        Assert.Equal("""{"subject":"","urgent":false,"until":null}""", retained["gardenwatch/quarry-lane/warning"]);
        using var sensor = JsonDocument.Parse(retained["announced/sensor/gardenwatch_quarry-lane_leafLowC/config"]);
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

    /// <summary>Another broker, as Debian has it, as this test's own process on loopback.</summary>
    private sealed class Mosquitto(Process process, int port) : IDisposable
    {
        public int Port => port;

        public static async Task<Mosquitto> Start(string folder, string settings, CancellationToken ct)
        {
            int port = FreePort();
            string config = Path.Combine(folder, "mosquitto.conf");
            await File.WriteAllTextAsync(config, $"listener {port} 127.0.0.1\nuser root\n{settings}", ct);
            var process = Process.Start(new ProcessStartInfo(MosquittoPath, ["-c", config]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
            process.BeginErrorReadLine();
            process.BeginOutputReadLine();
            return new(process, port);
        }

        /// <summary>It takes a moment to listen; until then it is out of reach, as a hub that starts is.</summary>
        public async Task<SendOutcome> WhenItListens(Func<Task<SendOutcome>> send)
        {
            while (true)
            {
                var outcome = await send();
                Assert.False(process.HasExited, "The broker ended.");
                if (outcome is not SendOutcome.TryLater { Reason: var reason } || !reason.Contains("out of reach", StringComparison.Ordinal))
                    return outcome;
            }
        }

        public void Dispose()
        {
            process.Kill();
            process.WaitForExit();
            process.Dispose();
        }
    }
}

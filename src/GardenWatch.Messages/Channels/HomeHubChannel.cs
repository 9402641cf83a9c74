using System.Globalization;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Channels;

/// <summary>The MQTT broker of a home hub.</summary>
public sealed record HomeHubOptions(string Host)
{
    /// <summary>PEM file with the certificate of one's own broker, or of the authority that signed it.</summary>
    public string? CertificateFile { get; init; }
    public int Port { get; init; } = 1883;
    public bool Tls { get; init; }
    public string? User { get; init; }
    public string? Password { get; init; }
    /// <summary>Under which everything is published.</summary>
    public string Topic { get; init; } = "gardenwatch";
    /// <summary>Under which the hub looks for what announces itself; null for a hub that is told by hand.</summary>
    public string? Discovery { get; init; }
    /// <summary>Lets the password go over another machine's wire in clear.</summary>
    public bool Insecure { get; init; }
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(20);

    private bool PrintMembers(StringBuilder text) => Masked.Print(
        text, ("host", Host), ("port", Port.ToString(CultureInfo.InvariantCulture)), ("user", User ?? "none"), ("password", Masked.Of(Password)));

    public IEnumerable<string> Faults()
    {
        if (Uri.CheckHostName(Host) == UriHostNameType.Unknown)
            yield return $"home hub: host is \"{Host}\"; write the broker's name, such as hub.example.org.";
        if (Password is not null && User is null)
            yield return "home hub: there is a password but no user; add user.";
        if (Password is not null && !Tls && !Insecure && !ClearLine.StaysHere(Host))
            yield return $"home hub: the password would go to {Host} in clear; write security: tls. (insecure: yes allows it on a network that is all yours.)";
        if (CertificateFile is { } file && (!Tls || !File.Exists(file)))
            yield return Tls
                ? $"home hub: the certificate file {Path.GetFileName(file)} is not there; name a PEM file beside the settings."
                : "home hub: a certificate file goes with security: tls only.";
        if (!IsTopic(Topic))
            yield return $"home hub: topic is \"{Topic}\"; write plain letters, figures, hyphens and slashes, such as garden.";
        if (Discovery is not null && !IsTopic(Discovery))
            yield return $"home hub: discovery is \"{Discovery}\"; write the prefix that the hub's own manual names.";
    }

    private static bool IsTopic(string text) => text.Length is > 0 and <= 100 && text[0] != '/' && text[^1] != '/'
        && text.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '/');
}

/// <summary>
/// The garden's state on a home hub: retained, so that a hub that starts later finds it, and told anew by each digest. The
/// sensors announce themselves where the hub listens for that.
/// </summary>
/// <remarks>Rendered as lines of topic, a tab, and payload, in the order in which they are published.</remarks>
public sealed class HomeHubChannel(HomeHubOptions options) : IChannel
{
    // A day and a half: a digest that is a few hours late is no dead service, a day without one is.
    private const int ExpiresAfterSeconds = 36 * 60 * 60;

    private const string TestTopic = "/test";

    // Hubs take no longer state than this.
    private const int LongestState = 240;

    private sealed record Sensor(string Key, string Name, string? Unit = null, string? Kind = null)
    {
        /// <summary>How the hub reads it off the state.</summary>
        public string Template { get; init; } = $"{{{{ value_json.{Key} }}}}";
    }

    private static readonly Sensor[] Sensors =
    [
        new("jobs", "Jobs today"),
        new("pressing", "Jobs that can't wait"),
        new("headline", "Headline"),
        new("leafLowC", "Leaves' low tonight", "°C", "temperature"),
        new("frostChance", "Chance of frost tonight", "%"),
    ];

    // A hub that starts after the event hears the warning once more, and must not take it for a new one.
    private static readonly Sensor Warning = new("subject", "Warning")
    {
        Template = "{{ value_json.subject if value_json.until and as_timestamp(value_json.until) > as_timestamp(now()) else '' }}",
    };

    public string Word => ChannelWords.HomeHub;

    public byte[] Render(ChannelNote note)
    {
        var lines = new StringBuilder();
        string root = $"{options.Topic}/{note.GardenId}";
        if (options.Discovery is { } prefix && note.Kind != "test")
        {
            foreach (var sensor in Sensors)
                Announce(lines, prefix, note, sensor, $"{root}/state", ExpiresAfterSeconds);
            Announce(lines, prefix, note, Warning, $"{root}/warning", note is { Kind: "warning", At: { } at } ? SecondsBetween(at, note.Until) : ExpiresAfterSeconds);
        }
        switch (note.Kind)
        {
            case "digest":
                Line(lines, $"{root}/state", json => State(json, note));
                // What was warned of yesterday is over, or is said by this digest.
                Line(lines, $"{root}/warning", json => WarningOf(json, null));
                break;
            case "test":
                Line(lines, root + TestTopic, json => json.WriteString("headline", note.Headline));
                break;
            default:
                Line(lines, $"{root}/warning", json => WarningOf(json, note));
                break;
        }
        return Encoding.UTF8.GetBytes(lines.ToString());
    }

    /// <remarks>
    /// A state said twice is the same state, so a line that breaks is no doubt: the whole is published again.
    /// </remarks>
    public async Task<SendOutcome> Send(ReadOnlyMemory<byte> rendered, string messageId, CancellationToken cancellationToken)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        deadline.CancelAfter(options.Patience);
        using var client = new MqttClientFactory().CreateMqttClient();
        try
        {
            var entered = await client.ConnectAsync(Connection(), deadline.Token).ConfigureAwait(false);
            if (entered.ResultCode != MqttClientConnectResultCode.Success)
                return NotLetIn(entered.ResultCode);
            foreach (string line in Encoding.UTF8.GetString(rendered.Span).Split('\n', StringSplitOptions.RemoveEmptyEntries))
            {
                int tab = line.IndexOf('\t', StringComparison.Ordinal);
                var published = await client.PublishAsync(Message(line[..tab], line[(tab + 1)..]), deadline.Token).ConfigureAwait(false);
                if (!published.IsSuccess)
                    return new SendOutcome.TryLater($"{Where} does not let us publish ({published.ReasonCode}). Give this user the right to write under {options.Topic}{(options.Discovery is null ? "" : $" and {options.Discovery}")}.");
            }
            await client.DisconnectAsync(new MqttClientDisconnectOptions(), deadline.Token).ConfigureAwait(false);
            return new SendOutcome.Accepted("published");
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            throw;
        }
        catch (Exception fault) when (fault is MqttCommunicationException or SocketException or IOException or OperationCanceledException or AuthenticationException)
        {
            return fault is AuthenticationException || fault.InnerException is AuthenticationException ? NotTrusted() : OutOfReach();
        }
    }

    private string Where => $"The broker at {Plain.OneLine(options.Host, Plain.NameLength)}, port {options.Port}";

    private SendOutcome.TryLater NotTrusted() =>
        new($"{Where} shows a certificate that is not trusted here. Look at this machine's date, and that host is written as in the certificate; give the certificate of one's own broker, or of the authority that signed it, as certificate file under home hub.");

    private SendOutcome.TryLater OutOfReach() =>
        new($"{Where} is out of reach, or broke off. Look whether it runs, and at host, port and security under home hub: 1883 goes with none, 8883 with tls.");

    private SendOutcome.TryLater NotLetIn(MqttClientConnectResultCode code) =>
        new($"{Where} does not let us in ({code}). Look at user and password file under home hub.");

    private MqttClientOptions Connection()
    {
        var connection = new MqttClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port)
            .WithTimeout(options.Patience)
            .WithCleanSession();
        if (options.User is not null)
            connection.WithCredentials(options.User, options.Password ?? "");
        if (options.Tls)
            connection.WithTlsOptions(Tls);
        return connection.Build();
    }

    private void Tls(MqttClientTlsOptionsBuilder tls)
    {
        tls.UseTls();
        if (options.CertificateFile is { } file)
        {
            var trusting = OwnCertificate.Trusting(file, options.Host);
            tls.WithCertificateValidationHandler(shown => trusting(this, shown.Certificate, shown.Chain, shown.SslPolicyErrors));
        }
    }

    /// <summary>Retained, but for a test, which nobody is to find later.</summary>
    private static MqttApplicationMessage Message(string topic, string payload) => new MqttApplicationMessageBuilder()
        .WithTopic(topic)
        .WithPayload(Encoding.UTF8.GetBytes(payload))
        .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
        .WithRetainFlag(!topic.EndsWith(TestTopic, StringComparison.Ordinal))
        .Build();

    private static void State(Utf8JsonWriter json, ChannelNote note)
    {
        json.WriteString("date", LocalDatePattern.Iso.Format(note.Date));
        json.WriteString("headline", Plain.Cut(note.Headline, LongestState));
        json.WriteNumber("jobs", note.Jobs.Count(job => job.Standing == Standing.Now));
        json.WriteNumber("pressing", note.Jobs.Count(job => job is { Standing: Standing.Now, ActBy: not null }));
        Number(json, "leafLowC", note.LeafLowC is { } low ? Math.Round(low, 1) : null);
        Number(json, "frostChance", note.FrostChance is { } chance ? Math.Round(100 * chance) : null);
        json.WriteStartArray("list");
        foreach (var job in note.Jobs.Where(job => job.Standing == Standing.Now))
        {
            json.WriteStartObject();
            json.WriteNumber("number", job.Number);
            json.WriteString("name", job.Name);
            json.WriteString("bed", job.Bed);
            json.WriteString("actBy", job.ActBy is { } hour ? InstantPattern.General.Format(hour) : null);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WarningOf(Utf8JsonWriter json, ChannelNote? warning)
    {
        json.WriteString("subject", warning is null ? "" : Plain.Cut(warning.Subject, LongestState));
        json.WriteBoolean("urgent", warning is { Urgent: true });
        json.WriteString("until", warning is null ? null : InstantPattern.General.Format(warning.Until));
    }

    private static int SecondsBetween(Instant from, Instant until) => (int)Math.Max(1, Math.Ceiling((until - from).TotalSeconds));

    private static void Announce(StringBuilder lines, string prefix, ChannelNote note, Sensor sensor, string state, int expiresAfter)
    {
        // Hyphens stay, as hubs take them here: a-b and a_b are two gardens. No key has an underscore, so the last one ends the garden's id.
        string id = $"gardenwatch_{note.GardenId}_{sensor.Key}";
        Line(lines, $"{prefix}/sensor/{id}/config", json =>
        {
            json.WriteString("name", sensor.Name);
            json.WriteString("unique_id", id);
            json.WriteString("state_topic", state);
            json.WriteString("value_template", sensor.Template);
            if (sensor.Unit is not null)
                json.WriteString("unit_of_measurement", sensor.Unit);
            if (sensor.Kind is not null)
                json.WriteString("device_class", sensor.Kind);
            if (sensor.Key is "jobs" or "subject")
                json.WriteString("json_attributes_topic", state);
            json.WriteNumber("expire_after", expiresAfter);
            json.WriteStartObject("device");
            json.WriteStartArray("identifiers");
            json.WriteStringValue($"gardenwatch_{note.GardenId}");
            json.WriteEndArray();
            json.WriteString("name", note.GardenName);
            json.WriteEndObject();
        });
    }

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } known && double.IsFinite(known))
            json.WriteNumber(name, known);
        else
            json.WriteNull(name);
    }

    private static void Line(StringBuilder lines, string topic, Action<Utf8JsonWriter> write)
    {
        using var stream = new MemoryStream();
        // The writer escapes line breaks, so that a payload is one line whatever a plan says.
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }
        lines.Append(CultureInfo.InvariantCulture, $"{topic}\t{Encoding.UTF8.GetString(stream.ToArray())}\n");
    }
}

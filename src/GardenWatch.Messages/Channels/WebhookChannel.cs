using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Plans;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Channels;

/// <param name="Secret">Shared with the receiver, which checks the signature with it.</param>
public sealed record WebhookOptions(Uri Address, string Secret)
{
    /// <summary>Shorter ones can be found by trying, from one message that was listened in on.</summary>
    public const int ShortestSecret = 16;

    public IEnumerable<string> Faults()
    {
        if (Secret.Length < ShortestSecret)
            yield return $"webhook: the secret has {Secret.Length} characters, and at least {ShortestSecret} are needed; write a long random one, such as `openssl rand -hex 32` gives, into the secret file and to the receiver.";
    }

    private bool PrintMembers(StringBuilder text) => Masked.Print(text, ("host", Address.Authority), ("secret", Masked.Of(Secret)));
}

/// <summary>The message as JSON, signed, for a program of one's own.</summary>
/// <remarks>
/// Header <c>GardenWatch-Signature: t=1777777777,v1=hex</c>: seconds since 1970 when it was sent, and HMAC-SHA256 in
/// lower-case hex over those digits, a full stop, and the body's exact bytes. A receiver that refuses old times can't be
/// fed a message that was listened in on. <c>Idempotency-Key</c> is the same for each try.
/// </remarks>
public sealed class WebhookChannel(WebhookOptions options, HttpHandover http, IClock clock) : IChannel
{
    public const int Version = 1;
    public const string SignatureHeader = "GardenWatch-Signature";

    public string Word => ChannelWords.Webhook;

    public byte[] Render(ChannelNote note)
    {
        using var stream = new MemoryStream();
        // The body is read by programs, never as a page.
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteNumber("version", Version);
            json.WriteString("kind", note.Kind);
            json.WriteStartObject("garden");
            json.WriteString("id", note.GardenId);
            json.WriteString("name", note.GardenName);
            json.WriteEndObject();
            json.WriteString("date", LocalDatePattern.Iso.Format(note.Date));
            json.WriteString("subject", note.Subject);
            json.WriteBoolean("urgent", note.Urgent);
            json.WriteStartArray("jobs");
            foreach (var job in note.Jobs)
            {
                json.WriteStartObject();
                json.WriteNumber("number", job.Number);
                json.WriteString("name", job.Name);
                json.WriteString("bed", job.Bed);
                json.WriteString("standing", job.Standing.ToString().ToLowerInvariant());
                json.WriteString("actBy", job.ActBy is { } hour ? InstantPattern.General.Format(hour) : null);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return stream.ToArray();
    }

    public async Task<SendOutcome> Send(ReadOnlyMemory<byte> rendered, string messageId, CancellationToken cancellationToken)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, options.Address);
        request.Content = new WatchedContent(rendered.ToArray(), "application/json");
        request.Headers.Add("Idempotency-Key", messageId);
        request.Headers.Add(SignatureHeader, Signature(options.Secret, clock.GetCurrentInstant(), rendered.Span));
        return await http.Send(request, "webhook's receiver", "secret file", cancellationToken).ConfigureAwait(false);
    }

    /// <summary>The whole header's value.</summary>
    public static string Signature(string secret, Instant sentAt, ReadOnlySpan<byte> body)
    {
        string seconds = sentAt.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        byte[] signed = [.. Encoding.ASCII.GetBytes(seconds + "."), .. body];
        byte[] mac = HMACSHA256.HashData(Encoding.UTF8.GetBytes(secret), signed);
        return $"t={seconds},v1={Convert.ToHexStringLower(mac)}";
    }
}

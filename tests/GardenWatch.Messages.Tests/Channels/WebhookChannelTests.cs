using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Peers.Http;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Messages.Tests.Channels;

public sealed class WebhookChannelTests
{
    private readonly FakeClock _clock = new(ChannelSamples.Noon);

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private WebhookChannel To(Uri address) =>
        new(new(address, "a shared secret"), new HttpHandover(HttpHandover.NewLine(), TimeSpan.FromMinutes(1), _clock), _clock);

    [Fact]
    public async Task The_receiver_can_check_who_calls_and_that_nothing_was_changed()
    {
        await using var server = await HttpStandIn.Start(Ct);
        var webhook = To(server.Address);

        Assert.IsType<SendOutcome.Accepted>(await webhook.Send(webhook.Render(ChannelSamples.FrostyDigest), "digest.1", Ct));

        var post = Assert.Single(server.Received);
        // As a receiver does it, from the description alone.
        string[] parts = post.Headers["GardenWatch-Signature"].Split(',');
        string seconds = parts[0][2..];
        using var mac = new HMACSHA256(Encoding.UTF8.GetBytes("a shared secret"));
        byte[] expected = mac.ComputeHash([.. Encoding.ASCII.GetBytes(seconds), (byte)'.', .. post.Body]);
        Assert.Equal("v1=" + Convert.ToHexString(expected).ToLower(CultureInfo.InvariantCulture), parts[1]);
        Assert.Equal(ChannelSamples.Noon.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture), seconds);
        Assert.Equal("application/json", post.Headers["Content-Type"]);
        Assert.Equal("digest.1", post.Headers["Idempotency-Key"]);
    }

    // printf '1777780800.{"version":1}' | openssl dgst -sha256 -hmac Jefe (OpenSSL 3)
    [Fact]
    public void The_signature_is_as_another_program_reckons_it() => Assert.Equal(
        "t=1777780800,v1=5c8f66d3a4995dc017523104cdd634edf9385b8bafcc578880ca46b417bee9cc",
        WebhookChannel.Signature("Jefe", Instant.FromUnixTimeSeconds(1777780800), "{\"version\":1}"u8));

    [Fact]
    public async Task A_retry_has_the_same_body_and_key_and_a_new_time()
    {
        await using var server = await HttpStandIn.Start(Ct);
        server.Answer = HttpStandIn.With(503, "120");
        var webhook = To(server.Address);
        byte[] body = webhook.Render(ChannelSamples.FrostWarning);

        Assert.Equal(TimeSpan.FromMinutes(2), Assert.IsType<SendOutcome.TryLater>(await webhook.Send(body, "warning.1", Ct)).WaitAtLeast);
        _clock.AdvanceMinutes(5);
        server.Answer = HttpStandIn.With(204);
        Assert.IsType<SendOutcome.Accepted>(await webhook.Send(body, "warning.1", Ct));

        var (first, second) = (server.Received.First(), server.Received.Last());
        Assert.Equal(first.Body, second.Body);
        Assert.Equal(first.Headers["Idempotency-Key"], second.Headers["Idempotency-Key"]);
        Assert.NotEqual(first.Headers["GardenWatch-Signature"], second.Headers["GardenWatch-Signature"]);
    }

    [Fact]
    public void The_body_tells_the_jobs_by_number_without_any_address()
    {
        string text = Encoding.UTF8.GetString(To(new("https://example.org/hooks/garden")).Render(ChannelSamples.FrostyDigest));

        using var json = JsonDocument.Parse(text);
        var root = json.RootElement;
        Assert.Equal(1, root.GetProperty("version").GetInt32());
        Assert.Equal("digest", root.GetProperty("kind").GetString());
        Assert.Equal("quarry-lane", root.GetProperty("garden").GetProperty("id").GetString());
        Assert.Equal("2026-04-21", root.GetProperty("date").GetString());
        var job = root.GetProperty("jobs")[0];
        Assert.Equal(1, job.GetProperty("number").GetInt32());
        Assert.Equal("Cover the tomatoes", job.GetProperty("name").GetString());
        Assert.Equal("low bed", job.GetProperty("bed").GetString());
        Assert.Equal("now", job.GetProperty("standing").GetString());
        Assert.EndsWith("Z", job.GetProperty("actBy").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("http", text, StringComparison.Ordinal);
        Assert.DoesNotContain("@", text, StringComparison.Ordinal);
    }
}

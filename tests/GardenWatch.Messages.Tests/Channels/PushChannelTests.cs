using System.Text;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Peers.Http;
using GardenWatch.Planning.Agendas;
using NodaTime.Testing;

namespace GardenWatch.Messages.Tests.Channels;

public sealed class PushChannelTests
{
    private static readonly FakeClock Clock = new(ChannelSamples.Noon);

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private static PushChannel To(Uri address, TimeSpan? patience = null) => new(
        new PushOptions(address) { Token = "tk_secret", Link = new("http://garden.example.org:8710/") },
        new HttpHandover(HttpHandover.NewLine(), patience ?? TimeSpan.FromMinutes(1), Clock));

    [Fact]
    public async Task The_digest_arrives_as_text_with_title_priority_tags_and_link()
    {
        await using var server = await HttpStandIn.Start(Ct);
        var push = To(new(server.Address, "/garden"));

        var outcome = await push.Send(push.Render(ChannelSamples.FrostyDigest), "digest.1", Ct);

        Assert.IsType<SendOutcome.Accepted>(outcome);
        var post = Assert.Single(server.Received);
        Assert.Equal(("POST", "/garden"), (post.Method, post.Path));
        Assert.Equal(ChannelSamples.FrostyDigest.Subject, post.Headers["Title"]);
        Assert.Equal("default", post.Headers["Priority"]);
        Assert.Equal("seedling", post.Headers["Tags"]);
        Assert.Equal("http://garden.example.org:8710/", post.Headers["Click"]);
        Assert.Equal("Bearer tk_secret", post.Headers["Authorization"]);
        Assert.Equal("digest.1", post.Headers["Idempotency-Key"]);
        Assert.Equal("text/plain; charset=utf-8", post.Headers["Content-Type"]);
        string[] lines = Encoding.UTF8.GetString(post.Body).Split('\n');
        Assert.StartsWith("Cover the tomatoes", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("1 Cover the tomatoes (low bed), by ", lines[1], StringComparison.Ordinal);
        Assert.DoesNotContain(lines, line => line.Contains('\u00A0', StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_frost_warning_has_high_priority_and_a_title_in_other_letters_is_encoded()
    {
        await using var server = await HttpStandIn.Start(Ct);
        var push = To(server.Address);

        await push.Send(push.Render(ChannelSamples.FrostWarning with { Subject = "Frost: Kürbis" }), "warning.1", Ct);

        var post = Assert.Single(server.Received);
        Assert.Equal("high", post.Headers["Priority"]);
        Assert.Equal("warning", post.Headers["Tags"]);
        Assert.Equal("=?UTF-8?B?" + Convert.ToBase64String(Encoding.UTF8.GetBytes("Frost: Kürbis")) + "?=", post.Headers["Title"]);
    }

    [Fact]
    public void It_names_five_jobs_at_most_in_less_than_a_kilobyte_whatever_their_names()
    {
        var push = To(new("https://push.example.org/garden"));
        for (int jobs = 0; jobs < 12; jobs++)
        {
            foreach (string letter in (string[])["a", "ü", "\u0926\u0940", "👩‍🌾"])
            {
                string name = string.Concat(Enumerable.Repeat(letter, 60));
                var note = ChannelSamples.FrostyDigest with
                {
                    Subject = name + name,
                    Headline = name + name,
                    Jobs = [.. Enumerable.Range(1, jobs).Select(number => new NotedJob(number, name, name, Standing.Now, null, "any hour"))],
                };

                byte[] bytes = push.Render(note);

                Assert.True(bytes.Length < PushChannel.MostBytes, $"{jobs} jobs of {letter}: {bytes.Length} bytes");
            }
        }
        var ten = ChannelSamples.FrostyDigest with
        {
            Jobs = [.. Enumerable.Range(1, 10).Select(number => new NotedJob(number, "Weed", null, Standing.Now, null, null))],
        };
        string text = Encoding.UTF8.GetString(push.Render(ten));
        Assert.EndsWith("\n5 Weed\nand 5 more", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plans_names_make_no_headers()
    {
        await using var server = await HttpStandIn.Start(Ct);
        var push = To(server.Address);

        var outcome = await push.Send(push.Render(ChannelSamples.FrostyDigest with { Subject = "a\r\nAuthorization: b\n\nc" }), "digest.1", Ct);

        Assert.IsType<SendOutcome.Accepted>(outcome);
        var post = Assert.Single(server.Received);
        Assert.Equal("a Authorization: b c", post.Headers["Title"]);
        Assert.Equal("Bearer tk_secret", post.Headers["Authorization"]);
    }

    [Theory]
    [InlineData(401, typeof(SendOutcome.TryLater), "token file")]
    [InlineData(403, typeof(SendOutcome.TryLater), "token file")]
    [InlineData(429, typeof(SendOutcome.TryLater), "pause")]
    [InlineData(500, typeof(SendOutcome.TryLater), "trouble")]
    [InlineData(504, typeof(SendOutcome.InDoubt), "behind it")]
    [InlineData(302, typeof(SendOutcome.Refused), "elsewhere")]
    [InlineData(404, typeof(SendOutcome.Refused), "slip under address")]
    [InlineData(413, typeof(SendOutcome.Refused), "refused")]
    public async Task An_answer_that_is_no_yes_tells_what_to_do(int status, Type outcome, string words)
    {
        await using var server = await HttpStandIn.Start(Ct);
        server.Answer = HttpStandIn.With(status);

        var got = await Sent(To(new(server.Address, "/secret-topic")));

        Assert.Equal(outcome, got.GetType());
        Assert.Contains(words, MailRemedy.For(got), StringComparison.Ordinal);
        Assert.DoesNotContain("secret-topic", MailRemedy.For(got), StringComparison.Ordinal);
        Assert.DoesNotContain("tk_secret", MailRemedy.For(got), StringComparison.Ordinal);
        Assert.Single(server.Received);
    }

    [Theory]
    [InlineData("90", 90)]
    [InlineData("Tue, 21 Apr 2026 16:05:00 GMT", 300)]
    [InlineData("Tue, 21 Apr 2026 15:00:00 GMT", null)]
    [InlineData("soon", null)]
    [InlineData("99999999", 12 * 3600)]
    public async Task A_pause_that_is_asked_for_is_kept(string retryAfter, int? seconds)
    {
        await using var server = await HttpStandIn.Start(Ct);
        server.Answer = HttpStandIn.With(429, retryAfter);

        var later = Assert.IsType<SendOutcome.TryLater>(await Sent(To(server.Address)));

        Assert.Equal(seconds, later.WaitAtLeast?.TotalSeconds);
    }

    [Fact]
    public async Task A_line_that_breaks_after_the_body_leaves_it_in_doubt_and_one_that_never_was_does_not()
    {
        Uri gone;
        await using (var server = await HttpStandIn.Start(Ct))
        {
            server.Answer = HttpStandIn.Drop;
            gone = server.Address;

            Assert.IsType<SendOutcome.InDoubt>(await Sent(To(server.Address)));
            Assert.Single(server.Received);
        }

        var later = Assert.IsType<SendOutcome.TryLater>(await Sent(To(gone)));
        Assert.Contains("out of reach", later.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_stalls_is_left_in_doubt_when_patience_ends()
    {
        await using var server = await HttpStandIn.Start(Ct);
        server.Answer = HttpStandIn.Stall;

        Assert.IsType<SendOutcome.InDoubt>(await Sent(To(server.Address, TimeSpan.FromSeconds(2))));
    }

    private static Task<SendOutcome> Sent(PushChannel push) => push.Send(push.Render(ChannelSamples.FrostyDigest), "digest.1", Ct);
}

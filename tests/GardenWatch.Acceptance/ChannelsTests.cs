using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.Http;

namespace GardenWatch.Acceptance;

/// <summary>Push and webhook beside mail and without it, as the program itself sends them.</summary>
public class ChannelsTests
{
    private const string Secret = "a-secret-that-both-know";

    private static async Task<(TrialHouse House, HttpStandIn Push, HttpStandIn Hook)> Open(string to)
    {
        var house = await TrialHouse.Open(TrialPlan.For(to));
        var push = await HttpStandIn.Start(TestContext.Current.CancellationToken);
        var hook = await HttpStandIn.Start(TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(Path.Combine(house.Folder, "hook-secret"), Secret);
        await File.AppendAllTextAsync(Path.Combine(house.Folder, "gardenwatch.yaml"), $$"""

            push: { address: "{{push.Address}}garden-topic" }
            webhook: { address: "{{hook.Address}}hooks/garden", secret file: hook-secret }
            """);
        return (house, push, hook);
    }

    [Fact]
    public async Task A_morning_goes_out_once_by_each_way()
    {
        var (house, push, hook) = await Open("pat@example.org, push, webhook");
        await using var _ = house;
        await using var __ = push;
        await using var ___ = hook;

        await house.Live(TrialHouse.Morning(12), mails: 1);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 20), mails: 0);

        var pushed = Assert.Single(push.Received);
        Assert.Equal("/garden-topic", pushed.Path);
        Assert.StartsWith("Tue 12 May", pushed.Headers["Title"], StringComparison.Ordinal);
        Assert.InRange(pushed.Body.Length, 20, 1024);
        var called = Assert.Single(hook.Received);
        using var json = JsonDocument.Parse(called.Body);
        Assert.Equal("digest", json.RootElement.GetProperty("kind").GetString());
        Assert.EndsWith("," + SignatureOf(called), called.Headers["GardenWatch-Signature"], StringComparison.Ordinal);
        Assert.All(house.Records.States().Values, state => Assert.Equal("sent", state));
        Assert.Equal(3, house.Records.States().Count);
    }

    [Fact]
    public async Task Without_mail_the_service_runs_by_push_alone()
    {
        var (house, push, hook) = await Open("push");
        await using var _ = house;
        await using var __ = push;
        await using var ___ = hook;
        string settings = Path.Combine(house.Folder, "gardenwatch.yaml");
        await File.WriteAllLinesAsync(
            settings, File.ReadLines(settings).Where(line => !line.StartsWith("mail:", StringComparison.Ordinal)).ToList(), TestContext.Current.CancellationToken);

        await using var service = house.Run(TrialHouse.Morning(12));
        await service.Says("was accepted");
        Assert.Equal(0, (await service.Stop()).WithoutStackTrace().Code);

        Assert.Single(push.Received);
    }

    [Theory]
    [InlineData(200, 0, "The test for push was taken.")]
    [InlineData(403, 3, "Look into the token file")]
    [InlineData(404, 1, "Look for a slip under address")]
    [InlineData(301, 1, "Write the new address under address")]
    public async Task Send_test_tries_each_way_and_names_the_remedy(int status, int code, string words)
    {
        var (house, push, hook) = await Open("pat@example.org, push");
        await using var _ = house;
        await using var __ = push;
        await using var ___ = hook;
        push.Answer = HttpStandIn.With(status);

        var ended = await house.Command(TrialHouse.Morning(12), "send-test");

        Assert.Equal(code, ended.WithoutStackTrace().Code);
        Assert.Contains(words, ended.All, StringComparison.Ordinal);
        Assert.Contains("The test for webhook was taken.", ended.Out, StringComparison.Ordinal);
        Assert.Contains("took the mail for pat@example.org", ended.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("garden-topic", ended.All, StringComparison.Ordinal);
        Assert.DoesNotContain(Secret, ended.All, StringComparison.Ordinal);
    }

    /// <summary>As a receiver reckons it anew: HMAC-SHA256 over the time, a point and the body.</summary>
    private static string SignatureOf(ReceivedPost called)
    {
        string[] signed = called.Headers["GardenWatch-Signature"].Split(',');
        string seconds = signed[0]["t=".Length..];
        byte[] said = [.. Encoding.UTF8.GetBytes(seconds + "."), .. called.Body];
        return "v1=" + Convert.ToHexStringLower(HMACSHA256.HashData(Encoding.UTF8.GetBytes(Secret), said));
    }
}

using System.Net;
using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.OpenMeteo;

namespace GardenWatch.Acceptance;

/// <summary>The health page answers on this machine only and tells nothing private; a stop is prompt and clean.</summary>
public class HealthAndEndTests
{
    [Fact]
    public async Task An_idle_service_answers_and_ends_when_asked()
    {
        await using var house = await TrialHouse.Open();
        await using var service = house.Run(TrialHouse.Morning(12));
        await house.MailsCome(1);

        var ready = await service.Ready(answer => answer.GetProperty("ok").GetBoolean());
        Assert.Equal(HttpStatusCode.OK, await service.Status("/healthz"));
        Assert.Equal(HttpStatusCode.NotFound, await service.Status("/garden.yaml"));
        foreach (string secret in (string[])["pat@example.org", "Mill Bank", "mill-bank", "52.5"])
            Assert.DoesNotContain(secret, ready.ToString(), StringComparison.Ordinal);

        var ended = await service.Stop();
        Assert.Equal(0, ended.Code);
        Assert.DoesNotContain("pat@example.org", ended.All, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stop_does_not_wait_for_a_weather_service_that_hangs()
    {
        await using var house = await TrialHouse.Open();
        var never = new TaskCompletionSource();
        house.Weather.Always = new StandInFault.Slow(never.Task);
        await using var service = house.Run(TrialHouse.Morning(12));
        await house.Weather.Received(1).WaitAsync(TimeSpan.FromSeconds(90), TestContext.Current.CancellationToken);

        Assert.Equal(0, (await service.Stop()).Code);

        // Two more tries of fifteen seconds would have followed.
        Assert.Single(house.Weather.Calls);
    }

    [Fact]
    public async Task A_health_address_that_is_taken_is_said_in_a_sentence()
    {
        await using var house = await TrialHouse.Open();
        await using var first = house.Run(TrialHouse.Morning(12));
        await house.MailsCome(1);

        var second = await TheProgram.Run(house.Folder, "run", "--config", house.Folder, "--data", Path.Combine(house.Folder, "other"), "--as-of", "2026-05-12T08:00:00Z");

        Assert.Equal(2, second.WithoutStackTrace().Code);
        Assert.Contains("The page cannot listen on 127.0.0.1:", second.All, StringComparison.Ordinal);
    }
}

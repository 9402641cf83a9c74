using System.Text.Json;
using GardenWatch.Acceptance.Trials;

namespace GardenWatch.Acceptance;

/// <summary>`status` says what a gardener wants to know of the service: does it run, what waits, what is wrong and what to do.</summary>
public class StatusTests
{
    [Fact]
    public async Task While_all_is_well_it_says_so_and_ends_with_nought()
    {
        await using var house = await TrialHouse.Open();
        await using var service = house.Run(TrialHouse.Morning(12));
        await service.Says("was accepted");

        var status = await house.Command(TrialHouse.Morning(12, minutesAfter: 30), "status");

        Assert.Equal(0, status.WithoutStackTrace().Code);
        Assert.Contains("The service runs.", status.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("WRONG", status.Out, StringComparison.Ordinal);
        Assert.Contains("Last digest: today, taken at", status.Out, StringComparison.Ordinal);
        Assert.Contains("Next: tomorrow, 06:00.", status.Out, StringComparison.Ordinal);
        Assert.Contains("Nothing waits.", status.Out, StringComparison.Ordinal);
        await service.Stop();
    }

    [Fact]
    public async Task What_is_wrong_comes_first_with_what_to_do_and_ends_with_one()
    {
        await using var house = await TrialHouse.Open();
        house.WriteSettings(mailPort: TrialHouse.FreePort());
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("was not taken");
            await service.Stop();
        }

        var status = await house.Command(TrialHouse.Morning(12, minutesAfter: 90), "status");
        var told = await house.Command(TrialHouse.Morning(12, minutesAfter: 90), "status", "--json");

        Assert.Equal(1, status.WithoutStackTrace().Code);
        Assert.Contains("The service does not run, so no digest comes.", status.Out, StringComparison.Ordinal);
        Assert.Contains("`gardenwatch send-test` tries the way out", status.Out, StringComparison.Ordinal);
        Assert.Contains("1 message to be sent, the oldest since 06:0", status.Out, StringComparison.Ordinal);
        Assert.Contains("tried 1 time, again at", status.Out, StringComparison.Ordinal);
        Assert.Equal(1, told.WithoutStackTrace().Code);
        var json = JsonDocument.Parse(told.Out).RootElement;
        Assert.Equal(1, json.GetProperty("version").GetInt32());
        Assert.False(json.GetProperty("ok").GetBoolean());
        Assert.False(json.GetProperty("runs").GetBoolean());
        Assert.Equal(1, json.GetProperty("outbox").GetProperty("waiting").GetInt32());
        Assert.Equal("pending", json.GetProperty("outbox").GetProperty("recent")[0].GetProperty("state").GetString());
    }

    [Fact]
    public async Task Without_records_it_makes_none()
    {
        await using var house = await TrialHouse.Open();

        var status = await house.Command(TrialHouse.Morning(12), "status");

        Assert.Equal(2, status.WithoutStackTrace().Code);
        Assert.Contains("The service has not run", status.Errors, StringComparison.OrdinalIgnoreCase);
        Assert.False(Directory.Exists(house.Data));
    }
}

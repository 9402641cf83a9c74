using GardenWatch.Acceptance.Trials;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>A disk that is full or can't be written: urgent messages go out all the same, and what is wrong is said in a sentence.</summary>
public class DiskTests
{
    // The evening's look is at 17:00; the first knock is before it, the second after.
    private static readonly Instant BeforeTheLook = TrialHouse.Morning(12, minutesAfter: 11 * 60) - Duration.FromSeconds(8);

    [Fact]
    public async Task A_frost_is_warned_of_though_the_disk_is_full_and_nothing_is_left_half_written()
    {
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty);
        using var disk = await SmallDisk.At(house.Data, megabytes: 8);
        await using (var service = house.Run(BeforeTheLook))
        {
            await service.Knocked();
            disk.Fill();

            var warning = Assert.Single(await house.MailsCome(1));
            Assert.StartsWith("Frost tonight", warning.Parsed().Subject, StringComparison.Ordinal);
            await service.Says("disk");
            Assert.Equal(0, (await service.Stop()).WithoutStackTrace().Code);
        }

        disk.MakeRoom();
        Assert.True(house.Records.IsSound());
        await house.Live(TrialHouse.Morning(13), mails: 1);
    }

    [Fact]
    public async Task On_a_disk_that_is_full_at_the_start_what_to_do_is_said_in_a_sentence()
    {
        await using var house = await TrialHouse.Open();
        using var disk = await SmallDisk.At(house.Data, megabytes: 8);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        disk.Fill();

        await using var service = house.Run(TrialHouse.Morning(13));
        var ended = await service.End();

        Assert.Equal(2, ended.WithoutStackTrace().Code);
        Assert.Contains("is full", ended.All, StringComparison.Ordinal);
        disk.MakeRoom();
        await house.Live(TrialHouse.Morning(13), mails: 1);
    }

    [Fact]
    public async Task A_folder_that_cannot_be_written_is_named_with_the_remedy()
    {
        await using var house = await TrialHouse.Open();
        using var disk = await SmallDisk.At(house.Data, megabytes: 8);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        await disk.MakeReadOnly();

        await using var service = house.Run(TrialHouse.Morning(13));
        var ended = await service.End();
        var today = await house.Command(TrialHouse.Morning(13), "today");

        Assert.Equal(2, ended.WithoutStackTrace().Code);
        Assert.Contains($"The data folder {house.Data} cannot be written", ended.All, StringComparison.Ordinal);
        Assert.Equal(2, today.WithoutStackTrace().Code);
        Assert.Contains("cannot be read or written", today.Errors, StringComparison.Ordinal);
    }
}

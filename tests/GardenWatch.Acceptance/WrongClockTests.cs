using GardenWatch.Acceptance.Trials;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>A clock that is ten minutes off the weather service's: nothing is stored or sent.</summary>
public class WrongClockTests
{
    [Theory]
    [InlineData(-60, false)]
    [InlineData(60, false)]
    [InlineData(0, true)]
    public async Task By_a_clock_an_hour_off_nothing_is_stored_or_sent(int minutesOff, bool trusted)
    {
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        // A zone in which it is about eight in the morning just now, so that a digest is due.
        int behind = (now.InUtc().Hour - 8 + 24) % 24;
        string zone = behind <= 12 ? $"Etc/GMT+{behind}" : $"Etc/GMT-{24 - behind}";
        await using var house = await TrialHouse.Open(TrialPlan.For("pat@example.org").Replace("Europe/Berlin", zone, StringComparison.Ordinal));
        house.Weather.Now = now;
        house.Weather.DateAhead = Duration.FromMinutes(minutesOff);

        await using var service = house.Run(asOf: null);
        if (trusted)
        {
            await house.MailsCome(1);
            Assert.Equal(0, (await service.Stop()).Code);
            return;
        }
        await service.Says("minutes " + (minutesOff > 0 ? "behind" : "ahead of") + " the weather service's. Nothing is stored or sent until it can");
        await service.Ready(answer => answer.GetProperty("faults").ToString().Contains("the clock is not trusted", StringComparison.Ordinal));
        Assert.Equal(0, (await service.Stop()).Code);

        Assert.Empty(house.Mail.Kept);
        Assert.Equal(0, house.Records.Count("outbox"));
        Assert.Equal(0, house.Records.Count("pull"));
        Assert.Equal(0, house.Records.Count("ledger"));
    }
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>First pickings by the packet, of plants that waited in their pots and of seed in cold weather.</summary>
public class PacketDaysTests
{
    private static LocalDate FirstPicking(string planting, Func<LocalDateTime, double> air, params (string Job, int DaysAgo)[] done)
    {
        var garden = Scenario.On(2026, 6, 24).Plan($$"""
            beds: [ { bed: low bed }, { bed: sill, over: windowsill } ]
            plantings: [ { {{planting}}, bed: low bed, id: crop } ]
            """).Hourly(WeatherVariable.Air, air);
        foreach (var (job, daysAgo) in done)
            garden = garden.Done($"mill-bank/crop/{job}/1", daysAgo);
        return Assert.Single(garden.At().Sowings).Harvest!.Start;
    }

    [Fact]
    public void Plants_that_waited_for_their_bed_are_not_picked_the_day_after_they_were_set_out() =>
        Assert.InRange(FirstPicking("crop: summer squash, start: sill", Scenario.Between(12, 24), ("start-indoors", 62), ("set-out", 1)), new(2026, 7, 7), new(2026, 7, 20));

    [Fact]
    public void In_cold_weather_a_packets_days_count_in_part()
    {
        LocalDate warm = FirstPicking("crop: radish", Scenario.Between(10, 20), ("sow", 20)), cold = FirstPicking("crop: radish", Scenario.Between(3, 11), ("sow", 20));

        // 25 days after sowing at the soonest.
        Assert.Equal(new(2026, 6, 29), warm);
        Assert.InRange(Period.DaysBetween(warm, cold), 5, 60);
    }
}

using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>What rain decides, from the plan to the words of the digest. Situations of the trade, by their numbers; the weather is invented.</summary>
public sealed class RainAndGranules
{
    [Fact]
    public void S02_Downpour()
    {
        var told = Morning.Of(Scenes.ADownpour());

        foreach (string subject in (string[])["pellets", "feed"])
        {
            var job = told.The(JobKind.Spread, subject);
            Assert.Equal(Standing.Soon, job.Standing);
            Assert.StartsWith("Not today: 40\u00A0mm of rain", job.Reasons[0].Text, StringComparison.Ordinal);
            Assert.True(told.DateOf(job.Best!.Value.From) > told.Agenda.Date);
        }
        Assert.Contains("Spread slug pellets (low bed), tomorrow", told.Text, StringComparison.Ordinal);
        Assert.Contains("40 mm of rain in the next 24 hours, at most 15 mm wanted", told.Text, StringComparison.Ordinal);
        Assert.Contains("Spread granular feed (low bed), Saturday", told.Text, StringComparison.Ordinal);
        Assert.Contains("40 mm of rain in the next 24 hours, 6 to 20 mm wanted", told.Text, StringComparison.Ordinal);
        Assert.Contains("nothing to do", told.Subject, StringComparison.Ordinal);
        Assert.DoesNotContain("by hand", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S03_Gentle_rain_after_the_slot()
    {
        var told = Morning.Of(Scenes.GentleRainAfterTheSlot());
        var feed = told.The(JobKind.Spread, "feed");

        Assert.Equal(Standing.Now, feed.Standing);
        Assert.Equal(new LocalTime(7, 30), told.TimeOf(feed.ActBy!.Value));
        Assert.Equal(0.8, feed.Chance!.Value.Value, 0.001);
        Assert.Contains("spread granular feed by 07:30", told.Subject, StringComparison.Ordinal);
        Assert.Contains("9 mm of rain in the next 24 hours", told.Text, StringComparison.Ordinal);
        Assert.Contains("Chance 8 in 10", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("by 13:00", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(feed.Windows, window => told.DateOf(window.From) == told.Agenda.Date && told.TimeOf(window.From) >= new LocalTime(12, 0));
    }

    [Fact]
    public void S04_No_rain_in_sight()
    {
        var told = Morning.Of(Scenes.NoRainInSight());

        Assert.Equal(Standing.Now, told.The(JobKind.Spread, "feed").Standing);
        Assert.Contains("water in with 10 mm by hand; that is 40 litres for this bed", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Spread granular feed", told.Section("Waiting"), StringComparison.Ordinal);

        var unsized = Morning.Of(Scenes.NoRainInSight(size: ""));
        Assert.Contains("that is 10 litres for each square metre", unsized.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("for this bed", unsized.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S10_Pots_and_bed_after_4_mm()
    {
        var told = Morning.Of(Scenes.PotsAndBedAfterFourMillimetres());
        var water = told.The(JobKind.Water);

        Assert.Equal(("tub", Standing.Now), (water.BedId, water.Standing));
        Assert.Contains("Of the 4 mm of rain in two days the leaves kept much off the pot", told.Text, StringComparison.Ordinal);
        Assert.InRange(told.Agenda.Beds.Single(bed => bed.Id == "kitchen-bed").WaterDeficitMm!.Value, 6, 14);
        Assert.Null(told.Agenda.Beds.Single(bed => bed.Id == "kitchen-bed").WaterToGiveLitres);
        Assert.Contains("Water the tub", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Water the kitchen bed", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("litres", told.Section("Ground").Split("Tub:")[0], StringComparison.Ordinal);
    }

    [Fact]
    public void S18_Spray_waits()
    {
        var told = Morning.Of(Scenes.SprayWaits());
        var spray = told.The(JobKind.Spray);

        Assert.Equal(Standing.Soon, spray.Standing);
        Assert.Equal(new LocalDate(2026, 6, 19), told.DateOf(spray.Best!.Value.From));
        Assert.InRange(told.TimeOf(spray.Best.Value.From), new LocalTime(6, 0), new LocalTime(6, 30));
        Assert.True(told.TimeOf(spray.Best.Value.Until) <= new LocalTime(8, 0));
        Assert.Contains("no rain in the next 2 hours", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("The product label and local rules decide", told.Text, StringComparison.Ordinal);
        Assert.Contains("bees", told.Text, StringComparison.Ordinal);
        // Neither the windy afternoon nor the still dusk.
        Assert.DoesNotContain(spray.Windows, window => told.DateOf(window.From) == told.Agenda.Date);
        Assert.DoesNotContain("spray", told.Subject, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S18_In_a_still_morning_nothing_is_sprayed_at_all()
    {
        var spray = Morning.Of(Scenes.SprayWaits(morningWind: 0.3)).The(JobKind.Spray);

        Assert.Equal(Standing.Waiting, spray.Standing);
        Assert.Empty(spray.Windows);
    }
}

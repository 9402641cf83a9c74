using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>When to sow and to set out, from the plan to the words of the digest. Situations of the trade, by their numbers; the weather is invented.</summary>
public sealed class SowingAndSettingOut
{
    [Fact]
    public void S06_Warm_soil_cold_week()
    {
        var told = Morning.Of(Scenes.WarmSoilColdWeek());
        var job = told.The(JobKind.SetOut);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains("Coldest air of the next 7 nights 4 of 9 °C", told.Text, StringComparison.Ordinal);
        Assert.Contains("Met: soil", told.Text, StringComparison.Ordinal);
        Assert.NotNull(job.Likely);
        Assert.Contains("Set out the winter squash (low bed), likely", told.Text, StringComparison.Ordinal);
        Assert.Contains("pot up once", told.Text, StringComparison.Ordinal);
        Assert.Contains("nothing to do", told.Subject, StringComparison.Ordinal);
        Assert.DoesNotContain("frost", told.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S07_Warm_nights_cold_soil()
    {
        var told = Morning.Of(Scenes.WarmNightsColdSoil());
        var job = told.The(JobKind.SetOut);

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains("Soil 13 of 15.6 °C at 10 cm", told.Text, StringComparison.Ordinal);
        Assert.Contains("film or a cloche on the bed brings it about a week forward", told.Text, StringComparison.Ordinal);
        Assert.Contains("Met: coldest air of the next 7 nights 10 °C", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(job.Needs, need => need.Condition.StartsWith("air low", StringComparison.Ordinal) && need.Holds != true);
        Assert.DoesNotContain("too cold", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S08_South()
    {
        var told = Morning.Of(Scenes.South());

        Assert.Equal(Standing.Now, told.The(JobKind.Sow, "carrots").Standing);
        Assert.Equal(Standing.Now, told.The(JobKind.Sow, "potatoes").Standing);
        Assert.Contains("Sow carrots", told.Section("Today suits"), StringComparison.Ordinal);
        Assert.Contains("Plant potatoes", told.Section("Today suits"), StringComparison.Ordinal);
        Assert.Equal(Standing.Waiting, told.The(JobKind.StartIndoors, "tomatoes").Standing);
        // The first autumn frost is in autumn, so what it ends is far off, and warmth is summed from the south's own midwinter or spring.
        var frost = told.The(JobKind.Other, "fleece-list").Needs.Single(need => need.Condition.Contains("first autumn frost", StringComparison.Ordinal));
        Assert.InRange(frost.Value!.Value, 150, 260);
        string flight = Morning.Of(Scenes.South(new(2023, 11, 20))).The(JobKind.Net, "early-carrots").Reasons.Single(reason => reason.Code == "flight").Text;
        Assert.Matches("(October|November|December)", flight);

        Assert.DoesNotContain(told.Agenda.Jobs, job => job.Kind is JobKind.SowGreenCover or JobKind.Clear or JobKind.Prepare or JobKind.OrderSeed or JobKind.Drain || job.Standing == Standing.Missed);
        Assert.DoesNotContain("autumn", told.Section("Today suits"), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("1 January", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S09_Lettuce_in_a_heat_wave()
    {
        var told = Morning.Of(Scenes.LettuceInAHeatWave());

        Assert.Contains("too hot to come up now", told.Text, StringComparison.Ordinal);
        Assert.Contains("of 27 °C at most", told.Text, StringComparison.Ordinal);
        Assert.Contains("shade it and water at noon, the seed is not lost; look when it cools", told.Text, StringComparison.Ordinal);
        Assert.Equal(Standing.Waiting, told.The(JobKind.Sow).Standing);
        Assert.Contains("in heat sow at dusk and shade the row", told.Text, StringComparison.Ordinal);

        var row = Assert.Single(told.Agenda.Sowings);
        Assert.Equal("sown", row.Stage);
        Assert.DoesNotContain("; up ", row.Sentence, StringComparison.Ordinal);
        Assert.False(told.Asks(JobKind.Sow));
    }

    [Fact]
    public void S24_Spinach_in_long_light()
    {
        var told = Morning.Of(Scenes.SpinachInLongLight());
        var next = told.The(JobKind.Sow);

        Assert.Equal(Standing.Waiting, next.Standing);
        Assert.Contains("14.4 hours of daylight today, above 14 hours blocks it", told.Text, StringComparison.Ordinal);
        Assert.Contains("sow chard instead", told.Text, StringComparison.Ordinal);
        Assert.Contains("Sow spinach, batch 2 (low bed), likely 13 August", told.Text, StringComparison.Ordinal); // when the days are short enough again
        Assert.DoesNotContain("missed", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("too late", told.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S25_Seed_maggots()
    {
        var told = Morning.Of(Scenes.SeedMaggots());
        var job = told.The(JobKind.Sow);

        // 190 °C days above 3.9 °C are gathered, 10.6 a day are added: 225 are there in three to four days.
        Assert.Equal(Standing.Waiting, job.Standing);
        var flies = Assert.Single(job.Needs, need => need.Condition == "seed flies over");
        Assert.InRange(flies.Likely!.Start, new LocalDate(2026, 5, 7), new LocalDate(2026, 5, 9));
        Assert.Contains("wait so long, sow in pots, or net the row the hour it is sown", told.Text, StringComparison.Ordinal);
        Assert.All(job.Needs.Where(need => need != flies), need => Assert.True(need.Holds, need.Sentence)); // soil and nights would do
        Assert.DoesNotContain("ideal", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.False(told.Asks(JobKind.Sow));
    }
}

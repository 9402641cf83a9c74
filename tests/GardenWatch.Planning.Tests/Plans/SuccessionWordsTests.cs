using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Plans;

/// <summary>What <c>sowings:</c> may say, and what an old hand would remark on a plan.</summary>
public class SuccessionWordsTests
{
    private static PlanReading Read(string rest, LocalDate? today = null) => PlanFileTests.Read("""
        garden: Home
        id: home
        units: metric
        place: { town: Here, latitude: 50, longitude: 10 }
        digest: { to: [you@example.org] }

        """ + rest, today: today);

    private static Succession SowingsOf(string words) =>
        Assert.Single(Read($"beds: [ {{ bed: one }} ]\nplantings:\n  - {{ crop: radish, bed: one, sowings: {words} }}").Plan!.Plantings).Sowings!;

    [Theory]
    [InlineData("every 10 days until too warm", 10, null, true, false)]
    [InlineData("every 10 days", 10, null, false, false)]
    [InlineData("3 every 2 weeks", 14, 3, false, false)]
    [InlineData("every 2 weeks, 3 times", 14, 3, false, false)]
    [InlineData("3 times", 7, 3, false, false)] // the radish's own interval, a seed-trade chart's 7 days
    [InlineData("three times", 7, 3, false, false)]
    [InlineData("until too warm", 7, null, true, false)]
    [InlineData("4 every 2 weeks for even harvests", 14, 4, false, true)]
    [InlineData("every 10 days for an even supply until it gets too hot", 10, null, true, true)]
    [InlineData("every 10 days until too warm, evenly", 10, null, true, true)]
    public void Sowings_read_as_gardeners_say_them(string words, int everyDays, int? batches, bool untilWarm, bool evenly) =>
        Assert.Equal(new Succession(everyDays, batches, untilWarm) { ForEvenHarvests = evenly }, SowingsOf($"\"{words}\""));

    [Theory]
    [InlineData("often")]
    [InlineData("now and then")]
    [InlineData("51 times")]
    [InlineData("0 every 2 weeks")]
    public void What_does_not_say_how_often_is_told_with_what_to_write(string words)
    {
        var reading = Read($"beds: [ {{ bed: one }} ]\nplantings:\n  - {{ crop: radish, bed: one, sowings: {words} }}");
        Assert.Null(reading.Plan);
        Assert.NotNull(Assert.Single(reading.Faults).Instead);
    }

    [Fact]
    public void The_same_family_after_itself_is_remarked_on_and_still_a_plan()
    {
        var reading = Read("""
            beds: [ { bed: one } ]
            plantings:
              - { crop: radish, bed: one, id: first }
              - { crop: kale, bed: one, after: first }
            """);
        Assert.NotNull(reading.Plan);
        Assert.Contains(reading.Remarks, remark => remark.Problem.Contains("kale follow radishes of the same family in one", StringComparison.Ordinal)
            && remark.Instead!.Contains("3\u00A0years", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_family_a_year_later_is_remarked_on_by_what_the_plan_says_was_sown_last_year()
    {
        const string Beds = """
            beds: [ { bed: one }, { bed: two } ]
            plantings:
              - { crop: potato, bed: one, sown: April 2025 }

            """;
        var today = new LocalDate(2026, 4, 1);
        Assert.Contains(Read(Beds + "  - { crop: tomato, bed: one, bought: May 2026 }", today).Remarks, remark => remark.Problem.Contains("after 1\u00A0year", StringComparison.Ordinal));
        Assert.DoesNotContain(Read(Beds + "  - { crop: tomato, bed: two, bought: May 2026 }", today).Remarks, remark => remark.Problem.Contains("same family", StringComparison.Ordinal));
        Assert.DoesNotContain(Read(Beds + "  - { crop: carrot, bed: one, sown: May 2026 }", today).Remarks, remark => remark.Problem.Contains("same family", StringComparison.Ordinal));
    }

    [Fact]
    public void More_plants_than_the_bed_has_room_for_are_remarked_on()
    {
        var reading = Read("""
            beds: [ { bed: one, size: 1 m x 2 m } ]
            plantings:
              - { crop: tomato, bed: one, bought: mid May, plants: 20 }
            """);
        Assert.NotNull(reading.Plan);
        Assert.Contains(reading.Remarks, remark => remark.Problem.Contains("20 tomatoes want", StringComparison.Ordinal) && remark.Problem.Contains("one has 2 m²", StringComparison.Ordinal));
        Assert.DoesNotContain(Read("""
            beds: [ { bed: one, size: 1 m x 2 m } ]
            plantings:
              - { crop: tomato, bed: one, bought: mid May, plants: 4 }
            """).Remarks, remark => remark.Problem.Contains("want", StringComparison.Ordinal));
    }

    [Fact]
    public void Neighbours_that_share_a_blight_are_remarked_on_once()
    {
        var reading = Read("""
            beds: [ { bed: one } ]
            plantings:
              - { crop: potato, bed: one }
              - { crop: tomato, bed: one, bought: mid May }
            """);
        Assert.Single(reading.Remarks, remark => remark.Problem.Contains("late blight", StringComparison.Ordinal));
    }
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>A cover that is recorded as on stays on through lasting frost without being asked for again. The weather is invented.</summary>
public class LyingCoverSituations
{
    private const string Id = "mill-bank/kale-low-bed/cover/1";

    /// <summary>Kale under fleece, whose leaves bear -4 °C, in frost that lasts by day as well.</summary>
    private static Scenario Frost(double low, double high, string crop = "kale") => Scenario.On(2026, 12, 7).Plan($$"""
        beds:
          - { bed: low bed, size: 1.2 m x 2.4 m, cover: heavy fleece }
        plantings:
          - { crop: {{crop}}, bed: low bed, set out: 15 August 2026 }
        """)
        .ClearAndCalm().Hourly(WeatherVariable.Radiation, _ => 40).Hourly(WeatherVariable.Air, Scenario.Between(low, high));

    private static Job? Cover(Agenda agenda) => agenda.Jobs.SingleOrDefault(job => job.Kind == JobKind.Cover && job.Standing == Standing.Now);

    private static string Noted(Agenda agenda) => string.Join(" ", agenda.Notes);

    [Theory]
    [InlineData(-3, 1, 1)]
    [InlineData(-3, 1, 6)] // nobody answered since, and no day was warm enough to take it off
    [InlineData(-3, 7, 1)]
    public void Kale_that_lies_covered_is_not_asked_for_again_while_its_cover_is_enough(double low, double high, int daysAgo)
    {
        Assert.NotNull(Cover(Frost(low, high).At())); // without a cover it is

        var agenda = Frost(low, high).Done(Id, daysAgo).At();
        Assert.Null(Cover(agenda));
        Assert.DoesNotContain(agenda.Jobs, job => job.Kind == JobKind.Uncover);
        Assert.Single(agenda.Notes, note => note.Contains("cover on the kale", StringComparison.Ordinal));
    }

    [Fact]
    public void A_night_colder_than_the_cover_bears_is_asked_for()
    {
        var agenda = Frost(-3, 1).Days(WeatherVariable.Air, 1, 1, Scenario.Between(-12, -4)).Done(Id, daysAgo: 2).At();

        Assert.Contains(Cover(agenda)!.Reasons, reason => reason.Code == "cover-worth");
        Assert.DoesNotContain("cover on the kale", Noted(agenda), StringComparison.Ordinal);
    }

    [Fact]
    public void A_night_no_colder_than_one_it_has_lain_through_is_not()
    {
        Assert.Null(Cover(Frost(-12, -4).Done(Id, daysAgo: 2).At()));
        Assert.NotNull(Cover(Frost(-9, -4).Days(WeatherVariable.Air, 1, 1, Scenario.Between(-12, -4)).Done(Id, daysAgo: 2).At()));
    }

    [Fact]
    public void After_a_warm_day_it_is_taken_as_off_again() =>
        Assert.NotNull(Cover(Frost(-3, 1).Days(WeatherVariable.Air, -3, -3, Scenario.Between(8, 19)).Done(Id, daysAgo: 6).At()));

    [Fact]
    public void What_was_uncovered_is_asked_for() =>
        Assert.NotNull(Cover(Frost(-3, 1).Done(Id, daysAgo: 2).Done("mill-bank/kale-low-bed/uncover/1", daysAgo: 1).At()));

    [Theory]
    [InlineData("{ weekdays: 06:00-07:30 and 17:30-20:30 }", "before you are back at 17:30")]
    [InlineData("{ weekdays: 06:00-07:30 }", "You are not there in the evening")]
    public void What_is_struck_before_the_gardener_is_back_is_covered_in_the_morning_and_told_why(string hours, string said)
    {
        var cover = Cover(Scenario.On(2026, 12, 7).Plan("""
            beds: [ { bed: low bed, cover: heavy fleece } ]
            plantings: [ { crop: kale, bed: low bed, set out: 15 August 2026 } ]
            """, hours).ClearAndCalm().Hourly(WeatherVariable.Radiation, _ => 40).Hourly(WeatherVariable.Air, time => time.Hour is >= 9 and < 14 ? 3 : -9).At())!;

        Assert.Equal(new(7, 30), Scenario.Calendar.TimeOf(cover.ActBy!.Value));
        Assert.Contains(cover.Reasons, reason => reason.Text.Contains(said, StringComparison.Ordinal));
    }
}

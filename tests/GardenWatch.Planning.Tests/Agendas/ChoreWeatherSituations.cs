using GardenWatch.Agronomy.RainTiming;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>The weather that comes with a kind of chore, whatever its gardener wrote. The weather is invented.</summary>
public class ChoreWeatherSituations
{
    private const string AllDay = "{ weekdays: 06:00-20:00, weekends: 06:00-20:00 }";

    private static Scenario Of(string chore, int day = 10) => Scenario.On(2026, 6, day).Plan($"""
        beds:
          - bed: low bed
            soil: loam
        chores:
          - chore: {chore}
            bed: low bed
        """, AllDay);

    private static Job The(Agenda agenda, JobKind kind) => Assert.Single(agenda.Jobs, job => job.Kind == kind);

    [Theory]
    [InlineData("Spread lime", "runs off", "R049", false)]
    [InlineData("Spread lime", "washes off", "R014", false)]
    [InlineData("Spread lime", "spread wind", "R026", true)]
    [InlineData("Feed with liquid manure", "washes off", "R014", false)]
    [InlineData("Spray winter oil", "spray calm", "R024", false)]
    [InlineData("Spray winter oil", "spray wind", "R024", true)]
    [InlineData("Spray winter oil", "spray heat", "R028", true)]
    [InlineData("Spray winter oil", "spray cold", "R029", false)]
    [InlineData("Spray soap", "spray heat", "R031", true)]
    [InlineData("Spray wettable sulphur", "spray heat", "R032", true)]
    [InlineData("Prepare the seedbed", "wet ground", "R071", false)]
    public void A_chores_own_limits_are_those_of_the_rain_rules(string chore, string number, string rule, bool most)
    {
        var plan = Of(chore).ReadPlan();
        double own = JobNumbers.Of(plan.Chores[0]).Single(n => n.Name == number).InForce.Value;
        double printed = most ? RainRule.Of(rule).Max : RainRule.Of(rule).Min;
        Assert.Equal(printed, own, tolerance: 0.035 * printed); // °F, inches and miles an hour, rounded
    }

    [Fact]
    public void Lime_stays_in_the_bag_before_a_downpour_and_in_wind()
    {
        Assert.Equal(Standing.Now, The(Of("Spread lime").At(), JobKind.Spread).Standing);

        var downpour = The(Of("Spread lime").Days(WeatherVariable.Rain, 0, 0, at => at.Hour is 19 ? 9 : 0).At(), JobKind.Spread);
        Assert.Equal(Standing.Soon, downpour.Standing);

        var windy = The(Of("Spread lime").Hourly(WeatherVariable.Wind, _ => 7).At(), JobKind.Spread);
        Assert.Equal(Standing.Waiting, windy.Standing);
    }

    [Fact]
    public void A_limit_of_the_gardeners_own_stands_alone()
    {
        var plan = Scenario.On(2026, 6, 10).Plan("""
            chores:
              - chore: Spread lime
                when: ["rain total next 24 hours between {enough: 6 mm} and {too much: 40 mm}", 'rain peak next 24 hours at most {hard: 12 mm/h}']
            """).ReadPlan();
        Assert.Equal(["enough", "hard", "soaked", "spread wind", "too much"], JobNumbers.Of(plan.Chores[0]).Select(number => number.Name));
    }

    [Fact]
    public void Oil_and_soap_wait_for_a_cooler_day_and_water_does_not()
    {
        Scenario Hot(string chore) => Of(chore).Days(WeatherVariable.Air, 0, 0, Scenario.Between(24, 35));
        Assert.Equal(Standing.Soon, The(Hot("Spray soap against aphids").At(), JobKind.Spray).Standing);
        Assert.Equal(Standing.Now, The(Hot("Spray seaweed").At(), JobKind.Spray).Standing);
    }

    [Fact]
    public void Ground_that_was_soaked_is_not_dug()
    {
        Scenario Dug(double mm) => Of("Prepare the seedbed").Hourly(WeatherVariable.ReferenceEvapotranspiration, _ => 0.1)
            .Days(WeatherVariable.Rain, -25, -25, _ => 4).Days(WeatherVariable.Rain, -1, -1, _ => mm);
        Assert.Equal(Standing.Now, The(Dug(0).At(), JobKind.Prepare).Standing);

        var wet = The(Dug(4).At(), JobKind.Prepare);
        Assert.NotEqual(Standing.Now, wet.Standing);
    }

    private const string Spray = "mill-bank/spray-repellent-low-bed/spray/1";

    private static Scenario Sprayed(double mm) => Scenario.On(2026, 6, 10).Plan("""
        beds:
          - bed: low bed
        chores:
          - chore: Spray repellent
            bed: low bed
            every: 28 days
        """, AllDay).Done(Spray, daysAgo: 14).Days(WeatherVariable.Rain, -6, -6, _ => mm / 24);

    [Fact]
    public void Little_rain_leaves_a_repellent_its_weeks() =>
        Assert.DoesNotContain(Sprayed(20).At().Jobs, job => job.Kind == JobKind.Spray);

    [Fact]
    public void Some_rain_halves_the_days_that_were_left()
    {
        // Sprayed on 27 May for 24 June; washed on 4 June, so half of the twenty days left: 14 June.
        var job = The(Sprayed(30).At(), JobKind.Spray);
        Assert.Equal(Standing.Soon, job.Standing);
        Assert.Equal(new LocalDate(2026, 6, 14), Scenario.Calendar.DateOf(job.Best!.Value.From));
    }

    [Fact]
    public void Much_rain_takes_it_off_and_the_label_has_the_last_word()
    {
        var job = The(Sprayed(60).At(), JobKind.Spray);
        Assert.Equal(Standing.Now, job.Standing);
        string why = Assert.Single(job.Reasons, reason => reason.Code == "washed-off").Text;
        Assert.Contains("60\u00A0mm of rain since 27 May", why, StringComparison.Ordinal);
        Assert.Contains("label", why, StringComparison.Ordinal);
    }

    [Fact]
    public void Under_glass_no_rain_takes_it_off() => Assert.DoesNotContain(
        Scenario.On(2026, 6, 10).Plan("""
            beds:
              - { bed: low bed, over: greenhouse }
            chores:
              - chore: Spray repellent
                bed: low bed
                every: 28 days
            """, AllDay).Done(Spray, daysAgo: 14).Days(WeatherVariable.Rain, -6, -6, _ => 2.5).At().Jobs, job => job.Kind == JobKind.Spray);
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tests.Agendas;

namespace GardenWatch.Planning.Tests.Explanations;

/// <summary>Why a job of the year, a watering or a look is asked for or not, and by which numbers. The weather is invented.</summary>
public sealed class YearAndLookExplanations
{
    private const string Garden = """
        tune: { water: { chance: 40 % }, drain: { hard frost: -3 °C }, look: { mite heat: 26 °C } }
        beds:
          - { bed: low bed, soil: loam }
        plantings:
          - { crop: cucumber, bed: low bed, set out: 20 May 2026 }
        """;

    private static Scenario On(int month, int day) => Scenario.On(2026, month, day).Plan(Garden);

    [Theory]
    [InlineData("order seed", "mill-bank/seed/order-seed")]
    [InlineData("sharpen spade", "mill-bank/tools/clean")]
    [InlineData("drain the hose", "mill-bank/water/drain")]
    [InlineData("bare soil", "mill-bank/low-bed/mulch")]
    public void A_job_of_the_year_is_known_by_its_name(string asked, string id) => Assert.Equal(id, On(6, 10).Explain(asked).Job.Id);

    [Fact]
    public void It_is_explained_by_the_phrases_of_its_time_and_its_weather()
    {
        var drain = On(11, 5).Explain("drain the hose");
        var condition = Assert.Single(drain.Conditions);
        Assert.Contains("hard frost: -3", condition.Phrase, StringComparison.Ordinal);
        Assert.Equal(-2, drain.Numbers.Single(number => number.Name == "hard frost").Unchanged.Value);
        Assert.Equal(28, drain.Days.Length);

        var order = On(6, 10).Explain("order seed");
        Assert.Equal(["chance", "earliest", "latest"], order.Numbers.Select(number => number.Name).Order(StringComparer.Ordinal));
        Assert.Null(order.Open);
    }

    [Fact]
    public void The_hose_is_drained_by_the_gardeners_own_frost()
    {
        Scenario Night(double low) => On(11, 5).Days(WeatherVariable.Air, 1, 3, Scenario.Between(low, 8));
        Assert.DoesNotContain(Night(-2.5).At().Jobs, job => job.Kind == JobKind.Drain);
        Assert.Contains(Night(-3.5).At().Jobs, job => job.Kind == JobKind.Drain);
        Assert.Equal(Standing.Now, Night(-3.5).Explain("drain the hose").Open!.Standing);
    }

    [Fact]
    public void Tried_numbers_reach_it_too()
    {
        var tried = On(11, 5).Days(WeatherVariable.Air, 1, 3, Scenario.Between(-2.5, 8)).Explain("drain the hose", ("hard frost", new Quantity(-2, Dimension.Temperature)));
        Assert.NotNull(tried.Open);
    }

    [Fact]
    public void A_watering_has_its_chance_and_a_look_its_numbers()
    {
        var water = On(6, 10).Explain("water low bed");
        Assert.Equal(0.4, water.Rule.LeastShare, tolerance: 1e-9);
        Assert.Equal(0.2, water.Numbers.Single(number => number.Name == "chance").Unchanged.Value, tolerance: 1e-9);

        var look = On(6, 10).Explain("look cucumbers");
        Assert.Equal((26, 28), (look.Numbers.Single(number => number.Name == "mite heat").InForce.Value, look.Numbers.Single(number => number.Name == "mite heat").Unchanged.Value));
    }

    [Fact]
    public void A_look_goes_by_the_gardeners_own_number()
    {
        Scenario Warm(double high) => On(7, 20).Hourly(WeatherVariable.Air, Scenario.Between(15, high));
        bool Mites(Scenario scenario) => scenario.At().Jobs.Any(job => job.Kind == JobKind.Look && job.Reasons.Any(reason => reason.Text.Contains("spider mites", StringComparison.Ordinal)));
        Assert.True(Mites(Warm(27)));
        Assert.False(Mites(Warm(25)));
    }
}

using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>Packets of past years, by the plan's <c>seed of:</c>. Carrot seed keeps 3 years (Knott's Handbook 1997).</summary>
public class SeedAgeSituations
{
    private static Scenario Carrots(int year) => Scenario.On(2026, 5, 20).Plan($$"""
        beds:
          - { bed: long bed, soil: loam }
        plantings:
          - { crop: carrot, bed: long bed, seed of: {{year}} }
        """).Hourly(WeatherVariable.Air, Scenario.Between(10, 20));

    private static Job Sowing(Agenda agenda) => Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Sow);

    [Theory]
    [InlineData(2026)]
    [InlineData(2025)]
    public void Fresh_seed_is_sown_without_a_word(int year) =>
        Assert.DoesNotContain(Sowing(Carrots(year).At()).Reasons, reason => reason.Code == "seed-age");

    [Theory]
    [InlineData(2024, "a third thicker")] // 0.90, 0.80 after a year, 0.67 after two
    [InlineData(2023, "twice as thick")] // half of a good lot
    [InlineData(2021, "buy fresh")]
    public void Old_seed_is_sown_thicker_and_what_is_past_its_time_bought(int year, string advice)
    {
        string why = Assert.Single(Sowing(Carrots(year).At()).Reasons, reason => reason.Code == "seed-age").Text;
        Assert.Contains(advice, why, StringComparison.Ordinal);
        Assert.Contains($"Seed of {year}", why, StringComparison.Ordinal);
    }
}

using System.Globalization;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tests.Agendas;

namespace GardenWatch.Planning.Tests.Crops;

/// <summary>Flowers and pods are lost to less frost than leaves are; where they are the harvest, the cover comes in time for them.</summary>
public sealed class BlossomFrostTests
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);

    [Fact]
    public void Flowers_and_set_fruit_bear_what_is_published()
    {
        foreach (string[] row in File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "blossom_lows.csv")).Skip(2).Select(line => line.Split(',')))
        {
            var lows = Shelf.Find(row[0])!.CriticalLows;
            Assert.Equal(Celsius(row[1]), lows[FrostStage.Flowers].Celsius, 0.06);
            if (row[2].Length > 0)
                Assert.Equal(Celsius(row[2]), lows[FrostStage.Fruit].Celsius, 0.06);
        }
    }

    [Fact]
    public void What_is_grown_for_fruit_is_covered_before_flowers_or_fruit_are_harmed()
    {
        var grownForFruit = Shelf.Crops.Where(crop => crop.CriticalLows.ContainsKey(FrostStage.Fruit) && crop.Jobs.Any(job => job.Kind == JobKind.Cover)).ToList();
        Assert.True(grownForFruit.Count >= 20, $"{grownForFruit.Count} crops");
        foreach (var crop in grownForFruit)
        {
            var numbers = crop.Jobs.Single(job => job.Kind == JobKind.Cover).Numbers;
            double covered = numbers.TryGetValue("blossom", out var blossom) ? Math.Max(blossom.Value, crop.LeafLimit.Celsius) : crop.LeafLimit.Celsius;
            foreach (var part in (FrostStage[])[FrostStage.Flowers, FrostStage.Fruit])
                Assert.True(covered >= crop.CriticalLows[part].Celsius, $"{crop.Name}: {part} are harmed at {crop.CriticalLows[part].Celsius} °C, covered at {covered} °C");
        }
    }

    /// <summary>Leaves of these nights lie between what the flowers bear and what the leaves bear.</summary>
    [Theory]
    [InlineData("pea", "1 March 2026", true)]
    [InlineData("pea", "20 April 2026", false)]
    [InlineData("broad bean", "1 March 2026", true)]
    [InlineData("broad bean", "20 April 2026", false)]
    public void Peas_and_beans_in_flower_are_covered_from_a_lighter_frost_than_young_ones(string crop, string sown, bool covered)
    {
        var night = MayNight(crop, $"sown: {sown}", crop == "pea" ? 5.2 : 1);
        double leaf = night.Week[0].LeafLowC!.Value;
        var profile = Shelf.Find(crop)!;
        Assert.InRange(leaf, profile.LeafLimit.Celsius + 0.1, profile.Jobs.Single(job => job.Kind == JobKind.Cover).Numbers["blossom"].Value);
        Assert.Equal(covered, night.Jobs.Any(job => job is { Kind: JobKind.Cover, Standing: Standing.Now }));
    }

    [Theory]
    [InlineData("blueberry")]
    [InlineData("gooseberry")]
    [InlineData("currant")]
    [InlineData("strawberry")]
    public void Bushes_in_flower_are_covered_when_their_fruit_would_be_lost(string crop)
    {
        var night = MayNight(crop, "set out: 5 May 2024", 5.2);
        Assert.True(night.Week[0].LeafLowC <= Shelf.Find(crop)!.CriticalLows.Where(low => low.Key is FrostStage.Flowers or FrostStage.Fruit).Max(low => low.Value.Celsius));
        Assert.Contains(night.Jobs, job => job is { Kind: JobKind.Cover, Standing: Standing.Now });
    }

    private static Agenda MayNight(string crop, string begun, double low) => Scenario.On(2026, 5, 7).Plan($$"""
        beds:
          - { bed: low bed, size: 1.2 m x 2.4 m, cover: light fleece }
        plantings:
          - { crop: {{crop}}, bed: low bed, {{begun}} }
        """).ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(low + 6, low + 16)).Days(WeatherVariable.Air, 0, 1, Scenario.Between(low, low + 10)).At();

    private static double Celsius(string fahrenheit) => (double.Parse(fahrenheit, CultureInfo.InvariantCulture) - 32) / 1.8;
}

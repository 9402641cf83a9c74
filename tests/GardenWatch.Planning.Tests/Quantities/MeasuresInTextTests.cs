using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tests.Quantities;

public sealed class MeasuresInTextTests
{
    [Theory]
    [InlineData("1 cm deep in a fine drill.", "3/8 in deep in a fine drill.")]
    [InlineData("On the surface or 3 mm deep, 18 to 24 °C.", "On the surface or 1/8 in deep, 64 to 75 °F.")]
    [InlineData("Double row, 3 to 5 cm apart, 4 cm deep.", "Double row, 1 1/4 to 2 in apart, 1 1/2 in deep.")]
    [InlineData("Sprouts up, 10 cm deep, 30 cm apart", "Sprouts up, 4 in deep, 12 in apart")]
    [InlineData("Rows 1.5 m apart; 10 litres each", "Rows 5 ft apart; 2.5 gallons each")]
    [InlineData("below 24 °C or the seed sleeps", "below 75 °F or the seed sleeps")]
    [InlineData("within 3 days, 2 m/s, 5 m², 1 mm/h, 30 minutes", "within 3 days, 2 m/s, 5 m², 1 mm/h, 30 minutes")]
    public void Advice_is_said_in_the_gardens_own_units(string written, string us)
    {
        Assert.Equal(us, MeasuresInText.Spoken(written, UnitSystem.Us));
        Assert.Equal(written, MeasuresInText.Spoken(written, UnitSystem.Metric));
    }

    [Fact]
    public void No_shipped_advice_speaks_metric_in_a_us_garden()
    {
        var jobs = CropShelf.Shipped(ConditionText.Read).Crops.SelectMany(crop => crop.Jobs).ToList();
        Assert.NotEmpty(jobs);

        Assert.All(jobs.SelectMany(job => new[] { job.How, job.Otherwise }).OfType<string>(),
            line => Assert.DoesNotMatch(@"\d[ \u00A0]?(mm|cm|m|°C|litres|kg|g)\b", MeasuresInText.Spoken(line, UnitSystem.Us)));
    }
}

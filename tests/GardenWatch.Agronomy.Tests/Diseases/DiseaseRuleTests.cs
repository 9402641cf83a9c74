using System.Text.Json;
using CsCheck;
using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

/// <summary>
/// Published rules at, just below and just above their limits. Rows of the file are named where they are checked. Not
/// reproduced: D152 (how well a tuned limit does, told in <see cref="LeafWetness"/>).
/// </summary>
public class DiseaseRuleTests
{
    private const string File = "disease-rules.csv";

    [Theory] // D001: both limits count
    [InlineData(10, 6, true)]
    [InlineData(9.99, 24, false)]
    [InlineData(10, 5, false)]
    public void Two_days_at_the_limits_make_a_period(double low, double humid, bool hutton) =>
        Assert.Equal(hutton, LateBlight.Hutton(new(low, humid), new(low, humid)));

    [Theory]
    [InlineData("D076", 13.0, 18.0)]
    [InlineData("D077", 18.1, 21.0)]
    [InlineData("D078", 21.1, 26.0)]
    [InlineData("D079", 26.1, 35.0)]
    public void Each_limit_that_is_passed_adds_a_value_in_the_continuous_bands(string id, double from, double until)
    {
        using var json = JsonDocument.Parse(PublishedTable.Case(File, "id", id)["inputs_json"]);
        double[] limits = [.. json.RootElement.GetProperty("wet_hours_must_exceed").EnumerateArray().Select(h => h.GetDouble())];
        foreach (double air in (double[])[from, (from + until) / 2, until])
        {
            for (int i = 0; i < limits.Length; i++)
            {
                Assert.Equal(i, EarlyBlight.Severity(limits[i], air));
                Assert.Equal(i + 1, EarlyBlight.Severity(limits[i] + 0.1, air));
            }
        }
        Assert.Equal(0, EarlyBlight.Severity(24, 12.9));
    }

    [Theory]
    [InlineData("D116", 4, 20, 22, true)]
    [InlineData("D116", 3.9, 20, 22, false)]
    [InlineData("D119", 5, 20.5, 21, false)]
    [InlineData("D120", 5, 16, 23, false)]
    public void Lettuce_mildew_wants_a_cool_wet_morning(string id, double hours, double first, double next, bool expected)
    {
        Assert.NotNull(PublishedTable.Case(File, "id", id));
        Assert.Equal(expected, DownyMildew.LettuceByWarmth(hours, first, next));
    }

    [Theory]
    [InlineData("D121", 2, 20, Infection.Favoured)]
    [InlineData("D121", 2, 19.9, Infection.None)]
    [InlineData("D122", 6, 10, Infection.Possible)]
    [InlineData("D122", 6, 15, Infection.Favoured)]
    [InlineData("D122", 6, 9.9, Infection.None)]
    [InlineData("D123", 12, 5, Infection.Possible)]
    [InlineData("D123", 12, 10, Infection.Favoured)]
    [InlineData("D123", 12, 4.9, Infection.None)]
    [InlineData("D124", 24, 5, Infection.Favoured)]
    [InlineData("D124", 24, 20, Infection.Favoured)]
    [InlineData("D125", 1.9, 20, Infection.None)]
    [InlineData("D125", 12, 25, Infection.Possible)]
    [InlineData("D125", 12, 25.1, Infection.None)]
    public void Cucumber_mildew_wants_longer_wetness_in_the_cool(string id, double wet, double air, Infection expected)
    {
        Assert.NotNull(PublishedTable.Case(File, "id", id));
        Assert.Equal(expected, DownyMildew.Cucurbit(wet, air));
    }

    [Fact]
    public void Basils_mildew_keeps_its_limits()
    {
        Assert.True(DownyMildew.BasilInfection(4)); // D127
        Assert.False(DownyMildew.BasilInfection(3.9));
        Assert.True(DownyMildew.BasilSpores(7.5)); // D128
        Assert.False(DownyMildew.BasilSpores(7)); // D132
        Assert.True(DownyMildew.BasilSpores(8)); // D133
        Assert.True(DownyMildew.BasilWarmth(11.7)); // D129
        Assert.True(DownyMildew.BasilWarmth(25));
        Assert.False(DownyMildew.BasilWarmth(25.1));
        Assert.Null(DownyMildew.BasilSpores(double.NaN));
        Assert.Null(DownyMildew.Cucurbit(double.NaN, 18));
        Assert.Equal(Infection.None, DownyMildew.Cucurbit(double.NaN, 30)); // too warm whatever the wetness
    }
}

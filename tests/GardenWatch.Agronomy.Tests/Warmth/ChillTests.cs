using GardenWatch.Agronomy.Warmth;

namespace GardenWatch.Agronomy.Tests.Warmth;

public class ChillTests
{
    [Fact]
    public void Hours_between_freezing_and_seven_degrees_count()
    {
        Assert.Equal(4, Chill.Hours([-0.1, 0, 3, 7.2, 7.3, 5]));
        Assert.Equal(0, Chill.Hours([]));
    }

    [Fact]
    public void A_few_unknown_hours_count_as_the_known_and_many_make_it_unknown()
    {
        double[] hours = [.. Enumerable.Repeat(5.0, 18), .. Enumerable.Repeat(12.0, 4), double.NaN, double.NaN];
        Assert.Equal(18.0 * 24 / 22, Chill.Hours(hours), 1e-9);
        Assert.Equal(double.NaN, Chill.Hours([5, 5, double.NaN]));
    }

    [Theory]
    [InlineData(1.4, 0)] // Richardson, Seeley and Walker 1974, table of chill units
    [InlineData(1.5, 0.5)]
    [InlineData(2.4, 0.5)]
    [InlineData(2.5, 1)]
    [InlineData(9.1, 1)]
    [InlineData(9.2, 0.5)]
    [InlineData(12.4, 0.5)]
    [InlineData(12.5, 0)]
    [InlineData(15.9, 0)]
    [InlineData(16, -0.5)]
    [InlineData(18, -0.5)]
    [InlineData(18.1, -1)]
    public void An_hour_counts_as_the_Utah_model_says(double air, double units) => Assert.Equal(units, Chill.UtahUnits([air]));

    [Fact]
    public void Warm_hours_undo_chill_units_but_not_chill_hours()
    {
        double[] hours = [5, 5, 5, 20, 20];
        Assert.Equal(3, Chill.Hours(hours));
        Assert.Equal(1, Chill.UtahUnits(hours));
        Assert.Equal(double.NaN, Chill.UtahUnits([5, 5, double.NaN]));
    }

    [Fact]
    public void Air_that_cannot_be_is_an_error() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Chill.Hours([5, 1000]));
}

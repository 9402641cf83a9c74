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
}

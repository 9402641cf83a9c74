using CsCheck;
using GardenWatch.Agronomy.Seeds;
using MathNet.Numerics.Distributions;

namespace GardenWatch.Agronomy.Tests.Seeds;

public class SowingCountTests
{
    [Fact]
    public void The_number_is_the_fewest_that_the_binomial_distribution_allows() =>
        Gen.Select(Gen.Int[1, 120], Gen.Double[0.05, 1], Gen.Double[0.05, 0.999]).Sample((plants, share, certainty) =>
        {
            int seeds = Assert.NotNull(SowingCount.For(plants, share, certainty));
            Assert.True(AtLeast(plants, seeds) >= certainty - 1e-9);
            Assert.True(seeds == plants || AtLeast(plants, seeds - 1) < certainty + 1e-9);

            double AtLeast(int wanted, int sown) => 1 - Binomial.CDF(share, sown, wanted - 1);
        }, iter: 500);

    [Theory]
    [InlineData(1, 0.5, 0.9, 4)] // 1 - 0.5^4 = 0.94
    [InlineData(1, 0.8, 0.9, 2)] // two seeds to a station
    [InlineData(1, 0.7, 0.99, 4)]
    [InlineData(10, 1, 0.99, 10)]
    [InlineData(1, 1 / 9d, 1 / 9d, 1)] // exactly enough
    public void A_few_can_be_reckoned_by_hand(int plants, double share, double certainty, int seeds) =>
        Assert.Equal(seeds, SowingCount.For(plants, share, certainty));

    [Fact]
    public void For_one_plant_it_is_the_logarithms() =>
        Gen.Select(Gen.Double[0.05, 0.95], Gen.Double[0.1, 0.99]).Sample((share, certainty) =>
            Assert.Equal((int)Math.Ceiling(Math.Log(1 - certainty) / Math.Log(1 - share) - 1e-9), SowingCount.For(1, share, certainty)));

    [Fact]
    public void More_plants_worse_seed_or_more_certainty_never_want_fewer_seeds() =>
        Gen.Select(Gen.Int[1, 80], Gen.Double[0.1, 0.9], Gen.Double[0.1, 0.95]).Sample((plants, share, certainty) =>
        {
            int? seeds = SowingCount.For(plants, share, certainty);
            Assert.True(SowingCount.For(plants + 1, share, certainty) > seeds);
            Assert.True(SowingCount.For(plants, share + 0.1, certainty) <= seeds);
            Assert.True(SowingCount.For(plants, share, certainty + 0.04) >= seeds);
        });

    [Fact]
    public void A_whole_field_does_not_run_out_of_numbers()
    {
        int seeds = Assert.NotNull(SowingCount.For(10_000, 0.3, 0.9));
        Assert.InRange(seeds, 33_334, 34_500); // the mean is 33 333; nine in ten want 1.28 standard deviations more
        Assert.Equal(0.9, 1 - Normal.CDF(0.3 * seeds, Math.Sqrt(seeds * 0.3 * 0.7), 9999.5), 0.002);
    }

    [Fact]
    public void Of_dead_or_unknown_seed_no_number_is_enough()
    {
        Assert.Null(SowingCount.For(5, 0, 0.9));
        Assert.Null(SowingCount.For(5, double.NaN, 0.9));
    }

    [Theory]
    [InlineData(0, 0.8, 0.9)]
    [InlineData(5, 1.1, 0.9)]
    [InlineData(5, 0.8, 1)]
    [InlineData(5, 0.8, 0)]
    [InlineData(5, 0.8, double.NaN)]
    public void What_cannot_be_asked_is_an_error(int plants, double share, double certainty) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SowingCount.For(plants, share, certainty));
}

using CsCheck;
using GardenWatch.Agronomy.Seeds;
using MathNet.Numerics.Distributions;

namespace GardenWatch.Agronomy.Tests.Seeds;

public class GerminationTestTests
{
    [Theory]
    [InlineData(15, 20, 0.75, SeedWorth.SowThicker)] // worked example after Iowa State Univ. Extension 1999
    [InlineData(16, 20, 0.8, SeedWorth.SowAsUsual)]
    [InlineData(10, 20, 0.5, SeedWorth.SowThicker)]
    [InlineData(9, 20, 0.45, SeedWorth.BuyFresh)]
    public void What_sprouted_tells_the_share_and_what_to_do(int sprouted, int tested, double share, SeedWorth worth)
    {
        var test = new GerminationTest(sprouted, tested);
        Assert.Equal(share, test.Share, 1e-12);
        Assert.Equal(worth, test.Worth);
        Assert.Equal(1 / share, test.SowTimesAsThick, 1e-12);
    }

    [Fact]
    public void The_likely_share_solves_the_score_equation() =>
        // Wilson's interval is where the count lies 1.96 standard deviations off: asked of a statistics package.
        Gen.Select(Gen.Int[1, 100], Gen.Double[0, 1]).Sample((tested, part) =>
        {
            int sprouted = (int)Math.Round(part * tested);
            var test = new GerminationTest(sprouted, tested);
            double z = Normal.InvCDF(0, 1, 0.975);
            foreach (double bound in new[] { test.LikelyShare.Low, test.LikelyShare.High })
                if (bound is > 1e-9 and < 1 - 1e-9)
                    Assert.Equal(z, Math.Abs(test.Share - bound) / new Binomial(bound, tested).StdDev * tested, 1e-4);
            Assert.InRange(test.Share, test.LikelyShare.Low, test.LikelyShare.High);
        });

    [Fact]
    public void Fifteen_of_twenty_leave_much_open_and_none_of_twenty_does_not_mean_dead()
    {
        var (low, high) = new GerminationTest(15, 20).LikelyShare;
        Assert.Equal((0.531, 0.888), (Math.Round(low, 3), Math.Round(high, 3)));
        Assert.Equal(0, new GerminationTest(0, 20).LikelyShare.Low);
        Assert.InRange(new GerminationTest(0, 20).LikelyShare.High, 0.1, 0.2);
        Assert.Equal(double.PositiveInfinity, new GerminationTest(0, 20).SowTimesAsThick);
    }

    [Theory]
    [InlineData(21, 20)]
    [InlineData(-1, 20)]
    [InlineData(0, 0)]
    public void A_test_that_cannot_be_is_an_error(int sprouted, int tested) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new GerminationTest(sprouted, tested));
}

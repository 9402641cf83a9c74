using CsCheck;
using GardenWatch.Agronomy.Seeds;
using MathNet.Numerics.Distributions;

namespace GardenWatch.Agronomy.Tests.Seeds;

public class SeedViabilityTests
{
    [Fact]
    public void At_the_end_of_its_life_half_of_a_good_lot_lives() =>
        Gen.Int[1, 10].Sample(life => Assert.Equal(0.5, SeedViability.After(SeedViability.GoodFreshShare, life, life), 1e-6));

    [Fact]
    public void Seed_dies_as_the_equation_says() =>
        Gen.Select(Gen.Double[0.02, 0.99], Gen.Double[0, 12], Gen.Int[1, 10]).Sample((fresh, years, life) =>
        {
            double sigma = life / Normal.InvCDF(0, 1, 0.9);
            Assert.Equal(Normal.CDF(0, 1, Normal.InvCDF(0, 1, fresh) - years / sigma), SeedViability.After(fresh, years, life), 1e-6);
        });

    [Fact]
    public void Older_seed_never_germinates_better_and_longer_lived_seed_never_worse() =>
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 12], Gen.Double[0.5, 10], Gen.Double[0, 3]).Sample((fresh, years, life, more) =>
        {
            Assert.True(SeedViability.After(fresh, years + more, life) <= SeedViability.After(fresh, years, life) + 1e-9);
            Assert.True(SeedViability.After(fresh, years, life + more) >= SeedViability.After(fresh, years, life) - 1e-9);
            Assert.InRange(SeedViability.After(fresh, years, life), 0, 1);
        });

    [Fact] // The trade's rule that onion and parsnip want fresh seed each year; lives by Knott's Handbook 1997
    public void Onion_seed_is_for_one_year_and_lettuce_for_some()
    {
        Assert.Equal(SeedWorth.BuyFresh, SeedViability.WorthOf(SeedViability.After(0.9, 2, lifeYears: 1)));
        Assert.Equal(SeedWorth.SowAsUsual, SeedViability.WorthOf(SeedViability.After(0.9, 2, lifeYears: 6)));
    }

    [Theory]
    [InlineData(0.8, SeedWorth.SowAsUsual)]
    [InlineData(0.79, SeedWorth.SowThicker)]
    [InlineData(0.5, SeedWorth.SowThicker)]
    [InlineData(0.49, SeedWorth.BuyFresh)]
    [InlineData(double.NaN, SeedWorth.Unknown)]
    public void The_share_that_comes_up_says_what_to_do(double share, SeedWorth worth) => Assert.Equal(worth, SeedViability.WorthOf(share));

    [Fact]
    public void Half_as_good_is_sown_twice_as_thick()
    {
        Assert.Equal(2, SeedViability.TimesAsThick(0.45), 1e-9);
        Assert.Equal(double.PositiveInfinity, SeedViability.TimesAsThick(0));
    }

    [Theory]
    [InlineData(1.2, 1, 3)]
    [InlineData(80, 1, 3)] // per cent
    [InlineData(0.8, -1, 3)]
    [InlineData(0.8, 1, 0)]
    public void A_share_or_time_that_cannot_be_is_an_error(double fresh, double years, double life) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SeedViability.After(fresh, years, life));

    [Fact]
    public void What_is_not_known_stays_unknown()
    {
        Assert.Equal(double.NaN, SeedViability.After(double.NaN, 1, 3));
        Assert.Equal(double.NaN, SeedViability.After(0.8, double.NaN, 3));
        Assert.Equal(double.NaN, SeedViability.After(0, double.NaN, 3));
        Assert.Equal(0, SeedViability.After(0, 1, 3));
    }
}

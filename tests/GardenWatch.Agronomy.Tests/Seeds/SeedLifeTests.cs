using CsCheck;
using GardenWatch.Agronomy.Seeds;
using MathNet.Numerics.Distributions;

namespace GardenWatch.Agronomy.Tests.Seeds;

public class SeedLifeTests
{
    private const string File = "seed-life.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "crop", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void A_crop_keeps_as_the_published_tables_say(string crop)
    {
        var row = PublishedTable.Case(File, "crop", crop);
        var life = SeedLife.Of(crop)!;
        Assert.Equal(
            (row.Number("years"), row.Number("years_low_of_sources"), row.Number("years_high_of_sources")),
            ((double)life.Years, (double)life.FewestYears, (double)life.MostYears));
    }

    [Fact]
    public void No_crop_is_in_the_table_that_the_sources_do_not_name()
    {
        Assert.Equal(PublishedTable.Rows(File).Count, SeedLife.Table.Length);
        Assert.Null(SeedLife.Of("mandrake"));
        Assert.All(SeedLife.Table, life => Assert.True(life.FewestYears <= life.Years && life.Years <= life.MostYears));
    }

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

    [Fact]
    public void Onion_seed_is_for_one_year_and_lettuce_for_some()
    {
        // The trade's rule that onion and parsnip want fresh seed each year.
        var onion = SeedLife.Of("Onion")!.Germination(0.9, 2);
        var lettuce = SeedLife.Of("Lettuce")!.Germination(0.9, 2);
        Assert.True(onion.Expected < 0.5);
        Assert.True(lettuce.Cautious > 0.7);
        Assert.True(onion.Cautious <= onion.Expected && onion.Expected <= onion.Hopeful);
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
        Assert.Null(SeedViability.StoreIsGood(double.NaN, 40));
        Assert.Equal(0, SeedViability.After(0, 1, 3));
    }
}

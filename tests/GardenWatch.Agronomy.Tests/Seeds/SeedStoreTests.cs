using CsCheck;
using GardenWatch.Agronomy.Seeds;
using MathNet.Numerics.Distributions;

namespace GardenWatch.Agronomy.Tests.Seeds;

public class SeedStoreTests
{
    // Any species will do for the equation's form.
    private static readonly ViabilityConstants Species = new(KE: 7, CW: 3.5);

    [Fact]
    public void Near_room_temperature_5_6_degrees_less_about_double_the_life() =>
        // Harrington's rule of thumb against the equation's temperature terms: two sources, one statement.
        Gen.Double[14, 24].Sample(store => Assert.InRange(SeedViability.TimesAsLong(store - 5.6, store), 1.7, 2.25));

    [Fact]
    public void In_the_cold_the_rule_of_thumb_promises_too_much() =>
        Assert.InRange(SeedViability.TimesAsLong(-5.6, 0), 1.4, 1.6);

    [Fact]
    public void A_store_keeps_as_long_as_the_equation_says()
    {
        // log10 σ = KE - CW log10 m - CH t - CQ t², with the terms that hold for all species.
        double log = 7 - 3.5 * Math.Log10(8) - 0.0329 * 15 - 0.000478 * 225;
        Assert.Equal(Math.Pow(10, log), Species.DaysToLoseOneProbit(8, 15), 1e-6);
        double share = SeedViability.AfterDays(0.9, 700, 8, 15, Species);
        Assert.Equal(Normal.CDF(0, 1, Normal.InvCDF(0, 1, 0.9) - 700 / Math.Pow(10, log)), share, 1e-6);
    }

    [Fact]
    public void Two_stores_differ_by_their_temperature_terms_whatever_the_species() =>
        Gen.Select(Gen.Double[-20, 40], Gen.Double[-20, 40], Gen.Double[5, 25]).Sample((one, other, moisture) =>
            Assert.Equal(
                Species.DaysToLoseOneProbit(moisture, one) / Species.DaysToLoseOneProbit(moisture, other),
                SeedViability.TimesAsLong(one, other), 1e-6 * SeedViability.TimesAsLong(one, other)));

    [Fact]
    public void Drier_and_cooler_seed_never_dies_sooner() =>
        Gen.Select(Gen.Double[5, 20], Gen.Double[-10, 35], Gen.Double[0, 5]).Sample((moisture, store, more) =>
        {
            double share = SeedViability.AfterDays(0.9, 400, moisture, store, Species);
            Assert.True(SeedViability.AfterDays(0.9, 400, moisture + more, store, Species) <= share + 1e-9);
            Assert.True(SeedViability.AfterDays(0.9, 400, moisture, store + more, Species) <= share + 1e-9);
        });

    [Theory]
    [InlineData(10, 40, true)] // 50 °F and 40 %: 90
    [InlineData(10, 60, false)]
    [InlineData(22, 45, false)] // a kitchen
    public void Degrees_Fahrenheit_and_humidity_add_up_to_less_than_a_hundred(double store, double humidity, bool good) =>
        Assert.Equal(good, SeedViability.StoreIsGood(store, humidity));

    [Fact]
    public void Seed_that_is_too_wet_or_too_dry_for_the_equation_is_an_error()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Species.DaysToLoseOneProbit(2, 15));
        Assert.Throws<ArgumentOutOfRangeException>(() => Species.DaysToLoseOneProbit(40, 15));
        Assert.Throws<ArgumentOutOfRangeException>(() => SeedViability.TimesAsLong(-80, 15));
    }
}

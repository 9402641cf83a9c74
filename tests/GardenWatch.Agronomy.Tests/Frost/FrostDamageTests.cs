using CsCheck;
using GardenWatch.Agronomy.Frost;

namespace GardenWatch.Agronomy.Tests.Frost;

public class FrostDamageTests
{
    [Fact]
    public void A_colder_leaf_never_has_the_smaller_chance_and_a_hardier_plant_never_the_greater() =>
        Gen.Select(Gen.Double[-20, 10], Gen.Double[0, 5], Gen.Int[0, 4], Gen.Int[0, 3]).Sample((leaf, colder, hardiness, stage) =>
        {
            double chance = FrostDamage.Chance(leaf, (FrostHardiness)hardiness, (FrostStage)stage);
            Assert.InRange(chance, 0, 1);
            Assert.True(FrostDamage.Chance(leaf - colder, (FrostHardiness)hardiness, (FrostStage)stage) >= chance);
            Assert.True(FrostDamage.Chance(leaf, (FrostHardiness)(hardiness + 1), (FrostStage)stage) <= chance);
            Assert.InRange(FrostDamage.Chance(leaf + 0.001, (FrostHardiness)hardiness, (FrostStage)stage), chance - 0.001, chance);
        });

    [Fact]
    public void Soft_or_flowering_plants_suffer_earlier_and_hardened_ones_later_unless_tender()
    {
        Assert.Equal(new(-3, -1), FrostDamage.Range(FrostHardiness.Sensitive, FrostStage.Soft));
        Assert.Equal(new(-1, 1), FrostDamage.Range(FrostHardiness.VerySensitive, FrostStage.InFlower));
        Assert.Equal(new(-8, -5), FrostDamage.Range(FrostHardiness.Moderate, FrostStage.Hardened));
        Assert.Equal(FrostDamage.Range(FrostHardiness.ChillSensitive), FrostDamage.Range(FrostHardiness.ChillSensitive, FrostStage.Hardened));
    }

    [Fact]
    public void Chances_of_the_leaf_become_a_chance_of_damage()
    {
        double Sure(double low, double limit) => limit >= low ? 1 : 0;
        Assert.Equal(0.5, FrostDamage.Chance(limit => Sure(-1, limit), FrostHardiness.VerySensitive), 0.05);
        Assert.Equal(0, FrostDamage.Chance(limit => Sure(1, limit), FrostHardiness.VerySensitive));
        Assert.Equal(1, FrostDamage.Chance(limit => Sure(-3, limit), FrostHardiness.VerySensitive));
        // A wider forecast of the same mean puts a hardy plant in the greater danger.
        double Spread(double spread) => FrostDamage.Chance(limit => NormalDistribution.Below((limit + 1) / spread), FrostHardiness.Moderate);
        Assert.True(Spread(3) > Spread(1));
    }

    [Fact]
    public void What_is_not_known_has_no_chance_and_what_is_no_class_is_refused()
    {
        Assert.True(double.IsNaN(FrostDamage.Chance(double.NaN, FrostHardiness.Moderate)));
        Assert.Throws<ArgumentOutOfRangeException>(() => FrostDamage.Range((FrostHardiness)9));
        Assert.Throws<ArgumentOutOfRangeException>(() => FrostDamage.Range(FrostHardiness.Good, (FrostStage)9));
    }
}

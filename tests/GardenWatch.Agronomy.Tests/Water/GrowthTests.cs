using CsCheck;
using GardenWatch.Agronomy.Water;
using MathNet.Numerics.Integration;

namespace GardenWatch.Agronomy.Tests.Water;

/// <summary>Coefficients and roots that follow warmth, held against numerical integration.</summary>
public class GrowthTests
{
    private static readonly CropWater Tomato = CropWater.Named("tomato")!;

    [Fact]
    public void A_cold_spring_holds_the_coefficient_back_and_a_warm_one_brings_it_on()
    {
        double[] usual = [.. Enumerable.Range(0, 200).Select(day => 4 + 0.05 * day)];
        var inWarmth = Tomato.On(Tomato.Coefficient.Stages.InWarmth(usual));
        double Gathered(double share) => usual[..50].Sum() * share;
        double asUsual = inWarmth.Coefficient.At(Gathered(1));
        Assert.Equal(Tomato.Coefficient.At(50), asUsual, 0.03); // inside a stage warmth is not spread as evenly as days
        Assert.True(inWarmth.Coefficient.At(Gathered(0.7)) < asUsual - 0.1);
        Assert.True(inWarmth.Coefficient.At(Gathered(1.3)) > asUsual + 0.1);
    }

    [Fact]
    public void The_warmth_of_stages_is_the_integral_of_the_days_in_them() =>
        Gen.Select(Gen.Double[0, 30].Array[100], Gen.Double[0, 25], Gen.Double[0, 25], Gen.Double[0, 25], Gen.Double[0, 25])
            .Sample((daily, a, b, c, d) =>
            {
                var warmth = new GrowthStages(a, b, c, d).InWarmth(daily);
                double Between(double from, double until) => Integral(day => daily[Math.Min((int)day, 99)], from, until);
                Assert.Equal(Between(0, a), warmth.Initial, 1e-6);
                Assert.Equal(Between(a, a + b), warmth.Growth, 1e-6);
                Assert.Equal(Between(a + b + c, a + b + c + d), warmth.Late, 1e-6);
                Assert.Equal(Between(0, a + b + c + d), warmth.Total, 1e-6);
            });

    [Fact]
    public void The_curve_encloses_the_area_of_its_trapezoids()
    {
        var (stages, curve) = (Tomato.Coefficient.Stages, Tomato.Coefficient);
        double expected = stages.Initial * curve.Initial + stages.Growth * (curve.Initial + curve.Middle) / 2
            + stages.Middle * curve.Middle + stages.Late * (curve.Middle + curve.End) / 2;
        double area = SimpsonRule.IntegrateComposite(curve.At, 0, stages.Total, 29_000);
        Assert.Equal(expected, area, 1e-3);
    }

    [Fact]
    public void Roots_reach_full_depth_with_full_cover_and_keep_it()
    {
        Assert.Equal(CropWater.FirstRootsMetres, Tomato.RootsAt(0, 0.7));
        Assert.Equal(0.45, Tomato.RootsAt(50, 0.7), 1e-9); // half of the growth stage
        Assert.Equal(0.7, Tomato.RootsAt(70, 0.7), 1e-9);
        Assert.Equal(0.7, Tomato.RootsAt(144, 0.7), 1e-9);
        Assert.Equal(0.15, Tomato.RootsAt(0, 0.15));
        Assert.Equal(double.NaN, Tomato.RootsAt(double.NaN, 0.7));
    }

    [Fact]
    public void Stages_scale_to_a_varietys_own_days_and_keep_their_shares()
    {
        var early = Tomato.Coefficient.Stages.ScaledTo(100);
        Assert.Equal(100, early.Total, 1e-9);
        Assert.Equal(30 / 145.0, early.Initial / early.Total, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => new GrowthStages(-1, 2, 3, 4));
        Assert.Throws<ArgumentException>(() => Tomato.Coefficient.Stages.InWarmth(new double[100]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Tomato.Coefficient.At(-1));
    }

    [Fact] // FAO-33 and FAO-56 eq. 90, Ky 1.05
    public void A_tenth_less_water_costs_a_tomato_about_a_tenth_of_its_yield() =>
        Assert.Equal(0.895, Tomato.YieldKept(0.9), 1e-9);

    [Fact] // FAO-56 ch. 10: 5 % less evaporation for each 10 % covered
    public void Straw_saves_half_of_the_soils_evaporation_when_it_covers_all()
    {
        Assert.Equal(0.7 - 0.5 * 0.5, CropCoefficient.UnderOrganicMulch(0.7, 0.2, 1), 1e-9);
        Assert.Equal(0.7 - 0.25 * 0.5, CropCoefficient.UnderOrganicMulch(0.7, 0.2, 0.5), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => CropCoefficient.UnderOrganicMulch(0.7, 0.2, 1.1));
    }

    [Fact]
    public void The_curve_shifts_to_the_climate_at_its_middle_and_at_high_ends_only()
    {
        var dry = Tomato.Coefficient.ForClimate(4.6, 20, 0.6);
        Assert.Equal(CropCoefficient.ForClimate(1.15, 4.6, 20, 0.6), dry.Middle);
        Assert.True(dry.End > Tomato.Coefficient.End);
        var bean = CropWater.Named("bean, dry")!.Coefficient;
        Assert.Equal(bean.End, bean.ForClimate(4.6, 20, 0.4).End); // 0.35, below 0.45
    }

    // Day by day, so that each piece is smooth.
    private static double Integral(Func<double, double> of, double from, double until)
    {
        double sum = 0;
        for (double at = from; at < until;)
        {
            double next = Math.Min(Math.Floor(at) + 1, until);
            double middle = (at + next) / 2;
            sum += GaussLegendreRule.Integrate(_ => of(middle), at, next, 5);
            at = next;
        }
        return sum;
    }
}

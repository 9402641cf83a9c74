using CsCheck;
using GardenWatch.Agronomy.Water;
using MathNet.Numerics.OdeSolvers;

namespace GardenWatch.Agronomy.Tests.Water;

public class BedBalanceTests
{
    private static readonly CropWater Tomato = CropWater.Named("tomato")!;
    private static readonly SoilTexture Loam = SoilTexture.Named("loam")!;
    private static readonly BedBalance Open = new(Tomato, Loam);

    private static readonly Gen<BedDay[]> Season = Gen.Select(
        Gen.Frequency((3, Gen.Const(0.0)), (1, Gen.Double[0, 40])), Gen.Double[0, 9], Gen.Frequency((5, Gen.Const(0.0)), (1, Gen.Double[0, 25])), Gen.Double[0, 1])
        .Select((rain, et0, watered, runs) => new BedDay(rain, rain * runs * 0.3, et0, watered, 0)).Array[120]
        .Select(days => days.Select((day, i) => day with { Passed = i }).ToArray());

    [Fact]
    public void A_bed_neither_makes_nor_loses_water_and_never_passes_wilting_or_field_capacity() =>
        Gen.Select(Season, Gen.Double[0, 20], Gen.Int[0, 11]).Sample((days, start, texture) =>
        {
            var bed = new BedBalance(Tomato, SoilTexture.All[texture]);
            var ends = new BedDayEnd[days.Length];
            bed.Run(start, days, ends);
            double before = Math.Min(start, ends[0].Zone.TotalMm);
            for (int i = 0; i < days.Length; i++)
            {
                var end = ends[i];
                Assert.Equal(end.DepletionMm - before, end.UsedMm + end.DrainedMm - end.RainMm - days[i].WateredMm, 1e-9);
                Assert.InRange(end.DepletionMm, 0, end.Zone.TotalMm + 1e-9);
                Assert.InRange(end.RainMm, 0, days[i].RainMm);
                Assert.InRange(end.Stress, 0, 1);
                before = end.DepletionMm;
            }
        });

    [Fact]
    public void More_rain_never_leaves_a_bed_drier() =>
        Gen.Select(Season, Gen.Int[0, 119], Gen.Double[0, 30]).Sample((days, wetter, more) =>
        {
            var (plain, wet) = (new BedDayEnd[days.Length], new BedDayEnd[days.Length]);
            Open.Run(10, days, plain);
            days[wetter] = days[wetter] with { RainMm = days[wetter].RainMm + more };
            Open.Run(10, days, wet);
            for (int i = 0; i < days.Length; i++)
                Assert.True(wet[i].DepletionMm <= plain[i].DepletionMm + 1e-9);
        });

    [Fact]
    public void Under_glass_rain_does_not_count_and_unknown_rain_does_not_matter()
    {
        var glass = Open with { RainShare = 0 };
        var day = new BedDay(30, 0, 4, 0, 60);
        Assert.Equal(0, glass.Next(10, day).RainMm);
        Assert.Equal(glass.Next(10, day), glass.Next(10, day with { RainMm = double.NaN }));
        Assert.True(double.IsNaN(Open.Next(10, day with { RainMm = double.NaN }).DepletionMm));
    }

    [Fact]
    public void An_unknown_day_is_unknown_and_what_cant_be_is_an_error()
    {
        var day = new BedDay(0, 0, 4, 0, 60);
        Assert.True(double.IsNaN(Open.Next(10, day with { ReferenceMm = double.NaN }).DepletionMm));
        Assert.True(double.IsNaN(Open.Next(10, day with { Passed = double.NaN }).DepletionMm));
        Assert.True(double.IsNaN(Open.Next(double.NaN, day).DepletionMm));
        Assert.Throws<ArgumentOutOfRangeException>(() => Open.Next(-1, day));
        Assert.Throws<ArgumentOutOfRangeException>(() => Open.Next(10, day with { RainMm = -2 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Open.Next(10, day with { WateredMm = -2 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Open with { RainShare = 1.2 });
        Assert.Throws<ArgumentOutOfRangeException>(() => Open with { MulchedShare = -0.1 });
        Assert.Throws<ArgumentException>(() => Open.Run(0, [day], []));
        Assert.Throws<ArgumentOutOfRangeException>(() => RootZone.Of(0.3, 0.4, 0.5, 0.4));
        Assert.Throws<ArgumentOutOfRangeException>(() => RootZone.EasyShare(1.4, 5));
    }

    [Fact]
    public void Straw_and_shade_save_water()
    {
        var day = new BedDay(0, 0, 6, 0, 20);
        double plain = Open.Next(5, day).UsedMm;
        Assert.True((Open with { MulchedShare = 1 }).Next(5, day).UsedMm < 0.7 * plain); // before the crop covers the soil
        Assert.Equal(0.7 * plain, (Open with { UseShare = 0.7 }).Next(5, day).UsedMm, 1e-9);
    }

    [Fact]
    public void A_pot_whose_leaves_hang_far_over_the_rim_dries_in_a_third_of_the_time()
    {
        var pot = Open with { Pot = Container.RootZone(40), LeafSpread = 5 };
        var bed = Open with { FullRootsMetres = Tomato.RootsMaxMetres };
        Assert.Equal(92.7, pot.Pot!.Value.EasilyHadMm, 0.05); // 40 litres on 0.108 m²
        Assert.Equal(28.75, pot.Next(0, new(0, 0, 5, 0, 90)).UsedMm, 1e-9);
        Assert.Equal(4, DaysToStress(pot));
        Assert.InRange(DaysToStress(bed), 12, 15);
        Assert.Equal(pot.Pot!.Value.TotalMm, pot.Next(0, new(0, 0, 5, 0, 90)).Zone.TotalMm);
    }

    private static int DaysToStress(BedBalance bed)
    {
        double depletion = 0;
        for (int day = 0; day < 100; day++)
        {
            var end = bed.Next(depletion, new(0, 0, 5, 0, 90));
            if (end.Stress < 1)
                return day;
            depletion = end.DepletionMm;
        }
        return 100;
    }

    [Fact]
    public void A_round_pot_as_wide_as_high_has_its_litres()
    {
        double area = Container.SurfaceOf(40), diameter = Math.Sqrt(4 * area / Math.PI);
        Assert.Equal(40, area * diameter * 1000, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => Container.RootZone(0));
    }

    [Fact]
    public void A_drying_bed_follows_the_equation_it_is_a_step_of()
    {
        // dD/dt = Ks(D) u: a fourth-order solver against days, and against days cut small, which must come closer.
        var zone = new RootZone(80, 32);
        const double Use = 5, Days = 40;
        double[] solved = RungeKutta.FourthOrder(0, 0, Days, 4001, (_, depletion) => zone.Stress(depletion) * Use);
        double Stepped(int perDay)
        {
            double depletion = 0;
            for (int step = 0; step < Days * perDay; step++)
                depletion = zone.Day(depletion, 0, 0, Use / perDay).DepletionMm;
            return depletion;
        }
        Assert.Equal(solved[^1], Stepped(1), 0.5);
        Assert.Equal(solved[^1], Stepped(100), 0.01);
        // And its closed form: from stress on, what is left falls by exp(-u t / (TAW - RAW)).
        Assert.Equal(80 - 48 * Math.Exp(-Use * (Days - 32 / Use) / 48), solved[^1], 1e-3);
    }

    [Fact]
    public void One_impossible_hour_of_rain_makes_a_course_unknown_until_rain_fills_the_zone_and_is_no_error()
    {
        double[] rain = new double[600], use = [.. Enumerable.Repeat(0.1, 600)];
        rain[0] = rain[200] = 90;
        rain[100] = -1;
        double[] depletion = SoilWaterCourse.Depletion(new(80, 32), rain, use);
        Assert.False(double.IsNaN(depletion[99]));
        Assert.True(double.IsNaN(depletion[100]) && double.IsNaN(depletion[150]));
        Assert.False(double.IsNaN(depletion[200]));
    }

    [Fact]
    public void The_top_dries_while_the_depth_is_still_wet_and_one_shower_wets_it_again()
    {
        var top = Loam.TopSoil();
        double depletion = 0;
        for (int day = 0; day < 6; day++)
            depletion = top.Next(depletion, 0, 5, 0.15);
        Assert.True(depletion > top.FreelyMm);
        Assert.True(top.Next(depletion, 25, 5, 0.15) < top.FreelyMm);
        Assert.Equal(double.NaN, top.Next(depletion, double.NaN, 5, 0.15));
    }
}

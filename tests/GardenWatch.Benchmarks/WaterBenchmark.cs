using System.Globalization;
using GardenWatch.Agronomy.Water;
using MathNet.Numerics.Interpolation;

namespace GardenWatch.Benchmarks;

/// <summary>A season's water balance of a hundred beds, beside the same sums written out and with curves of a package.</summary>
internal static class WaterBenchmark
{
    private const int Beds = 100, Days = 214;

    public static void Run()
    {
        var random = new Random(7);
        var days = Enumerable.Range(0, Days)
            .Select(i => new BedDay(random.Next(4) == 0 ? random.NextDouble() * 15 : 0, 0, 2 + 4 * random.NextDouble(), i % 9 == 8 ? 12 : 0, i)).ToArray();
        var crops = CropWater.All.Where(crop => !double.IsNaN(crop.Coefficient.Stages.Total)).ToArray();
        var beds = Enumerable.Range(0, Beds).Select(i => new BedBalance(crops[i % crops.Length], SoilTexture.All[i % SoilTexture.All.Count])).ToArray();
        var ends = new BedDayEnd[Days];
        double depletion = 0;
        double ours = SeriesBenchmark.Best(() =>
        {
            foreach (var bed in beds)
            {
                bed.Run(10, days, ends);
                depletion += ends[^1].DepletionMm;
            }
        }, 400);
        long before = GC.GetAllocatedBytesForCurrentThread();
        beds[0].Run(10, days, ends);
        long bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        double plain = SeriesBenchmark.Best(() => { foreach (var bed in beds) depletion += Plain(bed, days); }, 400);
        double package = SeriesBenchmark.Best(() => { foreach (var bed in beds) depletion += Package(bed, days); }, 400);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"a season of {Days} days of {Beds} beds: ours {ours:0.00} ms ({bytes} bytes a bed), written out {plain:0.00} ms, curves of a package {package:0.00} ms ({depletion:0} mm)"));
    }

    private static double Plain(BedBalance bed, BedDay[] days)
    {
        var (stages, curve) = (bed.Crop.Coefficient.Stages, bed.Crop.Coefficient);
        double depletion = 10;
        foreach (var day in days)
        {
            double t = day.Passed, grown = stages.Initial + stages.Growth, ripening = grown + stages.Middle, end = ripening + stages.Late;
            double kc = t <= stages.Initial ? curve.Initial : t < grown ? curve.Initial + (t - stages.Initial) / stages.Growth * (curve.Middle - curve.Initial)
                : t <= ripening ? curve.Middle : t < end ? curve.Middle + (t - ripening) / stages.Late * (curve.End - curve.Middle) : curve.End;
            depletion = Step(bed, day, depletion, kc, Math.Clamp((t - stages.Initial) / stages.Growth, 0, 1));
        }
        return depletion;
    }

    private static double Package(BedBalance bed, BedDay[] days)
    {
        var (stages, curve) = (bed.Crop.Coefficient.Stages, bed.Crop.Coefficient);
        double grown = stages.Initial + stages.Growth, ripening = grown + stages.Middle, end = ripening + stages.Late;
        var kc = LinearSpline.InterpolateSorted([0, stages.Initial, grown, ripening, end, 1000], [curve.Initial, curve.Initial, curve.Middle, curve.Middle, curve.End, curve.End]);
        double depletion = 10;
        foreach (var day in days)
            depletion = Step(bed, day, depletion, kc.Interpolate(day.Passed), Math.Clamp((day.Passed - stages.Initial) / stages.Growth, 0, 1));
        return depletion;
    }

    private static double Step(BedBalance bed, BedDay day, double depletion, double kc, double grown)
    {
        double use = kc * day.ReferenceMm, roots = 0.2 + (bed.FullRootsMetres - 0.2) * grown;
        double total = 1000 * (bed.Soil.FieldCapacity - bed.Soil.WiltingPoint) * roots;
        double easy = Math.Clamp(bed.Crop.EasyShare + 0.04 * (5 - use), 0.1, 0.8) * bed.Soil.EasyShareFactor * total;
        double rain = day.RainMm < 0.2 * day.ReferenceMm ? 0 : day.RainMm;
        double start = Math.Max(0, Math.Min(depletion, total) - rain - day.WateredMm);
        double stress = start <= easy ? 1 : Math.Clamp((total - start) / (total - easy), 0, 1);
        return start + Math.Min(stress * use, total - start);
    }
}

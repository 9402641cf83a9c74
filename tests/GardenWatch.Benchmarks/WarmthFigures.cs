using System.Diagnostics;
using System.Globalization;
using GardenWatch.Agronomy.Warmth;

namespace GardenWatch.Benchmarks;

/// <summary>How long forty years of daily degree-days take by each method: by columns, and day by day in a plain loop.</summary>
internal static class WarmthFigures
{
    private const int Days = 40 * 365 + 10;
    private const int Rounds = 400;
    private const double Base = 10;
    private const double Ceiling = 30;

    private delegate double OfDay(double minC, double maxC, double nextMinC);

    public static void Report()
    {
        var (min, max) = Invented();
        double[] warmth = new double[Days];
        // The first pass lets the compiler settle.
        bool told = false;
        All();
        told = true;
        Line($"{Days} days, base {Base} and ceiling {Ceiling} °C; the fastest of {Rounds} rounds");
        Line($"{"method",-28} {"columns",10} {"plain loop",12} {"bytes",8} {"sum",10}");
        All();

        void All()
        {
            Compare("average", () => DegreeDays.Average(min, max, warmth, Base, Ceiling), (low, high, _) => DegreeDays.Average(low, high, Base, Ceiling));
            Compare("average of clipped", () => DegreeDays.AverageOfClipped(min, max, warmth, Base, Ceiling), (low, high, _) => DegreeDays.AverageOfClipped(low, high, Base, Ceiling));
            foreach (var cutoff in Enum.GetValues<UpperCutoff>())
            {
                Compare($"single triangle, {cutoff}", () => DegreeDays.SingleTriangle(min, max, warmth, Base, Ceiling, cutoff), (low, high, _) => DegreeDays.SingleTriangle(low, high, Base, Ceiling, cutoff));
                Compare($"double triangle, {cutoff}", () => DegreeDays.DoubleTriangle(min, max, warmth, Base, Ceiling, cutoff), (low, high, next) => DegreeDays.DoubleTriangle(low, high, next, Base, Ceiling, cutoff));
                Compare($"single sine, {cutoff}", () => DegreeDays.SingleSine(min, max, warmth, Base, Ceiling, cutoff), (low, high, _) => DegreeDays.SingleSine(low, high, Base, Ceiling, cutoff));
                Compare($"double sine, {cutoff}", () => DegreeDays.DoubleSine(min, max, warmth, Base, Ceiling, cutoff), (low, high, next) => DegreeDays.DoubleSine(low, high, next, Base, Ceiling, cutoff));
            }

            double[] hours = [.. Enumerable.Range(0, 24 * Days).Select(hour => (min[hour / 24] + max[hour / 24]) / 2 + 5 * Math.Sin((hour % 24 - 9) * Math.PI / 12))];
            var (ofHours, _) = Fastest(() =>
            {
                for (int day = 0; day < Days; day++)
                    warmth[day] = WarmthSum.OfHours(hours.AsSpan(24 * day, 24), Base, Ceiling);
            });
            if (told)
                Line($"{"by hours",-28} {ofHours,7:0} µs");
        }

        void Compare(string name, Action columns, OfDay ofDay)
        {
            var (byColumns, bytes) = Fastest(columns);
            double sum = warmth.Sum();
            var (byLoop, _) = Fastest(() =>
            {
                for (int day = 0; day < Days; day++)
                    warmth[day] = ofDay(min[day], max[day], min[Math.Min(day + 1, Days - 1)]);
            });
            if (Math.Abs(sum - warmth.Sum()) > 1e-6)
                throw new InvalidOperationException($"{name}: columns and loop differ.");
            if (told)
                Line($"{name,-28} {byColumns,7:0} µs {byLoop,9:0} µs {bytes,8} {sum,10:0}");
        }
    }

    private static (double Microseconds, long Bytes) Fastest(Action work)
    {
        double fastest = double.PositiveInfinity;
        long bytes = 0;
        for (int round = 0; round < Rounds; round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            long start = Stopwatch.GetTimestamp();
            work();
            double taken = Stopwatch.GetElapsedTime(start).TotalMicroseconds;
            bytes = GC.GetAllocatedBytesForCurrentThread() - before;
            fastest = Math.Min(fastest, taken);
        }
        return (fastest, bytes);
    }

    // A temperate place: nights cross the base in spring and autumn, noons the ceiling in summer.
    private static (double[] Min, double[] Max) Invented()
    {
        var random = new Random(40);
        double[] min = new double[Days], max = new double[Days];
        for (int day = 0; day < Days; day++)
        {
            double mean = 13 - 12 * Math.Cos(2 * Math.PI * (day - 20) / 365.25) + 4 * (random.NextDouble() - 0.5);
            double half = 4 + 3 * random.NextDouble();
            (min[day], max[day]) = (mean - half, mean + half);
        }
        return (min, max);
    }

    private static void Line(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}

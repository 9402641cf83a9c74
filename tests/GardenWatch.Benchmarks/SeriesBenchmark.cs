using System.Diagnostics;
using System.Globalization;
using GardenWatch.Agronomy.Series;
using MathNet.Numerics.Statistics;

namespace GardenWatch.Benchmarks;

/// <summary>Moving sums, means, lows and highs over forty years of hours, beside a plain loop and a statistics package.</summary>
internal static class SeriesBenchmark
{
    private const int Hours = 350_640;

    public static void Run()
    {
        var random = new Random(40);
        double[] air = [.. Enumerable.Range(0, Hours).Select(i =>
            random.Next(5000) == 0 ? double.NaN : Math.Round(10 + 8 * Math.Sin(i / 1395.0) + 4 * Math.Sin(i * Math.PI / 12) + random.NextDouble(), 1))];
        double[] into = new double[Hours];
        WindowedColumn column = new(air);
        Report("forty years of hours", "ours", "plain loop", "statistics package");
        Report("building: sums", Best(() => column = new(air)));
        Report("building: lows", Best(() => { column = new(air); column.Low(0, 47); }, less: Best(() => column = new(air))));
        foreach (int window in (int[])[24, 72, 720, 8760])
        {
            bool plain = window <= 720;
            Report($"sum of {window} h", Best(() => column.MovingTotals(window, into)), plain ? Best(() => Plain(air, window, into, Sum), 2) : null);
            Report($"mean of {window} h", Best(() => column.MovingMeans(window, into)), plain ? Best(() => Plain(air, window, into, Mean), 2) : null,
                Best(() => Package(air, window, into, s => s.Mean), 2));
            Report($"low of {window} h", Best(() => column.MovingLows(window, into)), plain ? Best(() => Plain(air, window, into, Low), 2) : null,
                Best(() => Package(air, window, into, s => s.Minimum), 2));
            Report($"high of {window} h", Best(() => column.MovingHighs(window, into)));
            Report($"low of {window} h, asked one by one", Best(() =>
            {
                for (int i = 0; i < into.Length; i++)
                    into[i] = column.Low(i - window + 1, i);
            }));
        }
        long before = GC.GetAllocatedBytesForCurrentThread();
        column.MovingLows(72, into);
        column.MovingTotals(72, into);
        Console.WriteLine($"allocated by two moving windows: {GC.GetAllocatedBytesForCurrentThread() - before} bytes");
    }

    /// <summary>The best of some rounds in milliseconds: what the work takes when the machine lets it.</summary>
    public static double Best(Action work, int rounds = 60, double less = 0)
    {
        double best = double.MaxValue;
        for (int round = 0; round < rounds; round++)
        {
            var clock = Stopwatch.StartNew();
            work();
            best = Math.Min(best, clock.Elapsed.TotalMilliseconds);
        }
        return best - less;
    }

    private static void Plain(double[] hours, int window, double[] into, Func<double[], int, int, double> of)
    {
        for (int last = 0; last < hours.Length; last++)
            into[last] = of(hours, Math.Max(0, last - window + 1), last);
    }

    private static double Sum(double[] hours, int first, int last)
    {
        double sum = 0;
        for (int i = first; i <= last; i++)
            sum += double.IsNaN(hours[i]) ? 0 : hours[i];
        return sum;
    }

    private static double Mean(double[] hours, int first, int last)
    {
        double sum = 0;
        int known = 0;
        for (int i = first; i <= last; i++)
        {
            if (double.IsNaN(hours[i]))
                continue;
            sum += hours[i];
            known++;
        }
        return sum / known;
    }

    private static double Low(double[] hours, int first, int last)
    {
        double low = double.PositiveInfinity;
        for (int i = first; i <= last; i++)
            low = hours[i] < low ? hours[i] : low;
        return low;
    }

    // It knows no missing hours: the last known value stands in.
    private static void Package(double[] hours, int window, double[] into, Func<MovingStatistics, double> of)
    {
        var moving = new MovingStatistics(window);
        double last = 0;
        for (int i = 0; i < hours.Length; i++)
        {
            moving.Push(last = double.IsNaN(hours[i]) ? last : hours[i]);
            into[i] = of(moving);
        }
    }

    private static void Report(string what, params double?[] milliseconds) =>
        Report(what, [.. milliseconds.Select(ms => ms is { } t ? t.ToString("0.00", CultureInfo.InvariantCulture) + " ms" : "")]);

    private static void Report(string what, params string[] columns) =>
        Console.WriteLine($"{what,-34}{string.Concat(columns.Select(column => $"{column,20}"))}");
}

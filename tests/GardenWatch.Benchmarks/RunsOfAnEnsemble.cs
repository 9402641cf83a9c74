using System.Collections.Immutable;
using System.Diagnostics;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using NodaTime;

/// <summary>What leaf and soil of one run cost, sixteen days on from sixty known ones.</summary>
internal static class RunsOfAnEnsemble
{
    private const int Past = 60 * 24;
    private const int Coming = 16 * 24;
    private const int Runs = 51;
    private const int Rounds = 40;

    private static readonly GeoPosition Place = new(52.1, 5.18, 2);

    public static (double LeafMicroseconds, double SoilMicroseconds) Measured()
    {
        var known = Invented(0);
        WeatherSeries[] runs = [.. Enumerable.Range(1, Runs).Select(Invented)];
        var soil = SoilCourse.Of(known, Place, SoilSurface.TendedGround);
        double[] column = new double[Past + Coming];
        List<double> leafTimes = [], soilTimes = [];
        for (int round = 0; round < Rounds; round++)
        {
            var clock = Stopwatch.StartNew();
            foreach (var run in runs)
                LeafTemperature.Fill(column, Past, run, Place, new(1.1));
            leafTimes.Add(clock.Elapsed.TotalMicroseconds / Runs);
            clock.Restart();
            foreach (var run in runs)
            {
                var course = soil.GoingOn(run, Past);
                course.Fill(column, Past, 0.05);
                course.Fill(column, Past, 0.10);
            }
            soilTimes.Add(clock.Elapsed.TotalMicroseconds / Runs);
        }
        // The least: what other programs hold up is none of the models' work.
        return (leafTimes.Min(), soilTimes.Min());
    }

    private static WeatherSeries Invented(int run)
    {
        var invented = new Random(run);
        double warmer = 4 * invented.NextDouble() - 2;
        ImmutableArray<double> Hours(Func<int, double> at) => [.. Enumerable.Range(0, Past + Coming).Select(at)];
        return new(
            Instant.FromUtc(2026, 3, 1, 0, 0), Past + Coming,
            ImmutableDictionary<WeatherVariable, ImmutableArray<double>>.Empty
                .Add(WeatherVariable.Air, Hours(hour => 8 + 5 * Math.Sin(2 * Math.PI * (hour - 9) / 24) + (hour >= Past ? warmer : 0)))
                .Add(WeatherVariable.DewPoint, Hours(_ => 2))
                .Add(WeatherVariable.CloudCover, Hours(hour => hour * 7 % 100))
                .Add(WeatherVariable.Wind, Hours(hour => 1 + hour % 5))
                .Add(WeatherVariable.Rain, Hours(hour => hour % 90 == 0 ? 8 : 0))
                .Add(WeatherVariable.Radiation, Hours(hour => Math.Max(0, 600 * Math.Sin(2 * Math.PI * (hour - 6) / 24)))),
            [], [.. Enumerable.Repeat((short)-1, Past + Coming)]);
    }
}

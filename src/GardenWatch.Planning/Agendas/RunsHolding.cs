using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>In which runs of the ensemble a whole condition holds, hour by hour, each run by itself: chances are joint.</summary>
internal sealed class RunsHolding
{
    // Of fewer runs a share says little.
    private const double KnownShare = 0.5;
    private const int MostRuns = 128;

    private readonly UInt128[] _met;
    private readonly UInt128[] _known;
    private readonly int _runs;

    private RunsHolding(int hours, int runs)
    {
        _met = new UInt128[hours];
        _known = new UInt128[hours];
        _runs = runs;
    }

    /// <param name="first">The instant of the first hour.</param>
    /// <param name="asked">Only hours that matter; the others stay unknown.</param>
    /// <param name="runs">One scene a run.</param>
    public static RunsHolding Of(Condition condition, Instant first, ReadOnlySpan<bool> asked, IReadOnlyList<Scene> runs)
    {
        int counted = Math.Min(runs.Count, MostRuns);
        var holding = new RunsHolding(asked.Length, counted);
        var courses = new Truth[counted][];
        int hours = asked.Length;
        // Runs share nothing but what does not change, so they are asked side by side.
        Parallel.For(0, counted, run =>
        {
            courses[run] = new Truth[hours];
            Evaluate.Course(condition, first, runs[run], courses[run]);
        });
        for (int run = 0; run < counted; run++)
        {
            var bit = UInt128.One << run;
            for (int hour = 0; hour < hours; hour++)
            {
                if (!asked[hour] || courses[run][hour] == Truth.Unknown)
                    continue;
                holding._known[hour] |= bit;
                if (courses[run][hour] == Truth.Yes)
                    holding._met[hour] |= bit;
            }
        }
        return holding;
    }

    public int Hours => _met.Length;

    /// <summary>The share of runs in which it holds at every hour of a stretch; null when too few runs know.</summary>
    public double? Throughout(int from, int until)
    {
        var (met, known) = (UInt128.MaxValue, UInt128.MaxValue);
        for (int hour = from; hour < until; hour++)
            (met, known) = (met & _met[hour], known & _known[hour]);
        int count = until > from ? (int)UInt128.PopCount(known) : 0;
        return count < KnownShare * _runs || count == 0 ? null : (double)(int)UInt128.PopCount(met & known) / count;
    }

    /// <summary>
    /// Stretches of hours throughout which the share of runs is large enough, each as long as it can be from its first hour on.
    /// </summary>
    public Truth[] OpenFrom(double leastShare)
    {
        var open = new Truth[Hours];
        for (int hour = 0; hour < Hours; hour++)
            open[hour] = Throughout(hour, hour + 1) switch
            {
                null => Truth.Unknown,
                { } share => share >= leastShare ? Truth.Yes : Truth.No,
            };
        return open;
    }
}

using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What one stretch of time holds of a danger.</summary>
/// <param name="Hours">The hours of the danger within the stretch; the stretch itself where they can't be told.</param>
/// <param name="Share">Of the forecast's runs, in which it holds at some hour; null where there are none.</param>
/// <param name="InForecast">The one forecast has it.</param>
/// <param name="Unknown">The forecast has gaps in the stretch and shows no danger in the rest.</param>
internal readonly record struct DangerSight(Interval Hours, double? Share, bool InForecast, bool Unknown);

/// <summary>One condition asked hour by hour, in the forecast and in each of its runs, once for all stretches.</summary>
internal sealed class DangerLook
{
    private static readonly Duration Hour = Duration.FromHours(1);
    // A lull of so many hours is part of the same blow.
    private const int LullHours = 3;
    // Where only runs tell, hours in which fewer than this part of the threatening ones have it are its edges.
    private const double EdgePart = 1.0 / 3;
    // Of fewer runs a share says little.
    private const double KnownShare = 0.5;

    private readonly Instant _first;
    private readonly Truth[] _forecast;
    private readonly Truth[][] _runs;

    /// <param name="from">The earliest hour that will be asked of the forecast.</param>
    /// <param name="runsFrom">The earliest that will be asked of its runs.</param>
    /// <param name="until">After the last stretch.</param>
    public DangerLook(Condition condition, Scene scene, Instant from, Instant runsFrom, Instant until)
    {
        _first = Instant.FromUnixTimeSeconds(from.ToUnixTimeSeconds() / 3600 * 3600);
        int hours = Math.Max(1, (int)Math.Ceiling((until - _first).TotalHours));
        _forecast = new Truth[hours];
        Evaluate.Course(condition, _first, scene, _forecast);
        var runs = GardenWeather.InRuns(scene);
        var told = new Truth[runs.Length][];
        int ahead = Math.Clamp((int)Math.Floor((runsFrom - _first).TotalHours), 0, hours - 1);
        // Runs share nothing but what does not change, so they are asked side by side.
        Parallel.For(0, told.Length, run =>
        {
            told[run] = new Truth[hours];
            Evaluate.Course(condition, _first + Hour * ahead, runs[run], told[run].AsSpan(ahead));
        });
        _runs = told;
    }

    public DangerSight In(Interval stretch)
    {
        var (from, until) = HoursOf(stretch);
        bool held = Holds(_forecast, from, until);
        bool unknown = !held && _forecast.AsSpan(from, until - from).Contains(Truth.Unknown);
        int known = 0, met = 0;
        foreach (var run in _runs)
        {
            bool holds = Holds(run, from, until);
            known += holds || !run.AsSpan(from, until - from).Contains(Truth.Unknown) ? 1 : 0;
            met += holds ? 1 : 0;
        }
        double? share = known == 0 || known < KnownShare * _runs.Length ? null : (double)met / known;
        return new(held ? Spell(stretch, hour => _forecast[hour] == Truth.Yes)
            : met > 0 ? Spell(stretch, hour => _runs.Count(run => run[hour] == Truth.Yes) >= EdgePart * met)
            : stretch, share, held, unknown);
    }

    public bool HoldsIn(Interval stretch) => HoursOf(stretch) is var (from, until) && Holds(_forecast, from, until);

    /// <summary>Most of its hours are known.</summary>
    public bool IsKnownIn(Interval stretch)
    {
        var (from, until) = HoursOf(stretch);
        return _forecast.AsSpan(from, until - from).Count(Truth.Unknown) <= (1 - KnownShare) * (until - from);
    }

    private static bool Holds(Truth[] course, int from, int until) => course.AsSpan(from, until - from).Contains(Truth.Yes);

    /// <summary>From the first hour on that has it in the stretch to the last of the same blow, which may run on after the stretch.</summary>
    private Interval Spell(Interval stretch, Func<int, bool> has)
    {
        var (from, until) = HoursOf(stretch);
        int first = Enumerable.Range(from, until - from).FirstOrDefault(has, -1);
        if (first < 0)
            return stretch;
        int last = first;
        for (int hour = first + 1; hour < _forecast.Length && hour <= last + 1 + LullHours; hour++)
            if (has(hour))
                last = hour;
        return new(Instant.Max(_first + Hour * first, stretch.Start), _first + Hour * (last + 1));
    }

    private (int From, int Until) HoursOf(Interval stretch)
    {
        int from = Math.Clamp((int)Math.Floor((stretch.Start - _first).TotalHours), 0, _forecast.Length - 1);
        int until = Math.Clamp((int)Math.Ceiling((stretch.End - _first).TotalHours), from + 1, _forecast.Length);
        return (from, until);
    }
}

using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The windows of one job, and in what share of the forecast's runs its whole condition holds through one.</summary>
internal sealed class Opening
{
    private readonly Instant _first;
    private readonly RunsHolding? _runs;

    private Opening(ImmutableArray<Window> windows, Instant first, RunsHolding? runs) => (Windows, _first, _runs) = (windows, first, runs);

    /// <summary>In order of time.</summary>
    public ImmutableArray<Window> Windows { get; }

    public static Opening Closed { get; } = new([], Instant.MinValue, null);

    /// <summary>For what asks nothing of the weather: the slots themselves.</summary>
    public static Opening Always(ImmutableArray<Window> slots, Instant notBefore, Duration atLeast) => new(
        [.. slots.Select(slot => new Window(Instant.Max(slot.From, notBefore), slot.Until)).Where(slot => slot.Until - slot.From >= atLeast)],
        Instant.MinValue, null);

    /// <summary>
    /// Where there are runs, an hour is open when the share of them is large enough, and a window is cut so that the share
    /// in which it holds throughout is; else the one forecast decides.
    /// </summary>
    /// <param name="first">A whole hour.</param>
    /// <param name="slots">Of the gardener, in order.</param>
    public static Opening Of(
        Condition condition, Scene scene, Instant first, int hours, ImmutableArray<Window> slots, Instant notBefore, Duration atLeast, double leastShare)
    {
        if (scene.Members.IsEmpty)
        {
            var course = Evaluate.Course(condition, first, hours, scene);
            return new(Presence.Open(course.AsSpan(), first, slots, notBefore, atLeast), first, null);
        }
        var runs = RunsHolding.Of(condition, first, Asked(first, hours, slots), GardenWeather.InRuns(scene));
        var open = Presence.Open(runs.OpenFrom(leastShare), first, slots, notBefore, atLeast);
        var opening = new Opening([], first, runs);
        return new([.. open.SelectMany(window => opening.Throughout(window, atLeast, leastShare))], first, runs);
    }

    /// <summary>The chance of a window; null where there are no runs, or too few that tell.</summary>
    public double? ShareOf(Window window) => _runs?.Throughout(HourOf(window.From), HourAfter(window.Until));

    /// <summary>The hour with the largest share of runs, whether or not that is enough; null where nothing is known.</summary>
    public (Instant At, double Share)? Nearest()
    {
        (Instant At, double Share)? best = null;
        for (int hour = 0; hour < (_runs?.Hours ?? 0); hour++)
            if (_runs!.Throughout(hour, hour + 1) is { } share && !(best?.Share >= share))
                best = (_first + Duration.FromHours(hour), share);
        return best;
    }

    private IEnumerable<Window> Throughout(Window window, Duration atLeast, double leastShare)
    {
        var from = window.From;
        while (window.Until - from >= atLeast)
        {
            int start = HourOf(from), end = start + 1;
            while (end < HourAfter(window.Until) && _runs!.Throughout(start, end + 1) >= leastShare)
                end++;
            var until = Instant.Min(window.Until, _first + Duration.FromHours(end));
            if (until - from >= atLeast)
                yield return new(from, until);
            from = until;
        }
    }

    private static bool[] Asked(Instant first, int hours, ImmutableArray<Window> slots)
    {
        bool[] asked = new bool[hours];
        foreach (var slot in slots)
        {
            int from = (int)Math.Floor((slot.From - first).TotalHours), until = (int)Math.Ceiling((slot.Until - first).TotalHours);
            for (int hour = Math.Max(from, 0); hour < Math.Min(until, hours); hour++)
                asked[hour] = true;
        }
        return asked;
    }

    private int HourOf(Instant instant) => Math.Max(0, (int)Math.Floor((instant - _first).TotalHours));

    private int HourAfter(Instant instant) => Math.Min(_runs!.Hours, (int)Math.Ceiling((instant - _first).TotalHours));
}

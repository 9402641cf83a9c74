using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What a look finds that the day's messages have not told, have told as milder than it is, or have told in vain.</summary>
/// <remarks>
/// Only what is asked for now is warned of, and that is what can't be left to the next digest: see <see cref="DangerHours"/>.
/// What comes later is announced by the digest alone.
/// </remarks>
public static class Threats
{
    // One step of a warning: less than this is a forecast's own flutter, and a message that nags is soon not read.
    private const double ColderByK = 1;
    // Gusts are forecast to some 2 to 3 m/s at a day's lead; a class of the Beaufort scale is as wide. Common practice.
    private const double StrongerByMetresPerSecond = 3;
    // Twice what a day's high is usually off by. An open lid is open: only shade is worth another word. Common practice.
    private const double HotterByK = 3;
    private const double WorseByHailClass = 1;

    // What must be done sooner than this can't wait for the evening.
    private static readonly Duration CannotWait = Duration.FromHours(3);

    private static readonly LocalTime UsualEveningLook = new(17, 0);

    /// <summary>Jobs that save something before the next digest and are new since the last message, or worse than it said.</summary>
    public static ImmutableArray<Job> NewOrWorse(Agenda agenda, LastSaid lastSaid) =>
        [.. agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Now } && IsNews(job, agenda, lastSaid))];

    /// <summary>Of these, what a look before the evening's must tell: most forecasts of the day change once more until then.</summary>
    /// <param name="eveningLook">When that one is; what must be done before it can't wait for it.</param>
    public static ImmutableArray<Job> Pressing(Agenda agenda, LastSaid lastSaid, LocalTime? eveningLook = null)
    {
        var evening = (agenda.Date + (eveningLook ?? UsualEveningLook)).InZoneLeniently(agenda.Zone).ToInstant();
        return [.. NewOrWorse(agenda, lastSaid).Where(job => job.ActBy <= Instant.Max(agenda.AsOf + CannotWait, evening))];
    }

    /// <summary>Jobs that a message of today asked for and that are not wanted any more.</summary>
    public static ImmutableArray<Job> CalledOff(Agenda agenda, LastSaid lastSaid) =>
        [.. agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Dropped } && Told(job, agenda, lastSaid) is not null)];

    /// <summary>What the last message of today said of the number that decides, where it has since become worse by a step; else null.</summary>
    public static double? MilderAsTold(Job job, Agenda agenda, LastSaid lastSaid) =>
        Told(job, agenda, lastSaid)?.Value is { } told && job.DecidingValue is { } now && IsWorse(job, now, told) ? told : null;

    private static bool IsNews(Job job, Agenda agenda, LastSaid lastSaid) =>
        Told(job, agenda, lastSaid) is null || MilderAsTold(job, agenda, lastSaid) is not null;

    private static bool IsWorse(Job job, double now, double told) => job.Threat?.Danger switch
    {
        Danger.Wind => now >= told + StrongerByMetresPerSecond,
        Danger.Heat => IsHotter(job.Kind, now, told),
        Danger.Hail => now >= told + WorseByHailClass,
        _ => now <= told - ColderByK,
    };

    /// <summary>Hot days are told once for a spell; this much more is told again.</summary>
    internal static bool IsHotter(JobKind kind, double? now, double? told) => kind == JobKind.Shade && now >= told + HotterByK;

    /// <summary>A high that passes its number by so much was no flutter of a forecast that did not ask in the morning.</summary>
    internal static bool IsHotBeyondDoubt(double? now, double? number) => !(now < number + HotterByK);

    /// <summary>How a message of today told it as wanted; null when none did.</summary>
    private static Said? Told(Job job, Agenda agenda, LastSaid lastSaid) =>
        lastSaid.Jobs.TryGetValue(job.Id, out var said) && said.LastOn == agenda.Date && said.Standing == Standing.Now ? said : null;
}

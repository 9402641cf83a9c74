using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What a look finds that the day's messages have not told, have told as milder than it is, or have told in vain.</summary>
public static class Threats
{
    // One step of a warning: less than this is a forecast's own flutter, and a message that nags is soon not read.
    private const double WorseByK = 1;

    // What must be done sooner than this can't wait for the evening.
    private static readonly Duration CannotWait = Duration.FromHours(3);

    /// <summary>Jobs that save something tonight and are new since the last message, or worse than it said.</summary>
    public static ImmutableArray<Job> NewOrWorse(Agenda agenda, LastSaid lastSaid) =>
        [.. agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Now } && IsNews(job, agenda, lastSaid))];

    /// <summary>Of these, what a look before the evening's must tell: most forecasts of the day change once more until then.</summary>
    public static ImmutableArray<Job> Pressing(Agenda agenda, LastSaid lastSaid) =>
        [.. NewOrWorse(agenda, lastSaid).Where(job => job.ActBy <= agenda.AsOf + CannotWait)];

    /// <summary>Jobs that a message of today asked for and that are not wanted any more.</summary>
    public static ImmutableArray<Job> CalledOff(Agenda agenda, LastSaid lastSaid) =>
        [.. agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Dropped } && Told(job, agenda, lastSaid) is not null)];

    private static bool IsNews(Job job, Agenda agenda, LastSaid lastSaid) =>
        Told(job, agenda, lastSaid) is not { } said || job.DecidingValue is { } low && said.Value is { } told && low <= told - WorseByK;

    /// <summary>How a message of today told it as wanted; null when none did.</summary>
    private static Said? Told(Job job, Agenda agenda, LastSaid lastSaid) =>
        lastSaid.Jobs.TryGetValue(job.Id, out var said) && said.LastOn == agenda.Date && said.Standing == Standing.Now ? said : null;
}

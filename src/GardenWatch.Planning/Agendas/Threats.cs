using System.Collections.Immutable;

namespace GardenWatch.Planning.Agendas;

/// <summary>What the evening's look finds that the day's messages have not told, or told as milder than it is.</summary>
public static class Threats
{
    // One step of a warning: less than this is a forecast's own flutter, and a message that nags is soon not read.
    private const double WorseByK = 1;

    /// <summary>Jobs that save something tonight and are new since the last message, or worse than it said.</summary>
    public static ImmutableArray<Job> NewOrWorse(Agenda agenda, LastSaid lastSaid) =>
        [.. agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Now } && IsNews(job, agenda, lastSaid))];

    private static bool IsNews(Job job, Agenda agenda, LastSaid lastSaid)
    {
        if (!lastSaid.Jobs.TryGetValue(job.Id, out var said) || said.LastOn != agenda.Date || said.Standing != Standing.Now)
            return true;
        return job.DecidingValue is { } low && said.Value is { } told && low <= told - WorseByK;
    }
}

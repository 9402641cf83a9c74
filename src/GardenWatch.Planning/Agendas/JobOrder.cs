using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What dies first, what closes first, what takes longest to come again; what was asked for in vain steps behind.</summary>
internal static class JobOrder
{
    public static ImmutableArray<Job> Of(IEnumerable<Job> jobs, LocalCalendar calendar) =>
    [
        .. jobs.OrderBy(Rank)
            .ThenBy(job => Rank(job) == AnyHour ? DaysOpen(job, calendar) : 0)
            .ThenBy(job => job.ActBy ?? job.Best?.From ?? Instant.MaxValue)
            .ThenBy(job => job.Id, StringComparer.Ordinal),
    ];

    private const int AnyHour = 2;

    private static int Rank(Job job) => job switch
    {
        { Protects: true, Standing: Standing.Now } => 0,
        { Standing: Standing.Now, ActBy: not null } => 1,
        { Sinks: true } => 3,
        { Standing: Standing.Now } => AnyHour,
        { Protects: true, Standing: Standing.Soon } => 4,
        { Standing: Standing.Soon } => 5,
        { Standing: Standing.Waiting } => 6,
        _ => 7,
    };

    /// <summary>On how many of the days that are looked at it could be done.</summary>
    private static int DaysOpen(Job job, LocalCalendar calendar) => job.Windows.Select(window => calendar.DateOf(window.From)).Distinct().Count();
}

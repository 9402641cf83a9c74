using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What dies first, what closes first, what takes longest to come again; what was asked for in vain steps behind.</summary>
internal static class JobOrder
{
    public static ImmutableArray<Job> Of(IEnumerable<Job> jobs, LocalCalendar calendar) =>
    [
        .. jobs.OrderBy(Rank)
            .ThenBy(job => job.ActBy ?? Instant.MaxValue)
            .ThenBy(Weight)
            .ThenBy(job => job.Standing == Standing.Now ? DaysOpen(job, calendar) : 0)
            .ThenBy(job => job.Best?.From ?? Instant.MaxValue)
            .ThenBy(job => job.Id, StringComparer.Ordinal),
    ];

    private static int Rank(Job job) => job switch
    {
        { Protects: true, Standing: Standing.Now } => 0,
        { Standing: Standing.Now, ActBy: not null } => 1,
        { Sinks: true } => 3,
        { Standing: Standing.Now } => 2,
        { Protects: true, Standing: Standing.Soon } => 4,
        { Standing: Standing.Soon } => 5,
        { Standing: Standing.Waiting } => 6,
        _ => 7,
    };

    /// <summary>Young plants stand first, then what dries up and what is ripe, then seed, then what any day this week will do.</summary>
    private static int Weight(Job job) => job.Standing is not (Standing.Now or Standing.Soon) ? 0 : job.Kind switch
    {
        JobKind.SetOut => 0,
        JobKind.Water when job.Reasons.Any(reason => reason.Code == Reason.WaterToGive) => 0,
        JobKind.Harvest or JobKind.Cure => 1,
        JobKind.Sow or JobKind.StartIndoors or JobKind.Spread or JobKind.Spray or JobKind.Water => 2,
        JobKind.HardenOff or JobKind.PotOn or JobKind.EarthUp or JobKind.Net => 3,
        JobKind.Thin or JobKind.Stake or JobKind.Feed or JobKind.SowGreenCover => 4,
        JobKind.Clear or JobKind.Clean or JobKind.Prepare or JobKind.SaveSeed => 6,
        _ => 5,
    };

    /// <summary>On how many of the days that are looked at it could be done.</summary>
    private static int DaysOpen(Job job, LocalCalendar calendar) => job.Windows.Select(window => calendar.DateOf(window.From)).Distinct().Count();
}

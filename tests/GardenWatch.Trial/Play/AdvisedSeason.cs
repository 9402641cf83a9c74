using System.Collections.Immutable;
using GardenWatch.Demo;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Trial.Observed;
using NodaTime;

namespace GardenWatch.Trial.Play;

/// <summary>One local date: what its two looks said of the coming night, and what stood out in it.</summary>
/// <param name="CoveredByMorning">Plantings that the 6 o'clock look told to cover tonight.</param>
/// <param name="CoveredByEvening">Those that the 17 o'clock look told.</param>
/// <param name="AirLowC">Forecast air low of the night at each look; null when not known.</param>
/// <param name="Warned">The evening's look would have sent a message of its own.</param>
/// <param name="TenderOut">Plantings standing out tonight whose leaves a light frost harms.</param>
internal sealed record AdvisedDay(
    LocalDate Date, ImmutableHashSet<string> CoveredByMorning, ImmutableHashSet<string> CoveredByEvening,
    (double? Morning, double? Evening) AirLowC, bool Warned, ImmutableHashSet<string> TenderOut);

/// <summary>
/// A year in which the gardener does each day what the morning advised, in the hours that it named, and covers what the
/// evening adds.
/// </summary>
/// <param name="Level">Plantings on beds that are no colder than the place.</param>
internal sealed record AdvisedSeason(
    int Year, ImmutableArray<AdvisedDay> Days, ImmutableArray<Deed> Deeds, ImmutableHashSet<string> Level)
{
    /// <summary>Leaves of a crop with this limit or a higher one are harmed by a light frost: potato tops, beans, tomatoes, squash.</summary>
    private const double TenderFromC = 0;
    private static readonly LocalTime Morning = new(6, 0);
    private static readonly LocalTime Evening = new(17, 0);
    private static readonly LocalTime Usually = new(18, 0);

    /// <summary>1 March: nothing of the plan is done before.</summary>
    public static AnnualDate Begins { get; } = new(3, 1);

    /// <summary>31 October: what is tender is picked by then.</summary>
    public static AnnualDate Ends { get; } = new(10, 31);

    public static async Task<AdvisedSeason> Live(ForecastFromTruth forecasts, int year, AnnualDate until, CancellationToken ct)
    {
        var from = Begins.InYear(year);
        string folder = Directory.CreateTempSubdirectory("gardenwatch-trial-").FullName;
        try
        {
            using var garden = new AdvisedGarden(folder, forecasts, from);
            var days = ImmutableArray.CreateBuilder<AdvisedDay>();
            var deeds = ImmutableArray.CreateBuilder<Deed>();
            for (var date = from; date <= until.InYear(year); date = date.PlusDays(1))
                days.Add(await Day(garden, date, deeds, ct).ConfigureAwait(false));
            var level = garden.Plan.Plantings.Where(planting => garden.Plan.BedOf(planting.BedId).FrostPocket.Kelvins <= 0).Select(planting => planting.Id);
            return new(year, days.ToImmutable(), deeds.ToImmutable(), [.. level]);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<AdvisedDay> Day(AdvisedGarden garden, LocalDate date, ImmutableArray<Deed>.Builder deeds, CancellationToken ct)
    {
        var done = new HashSet<string>();
        void Do(IEnumerable<Job> jobs)
        {
            foreach (var job in jobs.Where(job => job.Standing == Standing.Now && done.Add(job.Id)))
            {
                var at = job.Kind == JobKind.Cover ? job.ActBy ?? At(date, Usually) : job.Best?.From ?? FirstWindow(job) ?? job.ActBy ?? At(date, Usually);
                garden.Done(job, date, at);
                if (DeedOf(job, at) is { } deed)
                    deeds.Add(deed);
            }
        }

        var morning = await garden.Look(At(date, Morning), ct).ConfigureAwait(false);
        garden.Digest(morning);
        Do(morning.Jobs);
        var evening = await garden.Look(At(date, Evening), ct).ConfigureAwait(false);
        var threats = Threats.NewOrWorse(evening, garden.LastSaid(evening.AsOf));
        garden.Warning(evening);
        Do(threats);
        return new(
            date, Covers(morning), Covers(evening), (morning.Week[0].LowC, evening.Week[0].LowC), threats.Any(job => job.Threat is null),
            [.. garden.StandingOut(date).Where(IsTender).Select(planting => planting.Id)]);
    }

    private static Instant At(LocalDate date, LocalTime time) => DeBilt.Calendar.At(date, time);

    private static bool IsTender(Planting planting) => planting.Crop.LeafLimit.Celsius >= TenderFromC;

    private static Instant? FirstWindow(Job job) => job.Windows.IsEmpty ? null : job.Windows[0].From;

    private static ImmutableHashSet<string> Covers(Agenda agenda) =>
        [.. agenda.Jobs.Where(job => job is { Kind: JobKind.Cover, Standing: Standing.Now }).Select(job => job.SubjectId)];

    private static Deed? DeedOf(Job job, Instant at)
    {
        var phrases = job.Needs
            .Select(need => ConditionText.Read(need.Condition) is ConditionReading.Ok { Condition: Condition.Phrase phrase } ? phrase : null)
            .OfType<Condition.Phrase>()
            .ToList();
        var soil = phrases.Find(phrase => phrase is { Of.Measure: Measure.Soil, Comparison: Comparison.AtLeast });
        var nights = phrases.Find(phrase => phrase is { Of.Measure: Measure.Air, Window.Kind: WindowKind.NextNights, Comparison: Comparison.AtLeast });
        DeedKind? kind = job.Kind switch
        {
            JobKind.Sow => DeedKind.Sow,
            JobKind.SetOut => DeedKind.SetOut,
            JobKind.Spread when job.Best is null => DeedKind.SpreadAndWater,
            JobKind.Spread => DeedKind.Spread,
            _ => null,
        };
        return kind is { } known
            ? new(known, job.Crop ?? job.Name, at, soil?.Limit.Default?.Value, soil?.Of.DepthMetres, nights?.Limit.Default?.Value)
            : null;
    }
}

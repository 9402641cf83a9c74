using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Readings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

public sealed partial record Agenda
{
    /// <summary>
    /// The whole morning in one step: same input, same agenda. What the plan, its sowings and the journal ask for is held
    /// against the weather, bed by bed, and put in the order in which it can't wait.
    /// </summary>
    /// <param name="plan">Checked plan with stable ids; its crops carry their profiles.</param>
    /// <param name="calendar">Days and nights of the place.</param>
    /// <param name="journal">What had been recorded by <paramref name="asOf"/>.</param>
    /// <param name="known">What was known of the weather by <paramref name="asOf"/>.</param>
    /// <param name="lastSaid">What the last messages told.</param>
    /// <param name="asOf">The instant of the look.</param>
    public static Agenda For(
        Plan plan, LocalCalendar calendar, Journal journal, KnownWeather known, LastSaid lastSaid, Instant asOf)
    {
        var news = known.News;
        var today = calendar.DateOf(asOf);
        var corrections = Corrections.Of(journal, asOf);
        (plan, known) = (corrections.Applied(plan), corrections.Applied(known, calendar));
        var garden = new GardenWeather(plan, calendar, known, asOf, corrections);
        var season = Planning.Sowings.Season.Of(plan, journal, garden, lastSaid, asOf);
        var wanted = WantedJobs.Of(season)
            .Select(want => Spoken(want with { Moments = want.Moments.With(known.Climate) }, plan.Tongue.IsEnglish ? plan.Units : UnitSystem.Metric))
            .ToList();

        var frost = new FrostJobs(plan, garden, lastSaid, news, asOf);
        var inWeather = new WeatherJobs(plan, garden, lastSaid, news, asOf);
        var jobs = wanted
            .Select(want => want.Id.Kind switch
            {
                JobKind.Cover => frost.Of(want),
                JobKind.Uncover => frost.Off(want),
                _ => inWeather.Of(want),
            })
            .OfType<Job>()
            .ToList();
        var leftOn = LyingCovers.Leave(jobs, wanted, garden, asOf);
        var dangers = new DangerJobs(plan, garden, lastSaid, news, asOf);
        jobs.AddRange(DangersTo.Of(plan, season.Sowings, journal, today).Select(dangers.Of).OfType<Job>());
        DangerJobs.Settle(jobs, garden, plan, asOf);

        var agenda = new Agenda
        {
            GardenId = plan.GardenId,
            GardenName = plan.Name,
            Date = today,
            Zone = calendar.Zone,
            AsOf = asOf,
            Tongue = plan.Tongue,
            Weather = news,
            Jobs = JobOrder.Of(jobs.Select(job => job with { TimesAsked = lastSaid.Jobs.GetValueOrDefault(job.Id)?.TimesAsked ?? 0 }), calendar),
            Week = WeekAhead.Of(garden, today),
            Sowings = SowingOutlooks.Of(season),
            Ahead = SowingOutlooks.Ahead(season),
            Beds = BedOutlooks.Of(season),
            Notes = [.. NotesOf(plan, wanted, news), .. leftOn, .. wanted
                .Where(want => want.Id.Kind == JobKind.Cover && want.LiesSince is null && !jobs.Exists(job => job.Id == want.Id.ToString())).Select(new FrostWords(garden, news, today).NoNeed).OfType<string>().Distinct(), .. SeasonNotes.Of(season), .. WaterJobs.Unknown(season), .. AfterWeatherJobs.Unknown(season)],
            SilentForDays = SilentFor(journal, calendar, today),
            MinutesAtHand = plan.InTheGarden.MinutesOn(today),
        };
        agenda = agenda with { BeforeLeaving = Leaving.Of(plan, agenda, calendar, garden.Speech) };
        return agenda with { Rests = Rest.IsNow(agenda, calendar) };
    }

    /// <summary>A crop's own advice in the garden's units; the gardener's own words stay as they are written.</summary>
    /// <remarks>Ranges are found by the English "to": a translated line keeps the units in which it is written.</remarks>
    private static Wanted Spoken(Wanted want, UnitSystem units) => want.Sowing is null ? want : want with
    {
        How = want.How is { } how ? MeasuresInText.Spoken(how, units) : null,
        Otherwise = want.Otherwise is { } otherwise ? MeasuresInText.Spoken(otherwise, units) : null,
    };

    /// <summary>What of it concerns someone who tends some of the beds: their jobs, and those that belong to no bed.</summary>
    /// <param name="bedIds">Empty for all.</param>
    public Agenda OfBeds(ImmutableArray<string> bedIds) => bedIds.IsEmpty ? this : this with
    {
        Jobs = [.. Jobs.Where(job => job.BedId is null || bedIds.Contains(job.BedId))],
        Sowings = [.. Sowings.Where(sowing => bedIds.Contains(sowing.BedId))],
        Ahead = [.. Ahead.Where(sowing => bedIds.Contains(sowing.BedId))],
        Beds = [.. Beds.Where(bed => bedIds.Contains(bed.Id))],
    };

    /// <summary>What somebody does who looks after the garden for some days: water, keep frost and sun off, pick.</summary>
    public Agenda ForSitter() => this with
    {
        Jobs = [.. Jobs.Where(job => job.Standing is Standing.Now or Standing.Soon && (job.Protects || SittersKinds.Contains(job.Kind)))],
        Sowings = [],
        BeforeLeaving = [],
        MinutesAtHand = null,
    };

    private static readonly ImmutableArray<JobKind> SittersKinds =
        [JobKind.Water, JobKind.Cover, JobKind.Uncover, JobKind.Vent, JobKind.Shade, JobKind.Shelter, JobKind.Protect, JobKind.Harvest];

    // A holiday, or a garden that is left to itself. Common practice.
    private const int SilentFromDays = 14, SilentUntilDays = 60;

    private static int? SilentFor(Journal journal, LocalCalendar calendar, LocalDate today) =>
        journal.Entries.IsEmpty ? null
        : Period.DaysBetween(calendar.DateOf(journal.Entries[^1].RecordedAt), today) is >= SilentFromDays and <= SilentUntilDays and var days ? days : null;

    private static IEnumerable<string> NotesOf(Plan plan, List<Wanted> wanted, WeatherNews news)
    {
        if (news.State == WeatherState.Fresh)
            yield break;
        var withheld = wanted
            .Where(want => !want.OnOccasion && !want.Conditions.AsksNothing && want.Id.Kind is not (JobKind.Cover or JobKind.Uncover))
            .Select(want => want.Bed is { } bed ? $"{want.Name} ({bed.Name})" : want.Name)
            .Distinct()
            .ToList();
        string jobs = string.Join("; ", withheld);
        if (withheld.Count > 0)
            yield return news.State == WeatherState.Missing
                ? plan.Tongue.Say($"There is no weather to go by yet, so nothing is said for or against: {jobs}.")
                : plan.Tongue.Say($"The forecast is {plan.Tongue.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old, so nothing is said for or against: {jobs}.");
    }
}

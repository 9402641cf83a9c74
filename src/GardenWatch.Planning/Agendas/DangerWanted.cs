using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>A job that some weather would call for, before the weather is looked at.</summary>
/// <param name="What">Its conditions, numbers and words.</param>
/// <param name="Stake">What is lost, as a clause that follows the weather: "tall stems break".</param>
internal sealed record DangerWanted(Danger Danger, Wanted What, string Stake);

/// <summary>
/// Reads off the beds and what stands in them which jobs wind, hail and heat would call for. What is tied or shaded is a planting;
/// what is shut, opened, moved or sheltered is a bed, once for all that stands there.
/// </summary>
internal static class DangersTo
{
    // How long what was done still serves: ties hold, a shade is left up, a shut frame is opened again. Common practice.
    private const int TiesHoldDays = 14, ShadeStaysDays = 5, ShutStaysDays = 1;

    // What was skipped is not asked again while the same weather lasts.
    private const int SkippedDays = 1;

    // The cover of a frost night lies for two days at most, then it is recorded as taken off or was.
    private const int CoverLiesDays = 2;

    // A month after it began a plant has leaves to spare. Common practice.
    private const int YoungDays = 30;

    // A planting of which nobody knows when it was set out has stood there long enough.
    private const int LongSinceDays = 1000;

    public static IEnumerable<DangerWanted> Of(Plan plan, ImmutableArray<Sowing> sowings, Journal journal, LocalDate today)
    {
        var standing = plan.Beds.ToImmutableDictionary(bed => bed.Id, bed => StandingIn(bed, sowings, today));
        return
        [
            .. plan.Beds.SelectMany(bed => OfBed(plan, bed, standing[bed.Id], journal, today)),
            .. plan.Plantings.SelectMany(planting => standing[planting.BedId].FirstOrDefault(sowing => sowing.Planting.Id == planting.Id) is { } first
                ? OfPlanting(plan, plan.BedOf(planting.BedId), first, journal, today)
                : []),
        ];
    }

    /// <summary>What is done to a bed, once for all that stands there.</summary>
    public static ImmutableArray<JobKind> OfBeds { get; } = [JobKind.Protect, JobKind.Vent, JobKind.Shelter];

    public static bool IsOfABed(JobKind kind) => OfBeds.Contains(kind);

    /// <summary>Whether such weather is any danger in a bed of this kind; true for jobs that no danger calls for.</summary>
    public static bool MayBefall(JobKind kind, Bed bed, CropProfile? crop = null) => kind switch
    {
        JobKind.Tie => bed is { Over: Overhead.Open, ContainerLitres: null } && crop is not null && DangerCrops.IsTall(crop),
        JobKind.Shade or JobKind.Shelter => bed.Over == Overhead.Open,
        JobKind.Vent => bed.Over is Overhead.Frame or Overhead.Tunnel or Overhead.Greenhouse,
        JobKind.Protect => bed.Over != Overhead.Windowsill,
        _ => true,
    };

    /// <summary>What the crops planned for a bed know of a job that is done to the bed.</summary>
    public static IEnumerable<(Planting Planting, JobTemplate Job)> Templates(Plan plan, Bed bed, JobKind kind) => MayBefall(kind, bed)
        ? plan.Plantings.Where(planting => planting.BedId == bed.Id || planting.StartBedId == bed.Id)
            .SelectMany(planting => planting.Crop.Jobs.Where(job => job.Kind == kind).Select(job => (planting, job)))
        : [];

    /// <summary>What such a job is called whatever stands there now, in English.</summary>
    public static string NameOf(JobKind kind, Bed bed) => kind switch
    {
        JobKind.Vent => Opened(bed, Tongue.English),
        JobKind.Shelter => Sheltered(bed, Tongue.English),
        _ => $"Make the {bed.Name} fast against wind",
    };

    /// <summary>The first batch of each planting that has leaves in this bed, its own or that in which it is raised.</summary>
    private static ImmutableArray<Sowing> StandingIn(Bed bed, ImmutableArray<Sowing> sowings, LocalDate today) =>
        [.. sowings.Where(sowing =>
                sowing.Planting.BedId == bed.Id && sowing.StandsInItsBed(today)
                || sowing.Planting.StartBedId == bed.Id && sowing.StandsInItsStartBed)
            .DistinctBy(sowing => sowing.Planting.Id)];

    private static IEnumerable<DangerWanted> OfPlanting(Plan plan, Bed bed, Sowing sowing, Journal journal, LocalDate today)
    {
        var crop = sowing.Planting.Crop;
        if (MayBefall(JobKind.Tie, bed, crop) && IsOpen(JobKind.Tie, TiesHoldDays) is { } tie)
            yield return new(Danger.Wind, Made(JobKind.Tie, tie), plan.Tongue.Say($"tall stems break or lie down"));
        if (sowing.Stage != Stage.KeptForSeed && MayBefall(JobKind.Shade, bed, crop) && IsOpen(JobKind.Shade, ShadeStaysDays) is { } shade)
        {
            var what = Made(JobKind.Shade, shade);
            bool isNew = what.Numbers.TryGetValue("new for", out var days) && sowing.SetOutOn is { } setOut && Period.DaysBetween(setOut, today) <= days.Value;
            if (DangerCrops.IsLeafy(crop) || DangerCrops.IsFruiting(crop) || isNew)
                yield return new(Danger.Heat, what,
                    isNew ? plan.Tongue.Say($"new roots can’t keep up with such sun yet")
                    : DangerCrops.IsLeafy(crop) ? plan.Tongue.Say($"leaves turn bitter and run to seed")
                    : plan.Tongue.Say($"flowers drop and fruit scorches"));
        }

        int? IsOpen(JobKind kind, int staysDays) =>
            crop.Jobs.Any(job => job.Kind == kind) ? TimeOf(plan, sowing.Planting.Id, kind, staysDays, journal, today) : null;

        Wanted Made(JobKind kind, int time)
        {
            var template = crop.Jobs.First(job => job.Kind == kind);
            return Wanted(plan, bed, sowing, template, sowing.Planting.Id, time, journal, today) with
            {
                Name = plan.Tongue.Word(template.Name).Replace("{plants}", plan.Tongue.Word(crop.Plants), StringComparison.Ordinal),
                Sowing = sowing,
            };
        }
    }

    private static IEnumerable<DangerWanted> OfBed(
        Plan plan, Bed bed, ImmutableArray<Sowing> standing, Journal journal, LocalDate today)
    {
        if (standing.IsEmpty || bed.Over == Overhead.Windowsill)
            yield break;
        if (Secured(bed, standing, journal, today, plan.Tongue) is var (shut, how, stake) && Made(JobKind.Protect, ShutStaysDays, "gust") is { } protect)
            yield return new(Danger.Wind, protect with { Name = shut, How = how }, stake);
        if (MayBefall(JobKind.Vent, bed) && Made(JobKind.Vent, 0, "heat") is { } vent)
            yield return new(Danger.Heat, vent with { Name = Opened(bed, plan.Tongue) }, plan.Tongue.Say($"under glass and film it is ten degrees and more above that, and plants cook"));
        if (MayBefall(JobKind.Shelter, bed) && BeatenByHail(standing, today) && Made(JobKind.Shelter, ShutStaysDays, "squall") is { } shelter)
            yield return new(Danger.Hail, shelter with { Name = Sheltered(bed, plan.Tongue), How = HowSheltered(bed, shelter.How, plan.Tongue) }, plan.Tongue.Say($"hail shreds soft leaves in minutes"));

        Wanted? Made(JobKind kind, int staysDays, string number)
        {
            var careful = standing
                .SelectMany(sowing => sowing.Planting.Crop.Jobs.Where(job => job.Kind == kind).Select(job => (Sowing: sowing, Job: job)))
                .MinBy(each => NumbersOf(each.Sowing, each.Job).GetValueOrDefault(number, new(double.MaxValue, Dimension.Speed)).Value);
            return careful.Job is not null && TimeOf(plan, bed.Id, kind, staysDays, journal, today) is { } time
                ? Wanted(plan, bed, careful.Sowing, careful.Job, bed.Id, time, journal, today)
                : null;
        }
    }

    private static (string Name, string How, string Stake)? Secured(Bed bed, ImmutableArray<Sowing> standing, Journal journal, LocalDate today, Tongue tongue) => bed switch
    {
        { Over: Overhead.Frame } => (tongue.Say($"Shut and strap down the {Called(bed, tongue)}"), tongue.Say($"Lids down and strapped or weighed with sacks of soil"), tongue.Say($"lids fly")),
        { Over: Overhead.Tunnel } => (tongue.Say($"Close and peg the {Called(bed, tongue)}"), tongue.Say($"Ends clamped, sides pegged or weighed down, a strap over each second hoop"), tongue.Say($"film tears loose")),
        { Over: Overhead.Greenhouse } => (tongue.Say($"Shut the {Called(bed, tongue)}"), tongue.Say($"Doors and vents shut and latched, what is loose outside taken in"), tongue.Say($"an open door or vent lets the wind lift panes")),
        { ContainerLitres: not null } when standing.Any(sowing => DangerCrops.IsTall(sowing.Planting.Crop)) =>
            (tongue.Say($"Move the {bed.Name} out of the wind"), tongue.Say($"Low and close to the house; lay the top-heavy down"), tongue.Say($"tall pots go over")),
        { Cover: not (null or CoverAtHand.None) } when standing.Any(sowing => IsCovered(sowing.Planting, journal, today)) =>
            (tongue.Say($"Take in or weigh down the cover of the {bed.Name}"), tongue.Say($"Cloth rolled up and taken in, or a weight on every half metre of its edge"), tongue.Say($"cloth tears loose")),
        _ => null,
    };

    private static string Opened(Bed bed, Tongue tongue) => bed.Over switch
    {
        Overhead.Frame => tongue.Say($"Open the {Called(bed, tongue)}"),
        Overhead.Tunnel => tongue.Say($"Open the ends of the {Called(bed, tongue)}"),
        _ => tongue.Say($"Open the {Called(bed, tongue)}"),
    };

    private static string Sheltered(Bed bed, Tongue tongue) => bed.ContainerLitres is null ? tongue.Say($"Shelter the {bed.Name}") : tongue.Say($"Move the {bed.Name} under cover");

    private static string? HowSheltered(Bed bed, string? how, Tongue tongue) =>
        bed.ContainerLitres is not null ? tongue.Say($"Against the house, under eaves or indoors") : bed.Cover == CoverAtHand.None ? tongue.Say($"Crates, buckets or upturned pots over the best plants") : how;

    /// <summary>"cold frame" for a bed of that name, "frame bed 2" for one whose name does not tell.</summary>
    private static string Called(Bed bed, Tongue tongue)
    {
        string over = Over(bed, tongue);
        bool tells = new[] { over, Over(bed, Tongue.English) }.Any(word => bed.Name.Contains(word, StringComparison.OrdinalIgnoreCase));
        return tells ? bed.Name : tongue.Say($"{over} over the {bed.Name}");
    }

    private static string Over(Bed bed, Tongue tongue) => bed.Over switch
    {
        Overhead.Frame => tongue.Say($"frame"),
        Overhead.Tunnel => tongue.Say($"tunnel"),
        _ => tongue.Say($"greenhouse"),
    };

    /// <summary>Broad soft leaves, fruit, and whatever is young; roots and onions grow on (Stebbins 2015).</summary>
    private static bool BeatenByHail(ImmutableArray<Sowing> standing, LocalDate today) => standing.Any(sowing =>
        sowing.Planting.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender || DangerCrops.IsLeafy(sowing.Planting.Crop)
        || Period.DaysBetween(sowing.SetOutOn ?? sowing.SownOn ?? today.PlusDays(-LongSinceDays), today) <= YoungDays);

    private static bool IsCovered(Planting planting, Journal journal, LocalDate today) =>
        journal.LastDone(planting.Id, JobKind.Cover) is { } covered && covered >= today.PlusDays(-CoverLiesDays) &&
        !(journal.LastDone(planting.Id, JobKind.Uncover) > covered);

    /// <summary>The how-manieth time it is; null while what was done the last time still serves.</summary>
    private static int? TimeOf(Plan plan, string subjectId, JobKind kind, int staysDays, Journal journal, LocalDate today)
    {
        int time = 1 + journal.TimesClosed(subjectId, kind, before: today);
        bool serves = journal.LastDone(subjectId, kind) >= today.PlusDays(-staysDays) || journal.LastSkipped(subjectId, kind) >= today.PlusDays(-SkippedDays);
        return serves || journal.Skipped(subjectId, kind, time) ? null : time;
    }

    private static Wanted Wanted(
        Plan plan, Bed bed, Sowing sowing, JobTemplate template, string subjectId, int time, Journal journal, LocalDate today) => new()
    {
        Id = new JobId(plan.GardenId, subjectId, template.Kind, time),
        Name = plan.Tongue.Word(template.Name),
        Bed = bed,
        Conditions = template.Conditions,
        Numbers = NumbersOf(sowing, template),
        Moments = Moments.None
            .With(Milestone.SetOut, sowing.SetOutOn ?? today.PlusDays(-LongSinceDays))
            .With(Milestone.Sown, sowing.SownOn ?? sowing.SetOutOn ?? today.PlusDays(-LongSinceDays)),
        Minutes = template.Minutes,
        How = plan.Tongue.WordOrNone(template.How),
        Otherwise = plan.Tongue.WordOrNone(template.Otherwise),
        Cautions = [.. template.Cautions.Select(plan.Tongue.Word)],
        PutOffUntil = journal.PutOffUntil(subjectId, template.Kind, time),
    };

    private static ImmutableDictionary<string, Quantity> NumbersOf(Sowing sowing, JobTemplate template) =>
        JobNumbers.InForce(JobNumbers.Of(sowing.Planting, template));
}

using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>A job that the plan and the season ask for, before the weather is looked at.</summary>
internal sealed record Wanted
{
    public required JobId Id { get; init; }
    public required string Name { get; init; }
    public Bed? Bed { get; init; }
    public Sowing? Sowing { get; init; }
    public required ConditionSet Conditions { get; init; }
    public required ImmutableDictionary<string, Quantity> Numbers { get; init; }
    public Moments Moments { get; init; } = Moments.None;
    public int? Minutes { get; init; }
    public string? How { get; init; }
    public string? Otherwise { get; init; }
    public ImmutableArray<string> Cautions { get; init; } = [];
    /// <summary>The first date on which it is wanted; null for at once.</summary>
    public LocalDate? NotBefore { get; init; }
    /// <summary>What else it waits for, said as a need: a bed that is still taken.</summary>
    public string? WaitsFor { get; init; }
    /// <summary>What to do when the weather asked for has not come for some days.</summary>
    public Otherwise? WhenItWontCome { get; init; }

    public LocalDate? PutOffUntil { get; init; }
}

/// <summary>Reads off the plan, the sowings and the journal which jobs are open.</summary>
internal static class WantedJobs
{
    // A look or a batch further off than this is not worth a line yet. Common practice.
    private const int LookAheadDays = 7;

    public static IEnumerable<Wanted> Of(
        Plan plan, ImmutableArray<Sowing> sowings, Journals.Journal journal, LocalDate today) =>
        [
            .. sowings.SelectMany(sowing => OfSowing(plan, sowings, sowing, journal, today)),
            .. plan.Chores.SelectMany(chore => OfChore(plan, chore, journal, today)),
        ];

    private static IEnumerable<Wanted> OfSowing(
        Plan plan, ImmutableArray<Sowing> sowings, Sowing sowing, Journals.Journal journal, LocalDate today)
    {
        var planting = sowing.Planting;
        var bed = plan.BedOf(planting.BedId);
        foreach (var template in planting.Crop.Jobs)
        {
            int time;
            switch (template.Kind)
            {
                case JobKind.Sow when sowing.Stage == Stage.Planned && !sowing.IsSetOut:
                case JobKind.StartIndoors when sowing.Stage == Stage.Planned && planting.StartBedId is not null &&
                    !journal.Skipped(planting.Id, JobKind.StartIndoors, sowing.Batch):
                case JobKind.SetOut when sowing.Stage is Stage.Planned or Stage.Sown && sowing.IsSetOut:
                    if (sowing.NotBefore > today.PlusDays(LookAheadDays) && sowing.Batch > 1)
                        continue;
                    time = sowing.Batch;
                    break;
                // One cover lies over all batches of a planting: the first that stands speaks for them.
                case JobKind.Cover when !bed.IsIndoors && sowing == sowings.FirstOrDefault(
                    batch => batch.Planting.Id == planting.Id && batch.StandsInItsBed(today)):
                    time = 1 + journal.TimesClosed(planting.Id, JobKind.Cover, before: today);
                    if (Covered(planting, journal, today) is { } uncover)
                        yield return new Wanted
                        {
                            Id = new JobId(plan.GardenId, planting.Id, JobKind.Uncover, uncover),
                            Name = plan.Tongue.Say($"Uncover the {plan.Tongue.Word(planting.Crop.Plants)}"),
                            Bed = bed,
                            Sowing = sowing,
                            Conditions = ConditionSet.Always,
                            Numbers = ImmutableDictionary<string, Quantity>.Empty,
                        };
                    if (journal.DoneOn(planting.Id, JobKind.Cover, time) >= today || journal.Skipped(planting.Id, JobKind.Cover, time))
                        continue;
                    break;
                default:
                    continue;
            }
            var id = new JobId(plan.GardenId, planting.Id, template.Kind, time);
            bool takesTheBed = template.Kind is JobKind.Sow or JobKind.SetOut;
            yield return new Wanted
            {
                Id = id,
                Name = NameOf(template, sowing, plan.Tongue),
                Bed = template.Kind == JobKind.StartIndoors ? plan.BedOf(planting.StartBedId!) : bed,
                Sowing = sowing,
                Conditions = template.Conditions,
                Numbers = NumbersOf(planting, template),
                Moments = MomentsOf(
                    (Milestone.Sown, sowing.SownOn), (Milestone.SetOut, sowing.SetOutOn),
                    (Milestone.LastDone, journal.LastDone(planting.Id, template.Kind))),
                Minutes = template.Minutes,
                How = plan.Tongue.WordOrNone(template.How),
                Otherwise = plan.Tongue.WordOrNone(template.Otherwise),
                Cautions = [.. template.Cautions.Select(plan.Tongue.Word)],
                NotBefore = template.Kind == JobKind.Cover ? null : sowing.NotBefore,
                WaitsFor = takesTheBed ? BedTaken(plan, sowings, sowing, today) : null,
                PutOffUntil = journal.PutOffUntil(planting.Id, template.Kind, time),
            };
        }
    }

    private static IEnumerable<Wanted> OfChore(Plan plan, Chore chore, Journals.Journal journal, LocalDate today)
    {
        var lastDone = journal.LastDone(chore.Id, chore.Kind);
        var lastClosed = Later(lastDone, journal.LastSkipped(chore.Id, chore.Kind));
        int time = 1 + journal.TimesClosed(chore.Id, chore.Kind, before: today.PlusDays(1));
        bool once = chore.EveryDays is null && lastClosed is not null;
        var due = lastClosed is { } closed && chore.EveryDays is { } every ? closed.PlusDays(every) : (LocalDate?)null;
        var bed = chore.BedId is { } bedId ? plan.BedOf(bedId) : null;
        if (!once && !(due > today.PlusDays(LookAheadDays)))
            yield return new Wanted
            {
                Id = new JobId(plan.GardenId, chore.Id, chore.Kind, time),
                Name = chore.Name,
                Bed = bed,
                Conditions = chore.AllConditions,
                Numbers = JobNumbers.InForce(JobNumbers.Of(chore)),
                Moments = MomentsOf((Milestone.LastDone, lastDone)),
                Minutes = chore.Minutes,
                How = chore.How,
                Cautions = CautionsOf(chore, plan.Tongue),
                NotBefore = due,
                WhenItWontCome = chore.Otherwise,
                PutOffUntil = journal.PutOffUntil(chore.Id, chore.Kind, time),
            };

        if (chore.Then is { } then && lastDone is { } done)
        {
            int looked = journal.TimesClosed(chore.Id, JobKind.Look, before: today.PlusDays(1));
            var lookFrom = done.PlusDays(then.AfterDays);
            // One look belongs to each time the chore was done; it lapses when it is not taken within a week.
            if (looked < journal.TimesClosed(chore.Id, chore.Kind, before: today.PlusDays(1)) &&
                !(journal.LastDone(chore.Id, JobKind.Look) >= done) &&
                lookFrom <= today && today <= lookFrom.PlusDays(LookAheadDays))
                yield return new Wanted
                {
                    Id = new JobId(plan.GardenId, chore.Id, JobKind.Look, looked + 1),
                    Name = plan.Tongue.Say($"Look for {then.LookFor}"),
                    Bed = bed,
                    Conditions = ConditionSet.Always,
                    Numbers = ImmutableDictionary<string, Quantity>.Empty,
                    PutOffUntil = journal.PutOffUntil(chore.Id, JobKind.Look, looked + 1),
                };
        }
    }

    /// <summary>The how-manieth cover lies on the bed since last evening; null when none was recorded, or it is off again.</summary>
    private static int? Covered(Planting planting, Journals.Journal journal, LocalDate today) =>
        journal.LastDone(planting.Id, JobKind.Cover) is { } covered && covered < today && covered >= today.PlusDays(-2) &&
        !(journal.LastDone(planting.Id, JobKind.Uncover) > covered)
            ? journal.TimesClosed(planting.Id, JobKind.Cover, before: today)
            : null;

    /// <summary>The numbers in force; the leaf limit is the crop's own where no phrase of the job has one.</summary>
    private static ImmutableDictionary<string, Quantity> NumbersOf(Planting planting, JobTemplate template)
    {
        var numbers = JobNumbers.InForce(JobNumbers.Of(planting, template));
        return numbers.ContainsKey("leaf") ? numbers : numbers.Add("leaf", new(planting.Crop.LeafLimit.Celsius, Dimension.Temperature));
    }

    private static Moments MomentsOf(params ReadOnlySpan<(Milestone Milestone, LocalDate? Date)> known)
    {
        var moments = Moments.None;
        foreach (var (milestone, date) in known)
            if (date is { } day)
                moments = moments.With(milestone, day);
        return moments;
    }

    private static string NameOf(JobTemplate template, Sowing sowing, Tongue tongue)
    {
        string plants = tongue.Word(sowing.Planting.Crop.Plants);
        string name = tongue.Word(template.Name).Replace("{plants}", plants, StringComparison.Ordinal);
        return sowing.Planting.Sowings is not null && template.Kind is JobKind.Sow ? tongue.Say($"{name}, batch {sowing.Batch}") : name;
    }

    private static string? BedTaken(Plan plan, ImmutableArray<Sowing> sowings, Sowing sowing, LocalDate today)
    {
        if (sowing.Planting.AfterPlantingId is not { } before)
            return null;
        var still = sowings
            .Where(other => other.Planting.Id == before && other.StandsInItsBed(today.PlusDays(LookAheadDays)))
            .Select(other => (other.Planting.Crop, Free: SowingOutlooks.HarvestOf(other)?.End))
            .ToList();
        if (still.Count == 0 || still.All(other => other.Free < today))
            return null;
        var free = still.Max(other => other.Free);
        string plants = plan.Tongue.Word(still[0].Crop.Plants);
        return free is { } date ? plan.Tongue.Say($"{plants} in the bed until about {plan.Tongue.Date(date)}") : plan.Tongue.Say($"{plants} still in the bed");
    }

    private static ImmutableArray<string> CautionsOf(Chore chore, Tongue tongue)
    {
        var cautions = ImmutableArray.CreateBuilder<string>();
        if (chore.Caution is { } own && !own.Contains("label", StringComparison.OrdinalIgnoreCase))
            cautions.Add(own);
        if (chore.Kind is JobKind.Spread or JobKind.Spray or JobKind.Feed || chore.Caution is not null && cautions.Count == 0)
            cautions.Add(tongue.Say($"The product label and local rules decide the amount, and who and what stays away from it."));
        return cautions.ToImmutable();
    }

    private static LocalDate? Later(LocalDate? a, LocalDate? b) => a is null ? b : b is null ? a : LocalDate.Max(a.Value, b.Value);
}

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
    /// <summary>The date since which the cover that is asked for lies on it, by the record; null when none does.</summary>
    public LocalDate? LiesSince { get; init; }
    /// <summary>Once done it is left as it is.</summary>
    public bool Stays { get; init; }
    public ImmutableArray<string> Cautions { get; init; } = [];
    /// <summary>The first date on which it is wanted; null for at once.</summary>
    public LocalDate? NotBefore { get; init; }
    /// <summary>What else it waits for, said as a need: a bed that is still taken.</summary>
    public Hindrance? WaitsFor { get; init; }
    /// <summary>What the season says for it, before what the weather says.</summary>
    public ImmutableArray<Reason> Because { get; init; } = [];
    /// <summary>What to do when the weather asked for has not come for some days.</summary>
    public Otherwise? WhenItWontCome { get; init; }

    /// <inheritdoc cref="Job.DecidingValue"/>
    public double? Deciding { get; init; }
    /// <summary>After it the job is no use any more: a night takes what is not picked.</summary>
    public Instant? NoLaterThan { get; init; }
    /// <summary>Not between ten and five where the gardener's hours leave a choice.</summary>
    public bool AvoidsMidday { get; init; }
    /// <summary>Not told while it would have to wait for its weather; but that its weather is not known is.</summary>
    public bool OnOccasion { get; init; }
    public LocalDate? PutOffUntil { get; init; }
}

/// <summary>What else than weather keeps a job waiting.</summary>
/// <param name="What">What is needed, as the JSON names it: "bed free", "hardened".</param>
/// <param name="Sentence">What is in the way, without a stop.</param>
/// <param name="Likely">When it will likely be out of the way; null when not known.</param>
internal sealed record Hindrance(string What, string Sentence, DateInterval? Likely);

/// <summary>Reads off the plan, the sowings and the journal which jobs are open.</summary>
internal static class WantedJobs
{
    // A look or a batch further off than this is not worth a line yet. Common practice.
    private const int LookAheadDays = 7;

    public static IEnumerable<Wanted> Of(Season season) =>
        [
            .. season.Sowings.SelectMany(sowing => SowingJobs.Of(season, sowing)),
            .. season.Sowings.SelectMany(sowing => GrowingJobs.Of(season, sowing)),
            .. LookJobs.Of(season),
            .. WaterJobs.Of(season),
            .. NewGroundJobs.Of(season),
            .. YearJobs.Of(season),
            .. AfterWeatherJobs.Of(season),
            .. season.Plan.Chores.SelectMany(chore => OfChore(season, chore)),
        ];

    private static IEnumerable<Wanted> OfChore(Season season, Chore chore)
    {
        var (plan, journal, today) = (season.Plan, season.Journal, season.Today);
        var lastDone = journal.LastDone(chore.Id, chore.Kind);
        var lastClosed = Later(lastDone, journal.LastSkipped(chore.Id, chore.Kind));
        int time = 1 + journal.TimesClosed(chore.Id, chore.Kind, before: today.PlusDays(1));
        bool once = chore.EveryDays is null && lastClosed is not null;
        var due = lastClosed is { } closed && chore.EveryDays is { } every ? closed.PlusDays(every) : (LocalDate?)null;
        var bed = chore.BedId is { } bedId ? plan.BedOf(bedId) : null;
        var washed = due is { } planned && lastDone == lastClosed ? WashedOff.Of(chore, bed, lastDone!.Value, planned, season.Weather, season.AsOf) : null;
        due = washed?.Due ?? due;
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
                Because = washed is null ? [] : [washed.Why],
                WhenItWontCome = chore.Otherwise,
                PutOffUntil = journal.PutOffUntil(chore.Id, chore.Kind, time),
            };

        if (chore.Then is { } then && lastDone is { } done)
        {
            int looked = journal.TimesClosed(chore.Id, JobKind.Look, before: today.PlusDays(1));
            var lookFrom = NextLook(journal, chore, then, done, today);
            // It lapses when it is not taken within a week, and when the chore itself is due again.
            if (lookFrom <= today && today <= lookFrom.Value.PlusDays(LookAheadDays) && !(due <= today))
                yield return new Wanted
                {
                    Id = new JobId(plan.GardenId, chore.Id, JobKind.Look, looked + 1),
                    Name = plan.Tongue.Say($"Look for {then.LookFor}"),
                    Bed = bed,
                    Conditions = ConditionSet.Always,
                    Numbers = ImmutableDictionary<string, Quantity>.Empty,
                    Because = [new("done-before", ImmutableDictionary<string, double>.Empty, plan.Tongue.Say($"{chore.Name} was done on {plan.Tongue.Date(done)}."))],
                    PutOffUntil = journal.PutOffUntil(chore.Id, JobKind.Look, looked + 1),
                };
        }
    }

    /// <summary>One look belongs to each time the chore was done, and where it is told so another some days after each; null when there is none to come.</summary>
    private static LocalDate? NextLook(Journals.Journal journal, Chore chore, LookAfterwards then, LocalDate done, LocalDate today)
    {
        var first = done.PlusDays(then.AfterDays);
        var last = Later(journal.LastDone(chore.Id, JobKind.Look), journal.LastSkipped(chore.Id, JobKind.Look));
        if (then.EveryDays is not { } every)
            return last >= done ? null : first;
        var next = last >= done ? last.Value.PlusDays(every) : first;
        while (next.PlusDays(LookAheadDays) < today)
            next = next.PlusDays(every);
        return next;
    }

    internal static Moments MomentsOf(params ReadOnlySpan<(Milestone Milestone, LocalDate? Date)> known)
    {
        var moments = Moments.None;
        foreach (var (milestone, date) in known)
            if (date is { } day)
                moments = moments.With(milestone, day);
        return moments;
    }

    private static ImmutableArray<string> CautionsOf(Chore chore, Tongue tongue)
    {
        var cautions = ImmutableArray.CreateBuilder<string>();
        if (chore.Caution is { } own && !own.Contains("label", StringComparison.OrdinalIgnoreCase))
            cautions.Add(own);
        if (chore.Kind == JobKind.Spray)
            cautions.Add(tongue.Say($"Not on open flowers, nor while bees fly there."));
        if (chore.Kind is JobKind.Spread or JobKind.Spray or JobKind.Feed || chore.Caution is not null && cautions.Count == 0)
            cautions.Add(tongue.Say($"The product label and local rules decide the amount, and who and what stays away from it."));
        return cautions.ToImmutable();
    }

    private static LocalDate? Later(LocalDate? a, LocalDate? b) => a is null ? b : b is null ? a : LocalDate.Max(a.Value, b.Value);
}

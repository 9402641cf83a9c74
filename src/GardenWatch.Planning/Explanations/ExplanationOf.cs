using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Readings;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Explanations;

public sealed partial record Explanation
{
    /// <summary>Explains one job, by the same steps that the agenda takes: same input, same explanation.</summary>
    /// <param name="asked">Of this plan (<see cref="AskedJob.AllOf"/>).</param>
    /// <param name="changed">
    /// Numbers to try out, by name, of the job's own (<see cref="Numbers"/>) and of the same dimension; the explanation is then
    /// as if they stood in the plan, and <see cref="Trial"/> has how it is without them.
    /// </param>
    public static Explanation Of(
        Plan plan, AskedJob asked, LocalCalendar calendar, Journal journal, KnownWeather known, LastSaid lastSaid, Instant asOf,
        IReadOnlyDictionary<string, Quantity>? changed = null)
    {
        var own = Of(plan, asked, calendar, journal, known, lastSaid, asOf);
        if (changed is null || changed.Count == 0)
            return own;
        foreach (var (name, value) in changed)
        {
            if (own.Numbers.FirstOrDefault(number => number.Name == name)?.InForce.Dimension != value.Dimension)
                throw new ArgumentException($"The job has no number `{name}` of this dimension.", nameof(changed));
        }
        return Of(Tried(plan, asked, changed), asked, calendar, journal, known, lastSaid, asOf)
            with { Trial = new(changed.ToImmutableDictionary(), own.Days) };
    }

    private static Explanation Of(
        Plan plan, AskedJob asked, LocalCalendar calendar, Journal journal, KnownWeather known, LastSaid lastSaid, Instant asOf)
    {
        // Explanations are for who tunes a plan; they quote its phrases, which are English.
        plan = plan with { Tongue = Tongue.English };
        var today = calendar.DateOf(asOf);
        var corrections = Corrections.Of(journal, asOf);
        var (ofPlan, ofWeather) = (plan, known);
        (plan, known) = (corrections.Applied(plan), corrections.Applied(known, calendar));
        var garden = new GardenWeather(plan, calendar, known, asOf, corrections);
        var season = Planning.Sowings.Season.Of(plan, journal, garden, lastSaid, asOf);
        var open = WantedJobs.Of(season).Concat(DangersTo.Of(plan, season.Sowings, journal, today).Select(danger => danger.What))
            .FirstOrDefault(want => want.Id.SubjectId == asked.SubjectId && want.Id.Kind == asked.Kind);
        var numbers = NumbersOf(plan, asked);
        var wanted = open ?? AsIfOpen(plan, asked, numbers, season.Sowings, journal);
        if (YearJobs.Find(plan, asked.SubjectId, asked.Kind) is { } ofYear)
            wanted = wanted with { Conditions = ofYear.Whole };
        wanted = wanted with { Moments = wanted.Moments.With(known.Climate) };
        var scene = garden.SceneOf(wanted);
        var judging = new JobDays(plan, calendar, wanted, scene, asOf);
        var conditions = RolesOf(wanted.Conditions)
            .Select(each => Judged(each.Role, each.Condition, judging.JudgedAt, scene)).ToImmutableArray();
        string? job = open?.Id.ToString();
        var grounds = GroundsOf(season, asked, open);
        var shipped = DecisionRule.Of(asked.Kind);
        return new()
        {
            Job = asked,
            GardenName = plan.Name,
            Speech = garden.Speech,
            AsOf = asOf,
            Today = today,
            Weather = known.News,
            Open = job is null ? null : Agenda.For(ofPlan, calendar, journal, ofWeather, lastSaid, asOf).Jobs.FirstOrDefault(each => each.Id == job),
            HeldBack = HeldBackBy(open, asked, plan, journal, today, known.News),
            JudgedAt = judging.JudgedAt,
            IsOfTheNight = judging.IsOfTheNight,
            IsOfTheDay = judging.IsOfTheDay,
            Grounds = grounds,
            Conditions = conditions,
            Numbers = WithChance(numbers, shipped),
            Rule = shipped.With(wanted.Numbers),
            Days = known.News.State == WeatherState.Missing || !grounds.IsEmpty ? [] : judging.All(),
        };
    }

    internal static IEnumerable<(ConditionRole Role, Condition Condition)> RolesOf(ConditionSet conditions) =>
        conditions.When.Select(condition => (ConditionRole.When, condition))
            .Concat(conditions.Unless.Select(condition => (ConditionRole.Unless, condition)))
            .Concat(conditions.By.Select(condition => (ConditionRole.By, condition)));

    private static ExplainedCondition Judged(ConditionRole role, Condition condition, Instant at, Scene scene)
    {
        var verdict = Evaluate.At(condition, at, scene);
        var single = condition as Condition.Phrase;
        return new(
            role,
            single is null ? "group" : ConditionLanguage.Row(single.Of.Measure).Words[0],
            ConditionText.Print(InForce(condition, scene.Numbers), scene.Speech),
            verdict.Holds == Truth.Unknown ? null : verdict.Holds == Truth.Yes == (role == ConditionRole.When),
            single is null ? null : ConditionLanguage.DimensionOf(single.Of.Measure, single.Statistic),
            verdict.Value,
            role == ConditionRole.When ? verdict.Margin : -verdict.Margin,
            verdict.NextChange,
            verdict.Sentence);
    }

    /// <summary>The phrase with its named numbers as they are in force.</summary>
    private static Condition InForce(Condition condition, IReadOnlyDictionary<string, Quantity> numbers)
    {
        return condition switch
        {
            Condition.Phrase phrase => Of(phrase),
            Condition.InTurn(var first, var then) => new Condition.InTurn(Of(first), Of(then)),
            Condition.AllOf(var parts) => new Condition.AllOf(All(parts)),
            Condition.AnyOf(var parts) => new Condition.AnyOf(All(parts)),
            Condition.NoneOf(var parts) => new Condition.NoneOf(All(parts)),
            _ => condition,
        };

        ImmutableArray<Condition> All(ImmutableArray<Condition> parts) => [.. parts.Select(part => InForce(part, numbers))];

        Condition.Phrase Of(Condition.Phrase phrase) => phrase with
        {
            Level = phrase.Level is { } level ? Set(level) : null,
            Limit = Set(phrase.Limit),
            UpTo = phrase.UpTo is { } upTo ? Set(upTo) : null,
        };

        Operand Set(Operand operand) =>
            operand.Name is { } name && numbers.TryGetValue(name, out var own) && own.Dimension == operand.Default?.Dimension
                ? operand with { Default = own }
                : operand;
    }

    private static ImmutableArray<NumberLayers> NumbersOf(Plan plan, AskedJob asked) =>
        TemplateOf(plan, asked) is var (planting, template) ? JobNumbers.Of(planting, template)
        : ChoreOf(plan, asked) is { } chore && chore.Kind == asked.Kind ? JobNumbers.Of(chore)
        : YearJobs.Find(plan, asked.SubjectId, asked.Kind) is { } ofYear ? JobNumbers.Of(plan, ofYear)
        : asked.Kind == JobKind.Water ? JobNumbers.OfWatering(plan)
        : asked.Kind == JobKind.Look && plan.Plantings.FirstOrDefault(planting => planting.Id == asked.SubjectId) is { } lookedOver ? JobNumbers.OfLooks(lookedOver)
        : [];

    /// <summary>Whose conditions they are: the planting's own, or those of the first in the bed. Null for chores, looks and waterings.</summary>
    private static (Planting Planting, JobTemplate Job)? TemplateOf(Plan plan, AskedJob asked)
    {
        if (plan.Beds.FirstOrDefault(bed => bed.Id == asked.SubjectId) is { } bed && DangersTo.IsOfABed(asked.Kind))
            return DangersTo.Templates(plan, bed, asked.Kind).Cast<(Planting, JobTemplate)?>().FirstOrDefault();
        return plan.Plantings.FirstOrDefault(planting => planting.Id == asked.SubjectId) is { } own && own.Crop.Jobs.FirstOrDefault(job => job.Kind == asked.Kind) is { } job
            ? (own, job)
            : null;
    }

    private static Chore? ChoreOf(Plan plan, AskedJob asked) => plan.Chores.FirstOrDefault(chore => chore.Id == asked.SubjectId);

    /// <summary>What decides of a job that has no conditions of its own.</summary>
    private static ImmutableArray<string> GroundsOf(Sowings.Season season, AskedJob asked, Wanted? open) => asked.Kind switch
    {
        JobKind.Water when season.Plan.Beds.FirstOrDefault(bed => bed.Id == asked.SubjectId) is { } bed => [.. WaterJobs.Grounds(season, bed)],
        JobKind.Look when season.Plan.Plantings.FirstOrDefault(planting => planting.Id == asked.SubjectId) is { } planting => [.. LookJobs.Grounds(season, planting)],
        JobKind.Look when YearJobs.Find(season.Plan, asked.SubjectId, asked.Kind) is not null => open is { Because.IsEmpty: false }
            ? [.. open.Because.Select(reason => reason.Text)]
            : ["By the record nothing is in store that wants a look now; what was harvested to keep is looked over once a month."],
        JobKind.Look when ChoreOf(season.Plan, asked) is { } chore && chore.Kind != JobKind.Look => open is { Because.IsEmpty: false }
            ? [.. open.Because.Select(reason => reason.Text)]
            : [$"It follows `{chore.Name}`: it is asked for once that is done and its time has come."],
        _ => [],
    };

    /// <summary>The chance comes last; unchanged it is the rule of the kind of job.</summary>
    private static ImmutableArray<NumberLayers> WithChance(ImmutableArray<NumberLayers> numbers, DecisionRule shipped)
    {
        var rule = new SourcedNumber(new(shipped.LeastShare, Dimension.Share), new(NumberOrigin.Shipped, Published: shipped.Why));
        var own = numbers.FirstOrDefault(number => number.Name == DecisionRule.NumberName);
        return [.. numbers.Where(number => number != own), new NumberLayers(DecisionRule.NumberName, [rule, .. own?.Layers ?? []])];
    }

    private static Plan Tried(Plan plan, AskedJob asked, IReadOnlyDictionary<string, Quantity> changed)
    {
        Tuning With(Tuning own) => changed.Aggregate(own, (tuning, number) =>
            tuning.With(asked.Kind, number.Key, new(number.Value, new(NumberOrigin.Trial))));
        return plan with
        {
            Plantings = [.. plan.Plantings.Select(p => p.Id == asked.SubjectId || p.BedId == asked.SubjectId || p.StartBedId == asked.SubjectId ? p with { Tuning = With(p.Tuning) } : p)],
            Tuning = asked.Kind == JobKind.Water || YearJobs.Find(plan, asked.SubjectId, asked.Kind) is not null ? With(plan.Tuning) : plan.Tuning,
            Chores = [.. plan.Chores.Select(c => c.Id == asked.SubjectId ? c with { Tuning = With(c.Tuning) } : c)],
        };
    }

    /// <summary>What the job would ask if it were open: the weather can be told of it all the same.</summary>
    private static Wanted AsIfOpen(
        Plan plan, AskedJob asked, ImmutableArray<NumberLayers> numbers, ImmutableArray<Sowings.Sowing> sowings, Journal journal)
    {
        var id = new JobId(plan.GardenId, asked.SubjectId, asked.Kind, 0);
        var moments = Moments.None;
        if (journal.LastDone(asked.SubjectId, asked.Kind) is { } done)
            moments = moments.With(Milestone.LastDone, done);
        if (TemplateOf(plan, asked) is not var (planting, job))
        {
            var chore = ChoreOf(plan, asked);
            string? bedId = chore is null ? plan.Plantings.FirstOrDefault(each => each.Id == asked.SubjectId)?.BedId ?? asked.SubjectId : chore.BedId;
            return new()
            {
                Id = id, Name = asked.Name, Conditions = chore?.Kind == asked.Kind ? chore.AllConditions : ConditionSet.Always,
                Numbers = JobNumbers.InForce(numbers), Moments = moments, Bed = plan.Beds.FirstOrDefault(bed => bed.Id == bedId), Minutes = chore?.Minutes,
            };
        }
        var sowing = sowings.FirstOrDefault(batch => batch.Planting.Id == planting.Id);
        if (sowing?.SownOn is { } sown)
            moments = moments.With(Milestone.Sown, sown);
        if (sowing?.SetOutOn is { } setOut)
            moments = moments.With(Milestone.SetOut, setOut);
        return new()
        {
            Id = id, Name = asked.Name, Conditions = job.Conditions, Numbers = JobNumbers.InForce(numbers), Moments = moments,
            Bed = plan.Beds.FirstOrDefault(bed => bed.Id == asked.SubjectId) ?? plan.BedOf(planting.BedId), Sowing = sowing, Minutes = job.Minutes,
        };
    }

    private static string? HeldBackBy(Wanted? open, AskedJob asked, Plan plan, Journal journal, LocalDate today, WeatherNews news)
    {
        if (open is null)
        {
            if (asked.Kind is JobKind.Water || asked.Kind == JobKind.Look && plan.Plantings.Any(planting => planting.Id == asked.SubjectId))
                return null;
            if (journal.LastDone(asked.SubjectId, asked.Kind) is not { } done)
                return "It is not open: by the plan and the record there is nothing to do it for now.";
            var again = plan.Chores.FirstOrDefault(chore => chore.Id == asked.SubjectId)?.EveryDays is { } every ? done.PlusDays(every) : (LocalDate?)null;
            return $"It is not open: it was done on {Tongue.English.Date(done)}{(again is { } next ? $" and is wanted again from {Tongue.English.Date(next)}" : "")}.";
        }
        if (open.PutOffUntil > today)
            return $"You put it off until {Tongue.English.Date(open.PutOffUntil.Value)}.";
        if (open.NotBefore > today)
            return $"It is not wanted before {Tongue.English.Date(open.NotBefore.Value)}.";
        if (open.WaitsFor is { } taken)
            return $"It also waits: {taken.Sentence}.";
        return news.State == WeatherState.Stale && asked.Kind != JobKind.Cover && !open.Conditions.AsksNothing
            ? $"The forecast is {Tongue.English.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old, so nothing is said for or against it."
            : null;
    }
}

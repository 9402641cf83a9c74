using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The jobs that bring a batch into its bed, and those that keep it alive there on a frosty night.</summary>
internal static class SowingJobs
{
    // A batch further off than this is not worth a line yet. Common practice.
    private const int LookAheadDays = 7;

    public static IEnumerable<Wanted> Of(Season season, Sowing sowing)
    {
        var (plan, journal, today) = (season.Plan, season.Journal, season.Today);
        var planting = sowing.Planting;
        var bed = plan.BedOf(planting.BedId);
        foreach (var template in planting.Crop.Jobs)
        {
            switch (template.Kind)
            {
                case JobKind.Sow when sowing.Stage == Stage.Planned && !sowing.IsSetOut && IsNext(season, sowing):
                    yield return Begin(season, sowing, template, bed);
                    break;
                case JobKind.StartIndoors when sowing.Stage == Stage.Planned && planting is { StartBedId: not null, Origin: not Origin.Bought } &&
                    IsNext(season, sowing) && !journal.Skipped(planting.Id, JobKind.StartIndoors, sowing.Batch) && !season.IsTooLateToRaise(planting):
                    yield return StartIndoors(season, sowing, template);
                    break;
                case JobKind.SetOut when sowing.IsSetOut && (sowing.Stage is Stage.Sown or Stage.Up or Stage.Hardening
                    || sowing.Stage == Stage.Planned && IsNext(season, sowing) && !IsStillToRaise(season, sowing)):
                    yield return SetOut(season, sowing, template, bed);
                    break;
                case JobKind.HardenOff when Hardening.Of(season, sowing) is { IsDone: false, IsUnrecorded: false } hardening
                    && (hardening.IsBegun || hardening.BeginsOn <= today.PlusDays(LookAheadDays)) && sowing.Stage != Stage.Sown:
                    yield return HardenOff(season, sowing, template, hardening);
                    break;
                // One cover lies over all batches of a planting: the first that stands speaks for them.
                case JobKind.Cover when !bed.IsIndoors && !IsOutOfReach(planting.Crop, bed) && sowing == season.OfPlanting(planting).FirstOrDefault(batch => batch.StandsInItsBed(today)):
                    var lies = template.Stays ? null : LyingCovers.Since(season, planting, bed);
                    if (lies is not null)
                        yield return new Wanted
                        {
                            Id = new JobId(plan.GardenId, planting.Id, JobKind.Uncover, journal.TimesClosed(planting.Id, JobKind.Cover, before: today)),
                            Name = season.Weather.Speech.Say($"Uncover the {season.Weather.Speech.Word(planting.Crop.Plants)}"),
                            Bed = bed,
                            Sowing = sowing,
                            Conditions = ConditionSet.Always,
                            Numbers = ImmutableDictionary<string, Quantity>.Empty,
                        };
                    int time = 1 + journal.TimesClosed(planting.Id, JobKind.Cover, before: today);
                    if (!(journal.DoneOn(planting.Id, JobKind.Cover, time) >= today) && !journal.Skipped(planting.Id, JobKind.Cover, time))
                        yield return InFlower(season, Made(season, sowing, template, bed, time)) with { LiesSince = lies };
                    break;
            }
        }
    }

    /// <summary>What the gardener has seen in flower does not wait for the length of the day.</summary>
    private static Wanted InFlower(Season season, Wanted wanted) => Flowering.Noted(season, wanted.Sowing!.Planting) is null ? wanted : wanted with
    {
        Conditions = wanted.Conditions with
        {
            When = [.. wanted.Conditions.When.Where(condition => !Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure == Measure.Daylight))],
        },
    };

    // Nobody is sent up a ladder on a frosty evening.
    private const double ReachMetres = 2;

    /// <summary>A tree, unless its bed has a cover at hand, as a wall or a tub may have.</summary>
    private static bool IsOutOfReach(CropProfile crop, Bed bed) =>
        crop.Habit is { Form: GrowthForm.Woody, HeightMetres: >= ReachMetres } && bed.Cover is null or CoverAtHand.None;

    /// <summary>A job of a batch as its crop has it.</summary>
    public static Wanted Made(Season season, Sowing sowing, JobTemplate template, Bed bed, int time)
    {
        var planting = sowing.Planting;
        var speech = season.Weather.Speech;
        var flowering = Flowering.Noted(season, planting);
        var moments = WantedJobs.MomentsOf(
            (Milestone.Sown, sowing.SownOn ?? sowing.StandsSince ?? sowing.Begun?.Start), (Milestone.Up, sowing.UpOn ?? sowing.UpLikely?.End ?? sowing.StandsSince),
            (Milestone.PottedOn, sowing.PottedOn), (Milestone.Hardening, sowing.HardeningSince), (Milestone.SetOut, sowing.SetOutOn ?? sowing.StandsSince ?? (sowing.Stage == Stage.Growing ? sowing.UpOn : null)),
            (Milestone.Flowering, flowering), (Milestone.Bearing, sowing.PickedFrom), (Milestone.Cleared, sowing.IsCleared ? sowing.EndedOn : null),
            (Milestone.LastDone, season.Journal.LastDone(planting.Id, template.Kind)));
        return new()
        {
            Id = new JobId(season.Plan.GardenId, planting.Id, template.Kind, time),
            Name = speech.Word(template.Name).Replace("{plants}", speech.Word(planting.Crop.Plants), StringComparison.Ordinal),
            Bed = bed,
            Sowing = sowing,
            Conditions = template.Conditions,
            Numbers = NumbersOf(planting, template),
            Moments = IsSownInPlace(sowing) ? moments.WithStandIn(Milestone.SetOut, Milestone.Sown) : moments,
            Minutes = template.Minutes,
            Stays = template.Stays,
            How = speech.Tongue.WordOrNone(template.How),
            Otherwise = speech.Tongue.WordOrNone(template.Otherwise),
            Cautions = [.. template.Cautions.Select(speech.Word)],
            PutOffUntil = season.Journal.PutOffUntil(planting.Id, template.Kind, time),
        };
    }

    /// <summary>For what was sown in place a job that counts from setting out counts from its sowing.</summary>
    private static bool IsSownInPlace(Sowing sowing) =>
        sowing is { IsSetOut: false, SetOutOn: null, SownOn: not null, Stage: not (Stage.Growing or Stage.Planned) };

    /// <summary>With the number of its batch, where there are several.</summary>
    public static string Named(Season season, Sowing sowing, string name) =>
        sowing.Planting.Sowings is null ? name : season.Weather.Speech.Say($"{name}, batch {sowing.Batch}");

    /// <summary>All batches before it are settled, and its date is near.</summary>
    private static bool IsNext(Season season, Sowing sowing) =>
        season.OfPlanting(sowing.Planting).All(other => other.Batch >= sowing.Batch || other.Stage != Stage.Planned)
        && !(sowing.NotBefore > season.Today.PlusDays(LookAheadDays) && (sowing.Batch > 1 || sowing.Planting.OriginDate is null));

    private static Wanted Begin(Season season, Sowing sowing, JobTemplate template, Bed bed)
    {
        var wanted = Made(season, sowing, template, bed, sowing.Batch);
        return wanted with
        {
            Name = Named(season, sowing, wanted.Name),
            How = RakedAside(season, wanted),
            Conditions = Paused(wanted.Conditions, sowing.Planting),
            NotBefore = sowing.NotBefore,
            WaitsFor = BedTaken(season, sowing.Planting) ?? NewGroundJobs.Waiting(season, bed.Id) ?? SeedFlies(season, sowing.Planting) ?? LastingWarmth.Passing(season, wanted),
            Because = [.. SeasonReasons.Last(sowing, season.Weather.Speech), .. SeasonReasons.OfSeed(season, sowing), .. RelayAdvice.Of(season, sowing)],
        };
    }

    /// <summary>
    /// Heat and long days end a list that is to end with them; any other one only rests, and goes on when it cools or the days shorten.
    /// </summary>
    private static ConditionSet Paused(ConditionSet conditions, Planting planting)
    {
        if (planting.Sowings is null or { UntilTooWarm: true })
            return conditions;
        var passing = conditions.By.Where(end => Evaluate.Phrases(end).All(phrase => phrase.Of.Measure is Measure.Air or Measure.Soil or Measure.Daylight)).ToList();
        return passing.Count == 0 ? conditions : conditions with
        {
            Unless = [.. conditions.Unless, .. passing],
            By = [.. conditions.By.Where(end => !passing.Contains(end))],
        };
    }

    /// <summary>So early that the plants are ready as their bed is, where its usual time is known; else by the profile's own date.</summary>
    private static Wanted StartIndoors(Season season, Sowing sowing, JobTemplate template)
    {
        var wanted = Made(season, sowing, template, season.Plan.BedOf(sowing.Planting.StartBedId!), sowing.Batch) with { NotBefore = sowing.NotBefore };
        wanted = wanted with { Name = Named(season, sowing, wanted.Name), Because = [.. SeasonReasons.OfSeed(season, sowing)] };
        if (season.Indoors(sowing.Planting) is not { } counted || sowing.SetOutLikely is not { } setOut)
            return wanted;
        return wanted with
        {
            Conditions = wanted.Conditions with
            {
                When = [.. wanted.Conditions.When.Where(condition => !CountsFromFrost(condition))],
                By = [.. wanted.Conditions.By.Where(condition => !CountsFromFrost(condition))],
            },
            NotBefore = wanted.NotBefore is { } date ? LocalDate.Max(date, counted.Start) : counted.Start,
            Because = [SeasonReasons.CountedBack(counted, setOut, sowing.Planting, season.Weather.Speech), .. wanted.Because, .. RelayAdvice.Of(season, sowing)],
        };
    }

    private static bool CountsFromFrost(Condition condition) => Evaluate.Phrases(condition).All(phrase =>
        phrase.Of.Measure == Measure.Days && phrase.Window.Moment is Moment.Of(Milestone.LastSpringFrost));

    private static Wanted SetOut(Season season, Sowing sowing, JobTemplate template, Bed bed)
    {
        var hardening = Hardening.Of(season, sowing);
        var wanted = Made(season, sowing, template, bed, sowing.Batch);
        return wanted with
        {
            How = RakedAside(season, wanted),
            NotBefore = sowing.NotBefore,
            WaitsFor = BedTaken(season, sowing.Planting) ?? NewGroundJobs.Waiting(season, bed.Id) ?? NotHardened(season, sowing, hardening),
            Because = [.. SeasonReasons.Bought(season, sowing), .. SeasonReasons.Unhardened(hardening, season.Weather.Speech), .. SeasonReasons.Last(sowing, season.Weather.Speech), .. RelayAdvice.Of(season, sowing)],
        };
    }

    /// <summary>Ground under straw stays cool for weeks; the soil that is told is that without it.</summary>
    private static string? RakedAside(Season season, Wanted wanted) => !season.Weather.IsRakedAside(wanted) ? wanted.How
        : season.Weather.Speech.Say($"Rake the mulch aside some days before, for the sun on the soil") + (wanted.How is { } how ? ". " + how : "");

    private static Wanted HardenOff(Season season, Sowing sowing, JobTemplate template, Hardening hardening)
    {
        var wanted = Made(season, sowing, template, season.Plan.BedOf(sowing.Planting.StartBedId!), BatchTime.Of(sowing.Batch, hardening.Repeat));
        bool spentToday = SowingRecord.Done(season.Journal, sowing.Planting, JobKind.HardenOff, sowing.Batch).Contains(season.Today);
        return wanted with
        {
            Name = HardeningWords.Name(wanted.Name, hardening, season.Weather.Speech),
            How = HardeningWords.How(season, sowing.Planting.Crop, hardening),
            Bed = null, // the weather that counts is that outdoors
            NotBefore = hardening.IsBegun ? spentToday ? season.Today.PlusDays(1) : null : hardening.BeginsOn,
            Because = [HardeningWords.Progress(hardening, season.Weather.Speech)],
        };
    }

    /// <summary>Still to be started under cover: first things first. Whoever buys the plants instead skips that job.</summary>
    private static bool IsStillToRaise(Season season, Sowing sowing) => Season.IsRaised(sowing.Planting)
        && !season.Journal.Skipped(sowing.Planting.Id, JobKind.StartIndoors, sowing.Batch) && !season.IsTooLateToRaise(sowing.Planting);

    private static Hindrance? NotHardened(Season season, Sowing sowing, Hardening? hardening)
    {
        if (hardening is null or { IsDone: true } or { IsUnrecorded: true })
            return null;
        var from = LocalDate.Max(season.Today, hardening.BeginsOn ?? season.Today);
        int left = hardening.Fewest - hardening.Day + 1;
        return new("hardened", HardeningWords.StillToHarden(sowing.Planting, hardening, season.Weather.Speech), new(from.PlusDays(left), from.PlusDays(2 * left)));
    }

    /// <summary>Flies that lay at fresh seed are most about just now.</summary>
    private static Hindrance? SeedFlies(Season season, Planting planting)
    {
        if (season.Plan.BedOf(planting.BedId).IsIndoors)
            return null;
        var speech = season.Weather.Speech;
        foreach (var pest in planting.Crop.Pests)
            if (season.SeedFliesNow(planting, pest) is { } over)
                return new("seed flies over", speech.Say(
                    $"{speech.Word(pest.Name)} lays at fresh seed until about {speech.Dates(over.Start, over.End)}, by warmth: wait so long, sow in pots, or net the row the hour it is sown"), over);
        return null;
    }

    private static Hindrance? BedTaken(Season season, Planting planting)
    {
        if (season.Taken(planting) is not { } taken || !season.MustWait(planting, taken))
            return null;
        var speech = season.Weather.Speech;
        string plants = speech.Word(taken.By.Crop.Plants);
        return new("bed free", taken.Free is { } range ? speech.Say($"{plants} in the bed until about {speech.Dates(range.Start, range.End)}") : speech.Say($"{plants} still in the bed"),
            taken.Free is { } free ? new(LocalDate.Max(free.Start, season.Today), LocalDate.Max(free.End, season.Today)) : null);
    }

    /// <summary>The numbers in force; the leaf limit is the crop's own where no phrase of the job has one.</summary>
    private static ImmutableDictionary<string, Quantity> NumbersOf(Planting planting, JobTemplate template)
    {
        var numbers = JobNumbers.InForce(JobNumbers.Of(planting, template));
        return numbers.ContainsKey("leaf") ? numbers : numbers.Add("leaf", new(planting.Crop.LeafLimit.Celsius, Dimension.Temperature));
    }
}

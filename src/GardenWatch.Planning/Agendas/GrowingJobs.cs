using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// The jobs of a crop that has been begun, each from its stage on until a later one has overtaken it: thin, stake, feed, net,
/// look, pick, clear. One that comes again does so some days after it was answered.
/// </summary>
internal static class GrowingJobs
{
    // A job that only days stand before is worth a line from here on. Common practice.
    private const int SoonDays = 3;
    // Who says nothing for so long has done it, or will not. Common practice.
    private const int ClearedUnaskedDays = 21, FedInVainDays = 42, CuredDays = 21, GreenCoverDays = 30, KeptForSeedDays = 75;

    public static IEnumerable<Wanted> Of(Season season, Sowing sowing)
    {
        if (sowing.Stage is Stage.Skipped or Stage.Missed or Stage.Dropped)
            yield break;
        foreach (var template in sowing.Planting.Crop.Jobs)
        {
            if (IsOther(template.Kind) || !IsWhereItBelongs(season, sowing, template) || ReachedOn(season, sowing, template) is not { } reached || reached > season.Today || IsOvertaken(season, sowing, template))
                continue;
            var occasions = Occasions.Of(season, sowing, template);
            if ((RepeatOf(season, sowing, template) ?? Occasions.AskAgain(season, sowing, template, occasions)) is not var (repeat, from))
                continue;
            bool indoors = sowing.StandsInItsStartBed;
            var bed = season.Plan.BedOf(indoors ? sowing.Planting.StartBedId! : sowing.Planting.BedId);
            var wanted = SowingJobs.Made(season, sowing, template, bed, BatchTime.Of(sowing.Batch, repeat));
            if (template.Kind == JobKind.Mulch && bed.Mulch != Mulch.None)
                continue;
            if (!IsInSeason(season, wanted) || template.Kind == JobKind.Net && (!IsBeforeAFlight(season, sowing.Planting) || !IsLatest(season, sowing)))
                continue;
            if (template.Kind is JobKind.Other && bed.Over != Overhead.Open)
                wanted = wanted with { Conditions = wanted.Conditions with { When = [.. wanted.Conditions.When.Where(CountsDays)], Unless = [] } };
            if (sowing.StandsSince is not null)
                wanted = wanted with { Conditions = WithoutDays(wanted.Conditions) };
            string name = template.Kind == JobKind.Harvest && sowing.BearingSince is null && sowing.Planting.Crop.Picking?.Once != true
                ? GrowingReasons.LookFirst(sowing, season.Weather.Speech)
                : wanted.Name;
            yield return wanted with
            {
                Name = SowingJobs.Named(season, sowing, name),
                NotBefore = from,
                Because = [.. occasions.Select(occasion => occasion.Reason), .. GrowingReasons.Of(season, sowing, template)],
                NoLaterThan = Earlier(
                    template.Kind == JobKind.Harvest ? GrowingReasons.ColdComes(season, sowing)?.Night : null,
                    occasions.Any(occasion => occasion.Of.BeforeRain) ? Occasions.RainBegins(season) : null),
                OnOccasion = template.OnOccasion,
            };
        }
    }

    private static Instant? Earlier(Instant? one, Instant? other) => one is { } first && other is { } second ? Instant.Min(first, second) : one ?? other;

    // What was done longer ago was for another winter.
    private const int DoneWithinDays = 300;

    /// <summary>Under glass what belongs there; and straw is taken off only where it was laid.</summary>
    private static bool IsWhereItBelongs(Season season, Sowing sowing, JobTemplate template)
    {
        var bed = season.Plan.BedOf(sowing.Planting.BedId);
        if (template.UnderCoverOnly && bed.Over == Overhead.Open)
            return false;
        return template.After is not { } before || season.Journal.LastDone(sowing.Planting.Id, before) > season.Today.PlusDays(-DoneWithinDays)
            || before == JobKind.Mulch && bed.Mulch == Mulch.Straw;
    }

    /// <summary>
    /// Not so early that only days must pass, and not so late that it is useless: then it is gone without a word, for a crop
    /// grows on without it.
    /// </summary>
    private static bool IsInSeason(Season season, Wanted wanted)
    {
        var scene = season.Weather.SceneOf(wanted with { Moments = wanted.Moments.With(season.Weather.Climate) }) with { Members = [] };
        var soon = season.AsOf + Duration.FromDays(SoonDays);
        return !wanted.Conditions.When.Any(condition => CountsDays(condition) && Evaluate.Holds(condition, soon, scene) is var holds
                && (holds == Truth.No || holds == Truth.Unknown && CountsToAFrost(condition)))
            && !wanted.Conditions.By.Any(end => Evaluate.Holds(end, season.AsOf, scene) == Truth.Yes);
    }

    /// <summary>A season that nobody knows yet has not begun: no straw is laid for winter in April.</summary>
    private static bool CountsToAFrost(Condition condition) =>
        Evaluate.Phrases(condition).All(phrase => phrase.Window.Moment is Moment.Of(Milestone.LastSpringFrost or Milestone.FirstAutumnFrost));

    /// <summary>One net lies over all rows of a planting: the latest asks for it.</summary>
    private static bool IsLatest(Season season, Sowing sowing) =>
        season.OfPlanting(sowing.Planting).All(other => other.Batch <= sowing.Batch || !other.Stage.IsAlive());

    // Up to a week before the first of them may fly, and for as long as they do. Common practice.
    private const int NetBeforeDays = 7, FliesForDays = 120;

    /// <summary>A net is wanted before what it keeps off flies; at once where its warmth is not known.</summary>
    private static bool IsBeforeAFlight(Season season, Planting planting)
    {
        var flights = planting.Crop.Pests.Where(GrowingReasons.IsKeptOff).Select(pest => season.FlightOf(planting, pest)).ToList();
        return flights.Count == 0 || flights.Any(days => days is null || season.Today >= days.Start.PlusDays(-NetBeforeDays) && season.Today <= days.End.PlusDays(FliesForDays));
    }

    /// <summary>Days that are counted from no more than a guess have let it through; they are not told as if they were known.</summary>
    private static ConditionSet WithoutDays(ConditionSet conditions) => conditions with
    {
        When = [.. conditions.When.Where(condition => !CountsDaysSince(condition))],
        By = [.. conditions.By.Where(condition => !CountsDaysSince(condition))],
    };

    private static bool CountsDaysSince(Condition condition) => CountsDays(condition) && Evaluate.Phrases(condition).All(phrase =>
        phrase.Window.Moment is Moment.Of(Milestone.Sown or Milestone.Up or Milestone.SetOut));

    private static bool CountsDays(Condition condition) => Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure == Measure.Days);

    /// <summary>Begun, covered or asked for by the weather elsewhere.</summary>
    private static bool IsOther(JobKind kind) => kind is JobKind.Sow or JobKind.StartIndoors or JobKind.SetOut or JobKind.HardenOff
        or JobKind.Cover or JobKind.Uncover or JobKind.Tie or JobKind.Protect or JobKind.Shelter or JobKind.Vent or JobKind.Shade;

    /// <summary>The day on which the stage that wakes it was reached, or is reckoned to have been; null while it was not.</summary>
    private static LocalDate? ReachedOn(Season season, Sowing sowing, JobTemplate template)
    {
        var today = season.Today;
        var from = template.From ?? UsualStage(template.Kind);
        if (from == Stage.Planned)
            return sowing.Stage == Stage.Planned ? sowing.NotBefore ?? today : null;
        if (sowing.Stage == Stage.Planned)
            return null;
        bool stands = !sowing.IsSetOut || sowing.SetOutOn is not null || sowing.Stage is Stage.Growing or Stage.Bearing or Stage.SetOut;
        return from switch
        {
            Stage.Sown => sowing.SownOn ?? sowing.Begun?.Start ?? today,
            Stage.Up when template.Kind == JobKind.PotOn => sowing.StandsInItsStartBed && sowing.Stage != Stage.Sown ? Up(sowing) ?? today : null,
            Stage.Up => !stands ? null : sowing.Stage is Stage.Sown ? null : Up(sowing) ?? sowing.SetOutOn ?? sowing.Begun?.Start ?? today,
            Stage.Hardening => sowing.HardeningSince,
            Stage.SetOut or Stage.Growing => !stands || sowing.Stage == Stage.Sown ? null : sowing.SetOutOn ?? Up(sowing) ?? sowing.Begun?.Start ?? today,
            Stage.Bearing when template.BeforeDays is { } days => !stands ? null : (sowing.PickedFrom ?? sowing.BearingLikely?.Start)?.PlusDays(-days),
            Stage.Bearing when template.Kind == JobKind.Harvest && sowing is { BearingSince: null, Planting.Crop.Picking.Once: true } =>
                !stands ? null : sowing.PickedFrom,
            Stage.Bearing => !stands ? null : sowing.BearingSince ?? (sowing.Stage == Stage.Bearing ? today : sowing.BearingLikely?.Start),
            Stage.Finished when template.Kind == JobKind.Clear && FrostLooks.KilledOn(season, sowing) is { } killed => killed,
            Stage.Finished when sowing.Stage == Stage.KeptForSeed => sowing.SeedRipeOn <= today ? sowing.SeedRipeOn : null,
            Stage.Finished => sowing.Stage == Stage.Finished ? sowing.EndedOn ?? today : null,
            Stage.KeptForSeed => sowing.Stage == Stage.KeptForSeed ? sowing.EndedOn ?? today : null,
            _ => null,
        };
    }

    private static LocalDate? Up(Sowing sowing) => sowing.UpOn ?? sowing.UpLikely?.End;

    /// <summary>From which stage on a kind of job is wanted, where its profile does not say.</summary>
    private static Stage UsualStage(JobKind kind) => kind switch
    {
        JobKind.OrderSeed or JobKind.TestSeed or JobKind.Prepare => Stage.Planned,
        JobKind.Thin or JobKind.PotOn or JobKind.EarthUp => Stage.Up,
        JobKind.Harvest or JobKind.SaveSeed => Stage.Bearing,
        JobKind.Cure or JobKind.Clear or JobKind.SowGreenCover or JobKind.Clean => Stage.Finished,
        _ => Stage.SetOut,
    };

    /// <summary>A later stage has come, so that it would be late, or useless.</summary>
    private static bool IsOvertaken(Season season, Sowing sowing, JobTemplate template)
    {
        bool over = sowing.Stage.IsOver();
        switch (template.Kind)
        {
            case JobKind.OrderSeed or JobKind.TestSeed or JobKind.Prepare:
                return sowing.Stage != Stage.Planned;
            case JobKind.PotOn:
                return sowing.Stage is Stage.Hardening || !sowing.StandsInItsStartBed;
            // What stands there since before the record is past thinning.
            case JobKind.Thin when sowing.IsSetOut || sowing.StandsSince is not null:
                return true;
            case JobKind.Thin or JobKind.EarthUp:
                return over || sowing.Stage == Stage.Bearing || sowing.BearingLikely?.Start <= season.Today;
            case JobKind.Feed:
                return over || sowing.OverLikely is { } end && Sowings.Sowing.Middle(end) <= season.Today.PlusDays(FedInVainDays);
            case JobKind.Harvest:
                // In the cold nothing follows what was picked; a frost to come asks for the rest.
                return over || !Expectations.IsStillPicked(sowing, season.Today) || sowing.StandsStillFrom <= season.Today && GrowingReasons.ColdComes(season, sowing) is null;
            case JobKind.SaveSeed when sowing.Planting.Crop.Seed?.OfRipeFruit == true:
                return template.From == Stage.Finished ? sowing.By == Evidence.Expected || sowing.EndedOn?.PlusDays(KeptForSeedDays) < season.Today : over;
            case JobKind.SaveSeed:
                return sowing.IsCleared || sowing.Stage == Stage.KeptForSeed || season.OfPlanting(sowing.Planting).Any(other => other.Batch > sowing.Batch);
            case JobKind.Clear:
                return sowing.IsCleared || (sowing.SeedRipeOn ?? sowing.EndedOn)?.PlusDays(ClearedUnaskedDays) < season.Today || PickedAtOnce(season, sowing);
            case JobKind.Cure:
                return sowing.By == Evidence.Expected || sowing.EndedOn?.PlusDays(CuredDays) < season.Today;
            case JobKind.SowGreenCover:
                return sowing.EndedOn?.PlusDays(GreenCoverDays) < season.Today || IsWantedAgain(season, sowing);
            case JobKind.Clean:
                return sowing.EndedOn?.PlusDays(GreenCoverDays) < season.Today;
            default:
                return over;
        }
    }

    /// <summary>What is lifted whole leaves nothing to clear.</summary>
    private static bool PickedAtOnce(Season season, Sowing sowing) =>
        sowing is { By: Evidence.Seen, Planting.Crop: { Picking.Once: true, Habit.Form: GrowthForm.Root } }
        && SowingRecord.Done(season.Journal, sowing.Planting, JobKind.Harvest, sowing.Batch).Any();

    /// <summary>Something is still to come in its bed, or stands there yet.</summary>
    private static bool IsWantedAgain(Season season, Sowing sowing) => season.Sowings.Any(other =>
        other != sowing && other.Planting.BedId == sowing.Planting.BedId && !other.Stage.IsOver());

    /// <summary>How often it was closed for this batch, and from when on it is wanted again; null when it is closed for good.</summary>
    private static (int Repeat, LocalDate? From)? RepeatOf(Season season, Sowing sowing, JobTemplate template)
    {
        var (journal, id) = (season.Journal, sowing.Planting.Id);
        var closed = journal.Done(id, template.Kind).Concat(journal.Skips(id, template.Kind))
            .Where(answer => BatchTime.BatchOf(answer.Time) == sowing.Batch).ToList();
        if (closed.Count == 0)
            return (0, null);
        int times = closed.Select(answer => answer.Time).Distinct().Count();
        // What bears each year is picked each year.
        if (template.Kind == JobKind.Harvest && closed.All(answer => answer.Date < sowing.BearingYear))
            return (times, null);
        if (template.EveryDays is not { } days)
            return null;
        var again = closed.Max(answer => answer.Date).PlusDays(days);
        return again > season.Today ? null : (times, again);
    }
}

/// <summary>Why a growing crop's job is asked for, beside the weather.</summary>
internal static class GrowingReasons
{
    private const int HurryDays = 3;
    // What ripens is taken in before a night this cold; leaves on a clear night are colder still (frost figures of extension services).
    private const double StripBelowC = 2;

    /// <summary>A pest with a flight of its own that a net keeps off.</summary>
    public static bool IsKeptOff(CropThreat pest) => pest.Appears is not null && pest.Remedy.Contains("net", StringComparison.OrdinalIgnoreCase);

    /// <summary>Heat that turns it bitter or makes it bolt, or a cold night that takes what hangs there, is in the forecast.</summary>
    private static Reason? Hurry(Season season, Sowing sowing)
    {
        var crop = sowing.Planting.Crop;
        var bed = season.Plan.BedOf(sowing.Planting.BedId);
        var (speech, air) = (season.Weather.Speech, season.Weather.BedOf(bed).Weather);
        var hours = new BedHours(air);
        var ahead = new Interval(season.AsOf, season.AsOf + Duration.FromDays(HurryDays));
        if (crop.Limits.Where(limit => limit.Upset is Upset.Bolting or Upset.Bitterness && limit.DaysAbove is not null).Select(limit => limit.DaysAbove!.Value.Celsius).DefaultIfEmpty(double.NaN).Min() is var limitC
            && hours.Highest(BedMeasure.Air, ahead) is { } high && high > limitC)
            return new("heat-ahead", System.Collections.Immutable.ImmutableDictionary<string, double>.Empty.Add("high", high),
                speech.Say($"Up to {speech.Temperature(high)} in the next days: pick what is ready first, before it turns bitter or runs to seed."));
        if (ColdComes(season, sowing) is var (low, night))
            return new(Reason.ColdAhead, System.Collections.Immutable.ImmutableDictionary<string, double>.Empty.Add("low", low), season.Weather.Calendar.DateOf(night) == season.Today
                ? speech.Say($"{speech.Temperature(low)} tonight: take in all that has its full size first.")
                : speech.Say($"{speech.Temperature(low)} in the night of {speech.DayFrom(season.Today, season.Weather.Calendar.DateOf(night))}: take in all that has its full size first."));
        return null;
    }

    /// <summary>The air of the first of the next nights that takes what hangs on a tender crop, and when that night begins; null when none does.</summary>
    public static (double LowC, Instant Night)? ColdComes(Season season, Sowing sowing)
    {
        var crop = sowing.Planting.Crop;
        var bed = season.Plan.BedOf(sowing.Planting.BedId);
        if (bed.IsIndoors || crop.Hardiness is not (Hardiness.Tender or Hardiness.VeryTender) || crop.Habit?.Form == GrowthForm.Root)
            return null;
        var hours = season.Weather.BedOf(bed);
        for (int day = 0; day < HurryDays; day++)
            if (season.Weather.Calendar.NightOf(season.Today.PlusDays(day)) is var night && night.Start > season.AsOf
                && hours.Lowest(BedMeasure.Air, night.Start, night.End) is var (low, _) && low <= StripBelowC)
                return (low, night.Start);
        return null;
    }

    /// <summary>Nobody has seen yet that there is something to pick.</summary>
    public static string LookFirst(Sowing sowing, Speech speech) => speech.Say($"Look for the first {speech.Word(sowing.Planting.Crop.Plants)}");

    public static IEnumerable<Reason> Of(Season season, Sowing sowing, JobTemplate template)
    {
        var speech = season.Weather.Speech;
        var none = System.Collections.Immutable.ImmutableDictionary<string, double>.Empty;
        if (template.Kind == JobKind.Harvest && Hurry(season, sowing) is { } hurry)
            yield return hurry;
        if (template.Kind == JobKind.Net)
            foreach (var pest in sowing.Planting.Crop.Pests.Where(IsKeptOff))
                if (season.FlightOf(sowing.Planting, pest) is { } days)
                    yield return new("flight", none, speech.Say($"Against {speech.Word(pest.Name)}, about from {speech.Dates(days.Start, days.End)} on by warmth."));
        if (template.Kind == JobKind.SaveSeed && sowing.Planting.Crop.Seed?.Saving is { } saving)
            yield return new("saving", none, speech.Word(saving));
        if (template.Kind == JobKind.Harvest && sowing.BearingSince is null)
        {
            if (OutlookWords.FirstPicking(sowing, speech) is { } picking)
                yield return new("bearing-expected", none, speech.Say($"Not seen yet, only reckoned: {picking}."));
            if (sowing.Planting.Crop.Picking?.Signs is { } signs)
                yield return new("signs", none, speech.Say($"Ready when: {speech.Word(signs)}."));
        }
        else if (template.Kind is JobKind.Clear && FrostLooks.Killed(season, sowing) is { } killed)
            yield return killed;
        else if (template.Kind is JobKind.Clear && sowing.By == Evidence.Expected)
            yield return new("over-expected", none, sowing is { IsEndedByCold: true, Planting.Crop.Habit.Form: GrowthForm.Leafy }
                ? speech.Say("It is too cold now for it to grow on: take in what is left, and cover it no longer than you are still picking.")
                : sowing.IsEndedByCold
                ? speech.Say("It is too cold now for more to ripen: take in what hangs there, and cover it no longer than you are still picking.")
                : speech.Say("Over by the reckoning; if it still bears, leave it and answer later."));
    }
}

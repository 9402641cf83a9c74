using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>
/// All batches of a garden as they stand on a date and as they are expected to go on: by the record, else by the plan, else by
/// warmth and packet. Same input, same season.
/// </summary>
internal sealed class Season
{
    private readonly Dictionary<(WarmthNeed, string), WarmthCourse> _warmth = [];
    private readonly Dictionary<string, ImmutableArray<Sowing>> _ofPlanting = [];

    private Season(Plan plan, Journal journal, GardenWeather weather, LastSaid lastSaid, Instant asOf)
    {
        (Plan, Journal, Weather, LastSaid, AsOf) = (plan, journal, weather, lastSaid, asOf);
        Today = weather.Calendar.DateOf(asOf);
        Usual = new UsualSeason(weather.Climate, weather.Calendar, weather.Speech);
        Water = new(this);
    }

    public Plan Plan { get; }
    public Journal Journal { get; }
    public GardenWeather Weather { get; }
    public LastSaid LastSaid { get; }
    public Instant AsOf { get; }
    public LocalDate Today { get; }
    public UsualSeason Usual { get; }
    /// <summary>How dry each bed is, once all batches are known.</summary>
    public GardenWater Water { get; }
    /// <summary>In the order of the plan and of the batches.</summary>
    public ImmutableArray<Sowing> Sowings { get; private set; } = [];

    public static Season Of(Plan plan, Journal journal, GardenWeather weather, LastSaid lastSaid, Instant asOf)
    {
        var season = new Season(plan, journal, weather, lastSaid, asOf);
        foreach (var planting in plan.Plantings)
            season.OfPlanting(planting);
        season.Sowings = [.. plan.Plantings.SelectMany(planting => season.OfPlanting(planting))];
        weather.Takes(season.Water);
        return season;
    }

    /// <summary>The batches of one planting. What it follows in its bed is reckoned first.</summary>
    public ImmutableArray<Sowing> OfPlanting(Planting planting)
    {
        if (_ofPlanting.TryGetValue(planting.Id, out var known))
            return known;
        if (Before(planting) is { } before)
            OfPlanting(before);
        return _ofPlanting[planting.Id] = new SuccessionOf(this, planting).Batches();
    }

    /// <summary>
    /// When seed of a planting is to be started so that the plants are ready as their bed is: counted back from the likely time
    /// of setting out. Null where that is not known, where the crop has no such weeks, or where the gardener tuned his own date.
    /// </summary>
    public DateInterval? Indoors(Planting planting)
    {
        if (Beginning(planting) is not { Kind: JobKind.StartIndoors } job || planting.Crop.WeeksIndoors is not var (least, most) || IsTuned(planting, job))
            return null;
        if (Expectations.SetOutLikely(this, planting, null) is not { } setOut)
            return null;
        var middle = setOut.Start.PlusDays(setOut.Length / 2);
        return new(middle.PlusWeeks(-most), middle.PlusWeeks(-least));
    }

    private static bool IsTuned(Planting planting, JobTemplate job) =>
        JobNumbers.Of(planting, job).Any(number => number.Source.Origin != NumberOrigin.Shipped && number.InForce.Dimension == Quantities.Dimension.Days);

    /// <summary>
    /// When a batch is usually begun: as counted back from its bed where it is raised indoors, else by the job's conditions. What
    /// the profile says of the last frost only stands in for the bed's own time; what it says of autumn holds all the same.
    /// </summary>
    public UsualWindow BeginningWindow(Planting planting, LocalDate date)
    {
        var window = WindowOf(planting, Beginning(planting), date);
        if (Indoors(planting) is not { } counted || Usual.StartOf(counted.End) != Usual.StartOf(date) || planting.Crop.WeeksIndoors is not var (least, _))
            return window;
        bool endsInAutumn = Beginning(planting)!.Conditions.By.SelectMany(Conditions.Evaluate.Phrases)
            .Any(phrase => phrase.Window.Moment is Conditions.Moment.Of(Conditions.Milestone.FirstAutumnFrost));
        if (endsInAutumn)
            return window with { Opens = counted };
        // What wants the whole summer gains nothing from a late start; the rest may follow until its bed's own season ends.
        bool wantsTheSummer = planting.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender;
        var closes = wantsTheSummer
            ? Expectations.SetOutUsually(this, planting, date) is { } usual ? Sowing.Middle(usual).PlusWeeks(-least).PlusDays(LateStartDays) : (LocalDate?)null
            : WindowOf(planting, TakesTheBed(planting), date).Closes?.PlusWeeks(-least);
        return new(counted, closes, Weather.Speech.Say("they would not be ready in time: buy young plants"));
    }

    // Plants started so late are bought instead. Common practice.
    private const int LateStartDays = 28;

    /// <summary>The gardener raises it, or would if there were still time.</summary>
    public static bool IsRaised(Planting planting) => Beginning(planting)?.Kind == JobKind.StartIndoors;

    /// <summary>Seed started now would not be ready in time: plants can be bought instead.</summary>
    public bool IsTooLateToRaise(Planting planting) => IsRaised(planting)
        && BeginningWindow(planting, planting.FirstSeen ?? Today) is { Closes: { } closes } && closes.PlusDays(SuccessionOf.GraceDays) < Today && closes >= Usual.StartOf(Today);

    public Planting? Before(Planting planting) =>
        planting.AfterPlantingId is { } id ? Plan.Plantings.FirstOrDefault(other => other.Id == id) : null;

    public IEnumerable<Planting> Followers(Planting planting) => Plan.Plantings.Where(other => other.AfterPlantingId == planting.Id);

    /// <summary>The job with which a batch of the planting begins; null when its crop has none.</summary>
    public static JobTemplate? Beginning(Planting planting) => Template(planting,
        planting.StartBedId is not null && planting.Origin != Origin.Bought ? JobKind.StartIndoors
        : planting.IsSetOut ? JobKind.SetOut
        : JobKind.Sow) ?? (planting.IsSetOut ? Template(planting, JobKind.SetOut) : null);

    /// <summary>The job by which it takes its bed; null when its crop has none.</summary>
    public static JobTemplate? TakesTheBed(Planting planting) => Template(planting, planting.IsSetOut ? JobKind.SetOut : JobKind.Sow);

    private static JobTemplate? Template(Planting planting, JobKind kind) => planting.Crop.Jobs.FirstOrDefault(job => job.Kind == kind);

    /// <summary>When a job of the planting usually is in season, in the growing year of a date.</summary>
    public UsualWindow WindowOf(Planting planting, JobTemplate? job, LocalDate date) =>
        job is null ? UsualWindow.Unknown : Usual.WindowOf(planting, job, Weather.BedOf(Plan.BedOf(planting.BedId)).Weather, date);

    public WarmthCourse? WarmthOf(Planting planting)
    {
        if (planting.Crop.Warmth is not { } need)
            return null;
        return CourseOf(need, planting.BedId);
    }

    /// <summary>
    /// When a pest is likely first about: its warmth gathered since its date of the year, known and then as usual. Null where its
    /// warmth is not published, or the place's is not known.
    /// </summary>
    public DateInterval? FlightOf(Planting planting, CropThreat threat) => WarmthSince(planting, threat, 1);

    /// <summary>When each generation is likely first about, in order; those that the warmth of the year does not reach are left out.</summary>
    public IEnumerable<DateInterval> FlightsOf(Planting planting, CropThreat threat)
    {
        if (threat.Appears is not { } appears || FlightOf(planting, threat) is not { } first)
            yield break;
        yield return first;
        foreach (double again in appears.AgainCd)
            if (WarmthSince(planting, threat, again / appears.SinceCd) is { } next)
                yield return next;
    }

    // Most of a flight falls within an eighth of its warmth on either side of the peak (175 to 225 of 200 °C days). Common practice.
    private const double FlightSpread = 0.125;

    /// <summary>When flies that lay at seed are most about, as of today; null when they are not, or their warmth is not known.</summary>
    public DateInterval? SeedFliesNow(Planting planting, CropThreat threat) =>
        threat.StrikesSeed && WarmthSince(planting, threat, 1 - FlightSpread) is { } begins && WarmthSince(planting, threat, 1 + FlightSpread) is { } ends
            && begins.Start <= Today && Today < ends.Start ? ends : null;

    private DateInterval? WarmthSince(Planting planting, CropThreat threat, double share)
    {
        if (threat.Appears is not { } appears || DateText.Read(appears.Since) is not DateReading.Ok { Date: WrittenDate.OfMonth since })
            return null;
        // Dates are those of the north; the south's season is half a year later.
        var counted = new LocalDate(Today.Year, since.Month, since.FromDay).PlusMonths(Weather.Calendar.Place.LatitudeDegrees < 0 ? 6 : 0);
        while (counted > Today.PlusDays(LooksAheadDays))
            counted = counted.PlusYears(-1);
        return CourseOf(new(appears.Base, null, null, null), planting.BedId).Reached(new(counted, counted), (share * appears.SinceCd, share * appears.SinceCd));
    }

    /// <summary>Mean air of some days where it is above 5 °C, known or usual; null when it is neither.</summary>
    public double? MeanAir(string bedId, LocalDate from, int days) =>
        CourseOf(new(new(GrassStandsStillC), null, null, null), bedId).Sum(from, days) is { } sum ? GrassStandsStillC + sum / days : null;

    // A flight is of interest some weeks before its warmth begins to count.
    private const int LooksAheadDays = 60;

    private WarmthCourse CourseOf(WarmthNeed need, string bedId)
    {
        if (!_warmth.TryGetValue((need, bedId), out var course))
            _warmth[(need, bedId)] = course = WarmthCourse.Of(need, Weather, Plan.BedOf(bedId), Today);
        return course;
    }

    // Turf under a light-proof sheet takes about four weeks at 17 °C, longer in the cold (common practice), counted above the 5 °C at which grass stands still.
    private const double GrassStandsStillC = 5, SmotheredCd = 336;

    /// <summary>The chore that smothers what grows on a bed, and when its warmth has likely done it; null without such a chore, or once it has.</summary>
    public (Chore Chore, LocalDate? Since, DateInterval? Ready)? NewGround(string bedId)
    {
        if (Plan.Chores.FirstOrDefault(chore => chore.Kind == JobKind.Smother && chore.BedId == bedId) is not { } chore || Journal.LastSkipped(chore.Id, JobKind.Smother) is not null)
            return null;
        if (Journal.LastDone(chore.Id, JobKind.Smother) is not { } since)
            return (chore, null, null);
        return SmotheredBy(bedId, since) <= Today ? null : (chore, since, Smothered(bedId, since));
    }

    /// <summary>The likeliest day on which what was covered on a date is dead; null when the warmth is not known.</summary>
    public LocalDate? SmotheredBy(string bedId, LocalDate since) => Smothered(bedId, since) is { } range ? Sowing.Middle(range) : null;

    private DateInterval? Smothered(string bedId, LocalDate since) =>
        CourseOf(new(new(GrassStandsStillC), null, null, null), bedId).Reached(new(since, since), (SmotheredCd, SmotheredCd));

    /// <summary>
    /// What still takes the bed of a planting that follows another; null once the bed is free for it. The range is when it
    /// will likely be free, null where that is not known.
    /// </summary>
    public (Planting By, DateInterval? Free)? Taken(Planting follower)
    {
        if (Before(follower) is not { } before || OfPlanting(before) is not { Length: > 0 } batches)
            return null;
        var inTheWay = batches.Where(IsInTheWay).ToList();
        if (inTheWay.Count == 0)
            return null;
        DateInterval? free = inTheWay.Any(batch => FreeAfter(batch) is null) ? null
            : new(inTheWay.Max(batch => FreeAfter(batch)!.Start), inTheWay.Max(batch => FreeAfter(batch)!.End));
        return (before, free);
    }

    // Who has to wait longer for a bed that is only reckoned to be taken may lose the season for nothing. Common practice.
    private const int LastWeeksDays = 21;

    /// <summary>
    /// Whether what follows must still wait. By the middle of the days in which the bed is reckoned to come free, or earlier
    /// when its own season is closing, the gardener knows better than the reckoning.
    /// </summary>
    public bool MustWait(Planting follower, (Planting By, DateInterval? Free) taken)
    {
        if (taken.Free is not { } free)
            return true;
        var closes = WindowOf(follower, TakesTheBed(follower), follower.FirstSeen ?? Today).Closes;
        return Today < Sowing.Middle(free) && !(Today >= free.Start && closes is { } last && Today >= last.PlusDays(-LastWeeksDays) && Today <= last);
    }

    private bool IsInTheWay(Sowing batch) => batch.Stage switch
    {
        Stage.Skipped or Stage.Missed or Stage.Dropped => false,
        Stage.Finished or Stage.KeptForSeed => !batch.IsCleared && batch.By == Evidence.Expected && Today <= batch.EndedOn,
        _ => true,
    };

    private static DateInterval? FreeAfter(Sowing batch) => batch.OverLikely;
}

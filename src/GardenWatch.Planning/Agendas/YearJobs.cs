using System.Collections.Immutable;
using GardenWatch.Agronomy.Seeds;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>One thing that a year asks for, and what decides.</summary>
/// <param name="Subject">What stands for it in its id: a word, or the bed's id.</param>
/// <param name="InSeason">Its time of the year; until then nothing is said of it.</param>
/// <param name="InWeather">What else it waits for.</param>
internal sealed record YearJob(JobKind Kind, string Subject, ImmutableArray<Condition> InSeason, ImmutableArray<Condition> InWeather)
{
    public ConditionSet Whole => new([.. InSeason, .. InWeather], [], []);
}

/// <summary>
/// What every garden has to do once a year and belongs to no planting: seed and tools in the dead of winter, fleece and hose before the
/// frosts, stakes, stores and bare soil after them. A plan's own chore of the kind takes its place.
/// </summary>
internal static class YearJobs
{
    // Days before the usual last frost, and around the usual first one. Common practice.
    private static readonly YearJob Order = new(JobKind.OrderSeed, "seed", Phrases("days until last spring frost between {latest: 70 days} and {earliest: 120 days}"), []);
    private static readonly YearJob Test = new(JobKind.TestSeed, "seed", Phrases("days until last spring frost between {latest: 45 days} and {earliest: 100 days}"), []);
    private static readonly YearJob Sharpen = new(JobKind.Clean, "tools", Phrases("days until last spring frost between {tools latest: 60 days} and {tools earliest: 110 days}"), []);
    private static readonly YearJob Fleece = new(JobKind.Prepare, "fleece", Phrases("days until first autumn frost between {latest: 1 days} and {earliest: 35 days}"), []);
    private static readonly YearJob Drain = new(JobKind.Drain, "water", [], Phrases("air low next 3 nights at most {hard frost: -2 °C}"));
    private static readonly YearJob Wash = new(JobKind.Clean, "stakes", Phrases("days until first autumn frost between {stakes latest: -45 days} and {stakes earliest: 0 days}"),
        Phrases("air high today at least {mild: 4 °C}"));
    private static readonly YearJob Stores = new(JobKind.Look, "stores", [], []);
    private static readonly YearJob Bare = new(JobKind.Mulch, "", Phrases("days until first autumn frost between {latest: -45 days} and {earliest: 0 days}"), []);

    private static readonly ImmutableArray<YearJob> All = [Order, Test, Sharpen, Fleece, Drain, Wash, Stores, Bare];

    // Once answered it is done with for that year; stores are looked over again.
    private const int AgainAfterDays = 200, StoresEveryDays = 30, StoredForDays = 210;
    private const int NamedCrops = 6;
    // What is ordered in winter is sown in the spring that follows.
    private const int SownAfterDays = 120;

    public static IEnumerable<Wanted> Of(Season season)
    {
        var speech = season.Weather.Speech;
        string toBeSown = Named(ToBeSown(season).Select(planting => planting.Crop), speech);
        var aged = Aged(season).ToImmutableArray();
        if (toBeSown.Length > 0 && One(season, Order, 30) is { } order)
            yield return order with
            {
                Because = [Said("to-be-sown", speech.Say($"To be sown this season: {toBeSown}.")), .. PastItsTime(aged, speech), .. Keeping(season, fresh: true)],
                Otherwise = speech.Say($"buy young plants of the slow crops instead"),
            };
        if (WorthATest(aged, speech).Concat(Keeping(season, fresh: false)).ToImmutableArray() is { IsEmpty: false } keeping && One(season, Test, 10) is { } test)
            yield return test with
            {
                Because = keeping,
                How = speech.Say($"Twenty seeds on damp paper in a warm room for ten days: fifteen sprouted will do, sown a third thicker; of fewer than ten, buy fresh."),
                Otherwise = speech.Say($"sow it double and thin"),
            };
        if (One(season, Sharpen, 40) is { } sharpen)
            yield return sharpen with
            {
                How = speech.Say($"Scrape, file to a bevel, oil metal and wood."),
                Cautions = [speech.Say($"File away from the body; oily rags dry outdoors, laid flat, for they can catch fire.")],
            };
        if (Standing(season).Any(sowing => sowing.Planting.Crop.Hardiness != Hardiness.Hardy) && One(season, Fleece, 15) is { } fleece)
            yield return fleece with { How = speech.Say($"Look for tears, count pegs and weights, lay it where you find it in the dark.") };
        if (DaysShorten(season) && !HasItsOwnDraining(season.Plan) && One(season, Drain, 20) is { } drain && FirstHardNight(season, drain.Numbers["hard frost"].Value) is { } night)
            yield return drain with
            {
                NoLaterThan = night,
                How = speech.Say($"Water off at the inside valve, hose walked out and coiled in, taps left open; timers and drip lines indoors."),
            };
        if (HasStakes(season.Plan) && One(season, Wash, 45) is { } wash)
            yield return wash with
            {
                How = speech.Say($"Brush the soil off, most of all out of the joints: diseases winter there."),
                Cautions = [speech.Say($"Bleach only outdoors and with gloves, and never mixed with anything.")],
            };
        string stored = Named(Stored(season), speech);
        if (stored.Length > 0 && One(season, Stores, 15, StoresEveryDays) is { } stores)
            yield return stores with
            {
                Because = [Said("stored", speech.Say($"In store by the record: {stored}."))],
                How = speech.Say($"Turn them; what is soft, or sprouts, goes out or into the kitchen first."),
            };
        foreach (var bed in season.Plan.Beds.Where(bed => IsBare(season, bed)))
            if (One(season, Bare with { Subject = bed.Id }, 20) is { } bare)
                yield return bare with { Bed = bed, How = speech.Say($"Leaves, straw or compost two fingers thick; rain takes from bare soil what you brought there.") };
    }

    /// <summary>All that a year may ask of the garden of a plan, one for each bed of what belongs to beds.</summary>
    public static IEnumerable<YearJob> InPlan(Plan plan) => All.SelectMany(job =>
        job == Bare ? plan.Beds.Where(MayLieBare).Select(bed => Bare with { Subject = bed.Id })
        : job == Drain && HasItsOwnDraining(plan) || job == Wash && !HasStakes(plan) ? []
        : (IEnumerable<YearJob>)[job]);

    /// <summary>The one that is meant by an id; null for all else.</summary>
    public static YearJob? Find(Plan plan, string subject, JobKind kind) => InPlan(plan).FirstOrDefault(job => job.Subject == subject && job.Kind == kind);

    /// <summary>The numbers that can be tuned of a kind.</summary>
    public static IEnumerable<(string Name, Quantity Value)> NumbersOf(JobKind kind) =>
        All.Where(job => job.Kind == kind).SelectMany(job => JobNumbers.Of(job.Whole));

    /// <summary>The kinds that a year asks for.</summary>
    public static IEnumerable<JobKind> Kinds => All.Select(job => job.Kind).Distinct();

    public static string NameOf(YearJob job, Plan plan, Tongue tongue) => (job.Kind, job.Subject) switch
    {
        (JobKind.OrderSeed, _) => tongue.Say($"Count the seed and order what is missing"),
        (JobKind.TestSeed, _) => tongue.Say($"Test the seed of past years"),
        (JobKind.Clean, "tools") => tongue.Say($"Sharpen hoe, spade and knives"),
        (JobKind.Prepare, _) => tongue.Say($"Get fleece and covers ready for autumn"),
        (JobKind.Drain, _) => tongue.Say($"Drain the hose, the tap outdoors and the rain barrel"),
        (JobKind.Clean, _) => tongue.Say($"Wash stakes, cages and pots"),
        (JobKind.Look, _) => tongue.Say($"Look over what is in store"),
        _ => tongue.Say($"Cover the bare soil of the {plan.BedOf(job.Subject).Name}"),
    };

    private static bool HasItsOwnDraining(Plan plan) => plan.Chores.Any(chore => chore.Kind == JobKind.Drain);

    private static bool HasStakes(Plan plan) => plan.Plantings.Any(planting => planting.Crop.Jobs.Any(job => job.Kind == JobKind.Stake));

    private static bool MayLieBare(Bed bed) => !bed.IsIndoors && bed.ContainerLitres is null && bed.Mulch == Mulch.None;

    /// <summary>Open, if its time of the year has come.</summary>
    private static Wanted? One(Season season, YearJob job, int minutes, int againAfterDays = AgainAfterDays)
    {
        var (journal, plan) = (season.Journal, season.Plan);
        var (subject, kind) = (job.Subject, job.Kind);
        var numbers = JobNumbers.InForce(JobNumbers.Of(plan, job));
        var scene = new Scene(season.Weather.Place.Weather, Moments.None.With(season.Weather.Climate), numbers, season.Weather.Speech);
        if (!job.InSeason.All(condition => Evaluate.Holds(condition, season.AsOf, scene) == Truth.Yes))
            return null;
        var closed = new[] { journal.LastDone(subject, kind), journal.LastSkipped(subject, kind) }.Max();
        var id = new JobId(plan.GardenId, subject, kind, 1 + journal.TimesClosed(subject, kind, season.Today.PlusDays(1)));
        if (closed > season.Today.PlusDays(-againAfterDays) || Unanswered.IsQuiet(season, id))
            return null;
        return new()
        {
            Id = id,
            Name = NameOf(job, plan, season.Weather.Speech.Tongue),
            Minutes = minutes,
            Conditions = new(job.InWeather, [], []),
            Numbers = numbers,
            PutOffUntil = journal.PutOffUntil(subject, kind, id.Time),
        };
    }

    internal static bool DaysShorten(Season season)
    {
        var (calendar, today) = (season.Weather.Calendar, season.Today);
        return Agronomy.Light.Sun.Course(calendar.Place, today.PlusDays(1), calendar.Zone).DayLength < Agronomy.Light.Sun.Course(calendar.Place, today, calendar.Zone).DayLength;
    }

    private const int FrozeLatelyDays = 20;

    /// <summary>When the night of the season's first hard frost begins; null when none is in sight, or when it has frozen hard before.</summary>
    private static Instant? FirstHardNight(Season season, double hardFrostC)
    {
        if (season.Weather.Place.Lowest(BedMeasure.Air, season.AsOf - Duration.FromDays(FrozeLatelyDays), season.AsOf) is var (past, _) && past <= hardFrostC)
            return null;
        for (int day = 0; day < 3; day++)
            if (season.Weather.Calendar.NightOf(season.Today.PlusDays(day)) is var night && night.Start > season.AsOf
                && season.Weather.Place.Lowest(BedMeasure.Air, night.Start, night.End) is var (low, _) && low <= hardFrostC)
                return night.Start;
        return null;
    }

    private static IEnumerable<Sowing> Standing(Season season) =>
        season.Sowings.Where(sowing => sowing.StandsInItsBed(season.Today) && !season.Plan.BedOf(sowing.Planting.BedId).IsIndoors);

    /// <summary>What is raised from seed and not begun, one planting for each crop.</summary>
    private static IEnumerable<Planting> ToBeSown(Season season) => season.Sowings
        .Where(sowing => sowing.Stage == Stage.Planned && sowing.Planting.Origin != Origin.Bought && sowing.Planting.Crop.Seed?.Years is not null)
        .Select(sowing => sowing.Planting).DistinctBy(planting => planting.Crop.Name);

    /// <summary>For how long the seed of what is to be sown keeps: that of one year to be bought fresh, the rest worth a test. What has a year of its own is told by it.</summary>
    private static IEnumerable<Reason> Keeping(Season season, bool fresh)
    {
        var speech = season.Weather.Speech;
        foreach (var alike in ToBeSown(season).Where(planting => planting.SeedYear is null).Select(planting => planting.Crop)
            .Where(crop => crop.Seed!.Years <= 1 == fresh).GroupBy(crop => crop.Seed!.Years!.Value).OrderBy(alike => alike.Key))
            yield return Said("seed-keeps", fresh
                ? speech.Say($"Best bought fresh each year: {Named(alike, speech)}.")
                : speech.Say($"Seed keeps {speech.Counted(alike.Key, "year")}: {Named(alike, speech)}."));
    }

    private static IEnumerable<SeedAge> Aged(Season season) => season.Sowings
        .Where(sowing => sowing.Stage == Stage.Planned && sowing.Planting.Origin != Origin.Bought).Select(sowing => sowing.Planting).DistinctBy(planting => planting.Id)
        .Select(planting => SeedAge.Of(planting, season.Today.PlusDays(SownAfterDays).Year)).OfType<SeedAge>();

    private static IEnumerable<Reason> PastItsTime(ImmutableArray<SeedAge> aged, Speech speech) =>
        Listed(aged, SeedWorth.BuyFresh, speech) is { Length: > 0 } old ? [Said("seed-too-old", speech.Say($"Too old by then to rely on: {old}."))] : [];

    private static IEnumerable<Reason> WorthATest(ImmutableArray<SeedAge> aged, Speech speech) =>
        Listed(aged, SeedWorth.SowThicker, speech) is { Length: > 0 } weak ? [Said("seed-weaker", speech.Say($"Weaker by then, with what is likely to come up: {weak}."))] : [];

    private static string Listed(ImmutableArray<SeedAge> aged, SeedWorth worth, Speech speech) =>
        string.Join(", ", aged.Where(age => age.Worth == worth).Take(NamedCrops).Select(age => age.Said(speech)));

    /// <summary>What was lifted or cut this season and is cured to keep.</summary>
    private static IEnumerable<CropProfile> Stored(Season season) => season.Plan.Plantings
        .Where(planting => planting.Crop.Jobs.Any(job => job.Kind == JobKind.Cure) && season.Journal.LastDone(planting.Id, JobKind.Harvest) is { } harvested
            && harvested > season.Today.PlusDays(-StoredForDays) && harvested <= season.Today.PlusDays(-StoresEveryDays))
        .Select(planting => planting.Crop).DistinctBy(crop => crop.Name);

    /// <summary>Something grew there, and nothing stands or is to come before spring.</summary>
    private static bool IsBare(Season season, Bed bed)
    {
        var here = season.Sowings.Where(sowing => sowing.Planting.BedId == bed.Id).ToList();
        return MayLieBare(bed) && here.Count > 0
            && here.All(sowing => sowing.Stage.IsOver() || sowing.Stage == Stage.Planned && !(sowing.SowLikely?.Start < season.Today.PlusDays(StoresEveryDays)))
            && here.Any(sowing => sowing.Stage is Stage.Finished or Stage.KeptForSeed);
    }

    private static string Named(IEnumerable<CropProfile> crops, Speech speech) => string.Join(", ", crops.Take(NamedCrops).Select(crop => speech.Word(crop.Plants)));

    private static Reason Said(string code, string text) => new(code, ImmutableDictionary<string, double>.Empty, text);

    private static ImmutableArray<Condition> Phrases(params string[] texts) => [.. texts.Select(ConditionText.Own)];
}

using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// What every garden has to do once a year and belongs to no planting: seed and tools in the dead of winter, fleece and hose before the
/// frosts, stakes, stores and bare soil after them. A plan's own chore of the kind takes its place.
/// </summary>
internal static class YearJobs
{
    // Days before the usual last frost, and around the usual first one. Common practice.
    private static readonly ImmutableArray<Condition> SeedIsOrdered = Phrases("days until last spring frost between 70 days and 120 days");
    private static readonly ImmutableArray<Condition> SeedIsTested = Phrases("days until last spring frost between 45 days and 100 days");
    private static readonly ImmutableArray<Condition> ToolsAreIdle = Phrases("days until last spring frost between 60 days and 110 days");
    private static readonly ImmutableArray<Condition> FrostIsNear = Phrases("days until first autumn frost between 1 days and 35 days");
    private static readonly ImmutableArray<Condition> FrostHasCome = Phrases("days until first autumn frost between -45 days and 0 days");
    private static readonly ImmutableArray<Condition> MildEnoughToWash = Phrases("air high today at least {mild: 4 °C}");
    private static readonly ImmutableArray<Condition> HardFrost = Phrases("air low next 3 nights at most {hard frost: -2 °C}");

    // Once answered it is done with for that year; stores are looked over again.
    private const int AgainAfterDays = 200, StoresEveryDays = 30, StoredForDays = 210;
    private const int NamedCrops = 6;

    public static IEnumerable<Wanted> Of(Season season)
    {
        var speech = season.Weather.Speech;
        string toBeSown = Named(ToBeSown(season), speech);
        if (toBeSown.Length > 0 && Holds(season, SeedIsOrdered) && One(season, "seed", JobKind.OrderSeed, speech.Say($"Count the seed and order what is missing"), 30) is { } order)
            yield return order with
            {
                Because = [Said("to-be-sown", speech.Say($"To be sown this season: {toBeSown}.")), .. Keeping(season, fresh: true)],
                Otherwise = speech.Say($"buy young plants of the slow crops instead"),
            };
        if (Keeping(season, fresh: false).ToImmutableArray() is { IsEmpty: false } keeping && Holds(season, SeedIsTested)
            && One(season, "seed", JobKind.TestSeed, speech.Say($"Test the seed of past years"), 10) is { } test)
            yield return test with
            {
                Because = keeping,
                How = speech.Say($"Twenty seeds on damp paper in a warm room for ten days: fifteen sprouted will do, sown a third thicker; of fewer than ten, buy fresh."),
                Otherwise = speech.Say($"sow it double and thin"),
            };
        if (Holds(season, ToolsAreIdle) && One(season, "tools", JobKind.Clean, speech.Say($"Sharpen hoe, spade and knives"), 40) is { } sharpen)
            yield return sharpen with
            {
                How = speech.Say($"Scrape, file to a bevel, oil metal and wood."),
                Cautions = [speech.Say($"File away from the body; oily rags dry outdoors, laid flat, for they can catch fire.")],
            };
        if (Standing(season).Any(sowing => sowing.Planting.Crop.Hardiness != Hardiness.Hardy) && Holds(season, FrostIsNear)
            && One(season, "fleece", JobKind.Prepare, speech.Say($"Get fleece and covers ready for autumn"), 15) is { } fleece)
            yield return fleece with { How = speech.Say($"Look for tears, count pegs and weights, lay it where you find it in the dark.") };
        if (DaysShorten(season) && !season.Plan.Chores.Any(chore => chore.Kind == JobKind.Drain)
            && One(season, "water", JobKind.Drain, speech.Say($"Drain the hose, the tap outdoors and the rain barrel"), 20) is { } drain
            && FirstHardNight(season) is { } night)
            yield return drain with
            {
                Conditions = new(HardFrost, [], []),
                Numbers = JobNumbers.Of(new ConditionSet(HardFrost, [], [])).ToImmutableDictionary(number => number.Name, number => number.Value),
                NoLaterThan = night,
                How = speech.Say($"Water off at the inside valve, hose walked out and coiled in, taps left open; timers and drip lines indoors."),
            };
        if (season.Plan.Plantings.Any(planting => planting.Crop.Jobs.Any(job => job.Kind == JobKind.Stake)) && Holds(season, FrostHasCome)
            && One(season, "stakes", JobKind.Clean, speech.Say($"Wash stakes, cages and pots"), 45) is { } wash)
            yield return wash with
            {
                Conditions = new(MildEnoughToWash, [], []),
                Numbers = JobNumbers.Of(new ConditionSet(MildEnoughToWash, [], [])).ToImmutableDictionary(number => number.Name, number => number.Value),
                How = speech.Say($"Brush the soil off, most of all out of the joints: diseases winter there."),
                Cautions = [speech.Say($"Bleach only outdoors and with gloves, and never mixed with anything.")],
            };
        string stored = Named(Stored(season), speech);
        if (stored.Length > 0 && One(season, "stores", JobKind.Look, speech.Say($"Look over what is in store"), 15, StoresEveryDays) is { } stores)
            yield return stores with
            {
                Because = [Said("stored", speech.Say($"In store by the record: {stored}."))],
                How = speech.Say($"Turn them; what is soft, or sprouts, goes out or into the kitchen first."),
            };
        if (Holds(season, FrostHasCome))
            foreach (var bed in season.Plan.Beds.Where(bed => IsBare(season, bed)))
                if (One(season, bed.Id, JobKind.Mulch, speech.Say($"Cover the bare soil of the {bed.Name}"), 20) is { } bare)
                    yield return bare with { Bed = bed, How = speech.Say($"Leaves, straw or compost two fingers thick; rain takes from bare soil what you brought there.") };
    }

    private static Wanted? One(Season season, string subject, JobKind kind, string name, int minutes, int againAfterDays = AgainAfterDays)
    {
        var (journal, plan) = (season.Journal, season.Plan);
        var closed = new[] { journal.LastDone(subject, kind), journal.LastSkipped(subject, kind) }.Max();
        var id = new JobId(plan.GardenId, subject, kind, 1 + journal.TimesClosed(subject, kind, season.Today.PlusDays(1)));
        if (closed > season.Today.PlusDays(-againAfterDays) || Unanswered.IsQuiet(season, id))
            return null;
        return new()
        {
            Id = id,
            Name = name,
            Minutes = minutes,
            Conditions = ConditionSet.Always,
            Numbers = ImmutableDictionary<string, Quantity>.Empty,
            PutOffUntil = journal.PutOffUntil(subject, kind, id.Time),
        };
    }

    private static bool Holds(Season season, ImmutableArray<Condition> conditions)
    {
        var scene = new Scene(season.Weather.Place.Weather, Moments.None.With(season.Weather.Climate), ImmutableDictionary<string, Quantity>.Empty, season.Weather.Speech);
        return conditions.All(condition => Evaluate.Holds(condition, season.AsOf, scene) == Truth.Yes);
    }

    internal static bool DaysShorten(Season season)
    {
        var (calendar, today) = (season.Weather.Calendar, season.Today);
        return Agronomy.Light.Sun.Course(calendar.Place, today.PlusDays(1), calendar.Zone).DayLength < Agronomy.Light.Sun.Course(calendar.Place, today, calendar.Zone).DayLength;
    }

    private const double HardFrostC = -2;
    private const int FrozeLatelyDays = 20;

    /// <summary>When the night of the season's first hard frost begins; null when none is in sight, or when it has frozen hard before.</summary>
    private static Instant? FirstHardNight(Season season)
    {
        if (season.Weather.Place.Lowest(BedMeasure.Air, season.AsOf - Duration.FromDays(FrozeLatelyDays), season.AsOf) is var (past, _) && past <= HardFrostC)
            return null;
        for (int day = 0; day < 3; day++)
            if (season.Weather.Calendar.NightOf(season.Today.PlusDays(day)) is var night && night.Start > season.AsOf
                && season.Weather.Place.Lowest(BedMeasure.Air, night.Start, night.End) is var (low, _) && low <= HardFrostC)
                return night.Start;
        return null;
    }

    private static IEnumerable<Sowing> Standing(Season season) =>
        season.Sowings.Where(sowing => sowing.StandsInItsBed(season.Today) && !season.Plan.BedOf(sowing.Planting.BedId).IsIndoors);

    /// <summary>What is raised from seed and not begun.</summary>
    private static IEnumerable<CropProfile> ToBeSown(Season season) => season.Sowings
        .Where(sowing => sowing.Stage == Stage.Planned && sowing.Planting.Origin != Origin.Bought && sowing.Planting.Crop.Seed?.Years is not null)
        .Select(sowing => sowing.Planting.Crop).DistinctBy(crop => crop.Name);

    /// <summary>For how long the seed of what is to be sown keeps: that of one year to be bought fresh, the rest worth a test.</summary>
    private static IEnumerable<Reason> Keeping(Season season, bool fresh)
    {
        var speech = season.Weather.Speech;
        foreach (var alike in ToBeSown(season).Where(crop => crop.Seed!.Years <= 1 == fresh).GroupBy(crop => crop.Seed!.Years!.Value).OrderBy(alike => alike.Key))
            yield return Said("seed-keeps", fresh
                ? speech.Say($"Best bought fresh each year: {Named(alike, speech)}.")
                : speech.Say($"Seed keeps {speech.Counted(alike.Key, "year")}: {Named(alike, speech)}."));
    }

    /// <summary>What was lifted or cut this season and is cured to keep.</summary>
    private static IEnumerable<CropProfile> Stored(Season season) => season.Plan.Plantings
        .Where(planting => planting.Crop.Jobs.Any(job => job.Kind == JobKind.Cure) && season.Journal.LastDone(planting.Id, JobKind.Harvest) is { } harvested
            && harvested > season.Today.PlusDays(-StoredForDays) && harvested <= season.Today.PlusDays(-StoresEveryDays))
        .Select(planting => planting.Crop).DistinctBy(crop => crop.Name);

    /// <summary>Something grew there, and nothing stands or is to come before spring.</summary>
    private static bool IsBare(Season season, Bed bed)
    {
        var here = season.Sowings.Where(sowing => sowing.Planting.BedId == bed.Id).ToList();
        return !bed.IsIndoors && bed.ContainerLitres is null && bed.Mulch == Mulch.None && here.Count > 0
            && here.All(sowing => sowing.Stage.IsOver() || sowing.Stage == Stage.Planned && !(sowing.SowLikely?.Start < season.Today.PlusDays(StoresEveryDays)))
            && here.Any(sowing => sowing.Stage is Stage.Finished or Stage.KeptForSeed);
    }

    private static string Named(IEnumerable<CropProfile> crops, Speech speech) => string.Join(", ", crops.Take(NamedCrops).Select(crop => speech.Word(crop.Plants)));

    private static Reason Said(string code, string text) => new(code, ImmutableDictionary<string, double>.Empty, text);

    private static ImmutableArray<Condition> Phrases(params string[] texts) => [.. texts.Select(text => ConditionText.Read(text) is ConditionReading.Ok ok
        ? ok.Condition
        : throw new InvalidOperationException($"`{text}` is not of the language."))];
}

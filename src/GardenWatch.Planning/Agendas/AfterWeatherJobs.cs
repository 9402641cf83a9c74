using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// What a garden asks for once such weather has passed: a walk after a flood, a look after hail and again a week on, snow off what is covered. Each
/// occasion asks once, by its date, for the whole garden.
/// </summary>
internal static class AfterWeatherJobs
{
    // Heavy rain: a published flood note for gardens; amount and snow: common practice. A look at beaten plants on the next day, and a week on when new
    // growth shows which of them live (Stebbins 2015, Colorado).
    private static readonly Condition Flood = ConditionText.Own("rain total past 24 hours at least {flood: 40 mm}");
    private static readonly Condition Snow = ConditionText.Own("snow total past 24 hours at least {snow: 3 cm}");
    private static readonly Condition Hail = ConditionText.Own("hail hours past 24 hours above {hail: 0 hours}");
    private const int FloodEveryDays = 4, SnowEveryDays = 1, HailLookDays = 2, HailAgainDays = 6, HailDays = 9;
    private const int CoverLiesDays = 21;

    private static readonly ImmutableArray<string> HailWords = ["hail", "hagel"];

    public static IEnumerable<Wanted> Of(Season season)
    {
        var speech = season.Weather.Speech;
        var none = ImmutableDictionary<string, double>.Empty;
        if (Grows(season) && Holds(season, Flood) == Truth.Yes && One(season, "flood", JobKind.Look, season.Today, FloodEveryDays, speech.Say("Look at paths, puddles and roots after the rain"), 10) is { } flood)
            yield return flood with
            {
                Because = [new("flood", none, speech.Say($"{Finding(season, Flood)}: water that stands for a day takes the air from roots."))],
                How = speech.Say("Dig a notch where water stands, keep off wet soil, lift what lies in it, cover bare roots."),
                Otherwise = speech.Say("wait until it has drained"),
                Cautions = [speech.Say("Floodwater carries sewage and chemicals: gloves and boots, wash your hands; eat nothing that it reached before local food advice says what may be kept.")],
            };
        if (Grows(season) && HailedOn(season) is { } hailed && Period.DaysBetween(hailed, season.Today) is var ago && ago is >= 1 and <= HailLookDays or >= HailAgainDays and <= HailDays)
        {
            bool again = ago >= HailAgainDays;
            var occasion = again ? hailed.PlusDays(HailAgainDays) : hailed;
            if (One(season, "hail", JobKind.Look, occasion, Period.DaysBetween(occasion, season.Today), again ? speech.Say("Look again at what the hail struck") : speech.Say("Look at what the hail struck"), 15) is { } look)
                yield return look with
                {
                    Because = [new("hail", none, again
                        ? speech.Say($"Hail on {speech.Day(hailed)}: by now new growth shows which plants live.")
                        : speech.Say($"Hail on {speech.Day(hailed)}."))],
                    How = again
                        ? speech.Say("Keep what has a live tip, sow again what has none while the season leaves time; squash with a beaten crown is lost, onions and carrots recover.")
                        : speech.Say("Loosen the crust, set up what lies, cut off only what hangs broken; wait a week before you pull anything out."),
                };
        }
        string covered = Covered(season);
        if (covered.Length > 0 && Holds(season, Snow) == Truth.Yes && One(season, "snow", JobKind.Other, season.Today, SnowEveryDays, speech.Say("Knock the snow off covers and tunnels"), 10) is { } snow)
            yield return snow with
            {
                Because = [new("snow", none, speech.Say($"{Finding(season, Snow)}, over: {covered}."))],
                How = speech.Say("With a broom from below, before it freezes on; leave it on rows without a cover, it keeps them warm."),
                Cautions = [speech.Say("Slippery: stay on the ground, and out from under the edge of a roof.")],
            };
    }

    /// <summary>What nobody can say, since hours of weather are missing; one sentence, or none.</summary>
    public static IEnumerable<string> Unknown(Season season)
    {
        // An old forecast is told of elsewhere, and weather that a service never gives is not complained of every morning.
        if (season.Weather.News.State != WeatherState.Fresh)
            yield break;
        var speech = season.Weather.Speech;
        var unknown = new List<string>();
        if (Grows(season) && Holds(season, Flood) == Truth.Unknown && IsEverKnown(season, Agronomy.Series.WeatherVariable.Rain))
            unknown.Add(speech.Say("whether water stands on the beds"));
        if (season.Sowings.Any(sowing => SeedRows.IsUnknown(season, sowing)) && IsEverKnown(season, Agronomy.Series.WeatherVariable.Rain))
            unknown.Add(speech.Say("whether rain left a crust over seed"));
        if (Covered(season).Length > 0 && Holds(season, Snow) == Truth.Unknown && IsEverKnown(season, Agronomy.Series.WeatherVariable.Snowfall))
            unknown.Add(speech.Say("whether snow lies on covers"));
        if (Grows(season) && Holds(season, Hail) == Truth.Unknown && IsEverKnown(season, Agronomy.Series.WeatherVariable.WeatherCode))
            unknown.Add(speech.Say("whether it hailed"));
        if (season.Sowings.Any(sowing => Standing(season, sowing) && BoltingLooks.Of(season, sowing).IsUnknown) && IsEverKnown(season, Agronomy.Series.WeatherVariable.Air))
            unknown.Add(speech.Say("whether anything runs to seed"));
        if (season.Sowings.Any(sowing => sowing.Stage == Stage.Bearing && sowing.Planting.Crop.Jobs.Any(job => job.Kind == JobKind.Harvest && Occasions.IsUnknown(season, sowing, job)))
            && IsEverKnown(season, Agronomy.Series.WeatherVariable.Rain))
            unknown.Add(speech.Say("whether rain comes over what is ripe"));
        if (unknown.Count > 0)
            yield return speech.Say($"Not known, as hours of weather are missing: {string.Join(", ", unknown)}. A walk round the beds tells.");
    }

    private static Wanted? One(Season season, string subject, JobKind kind, LocalDate occasion, int closedForDays, string name, int minutes)
    {
        var (journal, plan) = (season.Journal, season.Plan);
        var closed = new[] { journal.LastDone(subject, kind), journal.LastSkipped(subject, kind) }.Max();
        if (closed > season.Today.PlusDays(-closedForDays) || closed >= occasion)
            return null;
        // The date of what happened, so that each occasion is a job of its own and stays the same while it is open.
        int time = occasion.Year * 10000 + occasion.Month * 100 + occasion.Day;
        return new()
        {
            Id = new JobId(plan.GardenId, subject, kind, time),
            Name = name,
            Minutes = minutes,
            Conditions = ConditionSet.Always,
            Numbers = ImmutableDictionary<string, Quantity>.Empty,
            PutOffUntil = journal.PutOffUntil(subject, kind, time),
        };
    }

    /// <summary>The latest day on which it hailed, by the weather or by what the gardener wrote; today is left to tomorrow.</summary>
    private static LocalDate? HailedOn(Season season)
    {
        var calendar = season.Weather.Calendar;
        for (int ago = 1; ago <= HailDays; ago++)
        {
            var day = season.Today.PlusDays(-ago);
            if (Evaluate.Holds(Hail, calendar.DayOf(day).End, SceneOf(season)) == Truth.Yes || season.Journal.Entries.Any(entry => entry.Kind == EntryKind.Note && entry.Date == day && IsOfHail(entry.Text)))
                return day;
        }
        return null;
    }

    private static bool IsOfHail(string? note) => note is not null
        && note.Split([' ', ',', '.', ';', '!', ':'], StringSplitOptions.RemoveEmptyEntries).Any(word => HailWords.Any(hail => word.StartsWith(hail, StringComparison.OrdinalIgnoreCase)))
        && !note.Contains("no hail", StringComparison.OrdinalIgnoreCase) && !note.Contains("kein", StringComparison.OrdinalIgnoreCase);

    /// <summary>What is roofed by the plan, and what has a cover on by the record.</summary>
    private static string Covered(Season season)
    {
        var names = season.Plan.Beds
            .Where(bed => bed.Over is Overhead.Frame or Overhead.Tunnel or Overhead.Greenhouse
                || season.Plan.Plantings.Any(planting => planting.BedId == bed.Id && season.Journal.LastDone(planting.Id, JobKind.Cover) is { } covered
                    && covered > season.Today.PlusDays(-CoverLiesDays) && !(season.Journal.LastDone(planting.Id, JobKind.Uncover) >= covered)))
            .Select(bed => bed.Name);
        return string.Join(", ", names);
    }

    private static bool Grows(Season season) => season.Sowings.Any(sowing => Standing(season, sowing) || SeedRows.IsSeed(season, sowing));

    private static bool Standing(Season season, Sowing sowing) => sowing.StandsInItsBed(season.Today) && !season.Plan.BedOf(sowing.Planting.BedId).IsIndoors;

    private static bool IsEverKnown(Season season, Agronomy.Series.WeatherVariable variable)
    {
        foreach (double value in season.Weather.Hours(variable))
            if (!double.IsNaN(value))
                return true;
        return false;
    }

    private static Truth Holds(Season season, Condition condition) => Evaluate.Holds(condition, season.AsOf, SceneOf(season));

    private static string Finding(Season season, Condition condition) => Evaluate.Finding(condition, season.AsOf, SceneOf(season));

    private static Scene SceneOf(Season season) => new(season.Weather.Place.Weather, Moments.None, ImmutableDictionary<string, Quantity>.Empty, season.Weather.Speech);
}

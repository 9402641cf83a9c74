using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// A walk past a planting when the weather or the warmth of one of its pests or diseases has come: one job for all that may be
/// found there, with what it looks like and what helps. A reason to look, never a finding.
/// </summary>
internal static class LookJobs
{
    private const int Minutes = 3;
    /// <summary>For how long one looks for what flies, and how long a look serves. Its day is a week uncertain (pest degree-day models of extension services).</summary>
    public static (string Name, Quantity Value) Flight { get; } = ("flight", new(21, Dimension.Days));
    // After a frost that may have struck blossom one look is enough.
    private const int FrostDays = 21;

    public static IEnumerable<Wanted> Of(Season season)
    {
        foreach (var planting in season.Plan.Plantings)
        {
            var standing = season.OfPlanting(planting).Where(sowing => sowing.StandsInItsBed(season.Today) && sowing.Stage != Stage.Finished).ToList();
            if (standing.Count == 0)
                continue;
            int time = 1 + season.Journal.TimesClosed(planting.Id, JobKind.Look, before: season.Today);
            var id = new JobId(season.Plan.GardenId, planting.Id, JobKind.Look, time);
            var last = season.Journal.LastDone(planting.Id, JobKind.Look) ?? season.Journal.LastSkipped(planting.Id, JobKind.Look);
            if (last >= season.Today)
                continue;
            var found = planting.Crop.Pests.Concat(planting.Crop.Diseases)
                .Where(threat => !(last?.PlusDays(threat.Weather?.EveryDays ?? FlightDays(planting)) > season.Today))
                .Select(threat => standing.Select(sowing => ReasonFor(season, sowing, threat)).FirstOrDefault(reason => reason is not null))
                .OfType<Reason>().ToImmutableArray();
            if (!(last > season.Today.PlusDays(-FrostDays)) && standing.Select(sowing => FrostLooks.Of(season, sowing)).FirstOrDefault(reason => reason is not null) is { } frost)
                found = found.Insert(0, frost);
            if (found.IsEmpty || Unanswered.IsQuiet(season, id))
                continue;
            var speech = season.Weather.Speech;
            yield return new Wanted
            {
                Id = id,
                Name = speech.Say($"Look over the {speech.Word(planting.Crop.Plants)}"),
                Bed = season.Plan.BedOf(planting.BedId),
                Sowing = standing[0],
                Conditions = ConditionSet.Always,
                Numbers = ImmutableDictionary<string, Quantity>.Empty,
                Minutes = Minutes,
                Because = found,
                Cautions = [speech.Say("Look before you act; of anything spread or sprayed the product label and local rules decide.")],
                PutOffUntil = season.Journal.PutOffUntil(planting.Id, JobKind.Look, time),
            };
        }
    }

    /// <summary>Its weather or its warmth tells when to look for it.</summary>
    public static bool IsLookedFor(CropThreat threat) => threat.Weather is not null || threat.Appears is not null;

    /// <summary>What each look goes by and how it stands, a sentence for each pest and disease.</summary>
    public static IEnumerable<string> Grounds(Season season, Planting planting)
    {
        var standing = season.OfPlanting(planting).FirstOrDefault(sowing => sowing.StandsInItsBed(season.Today) && sowing.Stage != Stage.Finished);
        if (standing is null)
        {
            yield return "Nothing of it stands in its bed.";
            yield break;
        }
        foreach (var threat in planting.Crop.Pests.Concat(planting.Crop.Diseases).Where(IsLookedFor))
            yield return ReasonFor(season, standing, threat)?.Text ?? $"Not now for {threat.Name}: {WhyNot(season, standing, threat)}.";
    }

    private static string WhyNot(Season season, Sowing sowing, CropThreat threat)
    {
        if (threat.Weather is { From: var from } && !HasReached(sowing, from))
            return $"the plants are not that far ({from switch { Stage.Bearing => "bearing", Stage.SetOut => "set out", _ => "up" }})";
        var scene = SceneOf(season, sowing);
        var missing = new List<string>();
        if (threat.Weather is { Conditions: var conditions })
        {
            if (conditions.By.Any(end => Evaluate.Holds(end, season.AsOf, scene) == Truth.Yes))
                return "its time is over";
            missing.AddRange(conditions.When.Where(condition => Evaluate.Holds(condition, season.AsOf, scene) != Truth.Yes)
                .Select(condition => Evaluate.At(condition, season.AsOf, scene, lookAhead: false).Sentence));
        }
        if (threat.Appears is not null)
        {
            var flights = season.FlightsOf(sowing.Planting, threat).ToList();
            missing.Add((flights.Find(flight => flight.End >= season.Today) ?? flights.FirstOrDefault()) is { } days
                ? $"it is about from {season.Weather.Speech.Dates(days.Start, days.End)} on, by warmth"
                : "when it is about is not known, as the warmth of the year is not");
        }
        return string.Join("; ", missing);
    }

    private static Reason? ReasonFor(Season season, Sowing sowing, CropThreat threat)
    {
        var speech = season.Weather.Speech;
        if (threat.Weather is null && threat.Appears is null || threat.Weather is { From: var from } && !HasReached(sowing, from))
            return null;
        string? weather = null, flight = null;
        if (threat.Weather is { Conditions: var conditions })
        {
            var scene = SceneOf(season, sowing);
            if (Evaluate.Holds(conditions.Whole, season.AsOf, scene) != Truth.Yes || conditions.By.Any(end => Evaluate.Holds(end, season.AsOf, scene) != Truth.No))
                return null;
            weather = string.Join(", ", conditions.When.Select(condition => Evaluate.Finding(condition, season.AsOf, scene)));
        }
        if (threat.Appears is not null)
        {
            var flights = season.FlightsOf(sowing.Planting, threat).ToList();
            int now = flights.FindLastIndex(days => season.Today >= days.Start && season.Today <= days.End.PlusDays(FlightDays(sowing.Planting)));
            if (now < 0)
                return null;
            string since = speech.Dates(flights[now].Start, flights[now].End);
            flight = now == 0 ? speech.Say($"about since {since}, by warmth") : speech.Say($"about again since {since}, by warmth");
        }
        string name = speech.Word(threat.Name);
        string sign = speech.Word(threat.Sign), remedy = speech.Word(threat.Remedy);
        string why = flight ?? weather!;
        return new("look-for", ImmutableDictionary<string, double>.Empty, speech.Say($"For {name} ({why}): {sign}. If so: {remedy}."));
    }

    private static bool HasReached(Sowing sowing, Stage from) => from switch
    {
        Stage.Bearing => sowing.Stage == Stage.Bearing,
        Stage.SetOut => sowing.IsSetOut || sowing.Stage is Stage.SetOut or Stage.Growing or Stage.Bearing or Stage.Up,
        _ => true,
    };

    private static Scene SceneOf(Season season, Sowing sowing)
    {
        // What nobody saw come up, or set out, is as old as the reckoning has it.
        var moments = WantedJobs.MomentsOf(
            (Milestone.Sown, sowing.SownOn ?? sowing.Begun?.Start), (Milestone.Up, sowing.UpOn ?? sowing.UpLikely?.End ?? sowing.SetOutOn ?? sowing.Begun?.Start),
            (Milestone.SetOut, sowing.SetOutOn ?? sowing.UpOn ?? sowing.UpLikely?.End ?? sowing.Begun?.Start));
        return new(
            season.Weather.BedOf(season.Plan.BedOf(sowing.Planting.BedId)).Weather, moments.With(season.Weather.Climate),
            JobNumbers.InForce(JobNumbers.OfLooks(sowing.Planting)), season.Weather.Speech);
    }

    private static int FlightDays(Planting planting) => (int)Math.Round(JobNumbers.InForce(JobNumbers.OfLooks(planting)).GetValueOrDefault(Flight.Name, Flight.Value).Value);
}

/// <summary>A job of routine that was told on three mornings without an answer goes quiet for the rest of a week.</summary>
internal static class Unanswered
{
    // "Three mornings unanswered: a routine job goes quiet" (common practice).
    private const int Mornings = 3, Days = 7;

    public static bool IsQuiet(Season season, JobId id) =>
        season.LastSaid.Jobs.TryGetValue(id.ToString(), out var said) && Period.DaysBetween(said.FirstOn, season.Today) % Days >= Mornings;
}

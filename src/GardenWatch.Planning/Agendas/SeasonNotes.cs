using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Agendas;

/// <summary>What was assumed of the season, asked about once: in the first message that speaks of a planting.</summary>
internal static class SeasonNotes
{
    public static IEnumerable<string> Of(Season season)
    {
        var speech = season.Weather.Speech;
        string Called(Sowing sowing) => speech.Say($"{speech.Word(sowing.Planting.Crop.Plants)} ({season.Plan.BedOf(sowing.Planting.BedId).Name})");
        var told = season.Sowings
            .Where(sowing => sowing.By == Evidence.Told && sowing.Stage.IsAlive() || sowing is { Batch: 1, Begun.Length: > 1 } && sowing.Stage.IsAlive() && sowing.By == Evidence.Expected)
            .Where(sowing => sowing.Batch == 1 && !season.LastSaid.Stages.ContainsKey(sowing.Id))
            .Select(sowing => $"{Called(sowing)} {Since(sowing, speech)}")
            .ToList();
        if (told.Count > 0)
            yield return speech.Say($"Taken from the plan: {string.Join("; ", told)}. If that is not so, write it into the plan, as `set out: 12 May`.");

        var late = season.Sowings
            .Where(sowing => sowing is { Batch: 1, Stage: Stage.Planned, Planting.OriginDate: null } && sowing.Planting.FirstSeen is { } seen
                && season.Today <= seen.PlusDays(1) && sowing.NotBefore > seen.PlusDays(1))
            .Select(Called)
            .ToList();
        if (late.Count > 0)
            yield return speech.Say($"Too late this year, so taken for the next: {string.Join("; ", late)}. What grows already, write as `growing: yes`.");
    }

    private static string Since(Sowing sowing, Speech speech) => sowing switch
    {
        { SetOutOn: { } date } => IsRough(sowing) ? speech.Say($"set out about {speech.Date(date)}") : speech.Say($"set out {speech.Date(date)}"),
        { SownOn: { } date } => IsRough(sowing) ? speech.Say($"sown about {speech.Date(date)}") : speech.Say($"sown {speech.Date(date)}"),
        { Begun: { } begun, Planting.OriginDate: null } => speech.Say($"growing, as if since {speech.Dates(begun.Start, begun.End)}"),
        { Begun: { } begun } => speech.Say($"growing since {speech.Dates(begun.Start, begun.End)}"),
        _ => speech.Say("growing, since when is not said"),
    };

    private static bool IsRough(Sowing sowing) => sowing.Planting.OriginDate is { } dates && dates.From != dates.To;
}

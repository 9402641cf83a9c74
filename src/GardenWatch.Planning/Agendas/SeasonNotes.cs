using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Agendas;

/// <summary>What was assumed of the season, asked about once: in the first message that speaks of a planting.</summary>
internal static class SeasonNotes
{
    public static IEnumerable<string> Of(Season season)
    {
        var told = season.Sowings
            .Where(sowing => sowing.By == Evidence.Told && sowing.Stage.IsAlive() || sowing is { Batch: 1, Begun.Length: > 1 } && sowing.Stage.IsAlive() && sowing.By == Evidence.Expected)
            .Where(sowing => sowing.Batch == 1 && !season.LastSaid.Stages.ContainsKey(sowing.Id))
            .Select(sowing => $"{sowing.Planting.Crop.Plants} ({season.Plan.BedOf(sowing.Planting.BedId).Name}) {Since(sowing)}")
            .ToList();
        if (told.Count > 0)
            yield return $"Taken from the plan: {string.Join("; ", told)}. If that is not so, write it into the plan, as `set out: 12 May`.";

        var late = season.Sowings
            .Where(sowing => sowing is { Batch: 1, Stage: Stage.Planned, Planting.OriginDate: null } && sowing.Planting.FirstSeen is { } seen
                && season.Today <= seen.PlusDays(1) && sowing.NotBefore > seen.PlusDays(1))
            .Select(sowing => $"{sowing.Planting.Crop.Plants} ({season.Plan.BedOf(sowing.Planting.BedId).Name})")
            .ToList();
        if (late.Count > 0)
            yield return $"Too late this year, so taken for the next: {string.Join("; ", late)}. What grows already, write as `growing: yes`.";
    }

    private static string Since(Sowing sowing) => sowing switch
    {
        { SetOutOn: { } date } => $"set out {About(sowing)}{Speech.Date(date)}",
        { SownOn: { } date } => $"sown {About(sowing)}{Speech.Date(date)}",
        { Begun: { } begun, Planting.OriginDate: null } => $"growing, as if since {Speech.Dates(begun.Start, begun.End)}",
        { Begun: { } begun } => $"growing since {Speech.Dates(begun.Start, begun.End)}",
        _ => "growing, since when is not said",
    };

    private static string About(Sowing sowing) => sowing.Planting.OriginDate is { } dates && dates.From != dates.To ? "about " : "";
}

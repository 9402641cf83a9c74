using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Agendas;

/// <summary>Turf under a sheet or cardboard: what is to grow there waits until warmth has done its work, then one looks under it.</summary>
internal static class NewGroundJobs
{
    private const int LookedAtDays = 30, Minutes = 3;

    /// <summary>What keeps a planting of the bed waiting; null once the ground is ready.</summary>
    public static Hindrance? Waiting(Season season, string bedId)
    {
        if (season.NewGround(bedId) is not var (_, since, ready))
            return null;
        var speech = season.Weather.Speech;
        return since is null ? new("ground ready", speech.Say("what grows there is to be smothered first"), null)
            : ready is { } dates ? new("ground ready", speech.Say($"what grew there is likely dead {speech.Dates(dates.Start, dates.End)}, by warmth"), dates)
            : new("ground ready", speech.Say("what grew there is not dead yet, and past years do not tell when"), null);
    }

    public static IEnumerable<Wanted> Of(Season season)
    {
        foreach (var chore in season.Plan.Chores.Where(chore => chore.Kind == JobKind.Smother && chore is { BedId: not null, Then: null }))
        {
            int time = season.Journal.TimesClosed(chore.Id, JobKind.Smother, before: season.Today.PlusDays(1));
            if (season.Journal.LastDone(chore.Id, JobKind.Smother) is not { } done || season.NewGround(chore.BedId!) is not null
                || season.Journal.LastDone(chore.Id, JobKind.Look) >= done || season.Journal.Skipped(chore.Id, JobKind.Look, time)
                || season.SmotheredBy(chore.BedId!, done) is not { } ready || season.Today > ready.PlusDays(LookedAtDays))
                continue;
            var speech = season.Weather.Speech;
            var bed = season.Plan.BedOf(chore.BedId!);
            yield return new Wanted
            {
                Id = new JobId(season.Plan.GardenId, chore.Id, JobKind.Look, time),
                Name = speech.Say($"Look under the sheet of the {bed.Name}"),
                Bed = bed,
                Conditions = ConditionSet.Always,
                Numbers = ImmutableDictionary<string, Quantity>.Empty,
                Minutes = Minutes,
                Because = [new("smothered", ImmutableDictionary<string, double>.Empty,
                    speech.Say("By the warmth since it was laid the turf is dead: white threads crumble, anything green wants longer."))],
                PutOffUntil = season.Journal.PutOffUntil(chore.Id, JobKind.Look, time),
            };
        }
    }
}

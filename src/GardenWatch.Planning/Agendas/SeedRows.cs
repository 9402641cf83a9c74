using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Seed in the open ground that nobody has seen come up: heavy rain leaves a crust over it that bakes.</summary>
internal static class SeedRows
{
    public const string CrustCode = "crust";

    /// <summary>In open ground that can crust: not in sand, and not under a roof.</summary>
    public static bool IsSeed(Season season, Sowing sowing) =>
        sowing is { Stage: Stage.Sown, IsSetOut: false, UpOn: null, SownOn: not null, Planting.Crop.Crust: not null }
        && season.Plan.BedOf(sowing.Planting.BedId) is { Over: Overhead.Open, ContainerLitres: null, Soil: not (SoilTexture.Sand or SoilTexture.LoamySand) };

    /// <summary>Why the crust over it is broken today; null when none is to be expected, or it was answered since.</summary>
    public static Reason? Crust(Season season, Sowing sowing, LocalDate? lastLook)
    {
        var crust = sowing.Planting.Crop.Crust!;
        if (lastLook?.PlusDays(crust.EveryDays) > season.Today || Holds(season, sowing) != Truth.Yes)
            return null;
        var (speech, scene) = (season.Weather.Speech, LookJobs.SceneOf(season, sowing));
        var rain = crust.Conditions.When.First(condition => Evaluate.Phrases(condition).Any(phrase => phrase.Of.Measure == Measure.Rain));
        return new(CrustCode, ImmutableDictionary<string, double>.Empty, speech.Say(
            $"{Evaluate.Finding(rain, season.AsOf, scene)} over seed that is not up: rake it lightly, or wet it with a fine rose, before it bakes to a grey plate."));
    }

    /// <summary>Whether nobody can say if there is one.</summary>
    public static bool IsUnknown(Season season, Sowing sowing) => IsSeed(season, sowing) && Holds(season, sowing) == Truth.Unknown;

    private static Truth Holds(Season season, Sowing sowing) =>
        Evaluate.Holds(sowing.Planting.Crop.Crust!.Conditions.Whole, season.AsOf, LookJobs.SceneOf(season, sowing));
}

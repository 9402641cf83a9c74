using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Crops;

/// <summary>Where a group of numbers is from: a source that was read, one that is remembered, both practice and source, or practice alone.</summary>
internal enum SourceGrade { Named, Mixed, Memory, Practice }

/// <summary>What a profile is asked for; it is deep when it answers all of it.</summary>
internal static class CropDepth
{
    public static readonly (string Field, Func<CropProfile, bool> Known)[] Fields =
    [
        ("names and family", c => c.Botanical.Length > 0 && c.Family.Length > 0),
        ("habit, height, life", c => c.Habit is { Form: not null, HeightMetres: not null, Life: not null }),
        ("warmth base and ceiling", c => c.Warmth is { Ceiling: not null }),
        ("days of each stage of growth", c => c.Water is { StageDays.Length: 4 }),
        ("days or warmth to the first picking", c => c.Days is not null || c.Warmth?.HarvestCd is not null),
        // What is only ever planted has no seed in the ground.
        ("germination temperatures", c => c.Germination is not null || IsOnlyPlanted(c)),
        ("germination days", c => c.Germination is { } g ? g.UpAfterDays is not null || g.UpAfter.Length > 1 : IsOnlyPlanted(c)),
        ("critical lows by stage", c => c.CriticalLows.Count >= 3),
        ("best and hottest months", c => c.Growth is { BestFrom: not null, BestTo: not null, Most: not null }),
        ("heat and day length limits", c => c.Limits.Length > 0),
        ("where it is started", c => c.Start is not null),
        ("weeks until set out", c => c.Start == StartedIn.Place || c.WeeksIndoors is not null),
        ("hardening off", c => c.Start == StartedIn.Place || c.HardenOffDays is not null),
        ("depth", c => c.SowingDepthMetres is not null),
        ("spacing in and between rows", c => c is { SpacingMetres: not null, RowSpacingMetres: not null }),
        ("crop coefficients", c => c.Water is { KcFirst: not null, KcFull: not null, KcLast: not null }),
        ("rooting depth and depletion", c => c.Water is { RootsFromMetres: not null, RootsToMetres: not null, Depletion: not null }),
        ("roots and pot", c => c.Roots is { Form: not null, PotLitres: not null }),
        ("successions", c => c.Successions is not null),
        ("neighbours", c => c.Neighbours.Length > 0),
        ("rotation", c => c.Rotation is { Because: not null }),
        ("pests", c => c.Pests.Length > 0),
        ("diseases", c => c.Diseases.Length > 0),
        // A crop grown from cloves, crowns or cuttings has no seed to age.
        ("seed life and saving", c => c.Seed is { Saving: not null } seed && (seed.Years is not null || seed.ApartMetres is null)),
        ("picking and its signs", c => c.Picking is { Once: not null, OverDays: not null, Signs: not null }),
        ("jobs with conditions", c => c.Jobs.Any(job => job.Kind is JobKind.Sow or JobKind.StartIndoors or JobKind.SetOut)),
    ];

    /// <summary>Asked for as well, but published for a few crops only; nothing is made up for the others.</summary>
    public static readonly (string Field, Func<CropProfile, bool> Known)[] WherePublished =
    [
        ("days until up by the soil's warmth", c => c.Germination is { UpAfter.Length: > 1 }),
        ("warmth until up", c => c.Warmth?.EmergenceCd is not null),
        ("warmth to flowers", c => c.Warmth?.FloweringCd is not null),
        ("warmth to harvest", c => c.Warmth?.HarvestCd is not null),
    ];

    public static IEnumerable<string> Missing(CropProfile crop) => Fields.Where(field => !field.Known(crop)).Select(field => field.Field);

    public static SourceGrade Grade(string source) =>
        source.Contains("from memory", StringComparison.Ordinal) ? SourceGrade.Memory
        : !source.Contains("common practice", StringComparison.Ordinal) ? SourceGrade.Named
        : source.StartsWith("common practice", StringComparison.Ordinal) && !source.Contains(';', StringComparison.Ordinal) ? SourceGrade.Practice
        : SourceGrade.Mixed;

    private static bool IsOnlyPlanted(CropProfile crop) => crop.Habit is { Form: GrowthForm.Woody, Life: PlantLife.Perennial };
}

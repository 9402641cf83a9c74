using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Crops;

/// <summary>How much frost the leaves of a hardened plant bear.</summary>
public enum Hardiness { VeryTender, Tender, HalfHardy, Hardy }

/// <summary>What is known of a crop. Shipped, and overridable.</summary>
public sealed record CropProfile
{
    /// <summary>Singular, lower case: "tomato".</summary>
    public required string Name { get; init; }
    /// <summary>As a gardener speaks of the plants: "tomatoes", "garlic".</summary>
    public required string Plants { get; init; }
    public ImmutableArray<string> AlsoCalled { get; init; } = [];
    public required string Botanical { get; init; }
    public required string Family { get; init; }
    public required Hardiness Hardiness { get; init; }
    /// <summary>Leaf temperature at which damage of a hardened plant begins, with the margin the shipped rule wants.</summary>
    public required Temperature LeafLimit { get; init; }
    public WarmthNeed? Warmth { get; init; }
    public DaysToMaturity? Days { get; init; }
    public GerminationRange? Germination { get; init; }
    public double? SowingDepthMetres { get; init; }
    public double? SpacingMetres { get; init; }
    /// <summary>From row to row (m).</summary>
    public double? RowSpacingMetres { get; init; }
    public StartedIn? Start { get; init; }
    public (int From, int To)? WeeksIndoors { get; init; }
    public (int From, int To)? HardenOffDays { get; init; }
    public CropHabit? Habit { get; init; }
    public Picking? Picking { get; init; }
    /// <summary>Temperature of the part itself at which damage begins: seedlings unhardened, leaves hardened.</summary>
    public ImmutableDictionary<FrostStage, Temperature> CriticalLows { get; init; } = ImmutableDictionary<FrostStage, Temperature>.Empty;
    public GrowthRange? Growth { get; init; }
    public ImmutableArray<CropLimit> Limits { get; init; } = [];
    public WaterNeed? Water { get; init; }
    public RootHabit? Roots { get; init; }
    public Successions? Successions { get; init; }
    public ImmutableArray<Neighbour> Neighbours { get; init; } = [];
    public RotationRest? Rotation { get; init; }
    public ImmutableArray<CropThreat> Pests { get; init; } = [];
    public ImmutableArray<CropThreat> Diseases { get; init; } = [];
    public SeedKeeping? Seed { get; init; }
    /// <summary>After which rain the crust over its seed is broken, by the shelf's usual looks; null where nobody says.</summary>
    public ThreatWeather? Crust { get; init; }
    /// <summary>The crop's own jobs and the usual ones of its hardiness, as shipped or overridden.</summary>
    public ImmutableArray<JobTemplate> Jobs { get; init; } = [];
    /// <summary>Source of each group of numbers; "common practice" where there is none.</summary>
    public ImmutableDictionary<string, string> Sources { get; init; } = ImmutableDictionary<string, string>.Empty;
}

/// <summary>Degree-days from sowing, or from <see cref="DaysToMaturity.Counted"/>, to the first picking.</summary>
public sealed record WarmthNeed(
    Temperature Base, Temperature? Ceiling, (double From, double To)? EmergenceCd, (double From, double To)? HarvestCd)
{
    /// <summary>The same to the first flowers.</summary>
    public (double From, double To)? FloweringCd { get; init; }
    /// <summary>Of what stays for years: the warmth from the beginning of a growing year, in midwinter, to that year's first picking.</summary>
    public (double From, double To)? EachYearCd { get; init; }
}

public enum CountedFrom { Sowing, SettingOut }

/// <summary>As the seed packet says.</summary>
public sealed record DaysToMaturity(int From, int To, CountedFrom Counted);

/// <summary>Soil temperatures of germination: least, best range, most.</summary>
public sealed record GerminationRange(Temperature Least, Temperature BestFrom, Temperature BestTo, Temperature Most)
{
    /// <summary>Days until it is up in soil of the best range.</summary>
    public (int From, int To)? UpAfterDays { get; init; }
    /// <summary>Days until it is up by the soil's temperature, coldest first.</summary>
    public ImmutableArray<(Temperature Soil, double Days)> UpAfter { get; init; } = [];
}

/// <summary>A job that comes with the crop: when it wakes, which weather it wants.</summary>
public sealed record JobTemplate
{
    public required JobKind Kind { get; init; }
    /// <summary>The deed with the plants left open: "Set out {plants}".</summary>
    public required string Name { get; init; }
    public string? How { get; init; }
    public int? Minutes { get; init; }
    /// <summary>The stage from which on it is wanted; null for the usual one of its kind.</summary>
    public Stage? From { get; init; }
    /// <summary>So many days after it was answered it is wanted again; null when once is enough.</summary>
    public int? EveryDays { get; init; }
    /// <summary>So many days before that stage is reckoned to come it is wanted already.</summary>
    public int? BeforeDays { get; init; }
    /// <summary>Wanted only where that other job was done in the past year: straw is taken off where it was laid.</summary>
    public JobKind? After { get; init; }
    /// <summary>Wanted only under glass or film, where neither wind nor bees come.</summary>
    public bool UnderCoverOnly { get; init; }
    /// <summary>Told only while its weather is there: nobody waits for it.</summary>
    public bool OnOccasion { get; init; }
    public ConditionSet Conditions { get; init; } = ConditionSet.Always;
    /// <summary>The named numbers of the conditions with what they are when nothing is tuned.</summary>
    public ImmutableDictionary<string, Quantity> Numbers { get; init; } =
        ImmutableDictionary.Create<string, Quantity>(StringComparer.OrdinalIgnoreCase);
    /// <summary>The same with where each is from: what is shipped first, then what the gardener's crop file makes of it.</summary>
    public ImmutableDictionary<string, ImmutableArray<SourcedNumber>> Layers { get; init; } =
        ImmutableDictionary.Create<string, ImmutableArray<SourcedNumber>>(StringComparer.OrdinalIgnoreCase);
    public string? Otherwise { get; init; }
    /// <summary>A cover that is not taken off again: soil drawn over shoots.</summary>
    public bool Stays { get; init; }
    public ImmutableArray<string> Cautions { get; init; } = [];
    /// <summary>Where the deciding numbers are from.</summary>
    public required string Source { get; init; }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Crops;

/// <summary>How a plant stands in its bed: what it shades, what it leaves room for.</summary>
public enum GrowthForm { Low, Leafy, Tall, Climbing, Root, Woody }

/// <summary>Annuals are cleared in the year they are sown, biennials flower in their second, perennials stay.</summary>
public enum PlantLife { Annual, Biennial, Perennial }

/// <summary>Form, height when grown (m), and how long the plant lives if it is let.</summary>
public sealed record CropHabit(GrowthForm? Form, double? HeightMetres, PlantLife? Life);

/// <summary>How it is picked.</summary>
/// <param name="Once">The whole plant or its fruit at one time; else again and again.</param>
/// <param name="OverDays">Days from the first picking to the last; of a crop picked once, how long it stays good in the bed.</param>
/// <param name="Signs">What is seen, felt or heard of a crop that is ready.</param>
public sealed record Picking(bool? Once, (int From, int To)? OverDays, string? Signs);

/// <summary>Parts and ages of a plant that frost strikes at their own temperatures.</summary>
public enum FrostStage { Seedlings, Leaves, Flowers, Fruit, Roots }

/// <summary>Monthly mean air in which a crop grows well and stays good, and above which it does neither.</summary>
public sealed record GrowthRange(Temperature? BestFrom, Temperature? BestTo, Temperature? Most);

/// <summary>What heat, cold or the length of the day does to a crop.</summary>
public enum Upset { Bolting, NoFruitSet, Bitterness, NoTubers, Bulbing, Standstill }

/// <summary>The limits past which one upset comes; each one given is enough by itself, a cold one after <see cref="ForDays"/> of it.</summary>
/// <param name="DaysAbove">Highs of the day above this.</param>
/// <param name="NightsAbove">Lows of the night above this.</param>
/// <param name="NightsBelow">Lows of the night below this.</param>
/// <param name="ColdBelow">Means of the day below this while young.</param>
/// <param name="ForDays">How many days of that cold.</param>
/// <param name="DaylightHours">A day from sunrise to sunset of at least this.</param>
public sealed record CropLimit(
    Upset Upset, Temperature? DaysAbove, Temperature? NightsAbove, Temperature? NightsBelow, Temperature? ColdBelow, int? ForDays,
    double? DaylightHours, string? Note);

/// <summary>Where a crop is begun.</summary>
public enum StartedIn { Place, Indoors, Either }

/// <summary>Water use against short grass, after FAO-56.</summary>
/// <param name="KcFirst">Crop coefficient until a tenth of the ground is covered (FAO-56 table 12).</param>
/// <param name="KcFull">The same with full cover.</param>
/// <param name="KcLast">The same at harvest.</param>
/// <param name="StageDays">Days of first, growing, full and last stage (FAO-56 table 11), four of them or none.</param>
/// <param name="RootsFromMetres">Depth of the roots that are watered for, the smaller figure serving to time watering (table 22).</param>
/// <param name="RootsToMetres">The deepest of them.</param>
/// <param name="Depletion">Share of the soil's available water that is used up before growth suffers, at 5 mm a day (table 22).</param>
public sealed record WaterNeed(
    double? KcFirst, double? KcFull, double? KcLast, ImmutableArray<int> StageDays, double? RootsFromMetres, double? RootsToMetres, double? Depletion);

/// <summary>The form of the roots, and the smallest pot (litres) in which one plant or clump does well.</summary>
public sealed record RootHabit(RootForm? Form, double? PotLitres);

public enum RootForm { Fibrous, Branching, Taproot, Bulb, Tuber, Creeping }

/// <summary>Days from one sowing to the next for an unbroken supply; null where one sowing serves the season.</summary>
public sealed record Successions(int? EveryDays)
{
    /// <summary>So many days before the usual first frost the last sowing in the open is made; null where the days to maturity tell it.</summary>
    public int? LastBeforeFrostDays { get; init; }
}

/// <summary>What a neighbour is said to do.</summary>
public enum NeighbourEffect { Helps, Harms, None }

/// <summary>How well it is known: trials with repeats, extension's word, growers' custom, or a tale.</summary>
public enum EvidenceGrade { Trial, Extension, Custom, Tale }

/// <summary>A neighbour in the bed or beside it, what it does, and who says so.</summary>
public sealed record Neighbour(string With, NeighbourEffect Effect, string What, EvidenceGrade Evidence, string Source);

/// <summary>Years without any crop of the family in the same bed.</summary>
/// <param name="Years">The fewest.</param>
/// <param name="YearsToBeSure">With a disease in the ground that lasts; null where none is told.</param>
/// <param name="Because">What stays in the ground.</param>
public sealed record RotationRest(int Years, int? YearsToBeSure, string? Because);

/// <summary>A pest or a disease, its sign, what to do short of spraying.</summary>
/// <param name="Appears">Warmth after which it is about, where that is published.</param>
public sealed record CropThreat(string Name, string Sign, string Remedy, ThreatWarmth? Appears, string Source)
{
    /// <summary>It lays at freshly sown seed, so what is sown while most of them fly is lost.</summary>
    public bool StrikesSeed { get; init; }
    /// <summary>The weather after which one looks for it, by the shelf's usual looks; null where none is known.</summary>
    public ThreatWeather? Weather { get; init; }
}

/// <summary>When to look for a pest or a disease.</summary>
/// <param name="Conditions">Its weather, and the days of the crop in which it does harm.</param>
/// <param name="From">The stage from which on it finds something to live on.</param>
/// <param name="EveryDays">So long after a look there is no other for it.</param>
public sealed record ThreatWeather(ConditionSet Conditions, Stage From, int EveryDays, string Source);

/// <summary>Degree-days (°C days) above a base since a day of the year.</summary>
/// <param name="SinceCd">When the first of the year are about.</param>
public sealed record ThreatWarmth(Temperature Base, double SinceCd, string Since)
{
    /// <summary>When the next generations are, rising; empty where none is published.</summary>
    public ImmutableArray<double> AgainCd { get; init; } = [];
}

/// <summary>Seed kept cool and dry.</summary>
/// <param name="Years">Years in which it still comes up well enough.</param>
/// <param name="ApartMetres">Distance from other varieties that keeps it true.</param>
/// <param name="Saving">How to save it.</param>
public sealed record SeedKeeping(int? Years, double? ApartMetres, string? Saving);

using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Crops;

/// <summary>What a crop's file says beside warmth and jobs: habit, limits, water, neighbours, threats, seed.</summary>
internal static partial class CropFile
{
    private static readonly Dictionary<string, GrowthForm> Forms = Words(
        ("low", GrowthForm.Low), ("leafy", GrowthForm.Leafy), ("tall", GrowthForm.Tall), ("climbing", GrowthForm.Climbing), ("root", GrowthForm.Root),
        ("woody", GrowthForm.Woody));

    private static readonly Dictionary<string, PlantLife> Lives = Words(
        ("annual", PlantLife.Annual), ("biennial", PlantLife.Biennial), ("perennial", PlantLife.Perennial));

    private static readonly Dictionary<string, StartedIn> Starts = Words(
        ("in place", StartedIn.Place), ("indoors", StartedIn.Indoors), ("either", StartedIn.Either));

    private static readonly Dictionary<string, RootForm> RootForms = Words(
        ("fibrous", RootForm.Fibrous), ("branching", RootForm.Branching), ("taproot", RootForm.Taproot), ("bulb", RootForm.Bulb),
        ("tuber", RootForm.Tuber), ("creeping", RootForm.Creeping));

    private static readonly Dictionary<string, NeighbourEffect> Effects = Words(
        ("helps", NeighbourEffect.Helps), ("harms", NeighbourEffect.Harms), ("none", NeighbourEffect.None));

    private static readonly Dictionary<string, EvidenceGrade> Grades = Words(
        ("trial", EvidenceGrade.Trial), ("extension", EvidenceGrade.Extension), ("custom", EvidenceGrade.Custom), ("tale", EvidenceGrade.Tale));

    private static readonly Dictionary<string, bool> Pickings = Words(("once", true), ("again and again", false));

    private static readonly (string Key, Upset Upset)[] Upsets =
    [
        ("bolting", Upset.Bolting), ("no fruit set", Upset.NoFruitSet), ("bitterness", Upset.Bitterness), ("no tubers", Upset.NoTubers),
        ("bulbing", Upset.Bulbing), ("standstill", Upset.Standstill),
    ];

    private static readonly (string Key, FrostStage Stage)[] FrostStages =
    [
        ("seedlings", FrostStage.Seedlings), ("leaves", FrostStage.Leaves), ("flowers", FrostStage.Flowers), ("fruit", FrostStage.Fruit),
        ("roots", FrostStage.Roots),
    ];

    private static Dictionary<string, T> Words<T>(params (string Word, T Value)[] words) =>
        words.ToDictionary(word => word.Word, word => word.Value, StringComparer.Ordinal);

    private static CropProfile WithDetail(CropProfile profile, YamlEntries crop, ImmutableDictionary<string, string>.Builder sources) => profile with
    {
        Habit = HabitOf(Group(crop, "habit", sources)),
        Picking = PickingOf(Group(crop, "picking", sources)),
        CriticalLows = CriticalLowsOf(Group(crop, "critical lows", sources)),
        Growth = GrowthOf(Group(crop, "growth", sources)),
        Limits = LimitsOf(crop, sources),
        Water = WaterOf(Group(crop, "water", sources)),
        Roots = RootsOf(Group(crop, "roots", sources)),
        Successions = SuccessionsOf(Group(crop, "successions", sources)),
        Neighbours = NeighboursOf(crop),
        Rotation = RotationOf(Group(crop, "rotation", sources)),
        Pests = ThreatsOf(crop, "pests"),
        Diseases = ThreatsOf(crop, "diseases"),
        Seed = SeedOf(Group(crop, "seed", sources)),
    };

    private static CropHabit? HabitOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var habit = new CropHabit(
            group.TakeWord("form", Forms), group.TakeQuantity("height", Dimension.Length)?.Value, group.TakeWord("life", Lives));
        group.Close();
        return habit;
    }

    private static Picking? PickingOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var picking = new Picking(group.TakeWord("picked", Pickings), DaysBetween(group, "over"), group.TakeString("signs", "a line", 400));
        group.Close();
        return picking;
    }

    private static ImmutableDictionary<FrostStage, Temperature> CriticalLowsOf(YamlEntries? group)
    {
        var lows = ImmutableDictionary.CreateBuilder<FrostStage, Temperature>();
        foreach (var (key, stage) in FrostStages)
        {
            if (group?.TakeQuantity(key, Dimension.Temperature) is { } low)
                lows[stage] = new(low.Value);
        }
        group?.Close();
        return lows.ToImmutable();
    }

    private static GrowthRange? GrowthOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var best = Between(group, "best", Dimension.Temperature);
        var most = group.TakeQuantity("most", Dimension.Temperature);
        if (most is { } m && best is { } b && m.Value < b.To)
            group.Fault(group.Spot, "the most is below the best", null);
        group.Close();
        return new(best is { } from ? new Temperature(from.From) : null, best is { } to ? new Temperature(to.To) : null, Degrees(most));
    }

    private static ImmutableArray<CropLimit> LimitsOf(YamlEntries crop, ImmutableDictionary<string, string>.Builder sources)
    {
        if (crop.TakeMap("limits", "such as `limits: { bolting: { days above: 24 °C } }`") is not { } all)
            return [];
        var limits = ImmutableArray.CreateBuilder<CropLimit>();
        foreach (var (key, upset) in Upsets)
        {
            if (all.TakeMap(key, $"such as `{key}: {{ days above: 24 °C }}`") is not { } group)
                continue;
            sources[key] = SourceOf(group);
            limits.Add(new(
                upset, Degrees(group.TakeQuantity("days above", Dimension.Temperature)), Degrees(group.TakeQuantity("nights above", Dimension.Temperature)),
                Degrees(group.TakeQuantity("nights below", Dimension.Temperature)), Degrees(group.TakeQuantity("cold below", Dimension.Temperature)),
                group.TakeQuantity("for", Dimension.Days) is { } days ? (int)Math.Round(days.Value) : null,
                group.TakeQuantity("daylight", Dimension.Hours)?.Value, group.TakeString("note", "a line", 300)));
            group.Close();
        }
        all.Close();
        return limits.ToImmutable();
    }

    private static WaterNeed? WaterOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        double? first = Coefficient(group, "kc first"), full = Coefficient(group, "kc full"), last = Coefficient(group, "kc last");
        var roots = Between(group, "roots", Dimension.Length);
        double? depletion = group.TakeQuantity("depletion", Dimension.Share)?.Value;
        var water = new WaterNeed(first, full, last, StageDaysOf(group), roots?.From, roots?.To, depletion);
        group.Close();
        return water;
    }

    /// <summary>Crop coefficients have no unit; none is published beyond these.</summary>
    private static double? Coefficient(YamlEntries group, string key)
    {
        if (group.TakeText(key, "such as `1.05`") is not { } text)
            return null;
        if (WrittenNumber.Read(WrittenNumber.Plain(text.Value)) is WrittenNumber.Ok { Rest: "" } number && number.Value is >= 0.1 and <= 1.4)
            return number.Value;
        group.Fault(text.Spot, $"`{text.Value}` is no crop coefficient", "a number from 0.1 to 1.4");
        return null;
    }

    private static ImmutableArray<int> StageDaysOf(YamlEntries group)
    {
        var stages = group.TakeTexts("stages");
        if (stages.Length is not (0 or 4))
            group.Fault(stages[0].Spot, $"{stages.Length} stages are given; there are four", "days of the first, growing, full and last stage, such as `[20, 30, 40, 15]`");
        var days = ImmutableArray.CreateBuilder<int>();
        foreach (var stage in stages)
        {
            if (WrittenNumber.Read(WrittenNumber.Plain(stage.Value)) is WrittenNumber.Ok { Rest: "" or "days" or "d" } number && number.Value is >= 1 and <= 400)
                days.Add((int)number.Value);
            else
                group.Fault(stage.Spot, $"`{stage.Value}` is no number of days", "such as `30`");
        }
        return days.ToImmutable();
    }

    private static RootHabit? RootsOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var roots = new RootHabit(group.TakeWord("form", RootForms), group.TakeQuantity("pot", Dimension.Volume)?.Value);
        group.Close();
        return roots;
    }

    private static Successions? SuccessionsOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        Successions? successions = null;
        if (group.TakeText("every", "such as `14 days`, or `season`") is { } every)
        {
            if (every.Value.Trim().Equals("season", StringComparison.OrdinalIgnoreCase))
                successions = new(null);
            else if (group.Quantity(every, Dimension.Days) is { } days)
                successions = new((int)Math.Round(days.Value));
        }
        if (group.TakeQuantity("last before frost", Dimension.Days) is { } before)
            successions = (successions ?? new(null)) with { LastBeforeFrostDays = (int)Math.Round(before.Value) };
        group.Close();
        return successions;
    }

    private static ImmutableArray<Neighbour> NeighboursOf(YamlEntries crop)
    {
        var neighbours = ImmutableArray.CreateBuilder<Neighbour>();
        foreach (var entry in crop.TakeMaps("neighbours", "such as `- { with: onion, effect: helps, what: fewer flies, evidence: trial }`"))
        {
            string? with = entry.TakeString("with", "a crop");
            var effect = entry.TakeWord("effect", Effects);
            string? what = entry.TakeString("what", "a line", 300);
            var evidence = entry.TakeWord("evidence", Grades) ?? EvidenceGrade.Custom;
            string source = entry.TakeString("source", "who found it") ?? NoSource;
            if (with is null || effect is null)
                entry.Fault(entry.Spot, "a neighbour wants `with` and `effect`", "such as `{ with: onion, effect: helps }`");
            else
                neighbours.Add(new(with, effect.Value, what ?? "", evidence, source));
            entry.Close();
        }
        return neighbours.ToImmutable();
    }

    private static RotationRest? RotationOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        int? years = group.TakeCount("years", 0, 30), sure = group.TakeCount("to be sure", 0, 30);
        string? because = group.TakeString("because", "a line", 300);
        if (years is null)
            group.Fault(group.Spot, "`rotation` wants its `years`", "such as `years: 3`");
        else if (sure < years)
            group.Fault(group.Spot, "to be sure takes fewer years than the rest itself", null);
        group.Close();
        return years is { } y ? new(y, sure, because) : null;
    }

    private static ImmutableArray<CropThreat> ThreatsOf(YamlEntries crop, string key)
    {
        var threats = ImmutableArray.CreateBuilder<CropThreat>();
        foreach (var entry in crop.TakeMaps(key, "such as `- { name: slugs, sign: holes and slime, do: collect at dusk }`"))
        {
            string? name = entry.TakeString("name", "such as `slugs`");
            string sign = entry.TakeString("sign", "what is seen", 300) ?? "";
            string remedy = entry.TakeString("do", "a line", 300) ?? "";
            var least = entry.TakeQuantity("base", Dimension.Temperature);
            var appears = entry.TakeQuantity("appears", Dimension.Warmth);
            string? since = entry.TakeString("since", "such as `1 March`");
            var again = WarmthsOf(entry, appears);
            string? strikes = entry.TakeString("strikes", "`seed`, or leave it out");
            if (strikes is not (null or "seed"))
                entry.Fault(entry.Spot, $"`strikes: {strikes}` is not known", "`strikes: seed` for what lays at freshly sown seed; else leave it out");
            string source = entry.TakeString("source", "where it is from") ?? NoSource;
            if (name is null)
                entry.Fault(entry.Spot, $"each of the {key} wants a `name`", null);
            if (appears is not null && (least is null || since is null))
                entry.Fault(entry.Spot, "degree-days want their `base` and what they count `since`", "such as `base: 10 °C, since: 1 March`");
            else if (name is not null)
                threats.Add(new(name, sign, remedy, appears is { } a ? new ThreatWarmth(new(least!.Value.Value), a.Value, since!) { AgainCd = again } : null, source) { StrikesSeed = strikes == "seed" });
            entry.Close();
        }
        return threats.ToImmutable();
    }

    /// <summary>Of the generations after the first, rising.</summary>
    private static ImmutableArray<double> WarmthsOf(YamlEntries entry, Quantity? first)
    {
        var warmths = ImmutableArray.CreateBuilder<double>();
        double last = first?.Value ?? 0;
        foreach (var text in entry.TakeTexts("again"))
        {
            if (entry.Quantity(text, [Dimension.Warmth]) is not { } warmth)
                continue;
            if (first is null || warmth.Value <= last)
                entry.Fault(text.Spot, "each generation comes after the one before", "such as `appears: 167 °C days, again: [820 °C days]`");
            warmths.Add(last = warmth.Value);
        }
        return warmths.ToImmutable();
    }

    private static SeedKeeping? SeedOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var seed = new SeedKeeping(
            group.TakeCount("years", 0, 30), group.TakeQuantity("apart", Dimension.Length)?.Value, group.TakeString("saving", "a line", 400));
        group.Close();
        return seed;
    }

    private static ImmutableArray<(Temperature Soil, double Days)> UpAfterOf(YamlEntries group)
    {
        if (group.TakeMap("up by soil", "such as `up by soil: { 10 °C: 20 days, 20 °C: 8 days }`") is not { } table)
            return [];
        var rows = new List<(Temperature Soil, double Days)>();
        foreach (var (key, value) in table.TakeRest())
        {
            if (table.Quantity(key, Dimension.Temperature) is not { } soil)
                continue;
            if (value is not YamlNode.Text text)
                table.Fault(value.Spot, $"`{key.Value}` wants a number of days", "such as `8 days`");
            else if (table.Quantity(text, Dimension.Days) is { } days)
                rows.Add((new(soil.Value), days.Value));
        }
        return [.. rows.OrderBy(row => row.Soil.Celsius)];
    }

    private static (int From, int To)? DaysBetween(YamlEntries group, string key) =>
        Between(group, key, Dimension.Days) is var (from, to) ? ((int)Math.Round(from), (int)Math.Round(to)) : null;

    private static Temperature? Degrees(Quantity? quantity) => quantity is { } known ? new Temperature(known.Value) : null;
}

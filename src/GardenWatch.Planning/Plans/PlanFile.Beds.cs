using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    private const double LongestMetres = 1000;
    private const double DeepestPocketKelvins = 10;

    private static readonly Dictionary<string, Overhead> Overheads = new(StringComparer.Ordinal)
    {
        ["open"] = Overhead.Open, ["frame"] = Overhead.Frame, ["cold frame"] = Overhead.Frame, ["tunnel"] = Overhead.Tunnel,
        ["greenhouse"] = Overhead.Greenhouse, ["windowsill"] = Overhead.Windowsill, ["indoors"] = Overhead.Windowsill,
    };

    private static readonly Dictionary<string, SoilTexture> Soils = new(StringComparer.Ordinal)
    {
        ["sand"] = SoilTexture.Sand, ["loamy sand"] = SoilTexture.LoamySand, ["sandy loam"] = SoilTexture.SandyLoam,
        ["loam"] = SoilTexture.Loam, ["silt loam"] = SoilTexture.SiltLoam, ["silt"] = SoilTexture.Silt,
        ["silty clay loam"] = SoilTexture.SiltyClayLoam, ["clay loam"] = SoilTexture.ClayLoam,
        ["silty clay"] = SoilTexture.SiltyClay, ["clay"] = SoilTexture.Clay,
    };

    private static readonly Dictionary<string, Mulch> Mulches = new(StringComparer.Ordinal)
    {
        ["none"] = Mulch.None, ["straw"] = Mulch.Straw, ["wood chips"] = Mulch.WoodChips, ["compost"] = Mulch.Compost,
        ["leaves"] = Mulch.Leaves, ["grass"] = Mulch.Grass, ["black film"] = Mulch.BlackFilm, ["clear film"] = Mulch.ClearFilm,
    };

    private static readonly Dictionary<string, CoverAtHand> Covers = new(StringComparer.Ordinal)
    {
        ["none"] = CoverAtHand.None, ["light fleece"] = CoverAtHand.LightFleece, ["fleece"] = CoverAtHand.LightFleece,
        ["medium fleece"] = CoverAtHand.MediumFleece, ["heavy fleece"] = CoverAtHand.HeavyFleece, ["sheet"] = CoverAtHand.Sheet,
        ["cloche"] = CoverAtHand.Cloche, ["frame"] = CoverAtHand.Frame,
    };

    private ImmutableArray<Bed> BedsOf(YamlEntries top)
    {
        var written = top.TakeMaps("beds", "such as `- { bed: kitchen bed, size: 4 ft x 12 ft }`").Select(BedOf).OfType<(Bed Bed, string? Id, YamlEntries Entry)>().ToList();
        if (TooMany([.. written.Select(w => w.Entry)], top, "beds"))
            return [];
        foreach (var twin in written.GroupBy(w => PlainName(w.Bed.Name)).Where(g => g.Count() > 1))
        {
            var (first, second) = (twin.First().Entry, twin.ElementAt(1).Entry);
            second.Fault(second.Spot, $"a bed `{twin.First().Bed.Name}` is in line {first.Spot.Line} already", "give each bed its own name");
        }
        var ids = Recognised([.. written.Select(w => (Present(w.Bed, w.Id), w.Entry))]);
        return [.. written.Select((w, i) => w.Bed with { Id = ids[i].Id })];
    }

    private static PresentSubject Present(Bed bed, string? id) => new(SubjectKind.Bed, id, bed.Name,
    [
        ("name", bed.Name),
        ("over", bed.Over.ToString()),
        ("size", bed.Size is var (w, l) ? Pair(w, l) : ""),
        ("at", bed.At is var (e, s) ? Pair(e, s) : ""),
        ("container", bed.ContainerLitres?.ToString("0.#", CultureInfo.InvariantCulture) ?? ""),
    ]);

    private static string Pair(double one, double other) => string.Create(CultureInfo.InvariantCulture, $"{one:0.00} x {other:0.00}");

    private (Bed Bed, string? Id, YamlEntries Entry)? BedOf(YamlEntries entry)
    {
        string? name = entry.TakeString("bed", "such as `bed: kitchen bed`", 60);
        if (!entry.Has("bed"))
            entry.Fault(entry.Spot, "this bed has no name", "such as `bed: kitchen bed`");
        var size = SizeOf(entry, "size");
        if (size is (0, _) or (_, 0))
            entry.Fault(entry.Spot, "a bed can't be of no size", "leave `size` out when it is not known");
        var at = SizeOf(entry, "at");
        double? container = entry.TakeQuantity("container", Dimension.Volume)?.Value;
        if (container is <= 0 or > 5000)
            entry.Fault(entry.Spot, "a container holds more than nothing and less than 5000 litres", null);
        var soil = entry.TakeWord("soil", Soils);
        var mulch = entry.TakeWord("mulch", Mulches) ?? Mulch.None;
        var over = entry.TakeWord("over", Overheads) ?? Overhead.Open;
        var cover = entry.TakeWord("cover", Covers);
        double pocket = 0;
        if (entry.TakeText("frost pocket", "such as `2 °F`") is { } text && entry.Quantity(text, Dimension.TemperatureDifference) is { } difference)
        {
            pocket = difference.Value;
            if (pocket is < 0 or > DeepestPocketKelvins)
                entry.Fault(text.Spot, $"a frost pocket of `{text.Value}` can't be", "how much colder the bed is on still clear nights, such as `2 °F`");
        }
        string? id = ExplicitId(entry);
        entry.Close();
        if (name is null)
            return null;
        return (new Bed
        {
            Id = "",
            Name = name,
            Over = over,
            Size = size,
            At = at,
            ContainerLitres = container,
            Soil = soil,
            Mulch = mulch,
            Cover = cover,
            FrostPocket = new TemperatureDifference(pocket),
        }, id, entry);
    }

    private static (double, double)? SizeOf(YamlEntries entry, string key)
    {
        if (entry.TakeText(key, "such as `4 ft x 12 ft`") is not { } text)
            return null;
        switch (SizeText.Read(text.Value))
        {
            case SizeReading.Ok(var first, var second) when first > LongestMetres || second > LongestMetres:
                entry.Fault(text.Spot, $"`{Cut(text.Value)}` is more than a kilometre", "look at the numbers and their unit");
                break;
            case SizeReading.Ok(var first, var second):
                return (first, second);
            case SizeReading.Fault(var problem, var instead):
                entry.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    /// <summary>The bed a text names, by name or id; else a fault.</summary>
    private static Bed? BedNamed(YamlEntries entry, YamlNode.Text text, ImmutableArray<Bed> beds)
    {
        string name = PlainName(text.Value);
        if (beds.FirstOrDefault(b => PlainName(b.Name) == name || b.Id == name) is { } bed)
            return bed;
        entry.Fault(text.Spot, $"`{Cut(text.Value)}`: no such bed",
            Spelling.Nearest(text.Value, beds.Select(b => b.Name)) is { } near ? $"did you mean {near}?"
            : beds.IsEmpty ? "list it under `beds:`" : $"there are: {string.Join(", ", beds.Select(b => b.Name))}");
        return null;
    }

    private static string PlainName(string name) => WrittenNumber.Plain(name);
}

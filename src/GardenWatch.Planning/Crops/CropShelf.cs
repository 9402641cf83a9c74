using System.Collections.Immutable;
using System.Text;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Planning.Crops;

/// <summary>All crop profiles, found by any of their names. The gardener's own files add to the shipped ones or change them field by field.</summary>
public sealed class CropShelf
{
    private const string ShippedFolder = "crops/";
    private static readonly ImmutableHashSet<string> ShippedNames =
        [.. typeof(CropShelf).Assembly.GetManifestResourceNames().Where(name => name.StartsWith(ShippedFolder, StringComparison.Ordinal))];

    private readonly Dictionary<string, CropProfile> _byName = new(StringComparer.Ordinal);

    private CropShelf(IEnumerable<CropProfile> crops)
    {
        Crops = [.. crops];
        // A crop's own name is never taken by what another one is also called.
        foreach (var name in (Func<CropProfile, IEnumerable<string>>[])[c => [c.Name], c => [c.Plants], c => c.AlsoCalled, c => c.AlsoCalled.Add(c.Name).Select(Plural)])
        {
            foreach (var crop in Crops)
            {
                foreach (string word in name(crop))
                    _byName.TryAdd(Plain(word), crop);
            }
        }
    }

    public ImmutableArray<CropProfile> Crops { get; }

    /// <summary>The languages in which these crops, and all else, can be spoken of.</summary>
    public ImmutableArray<Tongue> Tongues { get; private init; } = [Tongue.English];

    public CropShelf With(IEnumerable<Tongue> tongues) => new(Crops) { Tongues = [Tongue.English, .. tongues] };

    /// <summary>The files that come with the program, for <see cref="Read"/> to take before the gardener's own.</summary>
    public static IEnumerable<(string FileName, string Text)> ShippedFiles()
    {
        var assembly = typeof(CropShelf).Assembly;
        foreach (string name in ShippedNames.Order(StringComparer.Ordinal))
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!, Encoding.UTF8);
            yield return (name, reader.ReadToEnd());
        }
    }

    /// <summary>The shelf as shipped. A fault in it is the program's own and is thrown.</summary>
    public static CropShelf Shipped(Func<string, ConditionReading> readCondition)
    {
        var (shelf, faults) = Read(ShippedFiles(), readCondition);
        return shelf ?? throw new InvalidOperationException("The shipped crops can't be read: " + string.Join("; ", faults));
    }

    /// <summary>Reads files in their order; the shelf is null when there is any fault.</summary>
    public static (CropShelf? Shelf, ImmutableArray<FileFault> Faults) Read(
        IEnumerable<(string FileName, string Text)> files, Func<string, ConditionReading> readCondition)
    {
        var faults = new List<FileFault>();
        var crops = new List<YamlNode.Map>();
        var usual = new List<YamlNode>();
        var shipped = new Dictionary<string, CropProfile>(StringComparer.Ordinal);
        bool ownFiles = false;
        foreach (var (fileName, text) in files)
        {
            if (!ownFiles && !IsShipped(fileName))
            {
                // What is shipped is read by itself, so that each changed number can say what it would be unchanged.
                ownFiles = true;
                shipped = Profiles(crops, usual, readCondition, []).ToDictionary(crop => crop.Name);
            }
            switch (YamlPage.Read(text, fileName, faults))
            {
                case null:
                    break;
                case YamlNode.Map map when map["crop"] is not null:
                    Put(crops, map);
                    break;
                case YamlNode.Map map when map["usual jobs"] is YamlNode.List jobs:
                    usual.AddRange(jobs.Items);
                    break;
                case var other:
                    faults.Add(new(fileName, other.Spot.Line, other.Spot.Column, "this is no crop", "begin with `crop: ` and its name"));
                    break;
            }
        }
        var profiles = Profiles(crops, usual, readCondition, faults)
            .Select(crop => shipped.TryGetValue(crop.Name, out var below) ? OverShipped(crop, below) : crop).ToList();
        return (faults.Count == 0 ? new CropShelf(profiles) : null, [.. faults]);
    }

    internal static bool IsShipped(string fileName) => ShippedNames.Contains(fileName);

    private static List<CropProfile> Profiles(
        List<YamlNode.Map> crops, List<YamlNode> usual, Func<string, ConditionReading> readCondition, List<FileFault> faults)
    {
        var usualJobs = usual.OfType<YamlNode.Map>().ToList();
        return [.. crops.Select(map => CropFile.Read(map, usualJobs, readCondition, faults)).OfType<CropProfile>()];
    }

    /// <summary>A number that stands elsewhere than the shipped one lies over it.</summary>
    private static CropProfile OverShipped(CropProfile crop, CropProfile shipped) => crop with
    {
        Jobs = [.. crop.Jobs.Select(job => shipped.Jobs.FirstOrDefault(below => below.Kind == job.Kind) is not { } below ? job : job with
        {
            Layers = job.Layers.ToImmutableDictionary(
                number => number.Key,
                number => below.Layers.TryGetValue(number.Key, out var under) && under[^1].Value.Dimension == number.Value[0].Value.Dimension
                    && under[^1].Source with { Published = null } != number.Value[0].Source with { Published = null }
                    ? under.AddRange(number.Value)
                    : number.Value,
                StringComparer.OrdinalIgnoreCase),
        })],
    };

    public CropProfile? Find(string name) => _byName.GetValueOrDefault(Plain(name));

    /// <summary>The crop that was probably meant, for "did you mean".</summary>
    public string? Nearest(string name) =>
        Spelling.Nearest(Plain(name), _byName.Keys) is { } near ? _byName[near].Name : null;

    private static void Put(List<YamlNode.Map> crops, YamlNode.Map map)
    {
        int same = crops.FindIndex(crop => Names(crop).Intersect(Names(map).Take(1)).Any());
        if (same < 0)
            crops.Add(map);
        else
            crops[same] = Over(crops[same], map);
    }

    private static IEnumerable<string> Names(YamlNode.Map crop)
    {
        foreach (string key in (string[])["crop", "plants"])
        {
            if (crop[key] is YamlNode.Text { IsEmpty: false } text)
                yield return Plain(text.Value);
        }
        if (crop["also called"] is YamlNode.List also)
        {
            foreach (var text in also.Items.OfType<YamlNode.Text>())
                yield return Plain(text.Value);
        }
    }

    /// <summary>The second map laid over the first: maps within maps, anything else replaced.</summary>
    internal static YamlNode.Map Over(YamlNode.Map under, YamlNode.Map over)
    {
        var entries = under.Entries.ToList();
        foreach (var (key, value) in over.Entries)
        {
            int same = entries.FindIndex(entry => entry.Key.Value.Equals(key.Value, StringComparison.OrdinalIgnoreCase));
            if (same < 0)
                entries.Add((key, value));
            // The crop keeps its name, whichever of its names the later file used.
            else if (key.Value.Equals("crop", StringComparison.OrdinalIgnoreCase))
                continue;
            else if (entries[same].Value is YamlNode.Map below && value is YamlNode.Map above)
                entries[same] = (key, Over(below, above));
            else
                entries[same] = (key, value);
        }
        return new(over.Spot, [.. entries]);
    }

    private static string Plural(string word) =>
        word.Length > 0 && word[^1] is 'o' or 's' or 'x' or 'h' ? word + "es" : word + "s";

    internal static string Plain(string name) => WrittenNumber.Plain(name.Length > 80 ? name[..80] : name);
}

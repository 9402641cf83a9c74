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

    private readonly ImmutableArray<ShelvedCrop> _crops;
    private readonly Dictionary<string, ShelvedCrop> _byName = new(StringComparer.Ordinal);
    private readonly Lazy<ImmutableArray<CropProfile>> _all;

    private CropShelf(IEnumerable<ShelvedCrop> crops)
    {
        _crops = [.. crops];
        _all = new(() => [.. _crops.Select(crop => crop.Profile)]);
        // A crop's own name is never taken by what another one is also called.
        foreach (var name in (Func<CropNames, IEnumerable<string>>[])
            [c => [c.Name], c => [c.Plants], c => c.AlsoCalled, c => c.AlsoCalled.Add(c.Name).Select(Plural)])
        {
            foreach (var crop in _crops)
            {
                foreach (string word in name(crop.Names))
                    _byName.TryAdd(Plain(word), crop);
            }
        }
    }

    /// <summary>All of them, which reads those that nobody has asked for yet.</summary>
    public ImmutableArray<CropProfile> Crops => _all.Value;

    /// <summary>The languages in which these crops, and all else, can be spoken of.</summary>
    public ImmutableArray<Tongue> Tongues { get; private init; } = [Tongue.English];

    public CropShelf With(IEnumerable<Tongue> tongues) => new(_crops) { Tongues = [Tongue.English, .. tongues] };

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

    /// <summary>The shelf as shipped. A fault in it is the program's own and is thrown, at the latest when its crop is asked for.</summary>
    public static CropShelf Shipped(Func<string, ConditionReading> readCondition)
    {
        var (shelf, faults) = Read(ShippedFiles(), readCondition);
        return shelf ?? throw new InvalidOperationException("The shipped crops can't be read: " + string.Join("; ", faults));
    }

    /// <summary>
    /// Reads files in their order, those that come with the program first; the shelf is null when there is any fault. A
    /// shipped crop that no file changes is read when it is first asked for: a garden grows a few of them.
    /// </summary>
    public static (CropShelf? Shelf, ImmutableArray<FileFault> Faults) Read(
        IEnumerable<(string FileName, string Text)> files, Func<string, ConditionReading> readCondition)
    {
        var faults = new List<FileFault>();
        var crops = new List<UnreadCrop>();
        var shippedJobs = new List<YamlNode.Map>();
        var ownJobs = new List<YamlNode.Map>();
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (fileName, text) in files)
        {
            // The gardener's own file may have a shipped one's name: it comes second.
            if (IsShipped(fileName) && taken.Add(fileName) && CropNames.Peek(text) is { } names)
            {
                crops.Add(new(names, new(() => ShippedMap(text, fileName))));
                continue;
            }
            switch (YamlPage.Read(text, fileName, faults))
            {
                case null:
                    break;
                case YamlNode.Map map when map["crop"] is not null:
                    Put(crops, map);
                    break;
                case YamlNode.Map map when map["usual jobs"] is YamlNode.List jobs:
                    (IsShipped(fileName) ? shippedJobs : ownJobs).AddRange(jobs.Items.OfType<YamlNode.Map>());
                    break;
                case var other:
                    faults.Add(new(fileName, other.Spot.Line, other.Spot.Column, "this is no crop", "begin with `crop: ` and its name"));
                    break;
            }
        }

        CropProfile Shipped(UnreadCrop crop)
        {
            var wrong = new List<FileFault>();
            return CropFile.Read(crop.Shipped!.Value, shippedJobs, readCondition, wrong)
                ?? throw new InvalidOperationException("A shipped crop can't be read: " + string.Join("; ", wrong));
        }

        List<YamlNode.Map> usualJobs = [.. shippedJobs, .. ownJobs];
        var shelved = new List<ShelvedCrop>();
        foreach (var crop in crops)
        {
            if (crop.Own is null && ownJobs.Count == 0)
                shelved.Add(new(crop.Names!, new Lazy<CropProfile>(() => Shipped(crop))));
            else if (CropFile.Read(crop.Whole, usualJobs, readCondition, faults) is { } profile)
            {
                // What is shipped is read by itself, so that each changed number can say what it would be unchanged.
                var whole = crop.Shipped is null ? profile : OverShipped(profile, Shipped(crop));
                shelved.Add(new(new(whole.Name, whole.Plants, whole.AlsoCalled), new(whole)));
            }
        }
        return (faults.Count == 0 ? new CropShelf(shelved) : null, [.. faults]);
    }

    private static YamlNode.Map ShippedMap(string text, string fileName)
    {
        var wrong = new List<FileFault>();
        return YamlPage.Read(text, fileName, wrong) as YamlNode.Map
            ?? throw new InvalidOperationException("A shipped crop can't be read: " + string.Join("; ", wrong));
    }

    internal static bool IsShipped(string fileName) => ShippedNames.Contains(fileName);

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

    public CropProfile? Find(string name) => _byName.GetValueOrDefault(Plain(name))?.Profile;

    /// <summary>The crop that was probably meant, for "did you mean".</summary>
    public string? Nearest(string name) =>
        Spelling.Nearest(Plain(name), _byName.Keys) is { } near ? _byName[near].Names.Name : null;

    private static void Put(List<UnreadCrop> crops, YamlNode.Map map)
    {
        string? name = CropNames.Of(map).Select(Plain).FirstOrDefault();
        int same = crops.FindIndex(crop => crop.IsCalled(name));
        if (same < 0)
            crops.Add(new(null, null) { Own = map });
        else
            crops[same] = crops[same] with { Own = crops[same].Own is { } before ? Over(before, map) : map };
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

    /// <summary>A crop that is on the shelf under its names; its profile may not be read yet.</summary>
    private sealed record ShelvedCrop(CropNames Names, Lazy<CropProfile> Read)
    {
        public CropProfile Profile => Read.Value;
    }

    /// <summary>What the program ships of a crop, and what the gardener's files lay over it.</summary>
    private sealed record UnreadCrop(CropNames? Names, Lazy<YamlNode.Map>? Shipped)
    {
        public YamlNode.Map? Own { get; init; }

        public YamlNode.Map Whole => (Shipped?.Value, Own) switch
        {
            ({ } under, { } over) => Over(under, over),
            var (under, over) => over ?? under!,
        };

        public bool IsCalled(string? name) =>
            (Names?.All() ?? []).Concat(Own is null ? [] : CropNames.Of(Own)).Any(word => Plain(word) == name);
    }
}

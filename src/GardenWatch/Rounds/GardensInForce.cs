using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>A garden's plan as it counts now, and what is wrong with its file.</summary>
public sealed record GardenInForce(string Path, Plan Plan, ImmutableArray<string> Notes);

/// <summary>
/// The plans that count. An edited file is taken when it is valid; while it is not, the plan of before stays in force,
/// also over a restart, and the next message says what is wrong and where.
/// </summary>
/// <param name="channels">Those that plans may name.</param>
public sealed class GardensInForce(ConfigFolder folder, CropShelf crops, GardenStore store, ILogger logger, ImmutableArray<string>? channels = null)
{
    private const int FaultsTold = 3;

    private readonly PlanWatch _watch = new();
    private readonly Dictionary<string, string> _texts = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, GardenInForce> _gardens = new(StringComparer.Ordinal);
    private CropShelf _crops = crops;

    public ImmutableArray<GardenInForce> Gardens { get; private set; } = [];

    /// <summary>The crops that count now.</summary>
    public CropShelf Crops => _crops;

    /// <summary>A text read as this garden's file would be; nothing of it is kept.</summary>
    public GardenFile Read(string path, string text, Instant now) => GardenFile.Read(path, text.TrimStart('\uFEFF'), _crops, store, now, channels);

    /// <summary>Looks at the files and takes what has changed and can be used.</summary>
    public void Look(Instant now)
    {
        var plans = folder.PlanFiles();
        bool cropsChanged = false;
        foreach (var news in _watch.Look([.. plans, .. folder.CropFiles(), .. folder.LanguageFiles()]))
        {
            bool isPlan = plans.Contains(news.Path) || _texts.ContainsKey(news.Path);
            switch (news)
            {
                case FileNews.Changed changed when isPlan:
                    _texts[news.Path] = changed.Text;
                    Take(news.Path, changed.Text, now);
                    break;
                case FileNews.Changed or FileNews.Gone when !isPlan:
                    cropsChanged = true;
                    break;
                case FileNews.Unreadable unreadable:
                    Stay(news.Path, [$"{Path.GetFileName(news.Path)} cannot be read: {unreadable.Reason}"], now);
                    break;
                case FileNews.Gone:
                    Stay(news.Path, [$"{Path.GetFileName(news.Path)} is gone."], now);
                    break;
            }
        }
        if (cropsChanged)
            TakeCrops(now);
        Gardens = [.. _gardens.Values];
    }

    private void Take(string path, string text, Instant now)
    {
        var others = _gardens.Values.Where(garden => garden.Path != path)
            .Select(garden => new GardenFile(garden.Path, garden.Plan, [], [], []));
        var file = GardenFile.WithoutTwin(GardenFile.Read(path, text, _crops, store, now, channels), others);
        if (file.Plan is null || !file.Faults.IsEmpty)
        {
            Stay(path, [.. file.Faults.Select(fault => fault.ToString())], now);
            return;
        }
        file.Keep(store, now);
        store.PlanTexts.Keep(path, text, now);
        _gardens[path] = new(path, file.Plan, []);
        logger.PlanTaken(Path.GetFileName(path), file.Plan.GardenId);
    }

    private void Stay(string path, ImmutableArray<string> faults, Instant now)
    {
        // Any channel is taken here: one that was taken out of the settings must not silence the garden's mail as well.
        if (!_gardens.TryGetValue(path, out var before) && store.PlanTexts.Find(path) is { } text &&
            GardenFile.Read(path, text, _crops, store, now) is { Plan: { } plan, Faults.IsEmpty: true })
            before = new(path, plan, []);
        string more = faults.Length > FaultsTold ? $" ({faults.Length - FaultsTold} more; `gardenwatch check` lists all.)" : "";
        string told = string.Join(" ", faults.Take(FaultsTold)) + more;
        if (before is null)
        {
            logger.PlanUnusable(Path.GetFileName(path), told);
            return;
        }
        logger.PlanStays(Path.GetFileName(path), told);
        _gardens[path] = before with { Notes = [before.Plan.Tongue.Say($"The plan could not be taken as it stands now, so the one of before is in force. {told}")] };
    }

    private void TakeCrops(Instant now)
    {
        var faults = ImmutableArray.CreateBuilder<string>();
        if (Household.ReadCrops(folder, faults) is { } read)
        {
            _crops = read;
            foreach (var (path, text) in _texts)
                Take(path, text, now);
            return;
        }
        foreach (string path in _gardens.Keys.ToList())
            Stay(path, faults.ToImmutable(), now);
    }
}

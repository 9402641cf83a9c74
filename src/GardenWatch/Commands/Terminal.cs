using System.Collections.Immutable;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>The folders and the time that a command was given, and how it opens what it needs of them.</summary>
/// <param name="RealClock">The one clock of the program.</param>
/// <param name="Config">The files' folder, or null for the usual ones.</param>
/// <param name="Data">The data folder, or null for the settings' own.</param>
/// <param name="AsOf">What stands for now, or null for the clock's own time.</param>
internal sealed record Terminal(IClock RealClock, string? Config, string? Data, AsOf? AsOf, bool Json)
{
    public Household? OpenHousehold()
    {
        var household = Household.Open(Config, Data, out var faults);
        foreach (string fault in faults)
            Console.Error.WriteLine(fault);
        return household;
    }

    public GardenStore? OpenStore(Settings settings, StoreUse use)
    {
        switch (GardenStore.Open(settings.DataFolder, use, RealClock.GetCurrentInstant()))
        {
            case StoreOutcome.Opened opened:
                return opened.Store;
            case StoreOutcome.InUse(var sentence):
                Console.Error.WriteLine(sentence);
                return null;
            case StoreOutcome.Newer(var sentence):
                Console.Error.WriteLine(sentence);
                return null;
            case StoreOutcome.Damaged(var sentence):
                Console.Error.WriteLine(sentence);
                return null;
            case StoreOutcome.DiskFull(var sentence):
                Console.Error.WriteLine(sentence);
                return null;
            case StoreOutcome.Unusable(var sentence):
                Console.Error.WriteLine(sentence);
                return null;
            default:
                throw new InvalidOperationException("No such outcome.");
        }
    }

    /// <summary>What stands for now before a garden's zone is known; good enough for dates without a year.</summary>
    public Instant RoughNow => AsOf?.In(DateTimeZone.Utc) ?? RealClock.GetCurrentInstant();

    /// <summary>The plans, all usable; null, with every fault told, when one is not or there is none.</summary>
    public ImmutableArray<GardenFile>? OpenGardens(Household household, GardenStore? store)
    {
        var files = GardenFile.ReadAll(household.Folder, household.Crops, store, RoughNow, household.Settings.ChannelsSetUp);
        if (files.IsEmpty)
        {
            Console.Error.WriteLine(NoPlan(household.Folder));
            return null;
        }
        var faults = files.SelectMany(file => file.Faults).ToList();
        foreach (var fault in faults)
            Console.Error.WriteLine(fault);
        return faults.Count > 0 || files.Any(file => file.Plan is null) ? null : files;
    }

    /// <summary>The plans of the garden that was named, or all; null, with those at hand told, when there is none of that id.</summary>
    public static List<Plan>? Named(IReadOnlyList<GardenFile> files, string? gardenId)
    {
        var plans = files.Select(file => file.Plan!).Where(plan => gardenId is null || plan.GardenId == gardenId).ToList();
        if (plans.Count > 0)
            return plans;
        Console.Error.WriteLine($"There is no garden `{gardenId}`; there are: {string.Join(", ", files.Select(file => file.Plan!.GardenId))}.");
        return null;
    }

    public static string NoPlan(ConfigFolder folder) =>
        $"There is no plan in {folder.Path}. `gardenwatch new` asks five questions and writes one (config-samples/garden.yaml shows one by hand); or name another folder with --config.";

    /// <summary>A house that only looks: it pulls and asks, and sends nothing.</summary>
    public static House LookingHouse(Household household, GardenStore store, IClock clock) => new(
        household.Folder, household.Settings, household.Crops, store, postbox: null,
        new(clock, TimeProvider.System, ServiceLine.Handler(), NullLoggerFactory.Instance));

    /// <summary>What stands for now at a garden; null, with the reason told, when the hour does not exist there.</summary>
    public Instant? NowIn(DateTimeZone zone)
    {
        if (AsOf is null)
            return RealClock.GetCurrentInstant();
        if (AsOf.In(zone) is { } instant)
            return instant;
        Console.Error.WriteLine($"--as-of {AsOf}: that hour was left out in {zone.Id} when the clocks went forward; name one before or after it.");
        return null;
    }
}

using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>How the service stands: its weather, its messages, what is wrong and what to do about it.</summary>
internal static class StatusCommand
{
    public static async Task<int> Run(Terminal terminal, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        // Looking into an empty folder would make records there.
        if (!File.Exists(new StoreFolder(household.Settings.DataFolder).Database))
        {
            Console.Error.WriteLine($"There are no records in {household.Settings.DataFolder} yet: the service has not run with this data folder. Start it with `gardenwatch run`, or name another folder with --data.");
            return ExitCode.Unusable;
        }
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null)
            return ExitCode.Unusable;
        using var house = Terminal.LookingHouse(household, store, terminal.RealClock);
        var files = GardenFile.ReadAll(household.Folder, household.Crops, store, terminal.RoughNow, household.Settings.ChannelsSetUp);
        var zone = files.Select(file => file.Plan is { } plan ? house.Places.Known(plan.Place)?.Calendar.Zone : null).FirstOrDefault(known => known is not null);
        if (terminal.NowIn(zone ?? DateTimeZone.Utc) is not { } now)
            return ExitCode.Unusable;
        var standing = HouseStanding.Of(store, house.Places, files, now);
        using var line = new HttpClientHandler();
        if (await PageAddress.Fault(household.Settings, line, ct).ConfigureAwait(false) is { } unreachable)
            standing = standing with { Faults = standing.Faults.Add(unreachable) };
        if (terminal.Json)
        {
            using var output = Console.OpenStandardOutput();
            StatusJson.Write(output, standing);
        }
        else
        {
            Console.Out.Write(StatusText.Of(standing, zone ?? DateTimeZone.Utc));
        }
        return standing.Faults.IsEmpty ? ExitCode.Fine : ExitCode.Problems;
    }
}

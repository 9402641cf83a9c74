using GardenWatch.Store;

namespace GardenWatch.Commands;

/// <summary>A whole copy of the records now, also while the service runs; proved sound before it has its name.</summary>
internal static class BackupCommand
{
    /// <param name="file">Where to; null for the data folder's own backups, under today's name.</param>
    public static int Run(Terminal terminal, string? file)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        var folder = new StoreFolder(household.Settings.DataFolder);
        if (!File.Exists(folder.Database))
        {
            Console.Error.WriteLine($"There are no records in {folder.Path} yet, so there is nothing to copy.");
            return ExitCode.Unusable;
        }
        string target = Path.GetFullPath(file ?? Path.Combine(folder.Backups, Backup.NameOf(terminal.RoughNow.InUtc().Date)));
        if (Directory.Exists(target))
            target = Path.Combine(target, Backup.NameOf(terminal.RoughNow.InUtc().Date));
        if (target == folder.Database)
        {
            Console.Error.WriteLine($"{target} is the living file itself; name another.");
            return ExitCode.Unusable;
        }
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null)
            return ExitCode.Unusable;
        switch (store.Backup.To(target))
        {
            case BackupOutcome.Made { File: var made, Pictures: var pictures }:
                Console.Out.WriteLine($"All records are copied to {made}{(pictures is null ? "" : $", and the journal’s pictures to {pictures}")}. The way back: stop the service and run `gardenwatch restore {made}`.");
                return ExitCode.Fine;
            case BackupOutcome.Failed(_, var sentence):
                Console.Error.WriteLine(sentence);
                return ExitCode.Problems;
            default:
                throw new InvalidOperationException("No such outcome.");
        }
    }
}

using GardenWatch.Store;

namespace GardenWatch.Commands;

/// <summary>Puts a backup in the place of a database that is damaged or lost; what was there is kept beside it.</summary>
internal static class RestoreCommand
{
    public static int Run(Terminal terminal, string backup)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        switch (Restore.From(Path.GetFullPath(backup), household.Settings.DataFolder, terminal.RealClock.GetCurrentInstant()))
        {
            case RestoreOutcome.Restored(var keptAs, var missing):
                Console.Out.WriteLine($"{backup} is in place. {(keptAs is null ? "" : $"What was there before is kept as {keptAs}. ")}Start the service again.");
                if (missing > 0)
                    Console.Out.WriteLine($"{Planning.Tongues.Tongue.English.Counted(missing, "picture")} of the journal {(missing == 1 ? "is" : "are")} neither here nor in a folder `{PictureCopies.FolderName}` beside the backup.");
                return ExitCode.Fine;
            case RestoreOutcome.Refused(var sentence):
                Console.Error.WriteLine(sentence);
                return ExitCode.Unusable;
            default:
                throw new InvalidOperationException("No such outcome.");
        }
    }
}

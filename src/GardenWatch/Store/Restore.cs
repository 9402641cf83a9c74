using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

public abstract record RestoreOutcome
{
    private RestoreOutcome() { }
    /// <param name="KeptAs">Where the file that was replaced is now; null when there was none.</param>
    /// <param name="PicturesMissing">Pictures that the journal names and nobody has any more.</param>
    public sealed record Restored(string? KeptAs, int PicturesMissing) : RestoreOutcome;

    public sealed record Refused(string Sentence) : RestoreOutcome;
}

/// <summary>Puts a backup in the database's place. The service must be stopped; what was there is kept.</summary>
public static class Restore
{
    private static readonly string[] Parts = ["", "-wal", "-shm"];

    public static RestoreOutcome From(string backup, string dataFolder, Instant now)
    {
        var folder = new StoreFolder(Path.GetFullPath(dataFolder));
        if (!File.Exists(backup))
            return new RestoreOutcome.Refused($"There is no backup {backup}. Those at hand are in {folder.Backups}.");
        try
        {
            folder.Create();
            using var held = folder.TryLock();
            if (held is null)
                return new RestoreOutcome.Refused("The service is running. Stop it first: `systemctl stop gardenwatch`.");
            string arriving = folder.Database + ".arriving";
            File.Copy(backup, arriving, overwrite: true);
            if (Fault(folder, arriving, backup) is { } fault)
            {
                File.Delete(arriving);
                return new RestoreOutcome.Refused(fault);
            }
            // Before the database: pictures more than it names do no harm.
            if (PictureCopies.Beside(backup) is { } pictures)
                PictureCopies.Copy(pictures, folder.Pictures);
            string? kept = SetAside(folder, now);
            File.Move(arriving, folder.Database);
            using var connection = new StoreConnection(folder);
            return Schema.Shipped.BringUpToDate(connection) is WriteOutcome.Failed unfinished ? new RestoreOutcome.Refused(unfinished.Sentence)
                : new SentLog(folder).ReadInto(connection, now) is WriteOutcome.Failed failed ? new RestoreOutcome.Refused(failed.Sentence)
                : new RestoreOutcome.Restored(kept, PicturesMissing(folder, connection));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return new RestoreOutcome.Refused($"{backup} could not be put in place: {exception.Message}");
        }
    }

    private static int PicturesMissing(StoreFolder folder, StoreConnection connection)
    {
        var pictures = new PictureFolder(folder);
        return connection.Read("SELECT pictures FROM journal WHERE pictures IS NOT NULL", row => row.GetString(0))
            .SelectMany(names => names.Split(' ', StringSplitOptions.RemoveEmptyEntries)).Distinct().Count(name => pictures.PathOf(name) is null);
    }

    private static string? Fault(StoreFolder folder, string arriving, string backup)
    {
        try
        {
            using var copy = new StoreConnection(arriving);
            return !Schema.IsOurs(copy) || Schema.VersionOf(copy) == 0 ? $"{backup} is not a backup of this program."
                : Schema.VersionOf(copy) > Schema.Shipped.Version ? $"{backup} is of a later version of this program; install that version first."
                : !Schema.IsSound(copy) ? $"{backup} is damaged too; take an older one."
                : null;
        }
        catch (SqliteException exception) when (StoreFaults.Of(exception, folder) is StoreFault.Damaged)
        {
            return $"{backup} is damaged, or no backup of this program; take another one.";
        }
    }

    /// <summary>With its WAL: the two are one file, and a stranger's WAL would spoil the backup.</summary>
    private static string? SetAside(StoreFolder folder, Instant now)
    {
        if (!File.Exists(folder.Database))
            return null;
        string kept = Path.Combine(folder.Path, $"replaced-{now.ToUnixTimeSeconds()}.db");
        foreach (string part in Parts)
        {
            if (File.Exists(folder.Database + part))
                File.Move(folder.Database + part, kept + part, overwrite: true);
        }
        return kept;
    }
}

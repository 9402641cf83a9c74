using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

public abstract record BackupOutcome
{
    private BackupOutcome() { }
    /// <param name="CopyFault">Why the second copy elsewhere was not made; null when it was, or none was asked for.</param>
    public sealed record Made(string File, string? CopyFault) : BackupOutcome
    {
        /// <summary>Where the journal's pictures are copied to; null where they are beside the backup already.</summary>
        public string? Pictures { get; init; }
    }

    public sealed record Failed(StoreFault Fault, string Sentence) : BackupOutcome;
}

/// <summary>Whole copies of the living file, one a night, each proved sound before an older one goes.</summary>
public sealed class Backup(StoreFolder folder, StoreConnection connection)
{
    public const int Kept = 7;
    internal const string NamePattern = "gardenwatch-????-??-??.db";

    public static string NameOf(LocalDate date) => $"gardenwatch-{StoreText.Of(date)}.db";

    /// <param name="elsewhere">A second folder, best on another medium; null for none.</param>
    public BackupOutcome Nightly(LocalDate date, string? elsewhere)
    {
        var outcome = To(Path.Combine(folder.Backups, NameOf(date)));
        if (outcome is not BackupOutcome.Made made)
            return outcome;
        foreach (string old in folder.NightlyBackups().Skip(Kept))
            File.Delete(old);
        return elsewhere is null ? made : made with { CopyFault = Copied(made.File, elsewhere) };
    }

    public BackupOutcome BeforeSchema(int version, Instant now) =>
        To(Path.Combine(folder.Backups, $"before-schema-{version}-{StoreText.Of(now.InUtc().Date)}.db"));

    /// <summary>Written under another name, checked, then renamed: a file with a backup's name is a whole backup.</summary>
    public BackupOutcome To(string target)
    {
        string partial = target + ".partial";
        try
        {
            StoreFolder.CreatePrivate(Path.GetDirectoryName(Path.GetFullPath(target))!);
            File.Delete(partial);
            // SQLite wants a missing or an empty file; this one nobody else may read.
            new FileStream(partial, StoreFolder.PrivateFile(FileMode.CreateNew, FileShare.ReadWrite)).Dispose();
            connection.Run("VACUUM INTO $file", ("$file", partial));
            Failpoints.Hit(Failpoints.MidBackup);
            using (var copy = new StoreConnection(partial))
            {
                if (!Schema.IsSound(copy))
                    return new BackupOutcome.Failed(StoreFault.Damaged, folder.WayBack());
            }
            using (var handle = File.OpenHandle(partial, FileMode.Open, FileAccess.ReadWrite))
                RandomAccess.FlushToDisk(handle);
            File.Move(partial, target, overwrite: true);
            return new BackupOutcome.Made(target, null) { Pictures = PicturesWith(target) };
        }
        catch (SqliteException exception) when (StoreFaults.Of(exception, folder) is { } fault)
        {
            File.Delete(partial);
            return new BackupOutcome.Failed(fault, StoreFaults.Sentence(fault, folder));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return new BackupOutcome.Failed(StoreFault.Unwritable, $"No backup was made: {exception.Message}");
        }
    }

    /// <summary>After the database: a picture is there before an entry names it, so none that is named is missing.</summary>
    private string? PicturesWith(string target)
    {
        string beside = Path.GetDirectoryName(Path.GetFullPath(target))!;
        if (beside == Path.GetFullPath(folder.Backups) || beside == Path.GetFullPath(folder.Path) || !Directory.Exists(folder.Pictures))
            return null;
        string pictures = Path.Combine(beside, PictureCopies.FolderName);
        PictureCopies.Copy(folder.Pictures, pictures);
        return pictures;
    }

    private string? Copied(string file, string elsewhere)
    {
        try
        {
            StoreFolder.CreatePrivate(elsewhere);
            string target = Path.Combine(elsewhere, Path.GetFileName(file));
            File.Copy(file, target + ".partial", overwrite: true);
            File.Move(target + ".partial", target, overwrite: true);
            PictureCopies.Copy(folder.Pictures, Path.Combine(elsewhere, PictureCopies.FolderName));
            string[] copies = Directory.GetFiles(elsewhere, NamePattern);
            Array.Sort(copies, StringComparer.Ordinal);
            foreach (string old in copies.SkipLast(Kept))
                File.Delete(old);
            return null;
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return $"The backup was made, but not copied to {elsewhere}: {exception.Message}";
        }
    }
}

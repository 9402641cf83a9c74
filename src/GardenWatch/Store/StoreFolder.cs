namespace GardenWatch.Store;

/// <summary>The data folder: where each of its files is.</summary>
public sealed record StoreFolder(string Path)
{
    // EWOULDBLOCK of flock on Linux.
    private const int WouldBlock = 11;

    public string Database => System.IO.Path.Combine(Path, "gardenwatch.db");
    public string LockFile => System.IO.Path.Combine(Path, "gardenwatch.lock");
    public string SentLog => System.IO.Path.Combine(Path, "sent.log");
    public string Backups => System.IO.Path.Combine(Path, "backups");

    /// <summary>Pictures of the journal.</summary>
    public string Pictures => System.IO.Path.Combine(Path, PictureCopies.FolderName);

    /// <summary>Newest first: names carry the date.</summary>
    public IReadOnlyList<string> NightlyBackups()
    {
        if (!Directory.Exists(Backups))
            return [];
        string[] found = Directory.GetFiles(Backups, Backup.NamePattern);
        Array.Sort(found, (a, b) => string.CompareOrdinal(b, a));
        return found;
    }

    public string WayBack()
    {
        var backups = NightlyBackups();
        return backups.Count > 0
            ? $"The database {Database} is damaged. The way back: stop the service and run `gardenwatch restore {backups[0]}`; the damaged file is kept beside it."
            : $"The database {Database} is damaged and there is no backup in {Backups} yet. Put a copy in its place, or move the file away to begin anew.";
    }

    /// <summary>Only the account that runs the service may look in: the file holds addresses and notes.</summary>
    public void Create() => CreatePrivate(Path);

    internal static void CreatePrivate(string folder) =>
        Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);

    internal static FileStreamOptions PrivateFile(FileMode mode, FileShare share) => new()
    {
        Mode = mode,
        Access = FileAccess.ReadWrite,
        Share = share,
        UnixCreateMode = mode == FileMode.Open ? null : UnixFileMode.UserRead | UnixFileMode.UserWrite,
    };

    /// <summary>Null when another process holds it. Held until disposed, or until the process is gone however it ended.</summary>
    public FileStream? TryLock()
    {
        try
        {
            return new FileStream(LockFile, PrivateFile(FileMode.OpenOrCreate, FileShare.None));
        }
        catch (IOException held) when (held.HResult == WouldBlock)
        {
            return null;
        }
    }
}

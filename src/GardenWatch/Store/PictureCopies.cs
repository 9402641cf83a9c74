namespace GardenWatch.Store;

/// <summary>
/// The journal's pictures beside a backup. A picture's name is made of what is in it, so one that is there is the same one, and
/// only new ones are copied.
/// </summary>
public static class PictureCopies
{
    public const string FolderName = "pictures";

    private const string Partial = ".partial";

    /// <summary>Where the pictures of a backup are: beside it, or beside the folder of the nightly ones. Null where there are none.</summary>
    public static string? Beside(string backup)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(backup))!;
        string beside = Path.Combine(folder, FolderName);
        if (Directory.Exists(beside))
            return beside;
        string above = Path.Combine(Path.GetDirectoryName(folder) ?? folder, FolderName);
        return Path.GetFileName(folder) == "backups" && Directory.Exists(above) ? above : null;
    }

    /// <summary>How many were new. A file with a picture's name is a whole picture: it is copied under another name first.</summary>
    public static int Copy(string from, string to)
    {
        if (!Directory.Exists(from) || Path.GetFullPath(from) == Path.GetFullPath(to))
            return 0;
        StoreFolder.CreatePrivate(to);
        int copied = 0;
        foreach (string picture in Directory.EnumerateFiles(from, "*.jpg"))
        {
            string target = Path.Combine(to, Path.GetFileName(picture));
            if (File.Exists(target))
                continue;
            File.Copy(picture, target + Partial, overwrite: true);
            using (var handle = File.OpenHandle(target + Partial, FileMode.Open, FileAccess.ReadWrite))
                RandomAccess.FlushToDisk(handle);
            File.Move(target + Partial, target);
            copied++;
        }
        return copied;
    }
}

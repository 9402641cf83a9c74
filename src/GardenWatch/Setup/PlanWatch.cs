using System.Security.Cryptography;
using System.Text;

namespace GardenWatch.Setup;

/// <summary>What happened to a file since it was last looked at.</summary>
public abstract record FileNews(string Path)
{
    /// <summary>New or changed, and at rest: read it, and keep the old meaning in force if it has faults.</summary>
    public sealed record Changed(string Path, string Text) : FileNews(Path);

    /// <summary>There, but not to be read: the old meaning stays in force.</summary>
    public sealed record Unreadable(string Path, string Reason) : FileNews(Path);

    /// <summary>No longer there: the old meaning stays in force until the service is started anew.</summary>
    public sealed record Gone(string Path) : FileNews(Path);
}

/// <summary>
/// Looks at plan files each tick. No file system events: they are lost on some mounts and doubled by some editors, and
/// a minute's delay harms nobody. Contents are compared, not dates: a file saved twice within a second has one date.
/// </summary>
public sealed class PlanWatch
{
    /// <summary>A plan is a few kilobytes; what is longer is another file.</summary>
    public const int LongestFile = 1024 * 1024;

    private const string Missing = "it is gone";

    private readonly Dictionary<string, Watched> files = new(StringComparer.Ordinal);
    private bool started;

    /// <summary>
    /// News of the files there now and of those there before. At start all are taken as they are; later a change is taken
    /// when it has been at rest for one tick, so that a half-saved file is not.
    /// </summary>
    public IReadOnlyList<FileNews> Look(IReadOnlyCollection<string> paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        var news = new List<FileNews>();
        foreach (string path in paths)
        {
            if (!files.TryGetValue(path, out var watched))
                files[path] = watched = new();
            if (NewsOf(path, watched) is { } found)
                news.Add(found);
        }
        foreach (var (path, watched) in files)
        {
            if (!paths.Contains(path) && watched.TroubleIsNew(Missing))
                news.Add(new FileNews.Gone(path));
        }
        started = true;
        return news;
    }

    private FileNews? NewsOf(string path, Watched watched)
    {
        byte[] content;
        try
        {
            if (new FileInfo(path).Length > LongestFile)
                return Unreadable(path, watched, "it is longer than 1 MB");
            content = File.ReadAllBytes(path);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return Unreadable(path, watched, exception.Message);
        }
        string hash = Convert.ToHexString(SHA256.HashData(content));
        bool isNews = hash != watched.Taken || watched.Trouble is not null;
        bool atRest = !started || watched.Seen == hash;
        watched.Seen = hash;
        if (!isNews || !atRest)
            return null;
        (watched.Taken, watched.Trouble) = (hash, null);
        return new FileNews.Changed(path, Encoding.UTF8.GetString(content).TrimStart('\uFEFF'));
    }

    private static FileNews.Unreadable? Unreadable(string path, Watched watched, string reason) =>
        watched.TroubleIsNew(reason) ? new(path, reason) : null;

    private sealed class Watched
    {
        /// <summary>The content at the last look.</summary>
        public string? Seen { get; set; }

        /// <summary>The content that was last given out.</summary>
        public string? Taken { get; set; }

        /// <summary>Why it could not be read, as last told.</summary>
        public string? Trouble { get; set; }

        /// <summary>Told once, not each tick.</summary>
        public bool TroubleIsNew(string trouble)
        {
            if (Trouble == trouble)
                return false;
            (Trouble, Seen) = (trouble, null);
            return true;
        }
    }
}

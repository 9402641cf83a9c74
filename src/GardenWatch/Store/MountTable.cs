using System.Text;

namespace GardenWatch.Store;

/// <summary>Which file system holds a path, from the kernel's list of mounts.</summary>
public static class MountTable
{
    private const string Kernel = "/proc/self/mounts";

    // Locks and shared memory do not hold across machines there, so a database in WAL mode breaks.
    private static readonly HashSet<string> OverTheNetwork = new(StringComparer.Ordinal)
    {
        "nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "ceph", "glusterfs", "fuse.glusterfs", "fuse.sshfs", "fuse.rclone", "ncpfs", "davfs",
        "fuse.davfs2", "fuse.smbnetfs",
    };

    public static string? NetworkTypeOf(string path) =>
        File.Exists(Kernel) ? NetworkTypeOf(File.ReadAllText(Kernel), path) : null;

    /// <summary>The type when it is a network file system; null when it is not, or not known.</summary>
    public static string? NetworkTypeOf(string mounts, string path)
    {
        ArgumentNullException.ThrowIfNull(mounts);
        string full = Path.GetFullPath(path);
        string? type = null;
        int longest = -1;
        foreach (string line in mounts.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            string[] fields = line.Split(' ');
            if (fields.Length < 3)
                continue;
            string point = Unescaped(fields[1]);
            // A later line over the same point hides the earlier one.
            if (Holds(point, full) && point.Length >= longest)
                (longest, type) = (point.Length, fields[2]);
        }
        return type is not null && OverTheNetwork.Contains(type) ? type : null;
    }

    private static bool Holds(string point, string path) =>
        point == "/" || path == point || path.StartsWith(point + "/", StringComparison.Ordinal);

    /// <summary>The kernel writes a space as <c>\040</c>.</summary>
    private static string Unescaped(string field)
    {
        if (!field.Contains('\\', StringComparison.Ordinal))
            return field;
        var plain = new StringBuilder();
        for (int i = 0; i < field.Length; i++)
        {
            if (field[i] == '\\' && i + 3 < field.Length && field.AsSpan(i + 1, 3).IndexOfAnyExceptInRange('0', '7') < 0)
            {
                plain.Append((char)Convert.ToInt32(field.Substring(i + 1, 3), 8));
                i += 3;
            }
            else
            {
                plain.Append(field[i]);
            }
        }
        return plain.ToString();
    }
}

using System.Buffers;
using System.Security.Cryptography;
using GardenWatch.Messages.Photographs;

namespace GardenWatch.Store;

/// <summary>What became of a picture that came with an answer.</summary>
public abstract record PictureOutcome
{
    private PictureOutcome() { }
    /// <param name="File">Its name in the pictures' folder.</param>
    public sealed record Kept(string File) : PictureOutcome;
    /// <param name="Reason">A clause: "is no picture ...".</param>
    public sealed record Refused(string Reason) : PictureOutcome;
}

/// <summary>
/// Pictures of the journal, as files beside the database. A file with a picture's name is a whole picture, and counts only
/// once an entry names it: a death on the way leaves a partial, or a whole picture that nobody names.
/// </summary>
public sealed class PictureFolder(StoreFolder folder)
{
    private const long LargestFile = 64L << 20;
    private const string Partial = ".partial";
    private const int NameBytes = 12;
    private static readonly SearchValues<char> OfNames = SearchValues.Create("0123456789abcdef.jpg");
    private static readonly TimeSpan LongDead = TimeSpan.FromDays(1);

    /// <summary>The same picture has the same name, however often it comes.</summary>
    public PictureOutcome Keep(Stream picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        StoreFolder.CreatePrivate(folder.Pictures);
        SweepPartials();
        string partial = System.IO.Path.Combine(folder.Pictures, Guid.NewGuid().ToString("N") + Partial);
        try
        {
            if (!Copied(picture, partial))
                return new PictureOutcome.Refused($"is larger than {LargestFile >> 20} MB; send a smaller one");
            switch (Photograph.Read(partial))
            {
                case PhotographReading.Refused(var reason):
                    return new PictureOutcome.Refused(reason);
                case PhotographReading.Good good:
                    return new PictureOutcome.Kept(Written(good.Jpeg, partial));
                default:
                    throw new InvalidOperationException("No such reading.");
            }
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return new PictureOutcome.Refused($"could not be kept ({exception.Message})");
        }
        finally
        {
            File.Delete(partial);
        }
    }

    /// <summary>Null when the name is no picture's, or the file is gone.</summary>
    public string? PathOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        string path = System.IO.Path.Combine(folder.Pictures, name);
        return !name.AsSpan().ContainsAnyExcept(OfNames) && name.EndsWith(".jpg", StringComparison.Ordinal) && File.Exists(path) ? path : null;
    }

    private string Written(byte[] jpeg, string partial)
    {
        string name = Convert.ToHexStringLower(SHA256.HashData(jpeg).AsSpan(0, NameBytes)) + ".jpg";
        using (var file = new FileStream(partial, StoreFolder.PrivateFile(FileMode.Create, FileShare.None)))
        {
            file.Write(jpeg);
            Failpoints.Hit(Failpoints.MidPicture);
            file.Flush(flushToDisk: true);
        }
        File.Move(partial, System.IO.Path.Combine(folder.Pictures, name), overwrite: true);
        return name;
    }

    private static bool Copied(Stream picture, string partial)
    {
        using var file = new FileStream(partial, StoreFolder.PrivateFile(FileMode.CreateNew, FileShare.None));
        byte[] buffer = new byte[81920];
        while (picture.Read(buffer) is > 0 and var read)
        {
            if (file.Length + read > LargestFile)
                return false;
            file.Write(buffer, 0, read);
        }
        return true;
    }

    /// <summary>Left by a process that died; a living one is done with its own within minutes.</summary>
    private void SweepPartials()
    {
        var files = new DirectoryInfo(folder.Pictures).GetFiles("*" + Partial);
        if (files.Length == 0)
            return;
        // By the folder's own time, so that no other clock is asked.
        var newest = files.Max(file => file.LastWriteTimeUtc);
        foreach (var file in files.Where(file => newest - file.LastWriteTimeUtc > LongDead))
            file.Delete();
    }
}

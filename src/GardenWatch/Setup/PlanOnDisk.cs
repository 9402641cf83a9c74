using System.Security.Cryptography;
using System.Text;

namespace GardenWatch.Setup;

/// <summary>A plan file as it was when it was opened.</summary>
/// <param name="Path">Where its letters are: the file itself, not a link to it.</param>
/// <param name="Text">With a byte order mark, where it has one.</param>
/// <param name="Print">Changes when anything in the file does.</param>
public sealed record PlanOnDisk(string Path, string Text, string Print)
{
    /// <summary>The ending of the copy that is kept of the text before.</summary>
    public const string BeforeEnding = ".before";

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
    private static readonly Lock Writing = new();

    public string Before => Path + BeforeEnding;

    /// <summary>Null, with the reason, when it can't be read.</summary>
    public static PlanOnDisk? Open(string path, out string? trouble)
    {
        trouble = null;
        try
        {
            string target = new FileInfo(path).ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? path;
            if (new FileInfo(target).Length > PlanWatch.LongestFile)
                trouble = "it is longer than 1 MB";
            else
            {
                byte[] bytes = File.ReadAllBytes(target);
                return new(target, Strict.GetString(bytes), PrintOf(bytes));
            }
        }
        catch (DecoderFallbackException)
        {
            trouble = "it is not saved as UTF-8";
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            trouble = exception.Message;
        }
        return null;
    }

    /// <summary>
    /// Puts a new text in the file's place, whole or not at all, and keeps this one beside it. Null when it is done, else why not:
    /// also when somebody has changed the file since it was opened.
    /// </summary>
    public string? Replace(string text)
    {
        lock (Writing)
        {
            string partial = System.IO.Path.Combine(System.IO.Path.GetDirectoryName(Path)!, $".{System.IO.Path.GetFileName(Path)}.{Guid.NewGuid():N}.partial");
            try
            {
                byte[] before = File.ReadAllBytes(Path);
                if (PrintOf(before) != Print)
                    return "The file was changed in the meantime, so nothing was written. Open the form anew: it shows the file as it is now.";
                var mode = File.GetUnixFileMode(Path);
                Write(partial, before, mode);
                File.Move(partial, Before, overwrite: true);
                Write(partial, Strict.GetBytes(text), mode);
                Failpoints.Hit(Failpoints.MidPlan);
                File.Move(partial, Path, overwrite: true);
                FlushFolder();
                return null;
            }
            catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
            {
                return $"The plan can’t be written: {exception.Message.TrimEnd('.')}. The account that runs the service needs the right to write in {System.IO.Path.GetDirectoryName(Path)}; the manual says how.";
            }
            finally
            {
                TryDelete(partial);
            }
        }
    }

    private static string PrintOf(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private static void Write(string path, byte[] bytes, UnixFileMode mode)
    {
        using var file = new FileStream(path, new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = mode });
        // What the account would take away from new files was given to this one.
        File.SetUnixFileMode(path, mode);
        file.Write(bytes);
        file.Flush(flushToDisk: true);
    }

    /// <summary>So that the new name is there after a power cut; where a folder can't be opened the file system does it in its own time.</summary>
    private void FlushFolder()
    {
        try
        {
            using var folder = File.OpenHandle(System.IO.Path.GetDirectoryName(Path)!);
            RandomAccess.FlushToDisk(folder);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            // Written it is; only how soon it survives a power cut is open.
        }
    }

    private static void TryDelete(string partial)
    {
        try
        {
            File.Delete(partial);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            // A folder that nothing can be written in holds no partial either.
        }
    }
}

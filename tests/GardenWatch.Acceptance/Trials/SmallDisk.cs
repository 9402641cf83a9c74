using System.Diagnostics;

namespace GardenWatch.Acceptance.Trials;

/// <summary>A small disk of its own under a folder, held in memory, that can be filled and be made read-only.</summary>
internal sealed class SmallDisk : IDisposable
{
    private readonly string _folder;

    private SmallDisk(string folder) => _folder = folder;

    private string Filler => Path.Combine(_folder, "filler");

    /// <summary>Skips the test where nothing may be mounted.</summary>
    public static async Task<SmallDisk> At(string folder, int megabytes)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "Only root mounts a disk.");
        Directory.CreateDirectory(folder);
        Assert.SkipUnless(await Succeeds("mount", "-t", "tmpfs", "-o", $"size={megabytes}m,mode=700", "tmpfs", folder), "No disk may be mounted here.");
        return new(folder);
    }

    public void Fill()
    {
        using var filler = new FileStream(Filler, FileMode.Create, FileAccess.Write, FileShare.Read, bufferSize: 0);
        // Ever smaller pieces, so that no page is left over.
        for (int piece = 1 << 16; piece >= 512; piece /= 2)
        {
            try
            {
                while (true)
                {
                    filler.Write(new byte[piece]);
                    filler.Flush(flushToDisk: true);
                }
            }
            catch (IOException)
            {
                // Full, for a piece of this size.
            }
        }
    }

    public void MakeRoom() => File.Delete(Filler);

    public async Task MakeReadOnly() => Assert.True(await Succeeds("mount", "-o", "remount,ro", _folder));

    public void Dispose()
    {
        using var unmounting = Process.Start("umount", ["--lazy", _folder]);
        unmounting.WaitForExit();
    }

    private static async Task<bool> Succeeds(string program, params string[] words)
    {
        using var process = Process.Start(new ProcessStartInfo(program, words) { RedirectStandardError = true })!;
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return process.ExitCode == 0;
    }
}

namespace GardenWatch.Acceptance.Trials;

internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("gardenwatch-trial-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

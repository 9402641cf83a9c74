using GardenWatch.Setup;

namespace GardenWatch.Tests.Setup;

public sealed class ConfigFolderTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void The_option_decides_then_the_system_wide_folder_then_the_working_folder()
    {
        string system = folder.File("etc"), working = folder.File("work");
        Directory.CreateDirectory(system);

        Assert.Equal(Path.Combine(working, "mine"), ConfigFolder.Find("mine", working, system).Path);
        Assert.Equal(working, ConfigFolder.Find(null, working, system).Path);
        folder.Write("etc/garden.yaml", "");
        Assert.Equal(system, ConfigFolder.Find(null, working, system).Path);
    }

    [Fact]
    public void Plans_are_the_single_one_and_those_of_the_gardens_folder()
    {
        folder.Write("garden.yaml", "");
        folder.Write("gardens/south.yaml", "");
        folder.Write("gardens/north.yml", "");
        folder.Write("gardens/notes.txt", "");
        folder.Write("gardens/.south.yaml", "");
        folder.Write("crops/tomato.yaml", "");
        var config = new ConfigFolder(folder.Path);

        Assert.Equal(["garden.yaml", "gardens/north.yml", "gardens/south.yaml"], config.PlanFiles().Select(file => Path.GetRelativePath(folder.Path, file)));
        Assert.Equal(["crops/tomato.yaml"], config.CropFiles().Select(file => Path.GetRelativePath(folder.Path, file)));
        Assert.Empty(new ConfigFolder(folder.File("nowhere")).PlanFiles());
    }
}

using GardenWatch.Setup;

namespace GardenWatch.Tests.Setup;

/// <summary>A plan file is replaced whole or not at all.</summary>
public sealed class PlanOnDiskTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    private static PlanOnDisk Opened(string path)
    {
        var file = PlanOnDisk.Open(path, out string? trouble);
        Assert.True(file is not null, trouble);
        return file;
    }

    [Fact]
    public void It_keeps_its_rights_its_mark_and_one_older_copy()
    {
        string path = _folder.File("garden.yaml");
        File.WriteAllBytes(path, [0xEF, 0xBB, 0xBF, .. "garden: Home\r\n"u8]);
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.GroupWrite);
        var file = Opened(path);

        Assert.Null(file.Replace(file.Text + "id: home\r\n"));

        Assert.Equal([0xEF, 0xBB, 0xBF, .. "garden: Home\r\nid: home\r\n"u8], File.ReadAllBytes(path));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.GroupWrite, File.GetUnixFileMode(path));
        Assert.Equal([0xEF, 0xBB, 0xBF, .. "garden: Home\r\n"u8], File.ReadAllBytes(path + ".before"));
        Assert.Equal(2, Directory.GetFiles(_folder.Path).Length);
    }

    [Fact]
    public void A_link_stays_a_link_and_what_it_leads_to_is_replaced()
    {
        string target = _folder.Write("elsewhere/plan.yaml", "garden: Home\n");
        File.CreateSymbolicLink(_folder.File("garden.yaml"), target);
        var file = Opened(_folder.File("garden.yaml"));
        Assert.Null(file.Replace("garden: House\n"));
        Assert.Equal("garden: House\n", File.ReadAllText(target));
        Assert.Equal(target, new FileInfo(_folder.File("garden.yaml")).LinkTarget);
    }

    [Fact]
    public void One_that_changed_since_it_was_opened_is_left_alone()
    {
        string path = _folder.Write("garden.yaml", "garden: Home\n");
        var file = Opened(path);
        File.WriteAllText(path, "garden: Hame\n");
        Assert.Contains("was changed in the meantime", file.Replace("garden: House\n"), StringComparison.Ordinal);
        Assert.Equal("garden: Hame\n", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(_folder.Path));
    }

    [Fact]
    public void What_is_no_UTF_8_is_not_opened_for_changes()
    {
        File.WriteAllBytes(_folder.File("garden.yaml"), [.. "garden: H"u8, 0xF6, .. "f\n"u8]);
        Assert.Null(PlanOnDisk.Open(_folder.File("garden.yaml"), out string? trouble));
        Assert.Contains("UTF-8", trouble, StringComparison.Ordinal);
    }
}

using GardenWatch.Setup;

namespace GardenWatch.Tests.Setup;

public sealed class PlanWatchTests : IDisposable
{
    private readonly TemporaryFolder folder = new();
    private readonly PlanWatch watch = new();
    private readonly string path;

    public PlanWatchTests() => path = folder.Write("garden.yaml", "garden: a\n");

    public void Dispose() => folder.Dispose();

    private FileNews? Look() => watch.Look([path]).SingleOrDefault();

    private static FileNews.Changed Changed(string path, string text) => new(path, text);

    [Fact]
    public void At_start_a_plan_is_taken_as_it_is_and_then_only_when_it_changes()
    {
        Assert.Equal(Changed(path, "garden: a\n"), Look());
        Assert.Null(Look());
        File.SetLastWriteTimeUtc(path, new(2027, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Assert.Null(Look());
    }

    [Fact]
    public void A_half_saved_plan_is_not_taken()
    {
        Look();
        File.WriteAllText(path, "garden: b\nbe");
        Assert.Null(Look());
        File.WriteAllText(path, "garden: b\nbeds: []\n");
        Assert.Null(Look());
        Assert.Equal(Changed(path, "garden: b\nbeds: []\n"), Look());
        Assert.Null(Look());
    }

    [Fact]
    public void A_change_of_the_same_length_and_date_is_seen()
    {
        Look();
        var date = File.GetLastWriteTimeUtc(path);
        File.WriteAllText(path, "garden: z\n");
        File.SetLastWriteTimeUtc(path, date);

        Assert.Null(Look());
        Assert.Equal(Changed(path, "garden: z\n"), Look());
    }

    [Fact]
    public void A_change_taken_back_at_once_is_no_change()
    {
        Look();
        File.WriteAllText(path, "garden: b\n");
        Look();
        File.WriteAllText(path, "garden: a\n");

        Assert.Null(Look());
        Assert.Null(Look());
    }

    [Fact]
    public void A_plan_that_vanishes_is_told_once_and_read_again_when_it_is_back()
    {
        Look();
        File.Delete(path);
        Assert.IsType<FileNews.Unreadable>(Look());
        Assert.Null(Look());
        Assert.Equal(new FileNews.Gone(path), Assert.Single(watch.Look([])));
        Assert.Empty(watch.Look([]));

        File.WriteAllText(path, "garden: a\n");
        Assert.Null(Look());
        Assert.Equal(Changed(path, "garden: a\n"), Look());
    }

    [Fact]
    public void What_is_no_plan_file_does_not_stop_the_watch()
    {
        string second = folder.Write("second.yaml", "garden: c\n");
        File.Delete(path);
        Directory.CreateDirectory(path);

        var news = watch.Look([path, second]);

        Assert.IsType<FileNews.Unreadable>(news[0]);
        Assert.Equal(Changed(second, "garden: c\n"), news[1]);
    }

    [Fact]
    public void A_file_too_long_for_a_plan_is_not_read()
    {
        File.WriteAllText(path, new string('#', PlanWatch.LongestFile + 1));

        Assert.Contains("1 MB", Assert.IsType<FileNews.Unreadable>(Look()).Reason, StringComparison.Ordinal);
    }
}

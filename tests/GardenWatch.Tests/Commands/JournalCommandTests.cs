using GardenWatch.Commands;
using GardenWatch.Tests.Rounds;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Commands;

/// <summary>The journal's commands as someone types them.</summary>
[Collection(nameof(OneTerminal))]
public sealed class JournalCommandTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public JournalCommandTests() => _folder.Write("garden.yaml", HouseBench.PlanText);

    public void Dispose() => _folder.Dispose();

    private Task<(int Code, string Out, string Errors)> Run(params string[] words) => RunIn(_folder.Path, words);

    private async Task<(int Code, string Out, string Errors)> RunIn(string data, params string[] words)
    {
        var (usual, usualErrors) = (Console.Out, Console.Error);
        using var told = new StringWriter();
        using var errors = new StringWriter();
        try
        {
            Console.SetOut(told);
            Console.SetError(errors);
            var clock = new FakeClock(Instant.FromUtc(2026, 11, 25, 12, 0));
            int code = await CommandLine.Build(clock).Parse([.. words, "--config", _folder.Path, "--data", data]).InvokeAsync(null, TestContext.Current.CancellationToken);
            return (code, told.ToString(), errors.ToString());
        }
        finally
        {
            Console.SetOut(usual);
            Console.SetError(usualErrors);
        }
    }

    [Fact]
    public async Task What_is_written_down_is_shown_and_can_be_taken_back()
    {
        Assert.Equal((0, "Noted yesterday: “slugs on the squash” (low bed).\n", ""), await Run("note", "slugs on the squash", "--bed", "low bed", "--on", "yesterday"));
        Assert.Equal(0, (await Run("picked", "tomato", "1.2", "kg", "--by", "sam@example.org")).Code);
        Assert.Equal(0, (await Run("reading", "soil", "14", "C", "at", "5", "cm")).Code);

        var status = await Run("status");
        Assert.Contains("Soil of the garden: 1 reading; none can be held against the model yet", status.Out, StringComparison.Ordinal);

        Assert.StartsWith("Taken back: reading, soil 14", (await Run("undo")).Out, StringComparison.Ordinal);
        var (_, shown, _) = await Run("journal");
        string[] lines = shown.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(3, lines.Length);
        Assert.EndsWith("[taken back]", lines[0], StringComparison.Ordinal);
        Assert.Contains("1.2 kg of Tomato (low bed) (by sam@example.org)", lines[1], StringComparison.Ordinal);
        Assert.DoesNotContain("reading;", (await Run("status")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_clear_is_asked_back_and_nothing_is_recorded()
    {
        var (code, told, errors) = await Run("picked", "3", "pumpkins");
        Assert.Equal((2, ""), (code, told));
        Assert.Contains("The plan has no “pumpkins”", errors, StringComparison.Ordinal);
        Assert.Contains("°F", (await Run("reading", "soil", "14")).Errors, StringComparison.Ordinal);
        Assert.Contains("still to come", (await Run("note", "x", "--on", "tomorrow")).Errors, StringComparison.Ordinal);
        Assert.Contains("more than one day", (await Run("note", "x", "--on", "mid April")).Errors, StringComparison.Ordinal);
        Assert.Contains("Nothing is written down yet", (await Run("journal")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_carries_the_whole_journal_to_another_folder_and_is_taken_in_once()
    {
        using var other = new TemporaryFolder();
        await Run("note", "first, with a \"quote\"");
        await Run("picked", "3", "tomatoes");
        await Run("undo");
        string table = Path.Combine(_folder.Path, "journal.csv");

        Assert.Contains("3 entries", (await Run("journal", "export", table)).Out, StringComparison.Ordinal);
        Assert.Contains("3 entries are taken in.", (await RunIn(other.Path, "journal", "import", table)).Out, StringComparison.Ordinal);
        Assert.Contains("0 entries are taken in, 3 were there already", (await RunIn(other.Path, "journal", "import", table)).Out, StringComparison.Ordinal);
        Assert.Equal(await File.ReadAllTextAsync(table, TestContext.Current.CancellationToken), (await RunIn(other.Path, "journal", "export")).Out);
    }
}

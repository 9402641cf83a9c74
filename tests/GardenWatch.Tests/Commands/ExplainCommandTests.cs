using System.Text.Json;
using GardenWatch.Commands;
using GardenWatch.Demo;
using GardenWatch.Planning.Tongues;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Commands;

/// <summary>The one who writes to the terminal must be alone there while it is listened to.</summary>
[CollectionDefinition(nameof(OneTerminal), DisableParallelization = true)]
public sealed class OneTerminal;

/// <summary>The demo's garden, lived to its late frost, with all its records.</summary>
public sealed class DemoHouse : IAsyncLifetime
{
    private readonly TemporaryFolder _folder = new();

    public string Path => _folder.Path;

    public async ValueTask InitializeAsync()
    {
        using var garden = new DemoGarden(Path);
        await garden.Morning(NotableMornings.LateFrost, TestContext.Current.CancellationToken);
    }

    public ValueTask DisposeAsync()
    {
        _folder.Dispose();
        return ValueTask.CompletedTask;
    }
}

/// <summary>`check --explain` as someone types it.</summary>
[Collection(nameof(OneTerminal))]
public sealed class ExplainCommandTests(DemoHouse demo) : IClassFixture<DemoHouse>
{
    private static readonly string Morning = $"{NotableMornings.LateFrost.Date:uuuu-MM-dd} 06:00";

    private static async Task<(int Code, string Out, string Errors)> Run(params string[] words)
    {
        var (usual, usualErrors) = (Console.Out, Console.Error);
        using var told = new StringWriter();
        using var errors = new StringWriter();
        try
        {
            Console.SetOut(told);
            Console.SetError(errors);
            var clock = new FakeClock(Instant.FromUtc(2026, 11, 1, 12, 0));
            int code = await CommandLine.Build(clock).Parse(words).InvokeAsync(null, TestContext.Current.CancellationToken);
            return (code, told.ToString().Replace('\u00A0', ' '), errors.ToString().Replace('\u00A0', ' '));
        }
        finally
        {
            Console.SetOut(usual);
            Console.SetError(usualErrors);
        }
    }

    private Task<(int Code, string Out, string Errors)> Explain(string job, params string[] more) =>
        Run(["check", "--config", demo.Path, "--data", demo.Path, "--as-of", Morning, "--explain", job, .. more]);

    [Fact]
    public async Task A_frosty_morning_is_explained_from_what_was_known_then()
    {
        var (code, told, _) = await Explain("cover tomatoes");

        Assert.Equal(0, code);
        Assert.Contains("Cover the tomatoes (low bed): asked for today, by", told, StringComparison.Ordinal);
        Assert.Contains($"as of {Tongue.English.Day(NotableMornings.LateFrost.Date)} 2026, 6 am", told, StringComparison.Ordinal);
        Assert.Contains("1 must hold: leaf low tonight at most {leaf:", told, StringComparison.Ordinal);
        Assert.Contains("shipped (crops/tomato.yaml, line 7)", told, StringComparison.Ordinal);
        Assert.Contains("Advised from a chance of 20 % on", told, StringComparison.Ordinal);
        Assert.Equal(1, told.Split('\n').Count(line => line.EndsWith("< today", StringComparison.Ordinal)));
        Assert.All(told.Split('\n'), line => Assert.InRange(line.Length, 0, 100));
    }

    [Fact]
    public async Task As_json_it_tells_the_same_facts()
    {
        var (code, told, _) = await Explain("cover tomatoes", "--json", "--with", "leaf: -9 °C");

        Assert.Equal(0, code);
        using var json = JsonDocument.Parse(told);
        var root = json.RootElement;
        // With so low a limit nothing would be asked for: what the morning's message told is called off.
        Assert.Equal(("tomato-low-bed", "cover", "dropped"), (Job(root, "subject"), Job(root, "kind"), Job(root, "standing")));
        Assert.Equal(28, root.GetProperty("days").GetArrayLength());
        Assert.Equal(28, root.GetProperty("trial").GetProperty("daysWithout").GetArrayLength());
        var leaf = root.GetProperty("numbers")[0];
        Assert.Equal(("leaf", -9.0, 2.0), (leaf.GetProperty("name").GetString(), leaf.GetProperty("value").GetDouble(), leaf.GetProperty("unchanged").GetDouble()));
        Assert.Equal(["shipped", "trial"], leaf.GetProperty("sources").EnumerateArray().Select(source => source.GetProperty("origin").GetString()));
        Assert.Equal("when", root.GetProperty("conditions")[0].GetProperty("role").GetString());
        Assert.Equal("chance", root.GetProperty("numbers")[1].GetProperty("name").GetString());
    }

    private static string? Job(JsonElement root, string field) => root.GetProperty("job").GetProperty(field).GetString();

    [Fact]
    public async Task Words_that_fit_several_jobs_list_them_and_words_that_fit_none_the_nearest()
    {
        var several = await Explain("cover");
        Assert.Equal((2, ""), (several.Code, several.Out));
        Assert.Contains("two-elms/tomato-low-bed/cover", several.Errors, StringComparison.Ordinal);
        Assert.Contains("two-elms/snap-bean-back-bed/cover", several.Errors, StringComparison.Ordinal);

        var none = await Explain("prune tomatoes");
        Assert.Equal(2, none.Code);
        Assert.Contains("No job is called \"prune tomatoes\". The nearest:", none.Errors, StringComparison.Ordinal);
        Assert.Contains("two-elms/tomato-low-bed/set-out", none.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("laef: 1 °C", "the job has no number `laef`; did you mean `leaf`?")]
    [InlineData("leaf: 1 mm", "`1 mm` is not a temperature; `1 °F` or `1 °C`")]
    [InlineData("leaf", "`leaf` is no number with its name")]
    [InlineData("chance: 1 %", "a chance of `1 %` would ask every day")]
    public async Task A_number_that_can_not_be_tried_is_told(string number, string fault)
    {
        var (code, told, errors) = await Explain("cover tomatoes", "--with", number);

        Assert.Equal((2, ""), (code, told));
        Assert.StartsWith(fault, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_weather_numbers_and_sources_are_told_all_the_same()
    {
        using var nothing = new TemporaryFolder();
        var (code, told, _) = await Run("check", "--config", demo.Path, "--data", nothing.Path, "--explain", "cover tomatoes");

        Assert.Equal(0, code);
        Assert.StartsWith("No weather is stored for this garden yet", told, StringComparison.Ordinal);
        Assert.Contains("shipped (crops/tomato.yaml, line 7)", told, StringComparison.Ordinal);
        Assert.DoesNotContain("DAY BY DAY", told, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(nothing.Path));
    }

    [Fact]
    public async Task A_look_back_sees_less_than_a_later_one()
    {
        var before = await Run("check", "--config", demo.Path, "--data", demo.Path, "--as-of", "2026-01-01", "--explain", "cover tomatoes");

        Assert.Equal(0, before.Code);
        Assert.StartsWith("No weather is stored", before.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_reads_the_plan_as_of_the_time_it_is_given()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "garden.yaml"), """
            garden: Home
            id: home
            place: { latitude: 52.4, longitude: -1.2, elevation: 120 m, zone: Europe/London }
            beds: [ bed: plot ]
            plantings:
              - { crop: tomato, set out: mid May }
            """, TestContext.Current.CancellationToken);

        var (code, told, _) = await Run("check", "--config", folder.Path, "--data", folder.Path, "--as-of", "2031-06-01");

        Assert.Equal(0, code);
        Assert.Contains("May 2031", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_trial_without_a_job_is_a_wrong_word()
    {
        var (code, _, errors) = await Run("check", "--config", demo.Path, "--data", demo.Path, "--with", "leaf: 1 °C");

        Assert.Equal(2, code);
        Assert.Contains("--with goes with --explain", errors, StringComparison.Ordinal);
    }
}

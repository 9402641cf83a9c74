using System.Collections.Immutable;
using GardenWatch.Commands;
using GardenWatch.Planning.Crops;
using GardenWatch.Setup;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Commands;

/// <summary>A language beside the plan: taken, faulted and counted.</summary>
[Collection(nameof(OneTerminal))]
public sealed class LanguageTests
{
    private const string Plan = """
        garden: Hohlweg
        id: hohlweg
        place: { town: Anderswo, latitude: 52, longitude: 10, elevation: 90 m, zone: Europe/Berlin }
        units: metric
        language: de
        digest: { at: "06:00", to: [uli@example.org] }
        """;

    private static async Task<(int Code, string Out)> Check(TemporaryFolder folder, params string[] more)
    {
        var usual = Console.Out;
        using var told = new StringWriter();
        try
        {
            Console.SetOut(told);
            int code = await CommandLine.Build(new FakeClock(Instant.FromUtc(2026, 11, 1, 12, 0)))
                .Parse(["check", "--config", folder.Path, "--data", folder.Path, .. more]).InvokeAsync(null, TestContext.Current.CancellationToken);
            return (code, told.ToString());
        }
        finally
        {
            Console.SetOut(usual);
        }
    }

    private static TemporaryFolder Folder(string language)
    {
        var folder = new TemporaryFolder();
        File.WriteAllText(Path.Combine(folder.Path, "garden.yaml"), Plan);
        File.WriteAllText(Path.Combine(folder.Path, "gardenwatch.yaml"), "");
        Directory.CreateDirectory(Path.Combine(folder.Path, "languages"));
        File.WriteAllText(Path.Combine(folder.Path, "languages", "de.yaml"), language);
        return folder;
    }

    [Fact]
    public async Task A_language_beside_the_plan_is_taken_and_what_it_lacks_is_counted()
    {
        using var folder = Folder("language: de\nphrases:\n  \"tomatoes\": \"Tomaten\"\n");
        var (_, told) = await Check(folder);
        Assert.Contains("languages/de: ", told, StringComparison.Ordinal);
        Assert.Contains("are not translated and stay English", told, StringComparison.Ordinal);

        var faults = ImmutableArray.CreateBuilder<string>();
        var crops = Assert.IsType<CropShelf>(Household.ReadCrops(ConfigFolder.Find(folder.Path, folder.Path), faults));
        var file = GardenFile.Read(Path.Combine(folder.Path, "garden.yaml"), Plan, crops, store: null, Instant.FromUtc(2026, 11, 1, 12, 0));
        Assert.Equal("de", file.Plan?.Tongue.Code);
        Assert.Equal("Tomaten", file.Plan?.Tongue.Word("tomatoes"));
    }

    [Fact]
    public async Task A_fault_of_a_language_is_told_with_its_line()
    {
        using var folder = Folder("language: de\nphrases:\n  \"tomatos\": \"Tomaten\"\n");
        var (code, told) = await Check(folder);
        Assert.NotEqual(0, code);
        Assert.Contains("de.yaml:3:3: nothing is said in these words: `tomatos`", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task All_phrases_are_printed_for_a_translator()
    {
        using var folder = Folder("");
        File.Delete(Path.Combine(folder.Path, "languages", "de.yaml"));
        var (code, told) = await Check(folder, "--phrases");
        Assert.Equal(0, code);
        Assert.Contains("\"Leaves near {0} {1}{2}: {3}.\": \"\"", told, StringComparison.Ordinal);
        Assert.Contains("\"{0} days\": { one: \"\", other: \"\" }", told, StringComparison.Ordinal);
    }
}

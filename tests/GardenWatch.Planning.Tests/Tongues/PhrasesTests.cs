using System.Runtime.CompilerServices;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Planning.Tests.Tongues;

public class PhrasesTests
{
    private static Phrases Shipped { get; } = Phrases.Of(CropShelf.Shipped(ConditionText.Read));

    [Fact]
    public void The_list_of_phrases_is_what_the_source_says()
    {
        string source = Path.Combine(Root(), "src");
        Assert.SkipUnless(Directory.Exists(source), "The source is not at hand.");
        var said = SourcePhrases.Of(new[] { "GardenWatch.Planning", "GardenWatch.Messages", "GardenWatch" }
            .SelectMany(room => Directory.EnumerateFiles(Path.Combine(source, room), "*.cs", SearchOption.AllDirectories))
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)));
        string list = Path.Combine(source, "GardenWatch.Planning", "Tongues", "phrases.txt");
        if (Environment.GetEnvironmentVariable("GARDENWATCH_REGENERATE") == "1")
            File.WriteAllText(list, string.Join('\n', said) + "\n");
        // With GARDENWATCH_REGENERATE=1 this test writes the list anew.
        Assert.Equal(string.Join('\n', said) + "\n", File.ReadAllText(list));
    }

    [Fact]
    public void Each_phrase_can_be_named_in_a_file_without_its_outer_blanks()
    {
        Assert.All(Shipped.Words, phrase => Assert.Equal(phrase, Shipped.Holds(phrase.Replace('\u00A0', ' ').Trim())));
        Assert.All(Shipped.Counted, phrase => Assert.Equal(phrase, Shipped.Counts(phrase.Replace('\u00A0', ' ').Trim())));
    }

    [Fact]
    public void The_skeleton_is_a_language_file_that_translates_nothing()
    {
        var reading = TongueFile.Read("language: eo\n" + Shipped.Skeleton(), "eo.yaml", Shipped);
        Assert.Empty(reading.Faults);
        Assert.Equal(Shipped.Words.Length + Shipped.Counted.Length, reading.Missing.Length);
    }

    [Fact]
    public void The_German_that_comes_along_leaves_nothing_in_English()
    {
        string file = Path.Combine(Root(), "config-samples", "languages", "de.yaml");
        Assert.SkipUnless(File.Exists(file), "The samples are not at hand.");
        var reading = TongueFile.Read(File.ReadAllText(file), "de.yaml", Shipped);
        Assert.Empty(reading.Faults);
        Assert.Empty(reading.Missing);
    }

    private static string Root([CallerFilePath] string here = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", ".."));
}

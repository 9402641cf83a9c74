using System.Runtime.CompilerServices;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Tests.Conditions;
using Json.Schema;
using NodaTime;

namespace GardenWatch.Planning.Tests.Schemas;

public sealed partial class SchemaTests
{
    private static readonly JsonSchema Garden = JsonSchema.FromText(PlanSchema.Garden());
    private static readonly JsonSchema Crop = JsonSchema.FromText(PlanSchema.Crop());

    private const string Plan = """
        garden: Mill Bank
        place: { town: Grafton }
        beds: [{ bed: low bed, soil: Silt Loam }]
        chores:
          - chore: Spread
            when:
              - 'rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}'
              - any: [dry past 2 days, { none: [no thunder next 6 hours] }]
            wish: cloud mean today at least 60 %
        """;

    [Theory]
    [InlineData("garden.schema.json")]
    [InlineData("crop.schema.json")]
    [InlineData("CONDITIONS.md")]
    public void What_ships_beside_the_samples_is_what_the_definition_gives(string file)
    {
        string now = file switch { "garden.schema.json" => PlanSchema.Garden(), "crop.schema.json" => PlanSchema.Crop(), _ => ConditionReference.Markdown() };
        string path = Path.Combine(Samples(), file);
        if (Environment.GetEnvironmentVariable("GARDENWATCH_REGENERATE") is not null)
            File.WriteAllText(path, now);
        Assert.True(File.Exists(path) && File.ReadAllText(path).ReplaceLineEndings("\n") == now,
            $"config-samples/{file} is not what the definition gives now: run these tests once with GARDENWATCH_REGENERATE=1, read the difference, commit it");
    }

    [Fact]
    public void The_sample_plan_fits_its_schema_and_names_it_for_editors()
    {
        string sample = File.ReadAllText(Path.Combine(Samples(), "garden.yaml"));
        Assert.Empty(Complaints(Garden, sample));
        string named = SchemaLine().Match(sample).Groups["file"].Value;
        Assert.True(File.Exists(Path.Combine(Samples(), named)), $"`{named}` is not there");
    }

    [Fact]
    public void The_sample_crop_fits_its_schema_and_changes_the_shipped_one()
    {
        string sample = File.ReadAllText(Path.Combine(Samples(), "crop.yaml"));
        Assert.Empty(Complaints(Crop, sample));
        Assert.True(File.Exists(Path.Combine(Samples(), SchemaLine().Match(sample).Groups["file"].Value)));
        var (shelf, faults) = CropShelf.Read([.. CropShelf.ShippedFiles(), ("crop.yaml", sample)], ConditionText.Read);
        Assert.Empty(faults);
        var tomato = shelf!.Find("love apples")!;
        Assert.Equal((0.3, 1.15), (tomato.Water!.Depletion, tomato.Water.KcFull));
        Assert.Equal(17, Assert.Single(tomato.Jobs, job => job.Kind == JobKind.SetOut).Numbers["soil"].Value);
    }

    [Fact]
    public void Every_shipped_crop_fits_its_schema() =>
        Assert.All(CropShelf.ShippedFiles(), file => Assert.Empty(Complaints(Crop, InQuotes().Replace(file.Text, "$1'$2'"))));

    [Fact]
    public void A_plan_that_reads_well_fits_and_flaws_an_editor_can_see_do_not()
    {
        Assert.Empty(Faults(Plan));
        Assert.Empty(Complaints(Garden, Plan));
        foreach (var (right, wrong) in ((string, string)[])
            [("garden:", "gadren:"), ("rain total", "rian total"), ("Silt Loam", "Silt Lome"), ("none:", "nun:"), ("dry past", "dry pasta"), ("chore:", "chord:"), ("wish: cloud mean today at least 60 %", "wish: cloud mean today")])
        {
            string flawed = Plan.Replace(right, wrong, StringComparison.Ordinal);
            Assert.NotEmpty(Faults(flawed));
            Assert.NotEmpty(Complaints(Garden, flawed));
        }
    }

    [Theory]
    [InlineData("", "")]
    [InlineData("place", "place: { town: A, QQ }")]
    [InlineData("in the garden", "in the garden: { QQ }")]
    [InlineData("away", "away: [{ from: 1 May, to: 2 May, QQ }]")]
    [InlineData("digest", "digest: { QQ }")]
    [InlineData("beds", "beds: [{ bed: a, QQ }]")]
    [InlineData("plantings", "beds: [{ bed: a }]\nplantings: [{ crop: radish, QQ }]")]
    public void The_schema_has_the_keys_that_the_reader_takes(string key, string lines)
    {
        const string unknown = "qqqqqqqqqqqqqqqq: 1";
        string plan = $"garden: A\n{(key == "place" ? "" : "place: { town: B }\n")}{lines.Replace("QQ", unknown, StringComparison.Ordinal)}\n{(key.Length == 0 ? unknown + "\n" : "")}";
        const string known = "known are: ";
        string told = Assert.Single(Faults(plan), fault => fault.Instead?.StartsWith(known, StringComparison.Ordinal) == true).Instead!;
        Assert.Equal(told[known.Length..].Split(", ").Order(), KeysOf(key).Order());
    }

    [Fact]
    public void Every_key_of_a_chore_in_the_schema_is_one_that_the_reader_takes() =>
        Assert.All(KeysOf("chores"), key =>
            Assert.DoesNotContain(Faults($"garden: A\nplace: {{ town: B }}\nchores: [{{ {key}: zz }}]\n"), fault => fault.Problem.EndsWith("is not known here", StringComparison.Ordinal)));

    [Fact]
    public void Every_phrase_that_reads_is_one_an_editor_lets_pass()
    {
        var pattern = new Regex(PlanSchema.PhrasePattern(), RegexOptions.ECMAScript);
        Gen.Select(Gen.OneOf([.. PublishedPhraseTests.Rows.Select(row => row.Phrase), .. ConditionLanguage.Measures.Select(row => row.Example), "dry past 2 days", "no hail next 6 hours", "any of (dry today; rain today at least 3 mm)"]), Gen.Int)
            .Sample((phrase, seed) =>
            {
                var chance = new Random(seed);
                string shouted = string.Concat(phrase.Select(c => chance.Next(2) == 0 ? char.ToUpperInvariant(c) : c));
                Assert.Equal(ConditionText.Read(shouted) is ConditionReading.Ok, pattern.IsMatch(shouted));
            });
    }

    private static string[] KeysOf(string key)
    {
        JsonNode node = JsonNode.Parse(PlanSchema.Garden())!;
        if (key.Length > 0)
            node = node["properties"]![key]!;
        node = node["anyOf"]?[0] ?? node;
        return [.. node["properties"]!.AsObject().Select(property => property.Key)];
    }

    private static System.Collections.Immutable.ImmutableArray<FileFault> Faults(string plan) =>
        PlanFile.Read(plan, "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], new LocalDate(2026, 4, 1), ConditionText.Read).Faults;

    private static List<string> Complaints(JsonSchema schema, string yaml)
    {
        using var json = JsonDocument.Parse(YamlAsJson.Of(yaml)!.ToJsonString());
        var results = schema.Evaluate(json.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        return results.IsValid
            ? []
            : [.. (results.Details ?? []).Where(d => d.Errors is not null).SelectMany(d => d.Errors!.Select(e => $"{d.InstanceLocation}: {e.Value}")), "invalid"];
    }

    private static string Samples([CallerFilePath] string test = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(test)!, "..", "..", "..", "config-samples"));

    /// <summary>A phrase with a named number, which an editor's YAML takes for a map where it has no quotes.</summary>
    [GeneratedRegex(@"(?<=\n)( *- )([a-z][^'""\n]*\{[^}\n]*: [^'\n]*)(?=\r?\n)", RegexOptions.CultureInvariant)]
    private static partial Regex InQuotes();

    [GeneratedRegex(@"^# yaml-language-server: \$schema=(?<file>\S+)\r?\n", RegexOptions.CultureInvariant)]
    private static partial Regex SchemaLine();
}

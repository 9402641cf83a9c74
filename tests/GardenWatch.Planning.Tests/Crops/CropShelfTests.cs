using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tests.Crops;

public sealed class CropShelfTests(ITestOutputHelper output)
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);

    private static IEnumerable<Dictionary<string, string>> Published()
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Published", "crops.csv"));
        string[] heads = lines[1].Split(',');
        return lines.Skip(2).Select(line => heads.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second));
    }

    private static double? Number(string text) => text.Length == 0 ? null : double.Parse(text, CultureInfo.InvariantCulture);

    [Fact]
    public void Shipped_numbers_are_the_published_ones()
    {
        foreach (var row in Published())
        {
            var crop = Assert.Single(Shelf.Crops, c => c.Name == row["crop"]);
            // Sweet corn's harvest total was fitted with 50/86 °F, so its own ceiling goes with it.
            if (crop.Name != "sweet corn")
                Same(row["upper_temp_c"], crop.Warmth?.Ceiling?.Celsius);
            Same(row["base_temp_c"], crop.Warmth?.Base.Celsius);
            // Garlic stands still over winter, so its printed 180 days from planting would call it ripe in spring.
            if (crop.Name != "garlic")
            {
                Same(row["days_to_maturity_min"], crop.Days?.From);
                Same(row["days_to_maturity_max"], crop.Days?.To);
                Assert.Equal(row["maturity_counted_from"] == "transplanting", crop.Days?.Counted == CountedFrom.SettingOut);
            }
            Same(row["germ_min_c"], crop.Germination?.Least.Celsius);
            Same(row["germ_opt_low_c"], crop.Germination?.BestFrom.Celsius);
            Same(row["germ_opt_high_c"], crop.Germination?.BestTo.Celsius);
            Same(row["germ_max_c"], crop.Germination?.Most.Celsius);
            Same(row["growth_opt_low_c"], crop.Growth?.BestFrom?.Celsius);
            Same(row["growth_opt_high_c"], crop.Growth?.BestTo?.Celsius);
            Same(row["growth_max_c"], crop.Growth?.Most?.Celsius);
            Same(row["weeks_indoors_min"], crop.WeeksIndoors?.From);
            Same(row["weeks_indoors_max"], crop.WeeksIndoors?.To);
            Same(row["damage_begins_c_high"], crop.CriticalLows[FrostStage.Seedlings].Celsius);
            Same(row["damage_begins_c_low"], crop.CriticalLows[FrostStage.Leaves].Celsius);
            Within(row["depth_cm_min"], row["depth_cm_max"], crop.SowingDepthMetres);
            Within(row["spacing_in_row_cm_min"], row["spacing_in_row_cm_max"], crop.SpacingMetres);
            Within(row["row_spacing_cm_min"], row["row_spacing_cm_max"], crop.RowSpacingMetres);
            // Covering is asked for no later than damage is published to begin; garlic's leaves come back and are not covered.
            Assert.True(crop.LeafLimit.Celsius >= Number(row["damage_begins_c_high"]), crop.Name);
        }
    }

    /// <summary>Where nothing is published the profile may still say something, by common practice.</summary>
    private static void Same(string published, double? ours)
    {
        if (Number(published) is { } number)
            Assert.Equal(number, ours);
    }

    private static void Within(string leastCm, string mostCm, double? ours)
    {
        if (Number(leastCm) is { } least && Number(mostCm) is { } most)
            Assert.InRange(ours!.Value * 100, least - 0.5, most + 0.5);
    }

    [Fact]
    public void Every_shipped_crop_is_consistent_and_names_its_sources()
    {
        foreach (var crop in Shelf.Crops)
        {
            Assert.NotEmpty(crop.Botanical);
            Assert.NotEmpty(crop.Family);
            if (crop.Warmth is { Ceiling: { } ceiling } warmth)
                Assert.True(warmth.Base < ceiling, crop.Name);
            if (crop.Germination is { } g)
                Assert.True(g.Least <= g.BestFrom && g.BestFrom < g.BestTo && g.BestTo <= g.Most, crop.Name);
            Assert.InRange(crop.LeafLimit.Celsius, crop.Hardiness switch
            {
                Hardiness.VeryTender => 3,
                Hardiness.Tender => 2,
                Hardiness.HalfHardy => -4,
                _ => -10,
            }, 5);
            Assert.InRange(crop.SowingDepthMetres!.Value, 0.001, 0.2);
            Assert.InRange(crop.SpacingMetres!.Value, 0.02, crop.Habit?.Form == GrowthForm.Woody ? 4 : 1.5);
            foreach (string group in Groups(crop))
                Assert.NotEmpty(crop.Sources[group]);
            foreach (var job in crop.Jobs)
            {
                Assert.NotEmpty(job.Source);
                Assert.True(!job.Conditions.When.IsEmpty || job.Kind is JobKind.Net or JobKind.Harvest or JobKind.Cure or JobKind.Stake, $"{crop.Name}: {job.Kind} asks nothing");
                Assert.DoesNotContain('{', job.Name.Replace("{plants}", "", StringComparison.Ordinal));
                Assert.InRange(job.Minutes!.Value, 1, 60);
                if (job.Kind == JobKind.Cover)
                {
                    Assert.Equal(new Quantity(crop.LeafLimit.Celsius, Dimension.Temperature), job.Numbers["leaf"]);
                    Assert.NotNull(job.Otherwise);
                    Assert.Contains(job.Cautions, caution => caution.Contains("flame", StringComparison.Ordinal));
                }
            }
            output.WriteLine($"{crop.Name,-14} {string.Join(", ", crop.Jobs.Select(job => job.Kind.Word()))}; memory only: {string.Join(", ", Groups(crop).Where(group => crop.Sources[group] == "common practice"))}");
        }
    }

    private static IEnumerable<string> Groups(CropProfile crop)
    {
        yield return "frost";
        yield return "sowing";
        if (crop.Warmth is not null)
            yield return "warmth";
        if (crop.Days is not null)
            yield return "first picking";
        if (crop.Germination is not null)
            yield return "germination";
        if (crop.WeeksIndoors is not null)
            yield return "indoors";
    }

    [Theory]
    [InlineData("tomato", "tomato")]
    [InlineData("Tomatoes", "tomato")]
    [InlineData("  ZUCCHINI ", "summer squash")]
    [InlineData("bush beans", "snap bean")]
    [InlineData("bean", "snap bean")]
    public void A_crop_is_found_by_any_of_its_names(string written, string name) => Assert.Equal(name, Shelf.Find(written)?.Name);

    [Theory]
    [InlineData("tomatos", "tomato")]
    [InlineData("lettcue", "lettuce")]
    [InlineData("xylophone", null)]
    public void What_was_probably_meant_is_named(string written, string? name) => Assert.Equal(name, Shelf.Nearest(written));

    private static (CropShelf? Shelf, ImmutableArray<FileFault> Faults) With(string own) =>
        CropShelf.Read(CropShelf.ShippedFiles().Append(("crops/mine.yaml", own)), ConditionText.Read);

    [Fact]
    public void A_gardeners_file_changes_field_by_field()
    {
        var (shelf, faults) = With("crop: tomatoes\nplants: love apples\njobs:\n  set out:\n    minutes: 50\n    numbers: { soil: 17 °C }\n");
        Assert.Empty(faults);
        var tomato = shelf!.Find("tomato")!;
        Assert.Equal("tomato", tomato.Name);
        Assert.Equal("love apples", tomato.Plants);
        Assert.Equal(7, tomato.Warmth!.Base.Celsius);
        var setOut = Assert.Single(tomato.Jobs, job => job.Kind == JobKind.SetOut);
        Assert.Equal(50, setOut.Minutes);
        Assert.Equal(17, setOut.Numbers["soil"].Value);
        Assert.Equal(7, setOut.Numbers["nights"].Value);
        Assert.Equal(2, setOut.Conditions.When.Length);
        Assert.Contains(tomato.Jobs, job => job.Kind == JobKind.Cover);
    }

    [Fact]
    public void One_field_of_a_group_changes_alone_and_its_source_says_so()
    {
        var (shelf, faults) = With("crop: aubergine\nwater: { depletion: 50 % }\nlimits: { no fruit set: { days above: 38 °C } }\nrotation: { years: 5, to be sure: 6, source: my soil test }\n");
        Assert.Empty(faults);
        var eggplant = shelf!.Find("eggplant")!;
        Assert.Equal((0.5, 1.05), (eggplant.Water!.Depletion, eggplant.Water.KcFull));
        Assert.EndsWith("; changed in crops/mine.yaml", eggplant.Sources["water"], StringComparison.Ordinal);
        var limit = Assert.Single(eggplant.Limits);
        Assert.Equal((38, 15), (limit.DaysAbove?.Celsius, limit.NightsBelow?.Celsius));
        Assert.Equal(5, eggplant.Rotation!.Years);
        Assert.Equal("FAO-56 (Allen et al. 1998) tables 11, 12, 22", shelf.Find("tomato")!.Sources["water"]);
    }

    [Fact]
    public void A_changed_leaf_limit_changes_the_cover_job()
    {
        var (shelf, _) = With("crop: tomato\nfrost: { leaf limit: 4 °C, source: my low bed }\n");
        var tomato = shelf!.Find("tomato")!;
        Assert.Equal(4, Assert.Single(tomato.Jobs, job => job.Kind == JobKind.Cover).Numbers["leaf"].Value);
    }

    [Fact]
    public void A_new_crop_needs_its_hardiness_only()
    {
        var (shelf, faults) = With("crop: oca\nhardiness: tender\n");
        Assert.Empty(faults);
        Assert.Equal(2, shelf!.Find("oca")!.LeafLimit.Celsius);
        Assert.Contains(shelf.Find("oca")!.Jobs, job => job.Kind == JobKind.Cover);
    }

    [Theory]
    [InlineData("crop: oca\n", "1:1: the hardiness of oca is not said")]
    [InlineData("crop: oca\nhardiness: tendr\n", "2:12: `tendr` is no hardiness; did you mean tender?")]
    [InlineData("crop: tomato\nwarmth: { base: 40 °C }\n", "the ceiling is not above the base")]
    [InlineData("crop: tomato\njobs: { sett out: { minutes: 5 } }\n", "2:9: `sett out` is no kind of job; did you mean `set out`?")]
    [InlineData("crop: tomato\njobs: { set out: { numbers: { soill: 17 °C } } }\n", "2:31: no phrase of this job has a number `soill`; did you mean `soil`?")]
    [InlineData("crop: tomato\ngermination: { best: 30 to 20 °C }\n", "2:22: `30 to 20 °C` runs backwards")]
    [InlineData("crop: tomato\nwater: { kc full: 11 }\n", "2:19: `11` is no crop coefficient; a number from 0.1 to 1.4")]
    [InlineData("crop: tomato\nwater: { stages: [20, 30, 40] }\n", "2:19: 3 stages are given; there are four")]
    [InlineData("crop: tomato\nhabit: { form: wody }\n", "2:16: `wody` is no form; did you mean woody?")]
    [InlineData("crop: tomato\nneighbours: [{ with: basil, evidence: trial }]\n", "2:14: a neighbour wants `with` and `effect`")]
    [InlineData("crop: oca\nhardiness: tender\nrotation: { because: wilts, source: me }\n", "3:11: `rotation` wants its `years`")]
    [InlineData("crop: tomato\npests: [{ name: moths, appears: 90 °C days }]\n", "2:9: degree-days want their `base` and what they count `since`")]
    [InlineData("crop: tomato\nlimits: { bolting: { days over: 27 °C } }\n", "2:22: `days over` is not known here; did you mean `days above`?")]
    [InlineData("crop: tomato\ngrowth: { best: 24 to 28 °C }\n", "the most is below the best")]
    [InlineData("crop: tomato\npicking: { over: 60 to 30 days }\n", "2:18: `60 to 30 days` runs backwards")]
    [InlineData("plants: ocas\n", "1:1: this is no crop")]
    [InlineData("crop: tomato\nspaceing: 4\n", "2:1: `spaceing` is not known here")]
    public void A_mistake_is_told_with_its_place(string own, string fault)
    {
        var (shelf, faults) = With(own);
        Assert.Null(shelf);
        Assert.Contains(faults, f => f.ToString().StartsWith("crops/mine.yaml:", StringComparison.Ordinal) && f.ToString().Contains(fault, StringComparison.Ordinal));
    }
}

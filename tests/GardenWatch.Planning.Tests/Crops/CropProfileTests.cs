using System.Diagnostics;
using System.Globalization;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Crops;

public sealed class CropProfileTests(ITestOutputHelper output)
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);

    /// <summary>
    /// Deep is: every field answered, from wherever. How much of it stands in a source that was read, and how much is
    /// remembered or practice, is told beside it and kept from growing worse.
    /// </summary>
    [Fact]
    public void Forty_crops_and_more_are_known_in_every_field_and_what_rests_on_practice_is_told()
    {
        var crops = Shelf.Crops;
        foreach (var (field, known) in CropDepth.Fields.Concat(CropDepth.WherePublished))
            output.WriteLine($"{field,-38} {crops.Count(known),3} of {crops.Length}");
        output.WriteLine($"{"group",-18} {"named",6} {"mixed",6} {"memory",7} {"practice",9}");
        foreach (var group in crops.SelectMany(crop => crop.Sources).GroupBy(source => source.Key).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            int Of(SourceGrade grade) => group.Count(source => CropDepth.Grade(source.Value) == grade);
            output.WriteLine($"{group.Key,-18} {Of(SourceGrade.Named),6} {Of(SourceGrade.Mixed),6} {Of(SourceGrade.Memory),7} {Of(SourceGrade.Practice),9}");
        }
        int deep = 0, halfRead = 0, halfPartlyRead = 0;
        foreach (var crop in crops)
        {
            string[] missing = [.. CropDepth.Missing(crop)];
            int read = crop.Sources.Count(source => CropDepth.Grade(source.Value) == SourceGrade.Named);
            int partly = crop.Sources.Count(source => CropDepth.Grade(source.Value) == SourceGrade.Mixed);
            deep += missing.Length == 0 ? 1 : 0;
            halfRead += 2 * read >= crop.Sources.Count ? 1 : 0;
            halfPartlyRead += 2 * (read + partly) >= crop.Sources.Count ? 1 : 0;
            output.WriteLine($"{crop.Name,-22} {CropDepth.Fields.Length - missing.Length,2} of {CropDepth.Fields.Length} fields, {read,2} of {crop.Sources.Count} groups from sources that were read, {partly} more in part  {string.Join(", ", missing)}");
        }
        output.WriteLine($"{crops.Length} crops, {deep} deep; half the groups from sources that were read: {halfRead}, at least in part: {halfPartlyRead}");
        Assert.True(crops.Length >= 105, $"{crops.Length} crops");
        Assert.True(deep >= 40, $"{deep} deep");
        // As many as there were when this was first counted; more is better, fewer is a loss.
        Assert.True(halfRead >= 10, $"{halfRead} half from sources");
        Assert.True(halfPartlyRead >= 37, $"{halfPartlyRead} half from sources in part");
    }

    [Theory]
    [InlineData("Purdue HO-203", SourceGrade.Named)]
    [InlineData("common practice", SourceGrade.Practice)]
    [InlineData("common practice (crowns at 10 °C)", SourceGrade.Practice)]
    [InlineData("common practice; hardening: Univ. of Maryland Extension", SourceGrade.Mixed)]
    [InlineData("Purdue HO-203; other parts: common practice", SourceGrade.Mixed)]
    [InlineData("from memory: FAO-56 table 12, row of small vegetables; roots: common practice", SourceGrade.Memory)]
    internal void Practice_and_memory_do_not_pass_for_a_source(string source, SourceGrade grade) => Assert.Equal(grade, CropDepth.Grade(source));

    [Fact]
    public void Every_number_is_in_its_range_and_fits_the_others()
    {
        var wrong = new List<string>();
        foreach (var crop in Shelf.Crops)
        {
            void Holds(bool rule, string what)
            {
                if (!rule)
                    wrong.Add($"{crop.Name}: {what}");
            }

            Holds(crop.Habit!.HeightMetres is >= 0.05 and <= 3, "height");
            Holds(crop.CriticalLows[FrostStage.Seedlings] >= crop.CriticalLows[FrostStage.Leaves], "hardened leaves bear no less than seedlings");
            Holds(crop.CriticalLows.Values.All(low => low.Celsius is >= -30 and <= 5), "critical lows");
            Holds(crop.LeafLimit >= crop.CriticalLows[FrostStage.Leaves], "leaves are covered before they are harmed");
            Holds(crop.Growth is null || (crop.Growth.BestFrom <= crop.Growth.BestTo && crop.Growth.BestTo <= crop.Growth.Most), "growth");
            Holds(crop.Warmth is null || (crop.Warmth.Base.Celsius is >= -2 and <= 16 && crop.Warmth.Ceiling?.Celsius is null or >= 24 and <= 40), "warmth");
            Holds(crop.Germination is not { UpAfterDays: (var up, var last) } || (up >= 1 && last <= 60), "days until up");
            foreach (var (soil, days) in crop.Germination?.UpAfter ?? [])
                Holds(soil.Celsius is >= 0 and <= 40 && days is >= 1 and <= 180, "days until up by soil");
            foreach (var limit in crop.Limits)
            {
                Holds(limit.DaysAbove?.Celsius is null or >= 18 and <= 40, "hot days");
                Holds(limit.NightsAbove?.Celsius is null or >= 16 and <= 30, "hot nights");
                Holds(limit.NightsBelow?.Celsius is null or >= 0 and <= 18, "cold nights");
                Holds(limit.ColdBelow is null == limit.ForDays is null, "cold wants a time");
                Holds(limit.DaylightHours is null or >= 10 and <= 18, "daylight");
                Holds(limit is not { DaysAbove: null, NightsAbove: null, NightsBelow: null, ColdBelow: null, DaylightHours: null }, "a limit has a number");
            }
            Holds(crop.RowSpacingMetres is null || crop.RowSpacingMetres >= crop.SpacingMetres - 0.01, "rows are no closer than plants");
            if (crop.Water is { } water)
            {
                Holds(water.KcFirst <= water.KcFull && water.KcFull is >= 0.8 and <= 1.2, "crop coefficients");
                Holds(water.RootsFromMetres <= water.RootsToMetres && water.RootsToMetres is >= 0.2 and <= 2, "roots");
                Holds(water.Depletion is >= 0.15 and <= 0.7, "depletion");
                Holds(water.StageDays.Sum() is >= 25 and <= 400, "stages");
            }
            Holds(crop.Roots!.PotLitres is >= 1 and <= 60, "pot");
            Holds(crop.Successions!.EveryDays is null or >= 7 and <= 60, "successions");
            Holds(crop.WeeksIndoors is not (var weeks, var most) || (weeks >= 2 && weeks <= most && most <= 12), "weeks indoors");
            Holds(crop.HardenOffDays is not (var few, var many) || (few >= 3 && few <= many && many <= 14), "hardening off");
            Holds(crop.Picking!.OverDays is (>= 5, <= 240), "picking");
            Holds(crop.Seed!.Years is null or >= 1 and <= 6, "seed life");
            Holds(crop.Neighbours.All(n => n.Source.Length > 0 && n.What.Length > 0), "neighbours");
            // A trial and an extension's word name who found it; a custom is nobody's.
            Holds(crop.Neighbours.All(n => n.Evidence == EvidenceGrade.Custom || n.Source != "common practice"), "evidence");
            Holds(crop.Pests.Concat(crop.Diseases).All(t => t.Sign.Length > 0 && t.Remedy.Length > 0 && t.Source.Length > 0), "threats");
            Holds(crop.Pests.All(t => t.Appears is null || t.Source != "common practice"), "warmth of pests");
            Holds(crop.Sources.Values.All(source => source.Length > 0), "sources");

            bool Has(JobKind kind) => crop.Jobs.Any(job => job.Kind == kind);
            Holds(crop.Start == StartedIn.Indoors || Has(JobKind.Sow), "what starts in place is sown");
            Holds(crop.Start == StartedIn.Place || (Has(JobKind.StartIndoors) && Has(JobKind.SetOut)), "what starts indoors is set out");
            foreach (var job in crop.Jobs.Where(job => job.Kind == JobKind.Sow && job.Name.StartsWith("Sow", StringComparison.Ordinal) && job.Numbers.ContainsKey("soil") && crop.Germination is not null))
                Holds(job.Numbers["soil"].Value >= crop.Germination!.Least.Celsius - 0.5, "nothing is sown colder than it comes up");
        }
        Assert.True(wrong.Count == 0, string.Join("; ", wrong));
    }

    [Fact]
    public void Every_name_is_one_crops_alone_and_finds_it()
    {
        var owners = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (var crop in Shelf.Crops)
        {
            foreach (string name in crop.AlsoCalled.Append(crop.Name).Append(crop.Plants).Distinct())
            {
                Assert.True(owners.TryAdd(name, crop.Name), $"`{name}` is {owners[name]} and {crop.Name}");
                Assert.Equal(crop.Name, Shelf.Find(name)?.Name);
            }
        }
    }

    [Theory]
    [InlineData("courgette", "zucchini", "summer squash")]
    [InlineData("aubergine", "eggplant", "eggplant")]
    [InlineData("swede", "rutabaga", "rutabaga")]
    [InlineData("rocket", "arugula", "arugula")]
    [InlineData("broad beans", "fava bean", "broad bean")]
    [InlineData("beetroot", "beets", "beetroot")]
    [InlineData("coriander", "cilantro", "coriander")]
    [InlineData("spring onions", "scallions", "scallion")]
    [InlineData("sweetcorn", "corn", "sweet corn")]
    [InlineData("lamb's lettuce", "mache", "corn salad")]
    [InlineData("swiss chard", "silverbeet", "chard")]
    [InlineData("chilli", "chili peppers", "hot pepper")]
    [InlineData("pak choi", "bok choy", "pak choi")]
    [InlineData("mangetout", "snow peas", "pea")]
    public void Gardeners_of_either_side_of_the_ocean_find_it(string one, string other, string name)
    {
        Assert.Equal(name, Shelf.Find(one)?.Name);
        Assert.Equal(name, Shelf.Find(other)?.Name);
    }

    [Fact]
    public void Days_until_up_are_those_of_the_published_table()
    {
        var rows = Published("up_by_soil.csv").ToList();
        foreach (var row in rows)
            Assert.Contains(Crop(row).Germination!.UpAfter, up => up.Soil.Celsius == Number(row["soil_c"]) && up.Days == Number(row["days"]));
        Assert.Equal(rows.Count, Shelf.Crops.Sum(crop => crop.Germination?.UpAfter.Length ?? 0));
    }

    [Fact]
    public void Water_is_that_of_the_published_tables()
    {
        foreach (var row in Published("crop_water.csv"))
        {
            var water = Crop(row).Water!;
            Assert.Equal((Number(row["kc_ini"]), Number(row["kc_mid"]), Number(row["kc_end"])), (water.KcFirst, water.KcFull, water.KcLast));
            Assert.Equal((Number(row["root_depth_min_m"]), Number(row["root_depth_max_m"])), (water.RootsFromMetres, water.RootsToMetres));
            Assert.Equal(Number(row["depletion_fraction_p"])!.Value, water.Depletion!.Value, 3);
            if (row["L_ini_d"].Length > 0)
                Assert.Equal([Days(row["L_ini_d"]), Days(row["L_dev_d"]), Days(row["L_mid_d"]), Days(row["L_late_d"])], water.StageDays);
        }
    }

    [Fact]
    public void Seed_keeps_as_long_as_published()
    {
        foreach (var row in Published("seed_keeps.csv"))
            Assert.Equal(Days(row["years"]), Crop(row).Seed!.Years);
    }

    [Fact]
    public void Pests_are_about_after_the_published_warmth()
    {
        var rows = Published("pest_warmth.csv").ToDictionary(row => row["pest"]);
        var told = Shelf.Crops.SelectMany(crop => crop.Pests).Where(pest => pest.Appears is not null).ToList();
        Assert.Equal(rows.Keys.Order(StringComparer.Ordinal), told.Select(pest => pest.Name).Distinct().Order(StringComparer.Ordinal));
        foreach (var pest in told)
        {
            // Rounded for the reader: a tenth of a degree, a whole degree-day.
            Assert.Equal(Number(rows[pest.Name]["base_c"])!.Value, pest.Appears!.Base.Celsius, 0.051);
            Assert.Equal(Number(rows[pest.Name]["degree_days_c"])!.Value, pest.Appears.SinceCd, 0.51);
        }
    }

    [Fact]
    public void Later_generations_come_after_the_published_warmth()
    {
        var rows = Published("pest_generations.csv").GroupBy(row => row["pest"]).ToDictionary(group => group.Key, group => group.Select(row => Number(row["degree_days_c"])!.Value).ToList());
        var told = Shelf.Crops.SelectMany(crop => crop.Pests).Where(pest => pest.Appears is { AgainCd.IsEmpty: false }).ToList();
        Assert.Equal(rows.Keys.Order(StringComparer.Ordinal), told.Select(pest => pest.Name).Distinct().Order(StringComparer.Ordinal));
        foreach (var pest in told)
            Assert.All(rows[pest.Name].Zip(pest.Appears!.AgainCd, (printed, own) => (printed, own)), pair => Assert.Equal(pair.printed, pair.own, 0.51));
        Assert.All(told, pest => Assert.Equal(rows[pest.Name].Count, pest.Appears!.AgainCd.Length));
    }

    [Fact]
    public void Families_rest_as_long_as_published()
    {
        var rows = Published("rotation.csv").ToDictionary(row => row["family"]);
        foreach (var crop in Shelf.Crops.Where(crop => rows.ContainsKey(crop.Family)))
        {
            Assert.Equal(Days(rows[crop.Family]["least"]), crop.Rotation!.Years);
            if (rows[crop.Family]["to_be_sure"] is { Length: > 0 } sure)
                Assert.Equal(Days(sure), crop.Rotation.YearsToBeSure);
        }
        Assert.All(rows.Keys, family => Assert.Contains(Shelf.Crops, crop => crop.Family == family));
    }

    /// <summary>Laying one entry of a group over a crop asks for none of the others.</summary>
    [Theory]
    [InlineData("tomato")]
    [InlineData("kale")]
    [InlineData("strawberry")]
    [InlineData("garlic")]
    public void Any_group_may_be_changed_alone(string name)
    {
        var before = Shelf.Find(name)!;
        foreach (string group in before.Sources.Keys)
        {
            string own = before.Limits.Length > 0 && group is "bolting" or "no fruit set" or "bitterness" or "no tubers" or "bulbing" or "standstill"
                ? $"crop: {name}\nlimits: {{ {group}: {{ source: my garden }} }}\n"
                : $"crop: {name}\n{group}: {{ source: my garden }}\n";
            var (shelf, faults) = CropShelf.Read([.. CropShelf.ShippedFiles(), ("mine.yaml", own)], ConditionText.Read);
            Assert.Empty(faults);
            var after = shelf!.Find(name)!;
            Assert.Equal(before.Sources.SetItem(group, after.Sources[group]), after.Sources);
            Assert.Equal("my garden; the rest as it was", after.Sources[group]);
            Assert.Equal(CropDepth.Missing(before), CropDepth.Missing(after));
            Assert.Equal((before.Warmth?.Base, before.Days, before.Growth, before.SpacingMetres, before.Habit, before.Picking, before.Rotation, before.Seed, before.Roots),
                (after.Warmth?.Base, after.Days, after.Growth, after.SpacingMetres, after.Habit, after.Picking, after.Rotation, after.Seed, after.Roots));
        }
    }

    /// <summary>Printed, not judged: a busy machine is no fault. Common practice would have it in some ten milliseconds.</summary>
    [Fact]
    public void What_the_shelf_costs_is_told()
    {
        var first = Stopwatch.StartNew();
        var shelf = CropShelf.Shipped(ConditionText.Read);
        first.Stop();
        var few = Stopwatch.StartNew();
        Assert.All((string[])["tomato", "carrot", "leek", "basil", "pea", "kale"], name => Assert.NotNull(shelf.Find(name)));
        few.Stop();
        var all = Stopwatch.StartNew();
        Assert.NotEmpty(shelf.Crops);
        all.Stop();
        output.WriteLine($"names {first.Elapsed.TotalMilliseconds:0.0} ms, six crops {few.Elapsed.TotalMilliseconds:0.0} ms, all {all.Elapsed.TotalMilliseconds:0.0} ms");
    }

    private static CropProfile Crop(Dictionary<string, string> row) => Assert.Single(Shelf.Crops, crop => crop.Name == row["crop"]);

    private static IEnumerable<Dictionary<string, string>> Published(string file)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Published", file));
        string[] heads = lines[1].Split(',');
        return lines.Skip(2).Select(line => heads.Zip(line.Split(',')).ToDictionary(pair => pair.First, pair => pair.Second));
    }

    private static double? Number(string text) => text.Length == 0 ? null : double.Parse(text, CultureInfo.InvariantCulture);

    private static int Days(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}

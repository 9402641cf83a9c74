using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.FirstPlans;

/// <summary>The plan made of the answers is read back without a finding, whatever was answered.</summary>
public sealed class FirstPlanTests
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);
    private static readonly LocalDate Today = new(2026, 4, 20);

    private static readonly string[] Bits =
        ["two 1.2 x 3 m", "pots", "4x8", "tomatoes", "carrots sown mid April", "kale", "every", "in bed 1", "(", "\"", "6", "1/2", "# x", "{", "'", ":", "sill"];

    private static FirstPlan Of(string beds, string crops, UnitSystem units = UnitSystem.Metric, string name = FirstPlan.UsualName, string? to = "pat@example.org")
    {
        var read = Assert.IsType<BedsReading.Ok>(BedsSaid.Read(beds, units)).Beds;
        var said = CropsSaid.Read(crops, Shelf, [.. read.Select(bed => bed.Name)]);
        return new()
        {
            Name = name,
            Place = new("Toronto", "CA", 43.70643, -79.39864, 161, "America/Toronto"),
            Units = units,
            Beds = read,
            Crops = said.Crops,
            LeftOut = [.. said.Doubts.Select(doubt => doubt.Item)],
            To = to,
        };
    }

    private static PlanReading Back(FirstPlan first) => PlanFile.Read(first.Text(Today), "garden.yaml", Shelf, [], Today, ConditionText.Read, [ChannelWords.Push]);

    private static Plan Sound(FirstPlan first)
    {
        var reading = Back(first);
        Assert.True(reading.Faults.IsEmpty && reading.Remarks.IsEmpty, string.Join("\n", reading.Faults.Concat(reading.Remarks)) + "\n" + first.Text(Today));
        return reading.Plan!;
    }

    [Fact]
    public void The_usual_answers_make_a_sound_plan()
    {
        foreach (var units in Enum.GetValues<UnitSystem>())
        {
            var plan = Sound(Of(FirstPlan.UsualBeds(units), FirstPlan.UsualCrops, units));
            Assert.Equal(2, plan.Beds.Length);
            Assert.Equal(5, plan.Plantings.Length);
            Assert.Equal(units, plan.Units);
            Assert.Equal("pat@example.org", Assert.Single(plan.Digest.To).Address);
            Assert.Equal(("home-garden", "America/Toronto"), (plan.GardenId, plan.Place.ZoneId));
            Assert.Equal(43.7064, plan.Place.LatitudeDegrees!.Value, 4);
            Assert.Equal(161, plan.Place.ElevationMetres);
            Assert.Equal(GardenHours.Usual.Weekdays, plan.InTheGarden.Weekdays);
        }
    }

    [Fact]
    public void What_was_told_of_a_crop_stands_in_the_plan()
    {
        var plan = Sound(Of("two 4 x 8 ft, greenhouse, windowsill, pots",
            "6 brandywine tomatoes in the greenhouse bought mid May, garlic planted late October last year, radishes every 10 days until too warm, peppers from seed, kale growing, basil in pots", UnitSystem.Us));
        Planting P(string crop) => Assert.Single(plan.Plantings, planting => planting.Crop.Name == crop);
        Assert.Equal((6, "brandywine", Origin.Bought, "greenhouse"), (P("tomato").Plants!.Value, P("tomato").Variety, P("tomato").Origin, plan.BedOf(P("tomato").BedId).Name));
        Assert.Equal(new LocalDate(2025, 10, 21), P("garlic").OriginDate!.Value.From);
        Assert.Equal(new Succession(10, null, UntilTooWarm: true), P("radish").Sowings);
        Assert.Equal("windowsill", plan.BedOf(P("sweet pepper").StartBedId!).Name);
        Assert.Equal(Origin.Growing, P("kale").Origin);
        Assert.Equal("pots", plan.BedOf(P("basil").BedId).Name);
        Assert.Equal(1.22, plan.Beds[0].Size!.Value.Item1, 2);
    }

    [Fact]
    public void Without_a_window_one_is_added_for_what_is_raised_at_it()
    {
        var plan = Sound(Of("1", "tomatoes from seed"));
        Assert.Equal(["bed", "windowsill"], plan.Beds.Select(bed => bed.Name));
        Assert.Equal("bed", plan.BedOf(plan.Plantings[0].BedId).Name);
    }

    [Fact]
    public void What_is_not_known_stays_in_the_file_as_a_remark()
    {
        var first = Of("1", "carrots, dahlias xyz");
        Assert.Contains("# Left out, since no crop of that name is known: dahlias xyz.", first.Text(Today), StringComparison.Ordinal);
        Assert.Single(Sound(first).Plantings);
    }

    [Fact]
    public void Nothing_grown_and_nobody_told_is_a_plan_too()
    {
        var plan = Sound(Of("2", "nothing yet", to: null));
        Assert.Empty(plan.Plantings);
        Assert.Empty(plan.Digest.To);
        Assert.Equal(ChannelWords.Push, Assert.Single(Sound(Of("2", "", to: ChannelWords.Push)).Digest.To).Address);
    }

    [Theory]
    [InlineData("Pat's \"best\" garden: #1", "pat-s-best-garden-1")]
    [InlineData("no", "no")]
    [InlineData("{ x: y }", "x-y")]
    [InlineData("a\nid: b", "aid-b")]
    [InlineData("Gärten am Hang", null)]
    [InlineData("菜園", "garden")]
    [InlineData("- a", "a")]
    public void Any_name_stays_a_name(string name, string? id)
    {
        var plan = Sound(Of("1", "carrots", name: name));
        Assert.Equal(name.Replace("\n", "", StringComparison.Ordinal), plan.Name);
        if (id is not null)
            Assert.Equal(id, plan.GardenId);
    }

    [Fact]
    public void What_is_offered_behind_signs_of_a_remark_can_be_used()
    {
        string text = Of("2", "nothing yet").Text(Today);
        foreach (string line in (string[])["chores:", "  - { chore: Empty", "  - { chore: Turn", "plantings:", "  - { crop: lettuce"])
        {
            Assert.Contains("\n# " + line, text, StringComparison.Ordinal);
            text = text.Replace("\n# " + line, "\n" + line, StringComparison.Ordinal);
        }
        var reading = PlanFile.Read(text, "garden.yaml", Shelf, [], Today, ConditionText.Read);
        Assert.Empty(reading.Faults);
        Assert.Equal(2, reading.Plan!.Chores.Length);
        Assert.Single(reading.Plan.Plantings);
    }

    [Fact]
    public void Pots_get_what_is_low_and_cut_again_and_again()
    {
        var plan = Sound(Of("two 1.2 x 3 m, pots", "tomatoes, garlic, basil, potatoes"));
        Assert.Equal(["basil"], plan.Plantings.Where(planting => plan.BedOf(planting.BedId).Name == "pots").Select(planting => planting.Crop.Name));
    }

    [Fact]
    public void Bad_neighbours_are_kept_apart_and_families_together()
    {
        var plan = Sound(Of("3 beds", "potatoes, tomatoes, cabbage, kale, peas, onions"));
        string BedOf(string crop) => plan.Plantings.First(planting => planting.Crop.Name == crop).BedId;
        Assert.Equal(BedOf("cabbage"), BedOf("kale"));
        Assert.Equal(3, plan.Plantings.Select(planting => planting.BedId).Distinct().Count());
    }

    [Fact]
    public void Whatever_is_answered_the_plan_can_be_read()
    {
        var item = Gen.OneOf(Gen.Int[0, Bits.Length - 1].Select(i => Bits[i]), Gen.String[0, 12]);
        item.Array[0, 8].Select(item.Array[0, 8]).Sample((beds, crops) =>
        {
            if (BedsSaid.Read(string.Join(", ", beds), UnitSystem.Us) is not BedsReading.Ok { Beds: var read })
                return;
            var said = CropsSaid.Read(string.Join(", ", crops), Shelf, [.. read.Select(bed => bed.Name)]);
            var first = Of("1", "") with { Beds = read, Crops = said.Crops, LeftOut = [.. said.Doubts.Select(doubt => doubt.Item)] };
            var reading = Back(first);
            Assert.True(reading.Faults.IsEmpty, string.Join("\n", reading.Faults) + "\n" + first.Text(Today));
        }, iter: 300);
    }
}

using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Plans;

/// <summary>Numbers of shipped phrases and of a plan's own, changed without copying a phrase.</summary>
public sealed class TuningTests
{
    private const string Head = """
        garden: Home
        id: home
        place: { town: Little Fallow }
        units: metric
        digest: { to: [you@example.org] }
        beds: [ bed: plot ]

        """;

    private const string CropFile = "crop: tomato\njobs:\n  set out:\n    numbers: { soil: 17 °C, chance: 70 % }\n";

    private static PlanReading Read(string rest, string? cropFile = null)
    {
        var (shelf, faults) = CropShelf.Read(
            cropFile is null ? CropShelf.ShippedFiles() : CropShelf.ShippedFiles().Append(("tomato.yaml", cropFile)), ConditionText.Read);
        Assert.Empty(faults);
        return PlanFile.Read(Head + rest, "garden.yaml", shelf!, [], new LocalDate(2026, 4, 21), ConditionText.Read);
    }

    private static Plan ReadGood(string rest, string? cropFile = null)
    {
        var reading = Read(rest, cropFile);
        Assert.Empty(reading.Faults);
        return reading.Plan!;
    }

    private static NumberLayers NumberOf(Plan plan, string name, JobKind kind = JobKind.SetOut) =>
        JobNumbers.Of(plan.Plantings[0], plan.Plantings[0].Crop.Jobs.Single(job => job.Kind == kind)).Single(number => number.Name == name);

    [Theory]
    [InlineData(false, "", "", 15.6, NumberOrigin.Shipped)]
    [InlineData(true, "", "", 17, NumberOrigin.CropFile)]
    [InlineData(true, "set out: { soil: 18 °C }", "", 18, NumberOrigin.GardenKind)]
    [InlineData(true, "set out: { soil: 18 °C }, tomatoes: { set out: { soil: 19 °C } }", "", 19, NumberOrigin.GardenCrop)]
    [InlineData(true, "tomatoes: { set out: { soil: 19 °C } }, set out: { soil: 18 °C }", "", 19, NumberOrigin.GardenCrop)]
    [InlineData(true, "tomato: { set out: { soil: 19 °C } }", "set out: { soil: 20 °C }", 20, NumberOrigin.Planting)]
    [InlineData(false, "set out: { soil: 18 °C }", "set out: { nights: 9 °C }", 18, NumberOrigin.GardenKind)]
    [InlineData(false, "basil: { set out: { soil: 19 °C } }, cover: { leaf: 1 °C }", "", 15.6, NumberOrigin.Shipped)]
    public void The_nearest_word_on_a_number_counts(bool cropFile, string garden, string planting, double celsius, NumberOrigin origin)
    {
        var plan = ReadGood($"tune: {{ {garden} }}\nplantings:\n  - {{ crop: tomato, bought: mid May, tune: {{ {planting} }} }}\n", cropFile ? CropFile : null);

        var soil = NumberOf(plan, "soil");

        Assert.Equal(new Quantity(celsius, Dimension.Temperature), soil.InForce);
        Assert.Equal(origin, soil.Source.Origin);
        Assert.Equal(new Quantity(15.6, Dimension.Temperature), soil.Unchanged);
        Assert.Equal(soil.Layers.Select(layer => layer.Source.Origin).Order(), soil.Layers.Select(layer => layer.Source.Origin));
    }

    [Fact]
    public void Each_number_says_where_it_stands_and_what_it_rests_on()
    {
        var plan = ReadGood("tune: { set out: { soil: 18 °C } }\nplantings:\n  - crop: tomato\n    tune:\n      set out: { soil: 20 °C }\n", CropFile);

        Assert.Equal(
            [("crops/tomato.yaml", NumberOrigin.Shipped), ("tomato.yaml", NumberOrigin.CropFile), ("garden.yaml", NumberOrigin.GardenKind), ("garden.yaml", NumberOrigin.Planting)],
            NumberOf(plan, "soil").Layers.Select(layer => (layer.Source.File, layer.Source.Origin)));
        Assert.Equal([4, 7, 11], NumberOf(plan, "soil").Layers.Skip(1).Select(layer => layer.Source.Line));
        Assert.Contains("15.6", NumberOf(plan, "soil").Layers[0].Source.Published, StringComparison.Ordinal);
        Assert.Equal(0.7, NumberOf(plan, "chance").InForce.Value, tolerance: 1e-9);
        Assert.Equal(NumberOrigin.CropFile, NumberOf(plan, "chance").Source.Origin);
        Assert.Contains("Sci Rep 2023", NumberOf(plan, "leaf", JobKind.Cover).Source.Published, StringComparison.Ordinal);
    }

    [Fact]
    public void A_crop_files_own_leaf_limit_lies_over_the_shipped_one()
    {
        var leaf = NumberOf(ReadGood("plantings:\n  - { crop: tomato }\n", "crop: tomato\nfrost: { leaf limit: 4 °C }\n"), "leaf", JobKind.Cover);

        Assert.Equal([2.0, 4.0], leaf.Layers.Select(layer => layer.Value.Value));
        Assert.Equal(("tomato.yaml", 2), (leaf.Source.File, leaf.Source.Line));
        Assert.Null(leaf.Source.Published); // the shipped paper does not vouch for the gardener's number
    }

    [Fact]
    public void The_gardens_word_on_a_kind_reaches_every_planting_and_chore_that_has_the_number()
    {
        var plan = ReadGood("""
            tune: { cover: { leaf: 1 °C, chance: 30 % }, spread: { enough: 7 mm, soaked: 3 mm } }
            plantings:
              - { crop: tomato }
              - { crop: basil }
            chores:
              - chore: Spread lime
                when: rain total next 24 hours at least {enough: 6 mm}
              - chore: Spread seaweed
                when: rain total next 24 hours at least {enough: 6 mm}
                tune: { enough: 8 mm }
              - chore: Look for slugs
                when: rain total past 24 hours at least {enough: 6 mm}
            """);

        Assert.All(plan.Plantings, planting => Assert.Equal(1, planting.Tuning.Numbers[(JobKind.Cover, "leaf")].Value));
        Assert.All(plan.Plantings, planting => Assert.Equal(0.3, planting.Tuning.Numbers[(JobKind.Cover, "chance")].Value));
        Assert.Equal([7.0, 8.0, 6.0], plan.Chores.Select(chore => JobNumbers.Of(chore).Single(n => n.Name == "enough").InForce.Value));
        Assert.Equal([3.0, 3.0], plan.Chores.Take(2).Select(chore => JobNumbers.Of(chore).Single(n => n.Name == "soaked").InForce.Value));
        Assert.Equal(NumberOrigin.ChorePhrase, JobNumbers.Of(plan.Chores[2]).Single().Source.Origin);
        Assert.Equal(18, JobNumbers.Of(plan.Chores[2]).Single().Source.Line);
    }

    [Fact]
    public void Looks_are_tuned_for_the_garden_a_crop_and_a_planting()
    {
        var plan = ReadGood("""
            tune: { look: { mite heat: 30 °C, flight: 14 days }, cucumber: { look: { mite heat: 31 °C } } }
            plantings:
              - { crop: cucumber }
              - { crop: cucumber, tune: { look: { mite heat: 32 °C } } }
              - { crop: carrot }
            """);

        double Of(int planting, string number) => JobNumbers.OfLooks(plan.Plantings[planting]).Single(n => n.Name == number).InForce.Value;
        Assert.Equal([31.0, 32.0], [Of(0, "mite heat"), Of(1, "mite heat")]);
        Assert.Equal(14, Of(2, "flight"));
        Assert.Equal(28, JobNumbers.OfLooks(plan.Plantings[0]).Single(n => n.Name == "mite heat").Unchanged.Value);
    }

    [Fact]
    public void What_is_looked_for_has_numbers_of_its_own()
    {
        var looks = CropShelf.Shipped(ConditionText.Read).Crops.SelectMany(crop => crop.Pests.Concat(crop.Diseases))
            .Where(threat => threat.Weather is not null).DistinctBy(threat => threat.Weather!.Conditions).ToList();
        var shared = looks.SelectMany(threat => JobNumbers.Of(threat.Weather!.Conditions).Select(number => (number.Name, threat.Weather.Source, number.Value)).Distinct())
            .GroupBy(number => number.Name).Where(named => named.Select(number => number.Value).Distinct().Count() > 1);
        Assert.Empty(shared.Select(named => named.Key));
    }

    [Fact]
    public void Waterings_and_the_years_jobs_take_the_gardens_word()
    {
        var reading = Read("tune: { water: { chance: 30 % }, drain: { hard frost: -4 °C }, order seed: { earliest: 150 days } }\nplantings:\n  - { crop: tomato }\n");

        Assert.Empty(reading.Faults);
        Assert.Empty(reading.Remarks.Where(remark => remark.ToString().Contains("changes nothing", StringComparison.Ordinal)));
        Assert.Equal(0.3, JobNumbers.OfWatering(reading.Plan!).Single().InForce.Value, tolerance: 1e-9);
        Assert.Equal(-4, reading.Plan!.Tuning.Numbers[(JobKind.Drain, "hard frost")].Value);
        Assert.Equal(150, reading.Plan.Tuning.Numbers[(JobKind.OrderSeed, "earliest")].Value);
    }

    [Theory]
    [InlineData("5 %", 0.05)]
    [InlineData("95 %", 0.95)]
    [InlineData("0.3", 0.3)]
    public void Both_ends_of_the_chance_will_do(string written, double share) =>
        Assert.Equal(share, NumberOf(ReadGood($"tune: {{ harvest: {{ chance: 50 % }}, set out: {{ chance: {written} }} }}\nplantings:\n  - {{ crop: tomato }}\n"), "chance").InForce.Value, tolerance: 1e-9);

    [Fact]
    public void A_word_that_reaches_nothing_is_remarked_upon()
    {
        var reading = Read("tune: { basil: { cover: { leaf: 3 °C } }, sow: { wet: 4 mm } }\nplantings:\n  - { crop: tomato }\n");

        Assert.Empty(reading.Faults);
        Assert.Equal(
            ["garden.yaml:7:27: no basil grows here, so this number changes nothing", "garden.yaml:7:50: nothing here has `wet` of `sow`, so this number changes nothing"],
            reading.Remarks.Select(remark => remark.ToString()));
    }

    [Theory]
    [InlineData("tune: { tomatos: { cover: { leaf: 1 °C } } }", "7:9: `tomatos` is no crop and no kind of job; did you mean `tomato`?")]
    [InlineData("tune: { cuver: { leaf: 1 °C } }", "7:9: `cuver` is no crop and no kind of job; did you mean `cover`?")]
    [InlineData("tune: { tomato: { covr: { leaf: 1 °C } } }", "7:19: tomato has no job `covr`; did you mean `cover`?")]
    [InlineData("tune: { tomato: { cover: { laef: 1 °C } } }", "7:28: `cover` has no number `laef`; did you mean `leaf`?")]
    [InlineData("tune: { cover: { laef: 1 °C } }", "7:18: `cover` has no number `laef`; did you mean `leaf`?")]
    [InlineData("tune: { cover: { soil: 1 °C } }", "7:18: `cover` has no number `soil`; it has: ")]
    [InlineData("tune: { cover: { leaf: 1 mm } }", "7:24: `1 mm` is not a temperature; `1 °F` or `1 °C`")]
    [InlineData("tune: { cover: { leaf: 1 } }", "7:24: `1` has no unit; a temperature is wanted; `1 °F` or `1 °C`")]
    [InlineData("tune: { cover: { chance: 3 % } }", "7:26: a chance of `3 %` would ask every day; from `5 %` to `95 %`: `5 %`")]
    [InlineData("tune: { cover: { chance: 99 % } }", "7:26: a chance of `99 %` would ask never; from `5 %` to `95 %`: `95 %`")]
    [InlineData("tune: { cover: 1 °C }", "7:16: `cover` wants named numbers; such as `tune: { tomato:")]
    [InlineData("tune: 1 °C", "7:7: `tune` wants entries in braces; such as `tune: { tomato:")]
    [InlineData("chores:\n  - { chore: Drain, when: \"air low tonight at most {frost: 0 °C}\", tune: { forst: 1 °C } }", "8:76: this chore has no number `forst`; did you mean `frost`?")]
    [InlineData("chores:\n  - { chore: Drain, when: \"air low tonight at most {frost: 0 °C}\", tune: { frost: 1 mm } }", "8:83: `1 mm` is not a temperature")]
    [InlineData("chores:\n  - { chore: Drain, when: \"air low tonight at most {frost: 0 °C}\", tune: { drain: { frost: 1 °C } } }", "8:76: a chore is one job, so its numbers stand in `tune:` at once; such as `tune: { enough: 8 mm }`")]
    [InlineData("plantings:\n  - { crop: tomato, tune: { cover: { chance: 2 % } } }", "8:46: a chance of `2 %`")]
    public void A_mistake_in_tuning_is_told_with_its_place_and_the_nearest_right_word(string rest, string fault)
    {
        var reading = Read(rest);

        Assert.Null(reading.Plan);
        Assert.StartsWith("garden.yaml:" + fault, Assert.Single(reading.Faults).ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("soil: 17 mm", "4:22: `17 mm` is not a temperature; `17 °F` or `17 °C`")]
    [InlineData("soil: 17", "4:22: `17` has no unit; a temperature is wanted")]
    [InlineData("siol: 17 °C", "4:16: no phrase of this job has a number `siol`; did you mean `soil`?")]
    [InlineData("chance: 2 %", "4:24: a chance of `2 %` would ask every day; from `5 %` to `95 %`")]
    public void A_mistake_in_a_crop_files_numbers_is_told_where_it_stands(string number, string fault)
    {
        var (shelf, faults) = CropShelf.Read(
            CropShelf.ShippedFiles().Append(("tomato.yaml", $"crop: tomato\njobs:\n  set out:\n    numbers: {{ {number} }}\n")),
            ConditionText.Read);

        Assert.Null(shelf);
        Assert.StartsWith("tomato.yaml:" + fault, Assert.Single(faults).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_plan_in_plain_words_speaks_the_tuned_numbers()
    {
        string summary = PlanSummary.Of(
            ReadGood("""
                tune: { set out: { chance: 70 % } }
                plantings:
                  - { crop: tomato, bought: mid May, tune: { set out: { soil: 17 °C } } }
                chores:
                  - { chore: Drain, when: "air low tonight at most {frost: 0 °C}", tune: { frost: 2 °C } }
                """),
            new Speech(UnitSystem.Metric, DateTimeZone.Utc)).Replace('\u00A0', ' ');

        Assert.Contains("at least 17 °C and", summary, StringComparison.Ordinal);
        Assert.Contains("from a chance of 70 % on", summary, StringComparison.Ordinal);
        Assert.Contains("Drain, when air low tonight at most 2 °C", summary, StringComparison.Ordinal);
    }

    /// <summary>Tuning changes numbers and nothing else: each phrase stays, word for word, with its name in its place.</summary>
    [Fact]
    public void Tuned_numbers_never_change_which_phrases_there_are()
    {
        var jobs = CropShelf.Shipped(ConditionText.Read).Crops.SelectMany(crop => crop.Jobs.Select(job => (Crop: crop, Job: job))).ToArray();
        Gen.Select(Gen.Int[0, jobs.Length - 1].Select(i => jobs[i]), Gen.Int[1, 9], Gen.Bool, Gen.Bool).Sample((at, digit, ofGarden, ofKind) =>
        {
            string numbers = string.Join(", ", at.Job.Numbers.Select(n => $"{n.Key}: {digit}{Unit(n.Value.Dimension)}").Append($"chance: {digit}0 %"));
            string kind = at.Job.Kind.Word();
            string tune = ofGarden && ofKind ? $"tune: {{ {kind}: {{ {numbers} }} }}\n" : ofGarden ? $"tune: {{ {at.Crop.Name}: {{ {kind}: {{ {numbers} }} }} }}\n" : "";
            string own = ofGarden ? "" : $", tune: {{ {kind}: {{ {numbers} }} }}";
            var tuned = ReadGood($"{tune}plantings:\n  - {{ crop: {at.Crop.Name}{own} }}\n").Plantings[0];

            Assert.Equal(at.Crop.Jobs.Select(Phrases), tuned.Crop.Jobs.Select(Phrases));
            Assert.Equal(
                at.Job.Numbers.Keys.Append("chance").Order(StringComparer.Ordinal),
                JobNumbers.Of(tuned, tuned.Crop.Jobs.Single(job => job.Kind == at.Job.Kind)).Select(number => number.Name));
        }, iter: 60);

        static string Phrases(JobTemplate job) => string.Join('\n', new[] { job.Conditions.When, job.Conditions.Unless, job.Conditions.By }
            .Select(conditions => string.Join("; ", conditions.Select(condition => ConditionText.Print(condition)))));

        static string Unit(Dimension dimension) => dimension switch
        {
            Dimension.Temperature => " °C",
            Dimension.WaterDepth => " mm",
            Dimension.RainRate => " mm/h",
            Dimension.Speed => " m/s",
            Dimension.Days => " days",
            Dimension.Hours => " hours",
            Dimension.Radiation => " W/m²",
            Dimension.Share => " %",
            _ => throw new ArgumentOutOfRangeException(nameof(dimension), dimension, "No shipped phrase had one."),
        };
    }
}

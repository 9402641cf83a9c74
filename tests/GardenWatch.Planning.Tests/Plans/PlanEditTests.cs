using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class PlanEditTests
{
    private static PlanReading Read(string text) => PlanFileTests.Read(text);

    /// <summary>The changes of a form, each with what the plan is to be after it.</summary>
    private static readonly (PlanChange Change, Func<Plan, Plan> Means)[] Changes =
    [
        (new PlanChange.AddPlanting("lettuce", "low bed", Raising.InPlace, "mid April", Plants: "12"), plan => plan with
        {
            Plantings = plan.Plantings.Add(Template(plan, "lettuce", "low bed") with { Origin = Origin.Sown, OriginDate = Mid(4), Plants = 12 }),
        }),
        (new PlanChange.AddPlanting("sweet pepper", "low bed", Raising.Indoors, null, "sill", Variety: "it's: a #1, \"x\""), plan => plan with
        {
            Plantings = plan.Plantings.Add(Template(plan, "sweet pepper", "low bed") with { StartBedId = "sill", Variety = "it's: a #1, \"x\"" }),
        }),
        (new PlanChange.AddPlanting("basil", "kitchen bed", Raising.Bought), plan => plan with
        {
            Plantings = plan.Plantings.Add(Template(plan, "basil", "kitchen bed") with { Origin = Origin.Bought }),
        }),
        (new PlanChange.ChangePlanting("tomato-low-bed", "12 May", "kitchen bed"), plan => plan with
        {
            Plantings = [.. plan.Plantings.Select(each => each.Id == "tomato-low-bed" ? each with { OriginDate = new(new(2026, 5, 12), new(2026, 5, 12)), BedId = "kitchen-bed" } : each)],
        }),
        (new PlanChange.ChangePlanting("radish-kitchen-bed", "early May", null), plan => plan with
        {
            Plantings = [.. plan.Plantings.Select(each => each.Id == "radish-kitchen-bed" ? each with { Origin = Origin.Sown, OriginDate = new(new(2026, 5, 1), new(2026, 5, 10)) } : each)],
        }),
        (new PlanChange.AddBed("south wall", "1,2 x 3 m"), plan => plan with
        {
            Beds = plan.Beds.Add(new() { Id = "south-wall", Name = "south wall", Size = (1.2, 3) }),
        }),
        (new PlanChange.ChangeBed("low-bed", "hollow: the low one", "2 m x 3 m"), plan => plan with
        {
            Beds = [.. plan.Beds.Select(each => each.Id == "low-bed" ? each with { Name = "hollow: the low one", Size = (2, 3) } : each)],
        }),
        (new PlanChange.ChangeBed("sill", null, "3 ft x 1 ft"), plan => plan with
        {
            Beds = [.. plan.Beds.Select(each => each.Id == "sill" ? each with { Size = (0.9144, 0.3048) } : each)],
        }),
        (new PlanChange.AddChore("Feed the citrus", null, "3 weeks", "15", ["air high today at least {warm: 15 °C}", "rain total next 24 hours at most 5 mm"]), plan => plan with
        {
            Chores = plan.Chores.Add(new() { Id = "feed-the-citrus", Name = "Feed the citrus", Kind = JobKind.Feed, EveryDays = 21, Minutes = 15 }),
        }),
        (new PlanChange.AddChore("Oil the gate", "kitchen bed", null, null, []), plan => plan with
        {
            Chores = plan.Chores.Add(new() { Id = "oil-the-gate-kitchen-bed", Name = "Oil the gate", Kind = JobKind.Other, BedId = "kitchen-bed" }),
        }),
        (new PlanChange.AddAbsence("3 August", "10 August", "robin@example.org"), plan => plan with
        {
            Away = plan.Away.Add(new(new(2026, 8, 3), new(2026, 8, 10), "robin@example.org")),
        }),
        (new PlanChange.ChangeHour("pat@example.org", "7:15"), plan => plan with
        {
            Digest = plan.Digest with { To = [.. plan.Digest.To.Select(each => each.Address == "pat@example.org" ? each with { At = new(7, 15) } : each)] },
        }),
        (new PlanChange.ChangeHour("kim@example.org", "08:00"), plan => plan with
        {
            Digest = plan.Digest with { To = [.. plan.Digest.To.Select(each => each.Address == "kim@example.org" ? each with { At = new(8, 0) } : each)] },
        }),
        (new PlanChange.ChangeHour(null, "05:30"), plan => plan with { Digest = plan.Digest with { At = new(5, 30) } }),
    ];

    private static DateRange Mid(int month) => new(new(2026, month, 11), new(2026, month, 20));

    private static Planting Template(Plan plan, string crop, string bed) => plan.Plantings[0] with
    {
        Id = $"{crop.Replace(' ', '-')}-{bed.Replace(' ', '-')}", Crop = PlanFileTests.Shelf.Find(crop)!, BedId = bed.Replace(' ', '-'), Sowings = null,
    };

    private static readonly Gen<(string Text, int Change)> Written = Gen.Select(WrittenPlans.Any, Gen.Int[0, 13]);

    private static PlanEditing.Done Edited(string text, PlanChange change) =>
        PlanEdit.Of(text, change, Read) switch
        {
            PlanEditing.Done done => done,
            PlanEditing.Refused refused => throw new Xunit.Sdk.XunitException($"{string.Join(' ', refused.Reasons)}\n{text}"),
            _ => throw new InvalidOperationException("No such outcome."),
        };

    [Fact]
    public void The_new_text_reads_back_to_exactly_the_changed_plan() => Written.Sample((text, number) =>
    {
        var (change, means) = Changes[number];
        var before = PlanFileTests.ReadGood(text).Plan!;
        var done = Edited(text, change);
        Assert.Equal(Shown(means(before), number), Shown(done.Reading.Plan!, number));
        Assert.Equal(Shown(done.Reading.Plan!, -1), Shown(PlanFileTests.ReadGood(done.Text).Plan!, -1));
    }, iter: 1000);

    /// <summary>All that a form can touch; conditions as they print. Those of an added chore are looked at by themselves.</summary>
    private static string Shown(Plan plan, int change) => string.Join('\n', [
        plan.GardenId, plan.Name, plan.Place.ToString(), plan.Units.ToString(), plan.Digest.At.ToString("HH:mm", null),
        .. plan.Digest.To.Select(to => $"{to.Address} {to.At} {to.Units} {string.Join(',', to.BedIds)}"),
        .. plan.Away.Select(away => away.ToString()),
        .. plan.Beds.Select(bed => bed with { Size = bed.Size is var (width, length) ? (Math.Round(width, 6), Math.Round(length, 6)) : null }).Select(bed => bed.ToString()),
        .. plan.Plantings.Select(each => $"{each.Id} {each.Crop.Name} {each.Variety} {each.BedId} {each.StartBedId} {each.AfterPlantingId} {each.Sowings} {each.Origin} {each.OriginDate} {each.Plants} {each.FirstSeen}"),
        .. plan.Chores.Select(each => $"{each.Id} {each.Name} {each.BedId} {each.Kind} {each.EveryDays} {each.Minutes} {each.Conditions.When.Length * (Changes.Length > change && change >= 0 && each.Id == "feed-the-citrus" ? 0 : 1)}"),
    ]);

    [Fact]
    public void Every_letter_that_is_not_touched_stays() => Written.Sample((text, number) =>
    {
        string changed = Edited(text, Changes[number].Change).Text;
        bool adds = Changes[number].Change is PlanChange.AddPlanting or PlanChange.AddBed or PlanChange.AddChore or PlanChange.AddAbsence;
        if (adds)
        {
            // One insertion, and both sides of it as before.
            int head = 0;
            while (head < text.Length && text[head] == changed[head])
                head++;
            Assert.EndsWith(text[head..], changed, StringComparison.Ordinal);
            return;
        }
        // Lines with their ends: those that speak of the thing may differ, all others stand where they stood.
        var gone = Lines(text).ToList();
        foreach (string line in Lines(changed))
            gone.Remove(line);
        Assert.InRange(gone.Count, 0, Changes[number].Change is PlanChange.ChangeBed { Name: not null } ? 7 : 3);
        Assert.All(gone, line => Assert.DoesNotMatch(@"^\s*(#|$)", line));
        Assert.Equal(Lines(text).Count(line => line.Contains('#', StringComparison.Ordinal)), Lines(changed).Count(line => line.Contains('#', StringComparison.Ordinal)));
    }, iter: 1000);

    private static IEnumerable<string> Lines(string text)
    {
        for (int at = 0; at < text.Length;)
        {
            int end = text.IndexOf('\n', at) is var found && found < 0 ? text.Length : found + 1;
            yield return text[at..end];
            at = end;
        }
    }

    [Fact]
    public void Line_ends_stay_of_one_kind() => Written.Sample((text, number) =>
    {
        string changed = Edited(text, Changes[number].Change).Text;
        bool dos = text.Contains("\r\n", StringComparison.Ordinal);
        Assert.Equal(dos ? Count(changed, "\n") : 0, Count(changed, "\r\n"));
    }, iter: 1000);

    private static int Count(string text, string part) => (text.Length - text.Replace(part, "", StringComparison.Ordinal).Length) / part.Length;

    [Fact]
    public void Several_changes_one_after_another_are_all_there() => Gen.Select(WrittenPlans.Any, Gen.Int[0, 13].Array[2, 5]).Sample((text, numbers) =>
    {
        string changed = text;
        int remarks = Count(text, "#");
        foreach (int number in numbers.Distinct())
        {
            if (PlanEdit.Of(changed, Changes[number].Change, Read) is PlanEditing.Done done)
                changed = done.Text;
        }
        Assert.Empty(PlanFileTests.Read(changed).Faults);
        Assert.InRange(Count(changed, "#"), remarks, remarks + 3);
    }, iter: 1000);

    [Fact]
    public void The_conditions_of_an_added_chore_are_those_that_were_written()
    {
        var done = Edited(PlanFileTests.Good, Changes[8].Change);
        Assert.Equal(["air high today at least {warm: 15 °C}", "rain total next 24 hours at most 5 mm"],
            done.Reading.Plan!.Chores[^1].Conditions.When.Select(condition => ConditionText.Print(condition)));
        Assert.Equal(PlanFileTests.Good + "\n" + """
              - chore: Feed the citrus
                every: 3 weeks
                minutes: 15
                when:
                  - "air high today at least {warm: 15 °C}"
                  - rain total next 24 hours at most 5 mm
            """, done.Text);
    }

    [Fact]
    public void A_renamed_bed_is_renamed_wherever_it_is_named_and_keeps_its_history()
    {
        var done = Edited(PlanFileTests.Good, new PlanChange.ChangeBed("low-bed", "hollow", null));
        Assert.Equal(
            [
                "-  - { bed: low bed, size: 4 ft x 8 ft, at: 6 ft x 0 ft, frost pocket: 2 °F, cover: light fleece }",
                "+  - { bed: hollow, size: 4 ft x 8 ft, at: 6 ft x 0 ft, frost pocket: 2 °F, cover: light fleece, id: low-bed }",
                "-  - { crop: tomato, bed: low bed, bought: mid May, plants: 6, tune: { set out: { soil: 62 °F } } }",
                "-  - { crop: garlic, bed: low bed, sown: late October last year }",
                "+  - { crop: tomato, bed: hollow, bought: mid May, plants: 6, tune: { set out: { soil: 62 °F } } }",
                "+  - { crop: garlic, bed: hollow, sown: late October last year }",
                "-    bed: low bed",
                "+    bed: hollow",
            ],
            PlanDiff.Of(PlanFileTests.Good, done.Text, neighbours: 0).Select(line => (line.Fate == LineFate.Added ? '+' : '-') + line.Text));
        Assert.Equal(PlanFileTests.ReadGood(PlanFileTests.Good).Plan!.Plantings.Select(each => each.Id), done.Reading.Plan!.Plantings.Select(each => each.Id));
    }

    [Theory]
    [InlineData("lettuce", "no bed", "mid April", "no such bed")]
    [InlineData("lettice", "low bed", "mid April", "Did you mean|did you mean lettuce")]
    [InlineData("lettuce", "low bed", "4/5", "can mean 4 May or 5 April")]
    [InlineData("lettuce", "low bed", "in spring", "spring")]
    public void What_check_would_fault_is_refused_with_what_to_write_instead(string crop, string bed, string when, string says)
    {
        var refused = Assert.IsType<PlanEditing.Refused>(PlanEdit.Of(PlanFileTests.Good, new PlanChange.AddPlanting(crop, bed, Raising.InPlace, when), Read));
        Assert.Matches(says, Assert.Single(refused.Reasons));
    }

    [Theory]
    [InlineData("beds: &all\n  - { bed: low bed }\n  - { bed: sill }\n", "Line 4 ")]
    [InlineData("beds:\n  - &one\n    bed: low bed\n  - { bed: sill }\nplantings:\n  - { crop: radish, bed: low bed }\n", "Line 5 ")]
    [InlineData("beds:\n  - bed: &name low bed\n  - bed: sill\nplantings:\n  - { crop: radish, bed: *name }\n", "Line 5 ")]
    [InlineData("beds:\n  - bed: |\n      low bed\n  - bed: sill\n", "Line 5 ")]
    [InlineData("beds: { bed: low bed }\n...\n", "Line")]
    public void What_is_written_so_that_a_change_would_spoil_more_is_left_to_its_writer(string beds, string says)
    {
        string text = "garden: Home\nid: home\nplace: { town: Here }\n" + beds;
        PlanFileTests.ReadGood(text);
        var renamed = PlanEdit.Of(text, new PlanChange.ChangeBed("low-bed", "hollow", null), Read);
        var added = PlanEdit.Of(text, new PlanChange.AddBed("step", null), Read);
        var refused = new[] { renamed, added }.OfType<PlanEditing.Refused>().ToList();
        Assert.NotEmpty(refused);
        Assert.All(refused, each => Assert.Contains(says, Assert.Single(each.Reasons), StringComparison.Ordinal));
    }

    [Fact]
    public void An_alias_elsewhere_does_not_hinder()
    {
        string text = "garden: Home\nid: home\nplace: { town: Here }\nbeds:\n  - { bed: low bed, size: &s 1 m x 2 m }\n  - { bed: sill, size: *s }   # alike\n";
        Assert.Equal(text + "  - { bed: step }\n", Edited(text, new PlanChange.AddBed("step")).Text);
    }

    [Fact]
    public void A_file_with_faults_is_not_changed_and_they_are_told()
    {
        var refused = Assert.IsType<PlanEditing.Refused>(PlanEdit.Of(PlanFileTests.Good + "\nbedz: []\n", new PlanChange.AddBed("step"), Read));
        Assert.Contains(refused.Reasons, reason => reason.Contains("`bedz` is not known here", StringComparison.Ordinal));
    }

    private static readonly string[] Scraps = ["{", "&a ", "*a", "|", "\n", "\t", "#", "- ", "...\n", "? ", "'", "\u2028", "\r"];

    [Fact]
    public void A_damaged_plan_is_changed_rightly_or_not_at_all() => Gen.Select(Gen.Int[0, 13], Gen.Int[0, PlanFileTests.Good.Length], Gen.Int[0, Scraps.Length - 1]).Sample((number, at, scrap) =>
    {
        string text = PlanFileTests.Good.Insert(at, Scraps[scrap]);
        if (PlanEdit.Of(text, Changes[number].Change, Read) is PlanEditing.Done done)
            Assert.Empty(PlanFileTests.Read(done.Text).Faults);
    }, iter: 1000);
}

using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class PlanFileTests
{
    internal static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);
    private static readonly LocalDate Today = new(2026, 4, 21);

    internal const string Good = """
        garden: Quarry Lane
        id: quarry-lane                     # fixed; the name may change, the history stays
        place: { town: Lexington, latitude: 38.03, longitude: -84.50, elevation: 295 m }   # zone and height found if absent
        units: us                           # us or metric: how messages speak; the file may use either, with units
        in the garden: { weekdays: 06:00-07:30 and 17:30-20:30, weekends: 08:00-19:00 }    # windows are cut to it
        away: [ { from: 12 July, to: 26 July, sitter: sam@example.org } ]
        digest: { at: "06:00", to: [pat@example.org] }
        beds:
          - { bed: kitchen bed, size: 4 ft x 12 ft, at: 0 ft x 0 ft, soil: silt loam, mulch: straw }
          - { bed: low bed, size: 4 ft x 8 ft, at: 6 ft x 0 ft, frost pocket: 2 °F, cover: light fleece }
          - { bed: sill, over: windowsill }
          - { bed: big pot, container: 40 litres }
        plantings:
          - { crop: radish, bed: kitchen bed, sowings: every 10 days until too warm }
          - { crop: winter squash, bed: kitchen bed, start: sill, after: radish }
          - { crop: tomato, bed: low bed, bought: mid May, plants: 6, tune: { set out: { soil: 62 °F } } }
          - { crop: garlic, bed: low bed, sown: late October last year }
        chores:
          - chore: Spread granular fertiliser
            bed: low bed
            every: 6 weeks
            when:
              - rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}
              - rain peak next 24 hours at most {washout: 8 mm/h}
            otherwise: after 4 days, water in with 6 mm by hand
            then: { look for: leaf colour, after: 10 days }
            caution: product label
        """;

    internal static PlanReading Read(string text, ImmutableArray<KnownSubject>? known = null, LocalDate? today = null) =>
        PlanFile.Read(text, "garden.yaml", Shelf, known ?? [], today ?? Today, ConditionText.Read);

    internal static PlanReading ReadGood(string text, ImmutableArray<KnownSubject>? known = null, LocalDate? today = null)
    {
        var reading = Read(text, known, today);
        Assert.Empty(reading.Faults);
        return reading;
    }

    [Fact]
    public void The_plan_of_the_manual_reads_as_it_is_printed()
    {
        var reading = ReadGood(Good);
        Assert.Empty(reading.Remarks);
        var plan = reading.Plan!;
        Assert.Equal(("quarry-lane", "Quarry Lane", UnitSystem.Us), (plan.GardenId, plan.Name, plan.Units));
        Assert.Equal(new PlanPlace("Lexington", 38.03, -84.50, 295, null), plan.Place);
        Assert.Equal([new DaySlot(new(6, 0), new(7, 30)), new DaySlot(new(17, 30), new(20, 30))], plan.InTheGarden.On(new(2026, 4, 21)));
        Assert.Equal([new Absence(new(2026, 7, 12), new(2026, 7, 26), "sam@example.org")], plan.Away);
        Assert.Equal(new LocalTime(6, 0), plan.Digest.At);
        Assert.Equal("pat@example.org", Assert.Single(plan.Digest.To).Address);

        Assert.Equal(["kitchen-bed", "low-bed", "sill", "big-pot"], plan.Beds.Select(b => b.Id));
        var low = plan.BedOf("low-bed");
        Assert.Equal(1.2192, low.Size!.Value.WidthMetres, tolerance: 1e-4);
        Assert.Equal(1.8288, low.At!.Value.EastMetres, tolerance: 1e-4);
        Assert.Equal(2, low.FrostPocket.FahrenheitDegrees, tolerance: 1e-9);
        Assert.Equal(CoverAtHand.LightFleece, low.Cover);
        Assert.Equal((SoilTexture.SiltLoam, Mulch.Straw), (plan.Beds[0].Soil!.Value, plan.Beds[0].Mulch));
        Assert.True(plan.BedOf("sill").IsIndoors);
        Assert.Equal(40, plan.BedOf("big-pot").ContainerLitres);

        Assert.Equal(new Succession(10, null, true), plan.Plantings[0].Sowings);
        Assert.Equal(("sill", plan.Plantings[0].Id), (plan.Plantings[1].StartBedId, plan.Plantings[1].AfterPlantingId));
        var tomato = plan.Plantings[2];
        Assert.Equal((Origin.Bought, new DateRange(new(2026, 5, 11), new(2026, 5, 20)), 6), (tomato.Origin, tomato.OriginDate!.Value, tomato.Plants));
        Assert.Equal(16.6667, tomato.Tuning.Numbers[(JobKind.SetOut, "soil")].Value, tolerance: 1e-3);
        Assert.Equal((Origin.Sown, new DateRange(new(2025, 10, 21), new(2025, 10, 31))), (plan.Plantings[3].Origin, plan.Plantings[3].OriginDate!.Value));

        var chore = Assert.Single(plan.Chores);
        Assert.Equal((JobKind.Spread, "low-bed", 42), (chore.Kind, chore.BedId, chore.EveryDays));
        Assert.Equal(2, chore.Conditions.When.Length);
        Assert.Equal(new Otherwise(4, "water in with 6 mm by hand", 6), chore.Otherwise);
        Assert.Equal(new LookAfterwards("leaf colour", 10), chore.Then);
        Assert.Equal("product label", chore.Caution);
    }

    [Fact]
    public void The_sample_plan_reads_without_a_remark()
    {
        var reading = ReadGood(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Fixtures", "sample", "garden.yaml")));
        Assert.Empty(reading.Remarks);
        Assert.Equal(7, reading.Plan!.Plantings.Length);
        Assert.Equal(["hollow", "long-bed"], reading.Plan.Chores.Where(c => c.Kind == JobKind.Spread).Select(c => c.BedId).Order());
        Assert.Single(reading.Plan.InTheGarden.On(new(2026, 4, 22)));
    }

    [Fact]
    public void Two_lines_are_a_plan()
    {
        var reading = ReadGood("garden: Home\nplace: { town: Little Fallow }\n");
        Assert.Equal("home", reading.Plan!.GardenId);
        Assert.Equal(GardenHours.Usual, reading.Plan.InTheGarden);
        Assert.Equal(new LocalTime(6, 0), reading.Plan.Digest.At);
        Assert.Equal(3, reading.Remarks.Length);
        Assert.Contains(reading.Remarks, r => r.Instead!.Contains("id: home", StringComparison.Ordinal));
    }

    [Fact]
    public void A_byte_order_mark_and_windows_line_ends_do_no_harm() =>
        Assert.Empty(Read("\uFEFF" + Good.ReplaceLineEndings("\r\n")).Faults);

    [Theory]
    [InlineData("", false)]
    [InlineData(", calendar: attach", true)]
    [InlineData(", calendar: no", false)]
    public void A_calendar_comes_with_the_digest_where_the_plan_asks(string words, bool attached) =>
        Assert.Equal(attached, ReadGood(Good.Replace("pat@example.org]", "pat@example.org]" + words, StringComparison.Ordinal)).Plan!.Digest.AttachCalendar);

    [Fact]
    public void A_digest_in_the_dead_of_night_is_remarked_on() =>
        Assert.Contains(ReadGood(Good.Replace("\"06:00\"", "\"03:30\"", StringComparison.Ordinal)).Remarks, r => r.Line == 7);

    [Theory]
    [InlineData("crop: tomato", "crop: tomatos", "16:13: `tomatos`: no such crop; did you mean tomato?")]
    [InlineData("bed: low bed, bought", "bed: lo bed, bought", "16:26: `lo bed`: no such bed; did you mean low bed?")]
    [InlineData("[pat@example.org] }", "[pat@example.org], calendar: atach }", "7:57: `atach` is no calendar; did you mean attach?")]
    [InlineData("units: us", "units: imperial", "4:8: `imperial` is no units; one of: metric, us")]
    [InlineData("units:", "unit:", "4:1: `unit` is not known here; did you mean `units`?")]
    [InlineData("mulch: straw", "mulsh: straw", "`mulsh` is not known here; did you mean `mulch`?")]
    [InlineData("frost pocket: 2 °F", "frost pocket: 2", "10:71: `2` has no unit; a difference in temperature is wanted; `2 °F` or `2 °C`")]
    [InlineData("frost pocket: 2 °F", "frost pocket: -2 °F", "10:71: a frost pocket of `-2 °F` can't be")]
    [InlineData("size: 4 ft x 8 ft", "size: 4 x 8", "`4 x 8` has no unit; `4 x 8 m` or `4 x 8 ft`")]
    [InlineData("size: 4 ft x 8 ft", "size: 1,2 x 3 m", "inside braces the comma before `2 x 3 m` parts two entries")]
    [InlineData("bed: sill", "bed: low bed", "a bed `low bed` is in line 10 already")]
    [InlineData("bought: mid May", "bought: 4/5", "`4/5` can mean 4 May or 5 April")]
    [InlineData("bought: mid May", "bought: mid May, sown: April", "`bought` and `sown` are both said")]
    [InlineData("set out: { soil", "set ot: { soil", "tomato has no job `set ot`; did you mean `set out`?")]
    [InlineData("{ soil: 62 °F }", "{ sol: 62 °F }", "`set out` has no number `sol`; did you mean `soil`?")]
    [InlineData("{ soil: 62 °F }", "{ soil: 62 mm }", "`62 mm` is not a temperature")]
    [InlineData("after: radish", "after: raddish", "`raddish`: nothing of the kind grows in this bed before; did you mean radish?")]
    [InlineData("every: 6 weeks", "every: 6", "`6` has no unit")]
    [InlineData("otherwise: after 4 days, water", "otherwise: water", "`otherwise` begins with how long to wait")]
    [InlineData("rain peak next", "rain paek next", "24:14: `paek`: neither a statistic nor a window of rain; did you mean peak?")]
    [InlineData("{washout: 8 mm/h}", "{washout: 8 mm}", "24:51: `8 mm` is not a rate of rain")]
    [InlineData("pat@example.org", "pat.example.org", "7:29: `pat.example.org` is no mail address")]
    [InlineData("[pat@example.org]", "[\"pat@example.org\\r\\nBcc: sam@example.org\"]", "an address can't hold spaces or line breaks")]
    [InlineData("sam@example.org", "sam", "`sam` is no mail address")]
    [InlineData("latitude: 38.03", "latitude: 138.03", "`138.03` is no latitude")]
    [InlineData(", longitude: -84.50", "", "latitude and longitude go together")]
    [InlineData("06:00-07:30", "6-8", "`6-8` does not say which half of the day")]
    [InlineData("06:00-07:30", "09:00-07:30", "ends before it begins")]
    [InlineData("elevation: 295 m", "elevation: 295", "`295` has no unit")]
    [InlineData("elevation: 295 m", "zone: America/New_Yrok", "`America/New_Yrok` is no time zone; did you mean America/New_York?")]
    [InlineData("id: quarry-lane ", "id: Quarry Lane ", "`Quarry Lane` can't be an id; small letters, digits and hyphens: `quarry-lane`")]
    [InlineData("plants: 6", "plants: six hundred thousand", "is not a whole number")]
    [InlineData("at: \"06:00\"", "at: \"13:00\"", "after noon it would be skipped")]
    [InlineData("every 10 days until too warm", "often", "`often` does not say how often")]
    [InlineData("caution: product label", "caution: product label\n    bed: sill", "`bed` was said already in line 20, column 5")]
    public void A_mistake_is_told_with_its_place_and_what_to_write(string right, string wrong, string fault)
    {
        Assert.Contains(right, Good, StringComparison.Ordinal);
        var reading = Read(Good.Replace(right, wrong, StringComparison.Ordinal));
        Assert.Null(reading.Plan);
        Assert.Contains(reading.Faults, f => f.ToString().Contains(fault, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("units: us\n\tid: x", "2:1: there is a tab at the beginning of the line; indent with spaces")]
    [InlineData("beds:\n  - bed: a\n\tsize: b", "3:1: there is a tab")]
    [InlineData("garden: Home: sweet home", "1:13: there is a second colon in the value; put the value in quotes: `garden: \"Home: sweet home\"`")]
    [InlineData("garden: Home\n  id: home", "2:3: this line is indented deeper than the one above (`garden: Home`)")]
    [InlineData("place: { town: x\nunits: us", "1:8: the `{` that begins here is never closed; add the `}`")]
    [InlineData("place: { town: x } }", "1:20: there is a `}` too many")]
    [InlineData("away: [ { from: x }\nunits: us", "1:7: the `[` that begins here is never closed")]
    [InlineData("garden: 'Home\nunits: us", "1:9: the quote that begins here is never closed")]
    [InlineData("garden: \"Home\nunits: us", "1:9: the quote that begins here is never closed")]
    [InlineData("beds:\n  - bed: x\n    size: y\n   soil: z", "4:4: `soil: z` is indented differently")]
    [InlineData("beds:\n  - bed: x\n  -bed: y", "3:3: the dash of a list needs a space after it: `-bed: y`; `- bed: y`")]
    [InlineData("beds:\n  -bed: y", "2:3: the dash of a list needs a space after it: `-bed`; `- bed`")]
    [InlineData("garden: Home\nrubbish\nunits: us", "2:1: `rubbish` has no colon and belongs to nothing")]
    [InlineData("garden: @home", "1:9: a text can't begin with `@`; put it in quotes")]
    [InlineData("garden: *home", "`*home` stands for nothing that was named before")]
    [InlineData("when: [rain at least {enough: 6 mm}]", "inside [ ] a phrase with { } is not read as one text")]
    [InlineData("- a\n- b", "1:1: this is no plan")]
    [InlineData("garden: a\n---\ngarden: b", "a second document begins here")]
    [InlineData("", "1:1: the file is empty")]
    [InlineData("# only a remark", "1:1: the file is empty")]
    [InlineData("garden: a\u0001b", "1:10: there is a letter here that is no text")]
    public void What_yaml_cannot_read_is_told_in_a_gardeners_words(string text, string fault) =>
        Assert.Contains(Read(text).Faults, f => f.ToString().Contains(fault, StringComparison.Ordinal));

    [Fact]
    public void All_faults_come_at_once_and_in_order()
    {
        var faults = Read(Good
            .Replace("units: us", "units: ys", StringComparison.Ordinal)
            .Replace("crop: garlic", "crop: garlik", StringComparison.Ordinal)
            .Replace("every: 6 weeks", "every: now and then", StringComparison.Ordinal)).Faults;
        Assert.Equal([4, 17, 21], faults.Select(f => f.Line));
    }

    [Fact]
    public void Conditions_nest()
    {
        var reading = ReadGood("""
            garden: Home
            place: { town: Little Fallow }
            chores:
              - chore: Look for slugs
                when:
                  - any:
                      - rain total past 2 days at least 5 mm
                      - none: [ "air low tonight below {cold: 8 °C}" ]
                  - air low tonight at least 5 °C
                none: gust high today above 12 m/s
            """);
        var when = Assert.Single(reading.Plan!.Chores).Conditions.When;
        Assert.Equal(3, when.Length);
        var any = Assert.IsType<Condition.AnyOf>(when[0]);
        Assert.IsType<Condition.NoneOf>(any.Parts[1]);
        Assert.IsType<Condition.NoneOf>(when[2]);
    }

    [Fact]
    public void An_alias_bomb_is_refused()
    {
        var bomb = new System.Text.StringBuilder("a0: &a0 [x, x, x, x, x, x, x, x, x]\n");
        for (int i = 1; i < 9; i++)
            bomb.Append(System.Globalization.CultureInfo.InvariantCulture, $"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 9))}]\n");
        Assert.Contains(Read(bomb.ToString()).Faults, f => f.Problem.Contains("aliases", StringComparison.Ordinal));
    }

    [Fact]
    public void Depth_and_size_are_bounded()
    {
        Assert.Contains(Read("a: " + new string('[', 5000)).Faults, f => f.Problem.Length > 0);
        Assert.Contains(Read("a: " + new string('[', 100) + new string(']', 100)).Faults, f => f.Problem.Contains("nested", StringComparison.Ordinal));
        Assert.Contains(Read("garden: " + new string('a', 100_000)).Faults, f => f.Problem.Contains("2000 letters", StringComparison.Ordinal));
        Assert.Contains(Read(new string('#', 300_000)).Faults, f => f.Problem.Contains("256 KB", StringComparison.Ordinal));
    }

    [Fact]
    public void With_one_bed_no_planting_needs_to_name_it() =>
        Assert.Equal("plot", ReadGood("garden: Home\nplace: { town: Little Fallow }\nbeds: [ bed: plot ]\nplantings: [ crop: pea ]\n").Plan!.Plantings[0].BedId);

    private const string Garden = """
        garden: Quarry Lane
        id: quarry-lane
        place: { latitude: 38.03, longitude: -84.50 }
        units: us
        beds: [ { bed: kitchen bed }, { bed: low bed } ]

        """;

    [Fact]
    public void Each_who_is_told_may_have_an_hour_units_and_beds_of_ones_own()
    {
        var plan = ReadGood(Garden + """
            digest:
              to:
                - pat@example.org
                - { who: sam@example.org, at: 7:30 am, units: metric, beds: [low bed] }
                - push
            """).Plan!;

        Assert.Equal([("pat@example.org", UnitSystem.Us, null), ("sam@example.org", UnitSystem.Metric, new LocalTime(7, 30)), ("push", UnitSystem.Us, null)],
            plan.Digest.To.Select(to => (to.Address, to.Units, to.At)));
        Assert.Equal(["low-bed"], plan.Digest.To[1].BedIds);
        Assert.Contains(
            "The digest goes to pat@example.org at 6 am; sam@example.org at 7:30 am in metric, for low bed; push at 6 am.",
            PlanSummary.Of(plan, new(UnitSystem.Us, NodaTime.DateTimeZone.Utc)).Replace('\u00A0', ' '), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("digest: { to: [{ at: \"7:30\" }] }", "this entry does not say who is told")]
    [InlineData("digest: { to: [{ who: sam, at: \"7:30\" }] }", "`sam` is no mail address and no channel")]
    [InlineData("digest: { to: [{ who: sam@example.org, beds: [hedge] }] }", "`hedge`: no such bed")]
    [InlineData("digest: { to: [{ who: sam@example.org, at: \"14:00\" }] }", "after noon it would be skipped")]
    [InlineData("digest: { to: [{ who: sam@example.org, unit: us }] }", "`unit` is not known here")]
    [InlineData("digest: { to: [pat@example.org, { who: Pat@example.org, units: us }] }", "`Pat@example.org` is named twice")]
    [InlineData("digest: { to: [[pat@example.org]] }", "each of `to` is a mail address")]
    public void What_is_wrong_with_an_addressee_is_told(string digest, string problem) =>
        Assert.Contains(problem, Assert.Single(Read(Garden + digest).Faults).ToString(), StringComparison.Ordinal);

    [Fact]
    public void A_bed_of_which_nobody_is_told_is_remarked() =>
        Assert.Contains("nobody is told of the kitchen bed",
            Assert.Single(ReadGood(Garden + "digest: { to: [{ who: sam@example.org, beds: low bed }] }").Remarks).ToString(), StringComparison.Ordinal);
}

using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class SubjectsTests
{
    private static readonly LocalDate April = new(2026, 4, 21);

    private const string Garden = """
        garden: Home
        id: home
        place: { town: Little Fallow }
        beds:
          - { bed: kitchen bed, size: 4 ft x 12 ft }
          - { bed: low bed, size: 4 ft x 8 ft, at: 6 ft x 0 ft }
        plantings:
          - { crop: tomato, bed: low bed, bought: mid May }
          - { crop: tomato, bed: low bed, variety: red cherry, sown: April }
          - { crop: garlic, bed: low bed, sown: late October last year }
          - { crop: radish, bed: kitchen bed }
          - { crop: radish, bed: kitchen bed }
        chores:
          - { chore: Spread slug pellets, bed: low bed, every: 2 weeks, when: rain total past 2 days at least 5 mm }
          - { chore: Drain the hose, when: air low tonight below 0 °C }
        """;

    private static (string[] Before, string[] After, PlanReading Reading) Ids(Func<string, string> change, LocalDate? then = null)
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        string changed = change(Garden);
        Assert.NotEqual(Garden, changed);
        var second = PlanFileTests.ReadGood(changed, first.Subjects, then ?? April.PlusDays(5));
        return (All(first.Plan!), All(second.Plan!), second);
    }

    private static string[] All(Plan plan) =>
        [.. plan.Beds.Select(b => b.Id), .. plan.Plantings.Select(p => p.Id), .. plan.Chores.Select(c => c.Id)];

    private static Func<string, string> Put(string old, string now) => text => text.Replace(old, now, StringComparison.Ordinal);

    [Fact]
    public void Ids_are_unique_and_readable()
    {
        string[] ids = All(PlanFileTests.ReadGood(Garden, [], April).Plan!);
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.Equal(
            ["kitchen-bed", "low-bed", "tomato-low-bed", "tomato-low-bed-2", "garlic-low-bed", "radish-kitchen-bed", "radish-kitchen-bed-2", "spread-slug-pellets-low-bed", "drain-the-hose"],
            ids);
    }

    [Fact]
    public void Reading_twice_changes_nothing()
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        var second = PlanFileTests.ReadGood(Garden, first.Subjects, April.PlusDays(300));
        Assert.Equal(first.Subjects, second.Subjects);
    }

    [Fact]
    public void A_renamed_bed_keeps_its_id_and_its_plantings_theirs()
    {
        var (before, after, _) = Ids(Put("low bed", "hollow by the pump"));
        Assert.Equal(before, after);
    }

    [Fact]
    public void A_renamed_garden_keeps_all_ids()
    {
        var (before, after, reading) = Ids(Put("garden: Home", "garden: The New Place"));
        Assert.Equal(before, after);
        Assert.Equal("home", reading.Plan!.GardenId);
    }

    [Fact]
    public void Lists_may_be_put_in_another_order()
    {
        var (before, after, _) = Ids(text =>
        {
            var lines = text.Split('\n').ToList();
            (lines[4], lines[5]) = (lines[5], lines[4]);
            (lines[7], lines[8], lines[9]) = (lines[9], lines[7], lines[8]);
            (lines[13], lines[14]) = (lines[14], lines[13]);
            return string.Join('\n', lines);
        });
        Assert.Equal(["low-bed", "kitchen-bed", "garlic-low-bed", "tomato-low-bed", "tomato-low-bed-2"], after[..5]);
        Assert.Equal(before.Order(), after.Order());
    }

    [Fact]
    public void A_crop_moved_to_another_bed_keeps_its_id()
    {
        var (before, after, _) = Ids(Put("crop: garlic, bed: low bed", "crop: garlic, bed: kitchen bed"));
        Assert.Equal(before, after);
    }

    [Fact]
    public void A_crop_put_in_the_place_of_another_is_new()
    {
        var (before, after, _) = Ids(Put("{ crop: garlic, bed: low bed, sown: late October last year }", "{ crop: kale, bed: low bed, sown: late October last year }"));
        Assert.DoesNotContain(after[4], before);
    }

    [Fact]
    public void A_renamed_chore_with_the_same_weather_keeps_its_id()
    {
        var (before, after, _) = Ids(Put("Spread slug pellets", "Scatter iron bait"));
        Assert.Equal(before[^2], after[^2]);
    }

    [Fact]
    public void What_was_taken_out_and_comes_back_is_the_same_again()
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        string without = string.Join('\n', Garden.Split('\n').Where(line => !line.Contains("garlic", StringComparison.Ordinal)));
        var second = PlanFileTests.ReadGood(without, first.Subjects, April.PlusDays(30));
        Assert.Contains(second.Subjects, s => s.Id == "garlic-low-bed");
        var third = PlanFileTests.ReadGood(Garden, second.Subjects, April.PlusDays(60));
        Assert.Equal(All(first.Plan!), All(third.Plan!));
        Assert.Equal(first.Plan!.Plantings[2].OriginDate, third.Plan!.Plantings[2].OriginDate);
    }

    [Fact]
    public void Last_year_stays_the_same_year_when_the_year_turns()
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        var later = PlanFileTests.ReadGood(Garden, first.Subjects, new(2027, 2, 1));
        Assert.Equal(new DateRange(new(2025, 10, 21), new(2025, 10, 31)), later.Plan!.Plantings[2].OriginDate);
        Assert.Equal(new DateRange(new(2026, 5, 11), new(2026, 5, 20)), later.Plan!.Plantings[0].OriginDate);
    }

    [Fact]
    public void A_plan_left_as_it_was_for_a_year_is_remarked_on()
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        Assert.DoesNotContain(first.Remarks, r => r.Line == 8);
        var later = PlanFileTests.ReadGood(Garden, first.Subjects, new(2027, 4, 21));
        Assert.Contains(later.Remarks, r => r.Line == 8 && r.Problem.Contains("15 May 2026", StringComparison.Ordinal));
    }

    [Fact]
    public void A_bed_built_alike_elsewhere_is_another_bed()
    {
        var (before, after, _) = Ids(Put("  - { bed: low bed, size: 4 ft x 8 ft, at: 6 ft x 0 ft }", "  - { bed: orchard strip, size: 4 ft x 8 ft, at: 60 ft x 9 ft }\n  - { bed: low bed, size: 5 ft x 8 ft, at: 6 ft x 0 ft }"));
        Assert.Equal("orchard-strip", after[1]);
        Assert.Equal(before[1..], after[2..]);
    }

    [Fact]
    public void New_words_about_a_beginning_are_counted_from_the_day_they_are_read()
    {
        var (before, after, reading) = Ids(Put("bought: mid May", "bought: yesterday"), new(2026, 5, 20));
        Assert.Equal(before, after);
        Assert.Equal(new LocalDate(2026, 5, 19), reading.Plan!.Plantings[0].OriginDate!.Value.From);
    }

    [Fact]
    public void The_same_crop_elsewhere_a_season_later_is_a_new_planting()
    {
        var (before, after, _) = Ids(Put("crop: garlic, bed: low bed", "crop: garlic, bed: kitchen bed"), new(2027, 3, 1));
        Assert.DoesNotContain(after[4], before);
    }

    [Fact]
    public void What_could_be_either_of_two_is_neither()
    {
        var (before, after, _) = Ids(text => text
            .Replace("crop: radish, bed: kitchen bed }\n  - { crop: radish, bed: kitchen bed }", "crop: radish, bed: low bed }", StringComparison.Ordinal));
        Assert.DoesNotContain(after[5], before);
    }

    [Fact]
    public void An_id_of_the_gardeners_own_wins()
    {
        var first = PlanFileTests.ReadGood(Put("crop: garlic, bed: low bed", "id: my-garlic, crop: garlic, bed: low bed")(Garden), [], April);
        Assert.Contains(first.Plan!.Plantings, p => p.Id == "my-garlic");
        var second = PlanFileTests.ReadGood(
            Put("crop: garlic, bed: low bed, sown: late October last year", "id: my-garlic, crop: garlic, bed: kitchen bed, sown: late October last year")(Garden), first.Subjects, new(2027, 3, 1));
        var garlic = Assert.Single(second.Plan!.Plantings, p => p.Id == "my-garlic");
        Assert.Equal(new LocalDate(2025, 10, 21), garlic.OriginDate!.Value.From);
    }

    [Fact]
    public void An_id_used_twice_is_refused()
    {
        var reading = PlanFileTests.Read(Put("{ bed: ", "{ id: same, bed: ")(Garden));
        Assert.Contains(reading.Faults, f => f.Problem == "the id `same` is used twice");
        Assert.Empty(reading.Subjects);
    }

    [Fact]
    public void A_faulty_plan_leaves_what_is_known_as_it_was()
    {
        var first = PlanFileTests.ReadGood(Garden, [], April);
        var second = PlanFileTests.Read(Put("crop: garlic", "crop: garlik")(Garden), first.Subjects);
        Assert.Equal(first.Subjects, second.Subjects);
    }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>Who is to be watered of a morning, and who is not. The weather is invented: 5 mm of use a day.</summary>
public class WaterSituations
{
    private static Func<LocalDateTime, double> Use(double mmADay) => at => at.Hour is > 7 and <= 19 ? mmADay / 12 : 0;

    /// <summary>Filled by rain so many days before the look, and dry since.</summary>
    private static Scenario Dry(string plan, int since, double useMm = 5) => Scenario.On(2026, 7, 16).Plan(plan)
        .Hourly(WeatherVariable.ReferenceEvapotranspiration, Use(useMm))
        .Days(WeatherVariable.Rain, -since, -since, at => at.Hour is > 2 and <= 6 ? 30 : 0);

    private static ImmutableArray<Job> Waterings(Agenda agenda) => [.. agenda.Jobs.Where(job => job.Kind == JobKind.Water)];

    private static string Said(Job job) => string.Join(' ', job.Reasons.Select(reason => reason.Text));

    private static double Given(Job job, string value) => job.Reasons.Single(reason => reason.Code == Reason.WaterToGive).Values[value];

    private static string Lettuce(string bed = "size: 2 m x 2 m, soil: loam", string more = "") => $$"""
        beds:
          - { bed: low bed, id: low, {{bed}} }
        plantings:
          - { crop: lettuce, bed: low bed, set out: 10 June{{more}} }
        """;

    [Fact]
    public void A_bed_that_has_enough_says_nothing()
    {
        var agenda = Dry(Lettuce(), since: 1).At();
        Assert.Empty(Waterings(agenda));
        var bed = Assert.Single(agenda.Beds);
        Assert.Null(bed.WaterToGiveLitres);
        Assert.DoesNotContain("Lacks", bed.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_dry_bed_is_watered_in_the_early_morning_with_what_is_missing()
    {
        var agenda = Dry(Lettuce(), since: 3).At();
        var job = Assert.Single(Waterings(agenda));
        Assert.Equal(Standing.Now, job.Standing);
        Assert.Equal("mill-bank/low/water/1", job.Id);
        Assert.Equal("Water the low bed", job.Name);
        Assert.Equal(new LocalTime(6, 0), Scenario.Calendar.TimeOf(job.Best!.Value.From));
        // Lettuce of July: three days at its coefficient of 0.7 to 1, on four square metres.
        Assert.InRange(Given(job, "giveMm"), 10, 15);
        Assert.Equal(4 * Given(job, "giveMm"), Given(job, "litres"), 1e-9);
        var bed = Assert.Single(agenda.Beds);
        Assert.Equal(Given(job, "litres"), bed.WaterToGiveLitres!.Value, 1e-9);
        Assert.Equal(Given(job, "giveMm"), bed.WaterDeficitMm!.Value, 1e-9);
        Assert.Contains("give", bed.Sentence, StringComparison.Ordinal);
        Assert.NotNull(job.How);
    }

    [Fact]
    public void A_bed_without_a_size_is_told_by_the_square_metre_and_an_unnamed_soil_is_said()
    {
        var job = Assert.Single(Waterings(Dry(Lettuce("mulch: none"), since: 4).At()));
        Assert.Contains("litres for each square metre", Said(job).Replace(' ', ' '), StringComparison.Ordinal);
        Assert.Contains("aken as loam", Said(job), StringComparison.Ordinal);
        Assert.DoesNotContain("litres", job.Reasons.Single(reason => reason.Code == Reason.WaterToGive).Values.Keys);
    }

    [Fact]
    public void Saturday_is_no_reason_to_water_at_noon()
    {
        var job = Assert.Single(Waterings(Scenario.On(2026, 7, 18).Plan(Lettuce())
            .Hourly(WeatherVariable.ReferenceEvapotranspiration, Use(5)).Days(WeatherVariable.Rain, -5, -5, _ => 5).At()));
        Assert.All(job.Windows, window => Assert.True(Scenario.Calendar.TimeOf(window.Until) <= new LocalTime(10, 0) || Scenario.Calendar.TimeOf(window.From) >= new LocalTime(17, 0)));
        Assert.Equal(new LocalTime(8, 0), Scenario.Calendar.TimeOf(job.Best!.Value.From));
    }

    [Theory]
    [InlineData(17, false)]
    [InlineData(15, true)]
    public void Rain_is_waited_for_when_four_runs_of_five_bring_enough(int wetOfTwenty, bool isWatered)
    {
        var agenda = Dry(Lettuce(), since: 3)
            .Runs(wetOfTwenty, WeatherVariable.Rain, 0, 1, at => at.Hour is >= 9 and < 13 ? 5 : 0).RunsAsForecast(20 - wetOfTwenty).At();
        Assert.Equal(isWatered, !Waterings(agenda).IsEmpty);
        if (isWatered)
            Assert.Contains("by the forecast runs", Said(Waterings(agenda)[0]), StringComparison.Ordinal);
        else
            Assert.Contains("rain that is sure enough comes first", Assert.Single(agenda.Beds).Sentence, StringComparison.Ordinal);
    }

    /// <summary>Jobs.md S10: 4 mm fell yesterday, use 5 mm, the bed lacks some 9 mm, a leafy tomato stands in 20 litres.</summary>
    [Fact]
    public void Pots_and_bed_after_a_shower()
    {
        var agenda = Dry("""
            beds:
              - { bed: top bed, id: top, size: 2 m x 2 m, soil: loam }
              - { bed: big pot, id: pot, container: 20 litres }
            plantings:
              - { crop: tomato, bed: top bed, set out: 15 May }
              - { crop: tomato, bed: big pot, set out: 15 May }
            """, since: 3)
            .Days(WeatherVariable.Rain, -1, -1, at => at.Hour is > 12 and <= 16 ? 1 : 0)
            .Done("mill-bank/pot/water/1", daysAgo: 2).At();
        var job = Assert.Single(Waterings(agenda));
        Assert.Equal("mill-bank/pot/water/2", job.Id);
        Assert.Contains("leaves kept much off", Said(job), StringComparison.Ordinal);
        Assert.InRange(agenda.Beds.Single(bed => bed.Id == "top").WaterDeficitMm!.Value, 7, 15);
    }

    [Fact]
    public void Pots_are_watered_daily_in_heat_and_beds_are_not()
    {
        const string Garden = """
            beds:
              - { bed: top bed, id: top, size: 2 m x 2 m, soil: loam }
              - { bed: pot, id: pot, container: 10 litres }
            plantings:
              - { crop: tomato, bed: top bed, set out: 15 May }
              - { crop: tomato, bed: pot, set out: 15 May }
            """;
        var job = Assert.Single(Waterings(Dry(Garden, since: 1, useMm: 7).Done("mill-bank/pot/water/1", daysAgo: 1).At()));
        Assert.Equal("pot", job.BedId);
        Assert.Contains("orning and evening", Waterings(Dry(Garden, since: 1, useMm: 9).Done("mill-bank/pot/water/1", daysAgo: 1).At())[0].How, StringComparison.Ordinal);
    }

    [Fact]
    public void Rain_does_not_reach_a_bed_under_glass()
    {
        Assert.Empty(Waterings(Dry(Lettuce("over: open, soil: loam"), since: 1).At()));
        Assert.Single(Waterings(Dry(Lettuce("over: tunnel, soil: loam"), since: 1).At()));
    }

    [Fact]
    public void Straw_puts_it_off_and_sand_brings_it_on()
    {
        static double Lack(string bed) => Dry(Lettuce(bed), since: 3).At().Beds[0].WaterDeficitMm!.Value;
        Assert.True(Lack("soil: loam, mulch: straw") < Lack("soil: loam"));
        Assert.Empty(Waterings(Dry(Lettuce("soil: loam"), since: 1).At()));
        Assert.Single(Waterings(Dry(Lettuce("soil: sand"), since: 1).At()));
    }

    [Fact]
    public void An_empty_bed_only_dries_at_its_surface_and_is_not_watered()
    {
        var agenda = Dry("beds:\n  - { bed: low bed, soil: loam }", since: 30).At();
        Assert.Empty(Waterings(agenda));
        Assert.InRange(agenda.Beds[0].WaterDeficitMm!.Value, 15, 25); // 1000 (FC - WP / 2) 0.1 m of a loam, FAO-56 eq. 73
    }

    [Fact]
    public void New_plants_and_seed_get_little_and_often()
    {
        const string Set = """
            beds:
              - { bed: low bed, id: low, size: 2 m x 4 m, soil: loam }
            plantings:
              - { crop: tomato, bed: low bed, set out: 13 July, plants: 6 }
            """;
        var set = Assert.Single(Waterings(Dry(Set, since: 10).At()));
        Assert.Equal(6, Given(set, "litres"));
        Assert.Contains("At the stem", set.How, StringComparison.Ordinal);
        const string Sown = """
            beds:
              - { bed: low bed, id: low, size: 2 m x 4 m, soil: loam }
            plantings:
              - { crop: carrot, bed: low bed, sown: 13 July }
            """;
        var sown = Assert.Single(Waterings(Dry(Sown, since: 2).At()));
        Assert.Contains("fine rose", sown.How, StringComparison.Ordinal);
        Assert.InRange(Given(sown, "giveMm"), 1, 8);
    }

    [Fact]
    public void Garlic_that_ripens_is_left_to_dry() => Assert.Empty(Waterings(Dry("""
        beds:
          - { bed: low bed, soil: loam }
        plantings:
          - { crop: garlic, bed: low bed, sown: late October last year }
        """, since: 20).At()));

    [Fact]
    public void Watering_told_today_is_not_asked_for_again_and_fills_the_bed()
    {
        Assert.Empty(Waterings(Dry(Lettuce(), since: 4).Done("mill-bank/low/water/1", daysAgo: 0).At("19:00")));
        var after = Dry(Lettuce(), since: 8).Done("mill-bank/low/water/1", daysAgo: 1).At();
        Assert.Empty(Waterings(after));
        Assert.InRange(after.Beds[0].WaterDeficitMm!.Value, 1, 6);
    }

    [Fact]
    public void A_note_of_litres_counts_as_so_much()
    {
        double without = Dry(Lettuce(), since: 4).At().Beds[0].WaterDeficitMm!.Value;
        double with = Dry(Lettuce(), since: 4).Noted("low", "watered 20 litres", daysAgo: 1).At().Beds[0].WaterDeficitMm!.Value;
        Assert.Equal(without - 5, with, 0.6); // 20 litres on 4 m²
    }

    [Fact]
    public void Advice_that_nobody_answers_counts_as_followed_and_is_not_repeated()
    {
        var told = LastSaid.Nothing;
        var first = Dry(Lettuce(), since: 4).At();
        var job = Assert.Single(Waterings(first));
        told = told.After(first);
        // The same day it stands as it was told.
        Assert.Equal(job.Id, Assert.Single(Waterings(Dry(Lettuce(), since: 4).Said(told).At("07:00"))).Id);
        told = told with { Jobs = told.Jobs.SetItem(job.Id, told.Jobs[job.Id] with { FirstOn = new(2026, 7, 15), LastOn = new(2026, 7, 15) }) };
        Assert.Empty(Waterings(Dry(Lettuce(), since: 5).Said(told).At()));
        told = told with { Jobs = told.Jobs.SetItem(job.Id, told.Jobs[job.Id] with { FirstOn = new(2026, 7, 12), LastOn = new(2026, 7, 12) }) };
        var again = Assert.Single(Waterings(Dry(Lettuce(), since: 8).Said(told).At()));
        Assert.Equal("mill-bank/low/water/2", again.Id);
        Assert.Contains("as advised", Said(again), StringComparison.Ordinal);
    }

    [Fact]
    public void Who_is_away_waters_before_leaving()
    {
        Assert.Empty(Waterings(Dry(Lettuce("soil: silt loam"), since: 1).At()));
        var job = Assert.Single(Waterings(Dry(Lettuce("soil: silt loam") + "\naway: [ { from: 17 July, to: 25 July } ]", since: 1).At()));
        Assert.Contains("before you are there again", Said(job), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_known_is_said_and_not_taken_as_dry_or_wet()
    {
        var agenda = Dry(Lettuce(), since: 4).Days(WeatherVariable.Rain, -2, -2, _ => double.NaN).At();
        Assert.Empty(Waterings(agenda));
        Assert.Null(agenda.Beds[0].WaterDeficitMm);
        Assert.Contains(agenda.Notes, note => note.Contains("low bed", StringComparison.Ordinal) && note.Contains("finger", StringComparison.Ordinal));
    }

    [Fact]
    public void A_record_that_begins_dry_is_taken_as_full_and_that_is_said()
    {
        var job = Assert.Single(Waterings(Dry("""
            beds:
              - { bed: low bed, soil: loam, size: 1 m x 1 m }
            plantings:
              - { crop: asparagus, bed: low bed, growing: yes }
            """, since: 400, useMm: 4).At()));
        Assert.Contains("taken as full", Said(job), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Conditions_ask_the_beds_own_roots()
    {
        static double Deficit(string crop) => Dry($$"""
            beds:
              - { bed: low bed, soil: loam }
            plantings:
              - { crop: {{crop}}, bed: low bed, set out: 1 May }
            chores:
              - chore: Look at the bed
                bed: low bed
                when:
                  - soil water deficit high past 2 hours at least {dry: 500 mm}
            """, since: 20).At().Jobs.Single(job => job.Kind == JobKind.Look && job.Crop is null).Needs[0].Value!.Value;
        Assert.True(Deficit("tomato") > Deficit("lettuce") + 20);
    }

    [Fact]
    public void More_rain_never_asks_for_more_water()
    {
        double last = double.MaxValue;
        foreach (double mm in new[] { 0, 1, 2, 4, 6, 9, 14, 30 })
        {
            var jobs = Waterings(Dry(Lettuce(), since: 4).Days(WeatherVariable.Rain, -1, -1, at => at.Hour == 15 ? mm : 0).At());
            double give = jobs.IsEmpty ? 0 : Given(jobs[0], "giveMm");
            Assert.True(give <= last + 1e-9, $"{mm} mm of rain: {give} of {last}");
            last = give;
        }
        Assert.Equal(0, last);
    }
}

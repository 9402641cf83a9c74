using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tests.Agendas;
using GardenWatch.Planning.Tests.Seasons;

namespace GardenWatch.Planning.Tests.Situations;

/// <summary>Jobs that come with an occasion: each where it must come, where it must not, and where its weather is not known. Weather invented; each names its row of the trade's job table.</summary>
public class CatalogueSituations
{
    private const double Missing = double.NaN;

    private static string One(string crop, string begun, string bed = "soil: loam") => $$"""
        beds: [ { bed: low bed, size: 1.2 m x 3 m, {{bed}} } ]
        plantings: [ { crop: {{crop}}, bed: low bed, {{begun}}, id: plants } ]
        """;

    /// <summary>Frost dates of the place, for what counts to them.</summary>
    private static Scenario WithFrosts(Scenario scenario) => scenario.Climate(Climate);

    // The 130th day is 10 May, the 278th 5 October.
    private static readonly ClimateSummary Climate = StageTests.Place.Value.Climate with
    {
        Frosts = [new(false, 0, new(new(1, 1), 120, 130, 140, 10, 10), new(new(1, 1), 268, 278, 288, 10, 10))],
    };

    private static IEnumerable<Job> Of(Agenda agenda, JobKind kind) => agenda.Jobs.Where(job => job.Kind == kind);

    private static IEnumerable<string> Reasons(Agenda agenda) => agenda.Jobs.SelectMany(job => job.Reasons).Select(reason => reason.Text);

    private static void Said(Agenda agenda, string words) => Assert.Contains(Reasons(agenda), text => text.Contains(words, StringComparison.Ordinal));

    private static void NotSaid(Agenda agenda, string words) => Assert.DoesNotContain(Reasons(agenda), text => text.Contains(words, StringComparison.Ordinal));

    private static void NotKnown(Agenda agenda, string words) =>
        Assert.Contains(agenda.Notes, note => note.StartsWith("Not known", StringComparison.Ordinal) && note.Contains(words, StringComparison.Ordinal));

    private static Scenario Squash(double sun) => WithFrosts(Scenario.On(2026, 7, 10)).Plan(One("summer squash", "set out: 20 May 2026"))
        .Hourly(WeatherVariable.Air, Scenario.Between(14, 24)).Hourly(WeatherVariable.Radiation, at => at.Hour is >= 5 and < 20 ? sun * 24 / 15 : 0);

    [Fact] // pollinate
    public void In_a_dull_spell_squash_is_pollinated_by_hand_and_asked_for_again_only_a_week_after_the_answer()
    {
        var job = Assert.Single(Of(Squash(100).At(), JobKind.Other));
        Assert.Equal("Pollinate the summer squash by hand", job.Name);
        Assert.Equal(Standing.Now, job.Standing);
        Assert.Equal("mill-bank/plants/other/1", job.Id);

        Assert.DoesNotContain(Of(Squash(100).Done(job.Id, 2).At(), JobKind.Other), again => again.Standing == Standing.Now);
        Assert.Equal("mill-bank/plants/other/101", Assert.Single(Of(Squash(100).Done(job.Id, 8).At(), JobKind.Other)).Id);
    }

    [Fact] // pollinate
    public void While_bees_fly_nobody_pollinates_by_hand_and_nobody_is_told_to_wait_for_it() => Assert.Empty(Of(Squash(220).At(), JobKind.Other));

    [Fact] // pollinate
    public void Where_the_sun_is_not_known_the_pollinating_is_told_as_not_known()
    {
        var job = Assert.Single(Of(Squash(100).Hourly(WeatherVariable.Radiation, _ => Missing).At(), JobKind.Other));
        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Holds is null);
    }

    [Theory] // pollinate, under glass
    [InlineData("over: greenhouse", true)]
    [InlineData("soil: loam", false)]
    public void Trusses_are_tapped_where_no_wind_gets_in_and_not_in_a_breeze(string bed, bool asked) => Assert.Equal(asked,
        Of(WithFrosts(Scenario.On(2026, 7, 10)).Plan(One("tomato", "set out: 20 May 2026", bed)).Hourly(WeatherVariable.Wind, _ => 5).At(), JobKind.Other).Any());

    [Theory] // scapes
    [InlineData(6, 1, true)]
    [InlineData(4, 1, false)]
    public void Scapes_are_snapped_off_some_weeks_before_garlic_is_lifted(int month, int day, bool asked)
    {
        var agenda = Scenario.On(2026, month, day).Plan(One("garlic", "set out: 15 October 2025")).At();
        Assert.Equal(asked, Of(agenda, JobKind.Prune).Any(job => job.Name == "Snap off the scapes of the garlic"));
    }

    private static Scenario Orchard(string crop, int month, int day) => WithFrosts(Scenario.On(2026, month, day)).Plan(One(crop, "set out: 1 November 2020"));

    [Fact] // common practice of fruit growing
    public void Apples_are_pruned_in_their_rest_on_a_dry_day_with_a_word_on_ladders()
    {
        var job = Assert.Single(Of(Orchard("apple", 3, 1).At(), JobKind.Prune));
        Assert.Equal(Standing.Now, job.Standing);
        Assert.Contains(job.Cautions, caution => caution.StartsWith("A ladder stands on firm dry ground", StringComparison.Ordinal));

        Assert.NotEqual(Standing.Now, Assert.Single(Of(Orchard("apple", 3, 1).Hourly(WeatherVariable.Rain, _ => 0.5).At(), JobKind.Prune)).Standing);
        Assert.Empty(Of(Orchard("apple", 7, 20).At(), JobKind.Prune));
    }

    [Fact] // common practice of fruit growing
    public void Plums_are_pruned_in_dry_summer_weather_and_never_in_winter()
    {
        Assert.Equal(Standing.Now, Assert.Single(Of(Orchard("plum", 7, 20).At(), JobKind.Prune)).Standing);
        Assert.Empty(Of(Orchard("plum", 3, 1).At(), JobKind.Prune));
    }

    [Fact] // missing weather
    public void A_tree_whose_rain_is_not_known_waits_for_its_pruning_and_says_so()
    {
        var job = Assert.Single(Of(Orchard("plum", 7, 20).Days(WeatherVariable.Rain, -2, 16, _ => Missing).At(), JobKind.Prune));
        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Holds is null);
    }

    private static Scenario Sown(string soil = "loam") => Scenario.On(2026, 5, 20).Plan(One("carrot", "sown: 15 May 2026", $"soil: {soil}"))
        .Days(WeatherVariable.Rain, -1, -1, at => at.Hour is >= 8 and < 18 ? 2 : 0);

    [Fact] // look-crust-rain
    public void After_heavy_rain_the_crust_over_seed_is_broken_once()
    {
        var job = Assert.Single(Of(Sown().At(), JobKind.Look));
        Assert.Equal("Break the crust over the seed of the carrots", job.Name);
        Assert.Equal(Standing.Now, job.Standing);
        Assert.Empty(Of(Sown().Done(job.Id, 0).At("18:00"), JobKind.Look));
    }

    [Fact] // look-crust-rain
    public void No_crust_is_broken_in_sand_before_more_rain_or_after_little()
    {
        Assert.Empty(Of(Sown("sand").At(), JobKind.Look));
        Assert.Empty(Of(Sown().Days(WeatherVariable.Rain, 0, 0, _ => 1).At(), JobKind.Look));
        Assert.Empty(Of(Sown().Days(WeatherVariable.Rain, -1, -1, at => at.Hour is >= 8 and < 18 ? 0.5 : 0).At(), JobKind.Look));
    }

    [Fact] // look-crust-rain, protect-flood
    public void Where_the_rain_is_not_known_neither_are_crust_and_flood() =>
        NotKnown(Sown().Days(WeatherVariable.Rain, -1, -1, _ => Missing).At(), "whether water stands on the beds, whether rain left a crust over seed");

    private static Scenario Lettuce(double high) => Scenario.On(2026, 6, 20).Plan(One("lettuce", "sown: 1 May 2026")).Hourly(WeatherVariable.Air, Scenario.Between(high - 12, high));

    [Fact] // look-bolting
    public void Heat_in_long_days_sends_one_to_look_for_flower_stalks_and_not_again_at_once()
    {
        Said(Lettuce(30).At(), "For flower stalks");
        NotSaid(Lettuce(30).Done("mill-bank/plants/look/1", 2).At(), "For flower stalks");
    }

    [Fact] // look-bolting
    public void In_cool_weather_and_in_short_days_nothing_is_said_of_flower_stalks()
    {
        NotSaid(Lettuce(20).At(), "For flower stalks");
        NotSaid(Scenario.On(2026, 9, 25).Plan(One("lettuce", "sown: 1 August 2026")).Hourly(WeatherVariable.Air, Scenario.Between(18, 30)).At(), "For flower stalks");
    }

    [Fact] // look-bolting
    public void Where_the_air_of_the_past_days_is_not_known_neither_is_the_bolting() =>
        NotKnown(Lettuce(30).Days(WeatherVariable.Air, -4, 0, _ => Missing).At(), "whether anything runs to seed");

    private const string Beds = """
        beds: [ { bed: low bed, soil: loam }, { bed: hoops, over: tunnel } ]
        plantings: [ { crop: kale, bed: low bed, set out: 1 May 2026, id: plants } ]
        """;

    private static Scenario Hailed(int daysAgo) => Scenario.On(2026, 6, 20).Plan(Beds)
        .Hourly(WeatherVariable.WeatherCode, _ => 1).Days(WeatherVariable.WeatherCode, -daysAgo, -daysAgo, at => at.Hour == 16 ? 99 : 1);

    [Theory] // look-hail-damage
    [InlineData(1, "Look at what the hail struck")]
    [InlineData(7, "Look again at what the hail struck")]
    [InlineData(4, null)]
    [InlineData(12, null)]
    public void One_looks_on_the_day_after_hail_and_again_a_week_on(int daysAgo, string? name) => Assert.Equal(name, Struck(Hailed(daysAgo).At())?.Name);

    private static Job? Struck(Agenda agenda) => agenda.Jobs.SingleOrDefault(job => job.SubjectId == "hail");

    [Fact] // look-hail-damage
    public void Who_has_looked_after_hail_is_asked_again_only_a_week_on_and_hail_that_was_written_down_counts()
    {
        string id = Struck(Hailed(2).At())!.Id;
        Assert.Equal("mill-bank/hail/look/20260618", id);
        Assert.Null(Struck(Hailed(2).Done(id, 1).At()));
        Assert.NotNull(Struck(Hailed(7).Done("mill-bank/hail/look/20260613", 6).At()));
        Assert.Equal(id, Struck(Scenario.On(2026, 6, 20).Plan(Beds).Noted("plants", "Hail last evening, leaves torn", 2).At())!.Id);
        Assert.Null(Struck(Scenario.On(2026, 6, 20).Plan(Beds).Noted("plants", "no hail here", 2).At()));
    }

    [Fact] // look-hail-damage
    public void Where_the_weather_of_a_day_is_not_known_neither_is_the_hail()
    {
        var agenda = Hailed(20).Days(WeatherVariable.WeatherCode, -1, 0, _ => Missing).At();
        Assert.Null(Struck(agenda));
        NotKnown(agenda, "whether it hailed");
    }

    [Theory] // protect-flood
    [InlineData(50, true)]
    [InlineData(20, false)]
    public void After_a_flood_one_looks_at_the_beds_and_is_warned_of_the_water(double rainMm, bool asked)
    {
        var agenda = Scenario.On(2026, 6, 20).Plan(Beds).Days(WeatherVariable.Rain, -1, -1, at => at.Hour is >= 8 and < 18 ? rainMm / 10 : 0).At();
        var job = agenda.Jobs.SingleOrDefault(job => job.SubjectId == "flood");
        Assert.Equal(asked, job is not null);
        Assert.True(job?.Cautions.Any(caution => caution.Contains("local food advice", StringComparison.Ordinal)) ?? true);
    }

    private static Scenario Snowed(double cm) => Scenario.On(2026, 1, 20).Plan(Beds)
        .Hourly(WeatherVariable.Air, Scenario.Between(-6, -1)).Hourly(WeatherVariable.Snowfall, _ => 0).Days(WeatherVariable.Snowfall, -1, -1, at => at.Hour is >= 10 and < 20 ? cm / 10 : 0);

    [Fact] // cover-snow
    public void Snow_is_knocked_off_the_tunnel_when_there_is_enough_of_it()
    {
        var job = Assert.Single(Snowed(10).At().Jobs, job => job.SubjectId == "snow");
        Assert.Equal(JobKind.Other, job.Kind);
        Assert.Contains(job.Reasons, reason => reason.Text.EndsWith("over: hoops.", StringComparison.Ordinal));
        Assert.DoesNotContain(Snowed(10).Done(job.Id, 0).At("18:00").Jobs, again => again.SubjectId == "snow");
        Assert.DoesNotContain(Snowed(1).At().Jobs, again => again.SubjectId == "snow");
    }

    [Fact] // cover-snow
    public void Where_the_snow_is_not_known_that_is_said() => NotKnown(Snowed(10).Days(WeatherVariable.Snowfall, -1, -1, _ => Missing).At(), "whether snow lies on covers");

    private static Scenario Ripe(double rainMm) => Scenario.On(2026, 8, 20).Plan(One("tomato", "set out: 10 May 2026"))
        .Hourly(WeatherVariable.Air, Scenario.Between(15, 27)).Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is >= 8 and < 18 ? 0.5 : 0)
        .Days(WeatherVariable.Rain, -40, -39, _ => 2).Days(WeatherVariable.Rain, 0, 0, at => at.Hour is >= 19 ? rainMm / 5 : 0);

    [Fact] // pick-tomato-before-rain
    public void Before_a_downpour_after_a_dry_spell_ripe_tomatoes_are_picked_also_by_who_has_picked_before()
    {
        foreach (var scenario in (Scenario[])[Ripe(40), Ripe(40).Done("mill-bank/plants/harvest/1", 5)])
        {
            var agenda = scenario.At();
            Said(agenda, "what is ripe splits in a big rain");
            var job = Assert.Single(Of(agenda, JobKind.Harvest));
            Assert.Equal(Standing.Now, job.Standing);
            Assert.True(job.ActBy is { } end && end <= Scenario.Calendar.At(new(2026, 8, 20), new(19, 0)), $"{job.ActBy}");
        }
        NotSaid(Ripe(40).Done("mill-bank/plants/harvest/1", 1).At(), "what is ripe splits");
    }

    [Fact] // pick-tomato-before-rain
    public void Little_rain_asks_nobody_to_pick_again() =>
        Assert.Empty(Of(Ripe(5).Done("mill-bank/plants/harvest/1", 5).At(), JobKind.Harvest));

    [Fact] // pick-tomato-before-rain
    public void Where_the_rain_to_come_is_not_known_neither_is_what_it_splits() =>
        NotKnown(Ripe(40).Days(WeatherVariable.Rain, 0, 0, _ => Missing).At(), "whether rain comes over what is ripe");

    private static Scenario Frosted(int daysAgo, double low = -3) => WithFrosts(Scenario.On(2026, 10, 12)).Plan(One("tomato", "set out: 20 May 2026"))
        .Hourly(WeatherVariable.Air, Scenario.Between(10, 18)).Days(WeatherVariable.Air, 1 - daysAgo, 1 - daysAgo, Scenario.Between(low, 12));

    [Fact] // clear-frosted
    public void What_autumn_frost_killed_is_cleared_some_days_on()
    {
        var job = Assert.Single(Of(Frosted(4).At(), JobKind.Clear));
        Assert.Equal("mill-bank/plants/clear/1", job.Id);
        Assert.Contains(job.Reasons, reason => reason.Code == "killed-by-frost");
        Assert.DoesNotContain(Frosted(4).Done("mill-bank/plants/cover/1", 4).At().Jobs, covered => covered.Reasons.Any(reason => reason.Code == "killed-by-frost"));
        Assert.DoesNotContain(Frosted(2).At().Jobs, early => early.Reasons.Any(reason => reason.Code == "killed-by-frost"));
        Assert.DoesNotContain(Frosted(4, 9).At().Jobs, mild => mild.Reasons.Any(reason => reason.Code == "killed-by-frost"));
    }

    [Fact] // look-frost-damage
    public void The_day_after_a_frost_one_looks_at_noon_and_cuts_nothing()
    {
        Said(Frosted(1).At(), "cut nothing for three days");
        NotSaid(Frosted(1, 9).At(), "cut nothing for three days");
    }

    private static Scenario Kale(double low, int month = 10, int day = 12) => WithFrosts(Scenario.On(2026, month, day)).Plan(One("kale", "set out: 20 June 2026"))
        .Hourly(WeatherVariable.Air, Scenario.Between(10, 14)).Days(WeatherVariable.Air, -3, 0, Scenario.Between(low, 12)).Done("mill-bank/plants/harvest/1", 95);

    [Fact] // pick-kale-after-frost
    public void After_the_first_frosts_kale_is_asked_for_again_once()
    {
        Said(Kale(-3).At(), "they are sweeter now");
        NotSaid(Kale(9).At(), "they are sweeter now");
        NotSaid(Kale(-3).Done("mill-bank/plants/harvest/101", 1).At(), "they are sweeter now");
    }

    private static Scenario Strawed(double air, bool strawed = true)
    {
        var spring = WithFrosts(Scenario.On(2026, 4, 10)).Plan(One("strawberry", "set out: 1 August 2024")).Hourly(WeatherVariable.Air, Scenario.Between(air - 5, air + 5));
        return strawed ? spring.Done("mill-bank/plants/mulch/1", 130) : spring;
    }

    [Fact] // mulch-strawberry-off
    public void Straw_comes_off_strawberries_as_growth_begins_where_it_was_laid()
    {
        Assert.Equal("Rake the straw off the strawberries", Assert.Single(Of(Strawed(9).At(), JobKind.Other)).Name);
        Assert.Empty(Of(Strawed(9, strawed: false).At(), JobKind.Other));
        Assert.Empty(Of(Strawed(1).At(), JobKind.Other));
        Assert.Equal(Standing.Waiting, Assert.Single(Of(Strawed(9).Days(WeatherVariable.Air, -7, -1, _ => Missing).At(), JobKind.Other)).Standing);
    }

    [Fact] // save-tomato-seed
    public void Seed_is_taken_of_the_best_tomato_and_the_crop_goes_on()
    {
        var picked = Ripe(0).Done("mill-bank/plants/harvest/1", 20);
        var job = Assert.Single(Of(picked.At(), JobKind.SaveSeed));
        Assert.Equal("Take seed of the best tomatoes", job.Name);
        Assert.Contains("Hybrids do not come true from seed.", job.Cautions);

        var after = Ripe(0).Done("mill-bank/plants/harvest/1", 20).Done(job.Id, 1).At();
        Assert.Empty(Of(after, JobKind.SaveSeed));
        Assert.Equal("bearing", Assert.Single(after.Sowings).Stage);
    }

    [Theory] // save-pepper-squash
    [InlineData(35, true)]
    [InlineData(10, false)]
    public void Seed_of_a_squash_is_taken_a_month_after_it_was_cut(int cutDaysAgo, bool asked) => Assert.Equal(asked,
        Of(WithFrosts(Scenario.On(2026, 10, 25)).Plan(One("winter squash", "set out: 25 May 2026")).Done("mill-bank/plants/harvest/1", cutDaysAgo).At(), JobKind.SaveSeed).Any());

    [Fact] // stop-tomato
    public void Forty_days_before_frost_the_tips_are_pinched_too()
    {
        Scenario On(int month, int day) => WithFrosts(Scenario.On(2026, month, day)).Plan(One("tomato", "set out: 20 May 2026"));
        Said(On(9, 1).At(), "pinch out the tip too");
        NotSaid(On(7, 1).At(), "pinch out the tip too");
    }

    [Theory] // cut-asparagus
    [InlineData(-2, true)]
    [InlineData(6, false)]
    public void Before_a_frosty_night_every_spear_is_cut(double low, bool asked)
    {
        var spring = WithFrosts(Scenario.On(2026, 5, 5)).Plan(One("asparagus", "set out: 10 April 2022")).Done("mill-bank/plants/harvest/1", 3)
            .Days(WeatherVariable.Air, 1, 1, Scenario.Between(low, 14)).At();
        Assert.Equal(asked, Reasons(spring).Any(text => text.Contains("Cut every spear above the ground", StringComparison.Ordinal)));
    }

    private static Scenario Corn(int month, int day) => WithFrosts(Scenario.On(2026, month, day)).Plan(One("sweet corn", "sown: 5 May 2026"));

    [Fact] // feed-corn
    public void Corn_is_fed_at_knee_height_before_gentle_rain()
    {
        Scenario Rain(Scenario scenario, double hourly) => scenario.Days(WeatherVariable.Rain, 0, 0, at => at.Hour is >= 10 and < 20 ? hourly : 0);
        var job = Assert.Single(Of(Rain(Corn(6, 20), 0.8).At(), JobKind.Feed));
        Assert.Equal(("Feed the sweet corn", Standing.Now), (job.Name, job.Standing));
        Assert.DoesNotContain(Of(Corn(6, 20).At(), JobKind.Feed), dry => dry.Standing == Standing.Now);
        Assert.DoesNotContain(Of(Rain(Corn(6, 20), 7).At(), JobKind.Feed), downpour => downpour.Standing == Standing.Now);
        Assert.Empty(Of(Rain(Corn(5, 25), 0.8).At(), JobKind.Feed));
        Assert.Empty(Of(Rain(Corn(8, 1), 0.8).At(), JobKind.Feed));
    }

    [Fact] // look-earworm-corn
    public void As_the_silks_dry_two_tips_of_the_corn_are_opened()
    {
        Said(Corn(7, 20).At(), "open two tips as silks dry");
        NotSaid(Corn(6, 10).At(), "open two tips as silks dry");
        NotSaid(Corn(7, 20).Hourly(WeatherVariable.Air, Scenario.Between(6, 14)).At(), "open two tips as silks dry");
    }

    [Theory] // look-potato-beetle
    [InlineData("potato", "sown: 20 April 2026")]
    [InlineData("eggplant", "set out: 25 May 2026")]
    public void Orange_eggs_are_looked_for_while_it_is_warm_enough_for_them(string crop, string begun)
    {
        Scenario June() => WithFrosts(Scenario.On(2026, 6, 10)).Plan(One(crop, begun));
        Said(June().At(), "orange eggs");
        NotSaid(June().Hourly(WeatherVariable.Air, Scenario.Between(3, 12)).At(), "orange eggs");
        NotSaid(June().Done("mill-bank/plants/look/1", 3).At(), "orange eggs");
    }

    [Fact] // cut-cover
    public void Green_cover_is_cut_at_its_flowers_on_dry_ground_and_not_cleared_after()
    {
        Scenario Phacelia(int month, int day) => WithFrosts(Scenario.On(2026, month, day)).Plan(One("phacelia", "sown: 1 April 2026"));
        var job = Assert.Single(Of(Phacelia(6, 10).At(), JobKind.Harvest));
        Assert.Equal(("Cut the phacelia", Standing.Now), (job.Name, job.Standing));
        Assert.DoesNotContain(Of(Phacelia(6, 10).Days(WeatherVariable.Rain, -2, -1, _ => 0.5).At(), JobKind.Harvest), wet => wet.Standing == Standing.Now);
        Assert.Empty(Of(Phacelia(5, 1).At(), JobKind.Harvest));
        Assert.Empty(Of(Phacelia(6, 13).Done(job.Id, 3).At(), JobKind.Clear));
    }
}

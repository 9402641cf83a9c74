using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tests.Agendas;
using GardenWatch.Planning.Tests.Seasons;
using NodaTime;

namespace GardenWatch.Planning.Tests.Situations;

/// <summary>Jobs of growing crops when their weather has come: what the agenda must and must not say. Weather invented; each names its row of the trade's job table.</summary>
public class GrowingSituations
{
    private const string Potatoes = """
        beds: [ { bed: low bed } ]
        plantings: [ { crop: potato, bed: low bed, up: 1 May 2026, id: potatoes } ]
        """;

    private static Scenario BlightWeather() => Scenario.On(2026, 6, 20).Plan(Potatoes)
        .Hourly(WeatherVariable.Air, Scenario.Between(12, 19))
        .Hourly(WeatherVariable.RelativeHumidity, at => at.Hour is < 8 or > 22 ? 94 : 70);

    [Fact] // look-late-blight; situation 17
    public void After_two_damp_warm_days_potatoes_are_looked_over_for_blight()
    {
        var look = Assert.Single(BlightWeather().At().Jobs, job => job.Kind == JobKind.Look);
        var blight = Assert.Single(look.Reasons, reason => reason.Text.StartsWith("For late blight", StringComparison.Ordinal));

        Assert.Equal(Standing.Now, look.Standing);
        Assert.Contains("brown patches", blight.Text, StringComparison.Ordinal);
        Assert.Contains("If so: ", blight.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("spray ", blight.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact] // look-late-blight; situation 17
    public void Who_has_looked_yesterday_is_not_asked_for_blight_again()
    {
        var jobs = BlightWeather().Done("mill-bank/potatoes/look/1", 1).At().Jobs;

        Assert.DoesNotContain(jobs, job => job.Reasons.Any(reason => reason.Text.StartsWith("For late blight", StringComparison.Ordinal)));
    }

    [Fact] // look-late-blight
    public void In_dry_air_nobody_is_sent_to_look_for_blight() => Assert.DoesNotContain(
        BlightWeather().Hourly(WeatherVariable.RelativeHumidity, _ => 60).At().Jobs,
        job => job.Reasons.Any(reason => reason.Text.StartsWith("For late blight", StringComparison.Ordinal)));

    [Fact]
    public void While_no_frost_date_is_known_nothing_of_its_season_is_told()
    {
        var agenda = Scenario.On(2026, 4, 21).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: garlic, bed: low bed, set out: mid October 2025 } ]
            """).At();

        Assert.NotEmpty(agenda.Jobs);
        Assert.DoesNotContain(agenda.Jobs, job => job.Kind == JobKind.Mulch);
    }

    [Theory] // look-slugs
    [InlineData(14, true)]
    [InlineData(60, false)]
    public void After_wet_mild_nights_young_lettuce_is_looked_over_for_slugs_and_grown_lettuce_is_not(int sownDaysAgo, bool looked)
    {
        var agenda = Scenario.On(2026, 5, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: lettuce, bed: low bed, id: lettuce } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(10, 18)).Days(WeatherVariable.Rain, -1, -1, _ => 0.5)
            .Done("mill-bank/lettuce/sow/1", sownDaysAgo).At();

        Assert.Equal(looked, agenda.Jobs.Any(job => job.Kind == JobKind.Look && job.Reasons.Any(reason => reason.Text.StartsWith("For slugs", StringComparison.Ordinal))));
    }

    private const string PotAndBed = """
        beds:
          - { bed: kitchen bed, size: 1 m x 3 m, soil: loam }
          - { bed: tub, container: 20 litres }
        plantings:
          - { crop: tomato, bed: kitchen bed, set out: 1 May 2026, id: in-bed }
          - { crop: tomato, bed: tub, set out: 1 May 2026, id: in-tub }
        """;

    /// <summary>Five millimetres a day go off; a soaking three days ago, and what each test adds.</summary>
    private static Scenario Thirsty() => Scenario.On(2026, 7, 1).Plan(PotAndBed)
        .Hourly(WeatherVariable.Air, Scenario.Between(14, 26))
        .Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is >= 8 and < 18 ? 0.5 : 0)
        .Days(WeatherVariable.Rain, -3, -3, at => at.Hour < 10 ? 15 : 0);

    [Fact] // water-container; situation 10
    public void After_four_millimetres_the_pot_is_watered_and_the_bed_is_not()
    {
        var agenda = Thirsty().Days(WeatherVariable.Rain, -1, -1, at => at.Hour < 2 ? 2 : 0).Done("mill-bank/tub/water/1", 2).At();
        var water = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Water);

        Assert.Equal("tub", water.BedName);
        Assert.Contains(water.Reasons, reason => reason.Code == "rain-missed" && reason.Text.Contains("the leaves kept much off the pot", StringComparison.Ordinal));
        Assert.Contains(water.Reasons, reason => reason.Code == "water-to-give" && reason.Text.Contains("litre", StringComparison.Ordinal));
    }

    [Fact] // water-deep
    public void A_bed_is_watered_when_its_easily_had_water_is_used_up_with_litres_for_its_size()
    {
        var dry = Thirsty().Days(WeatherVariable.Rain, -40, 16, at => Period.DaysBetween(new(2026, 7, 1), at.Date) == -14 ? 6 : 0).Done("mill-bank/tub/water/1", 0).At();
        var water = Assert.Single(dry.Jobs, job => job is { Kind: JobKind.Water, BedName: "kitchen bed" });

        Assert.Contains(water.Reasons, reason => reason.Code == "water-deficit" && reason.Text.Contains("too much for tomatoes", StringComparison.Ordinal));
        Assert.Contains(water.Reasons, reason => reason.Text.Contains("litres", StringComparison.Ordinal) && !reason.Text.Contains("square metre", StringComparison.Ordinal));
        Assert.Contains(dry.Beds, bed => bed is { Name: "kitchen bed", WaterDeficitMm: > 20, WaterToGiveLitres: > 60 });
    }

    [Fact] // water-deep; "never nag about daily watering where rain did it"
    public void Rain_that_comes_in_time_does_the_watering()
    {
        var jobs = Thirsty().Days(WeatherVariable.Rain, -40, 16, at => Period.DaysBetween(new(2026, 7, 1), at.Date) is -14 or 0 ? 4 : 0).At().Jobs;

        Assert.DoesNotContain(jobs, job => job is { Kind: JobKind.Water, BedName: "kitchen bed" });
    }

    [Fact] // pick-leaves-before-heat
    public void Before_the_heat_lettuce_is_picked_first()
    {
        var agenda = Scenario.On(2026, 6, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: lettuce, bed: low bed, sown: 20 April 2026, id: lettuce } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(14, 22)).Days(WeatherVariable.Air, 1, 4, Scenario.Between(20, 32)).At();
        var pick = Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Harvest);

        Assert.Contains(pick.Reasons, reason => reason.Code == "heat-ahead" && reason.Text.Contains("bitter", StringComparison.Ordinal));
    }

    [Fact] // pick-tomato-before-frost
    public void Before_a_cold_night_what_hangs_on_tomatoes_is_taken_in()
    {
        var agenda = Scenario.On(2026, 9, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: tomato, bed: low bed, set out: 20 May 2026, id: tomato } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(10, 18)).Days(WeatherVariable.Air, 1, 2, Scenario.Between(1, 14)).At();

        Assert.Contains(agenda.Jobs, job => job.Kind == JobKind.Harvest && job.Reasons.Any(reason => reason.Code == "cold-ahead"));
    }

    [Theory] // lift-onion-dry
    [InlineData(0, Standing.Now)]
    [InlineData(2, Standing.Waiting)]
    public void Onions_are_lifted_for_a_dry_spell(double rainMm, Standing standing)
    {
        var agenda = Scenario.On(2026, 7, 12).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: onion sets, bed: low bed, set out: 10 April 2026, id: onions } ]
            """).Hourly(WeatherVariable.Air, Scenario.Between(14, 24)).Days(WeatherVariable.Rain, 0, 15, at => at.Hour % 6 == 0 ? rainMm : 0).At();

        Assert.Equal(standing, Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Harvest).Standing);
    }

    [Fact] // net-carrot-fly
    public void A_net_lies_before_the_flies_are_about_and_not_months_before()
    {
        var garden = StageTests.Garden("  - { crop: carrot, bed: low bed, id: carrot }", new(2023, 3, 1));
        garden.Record(StageTests.Done(new(2023, 3, 10), "carrot/sow/1"));
        var netted = garden.Play(new(2023, 3, 10), new(2023, 8, 1), (_, _) => null).First(day => day.Agenda.Jobs.Any(job => job.Kind == JobKind.Net));
        var flight = Assert.Single(netted.Agenda.Jobs.Single(job => job.Kind == JobKind.Net).Reasons, reason => reason.Code == "flight");

        // 236 °C days above 5 °C since 1 April (carrot rust fly, Ontario 1972-1980) come in May where the year's mean is 10 °C.
        Assert.InRange(netted.Date, new(2023, 4, 20), new(2023, 5, 25));
        Assert.Contains("Against carrot fly", flight.Text, StringComparison.Ordinal);
    }

    [Fact] // look-carrot-fly: the generation of summer does the harm
    public void The_second_flight_is_looked_for_too()
    {
        var garden = StageTests.Garden("  - { crop: carrot, bed: low bed, id: carrot }", new(2023, 3, 1));
        garden.Record(StageTests.Done(new(2023, 5, 10), "carrot/sow/1"));
        var day = garden.Play(new(2023, 5, 10), new(2023, 9, 1), (_, _) => null).First(day => day.Agenda.Jobs.Any(IsOfTheSecond));

        // 1050 °C days above 5 °C, which come about the end of July where the year's mean is 10 °C.
        Assert.InRange(day.Date, new(2023, 7, 10), new(2023, 8, 20));

        static bool IsOfTheSecond(Job job) => job.Kind == JobKind.Look
            && job.Reasons.Any(reason => reason.Text.StartsWith("For carrot fly (about again since", StringComparison.Ordinal));
    }

    private const string NewGround = """
        beds:
          - { bed: meadow bed }
        plantings:
          - { crop: snap bean, bed: meadow bed, id: beans }
        chores:
          - { chore: Smother the turf, bed: meadow bed, kind: smother, id: sheet }
        """;

    [Fact] // smother-turf, smother-sheet
    public void What_grows_on_new_ground_waits_until_warmth_has_done_its_work()
    {
        var years = StageTests.Place.Value;
        var garden = SeasonPlayer.Of(NewGround, new(2023, 4, 1), years.Weather, years.Climate);
        garden.Record(new(EntryKind.Done, new(2023, 5, 1), years.Weather.Calendar.At(new(2023, 5, 1), new LocalTime(18, 0)), "long-acre/sheet/smother/1", null, null, null));
        var days = garden.Play(new(2023, 5, 2), new(2023, 8, 15), (_, _) => null).ToList();
        var waiting = days.Where(day => day.Agenda.Jobs.Any(job => job.Kind == JobKind.Sow && job.Needs.Any(need => need.Condition == "ground ready"))).ToList();
        var looked = days.First(day => day.Agenda.Jobs.Any(job => job.Id == "long-acre/sheet/look/1"));

        // 336 °C days above 5 °C: about four weeks at 17 °C, more in the cool of May.
        Assert.InRange(waiting.Count, 28, 60);
        Assert.All(waiting, day => Assert.NotEqual(Standing.Now, day.Agenda.Jobs.Single(job => job.Kind == JobKind.Sow).Standing));
        Assert.Equal(waiting[^1].Date.PlusDays(1), looked.Date);
        Assert.Contains(days, day => day.Date > waiting[^1].Date && day.Agenda.Jobs.Any(job => job is { Kind: JobKind.Sow, Standing: Standing.Now }));
    }

    [Fact] // prune: side shoots
    public void Side_shoots_are_pinched_again_ten_days_after_an_answer()
    {
        var garden = StageTests.Garden("  - { crop: tomato, bed: low bed, bought: mid May, id: tomato }", new(2023, 5, 1));
        garden.Record(StageTests.Done(new(2023, 6, 1), "tomato/set-out/1"));
        var days = garden.Play(new(2023, 6, 2), new(2023, 8, 15), (_, job) => job.Kind == JobKind.Prune ? EntryKind.Done : null).ToList();
        var pinched = days.Where(day => day.Answered.Any(id => id.Contains("/prune/", StringComparison.Ordinal))).Select(day => day.Date).ToList();

        Assert.InRange(pinched.Count, 3, 6);
        Assert.All(pinched.Zip(pinched.Skip(1)), pair => Assert.True(Period.DaysBetween(pair.First, pair.Second) >= 10));
    }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tests.Agendas;
using GardenWatch.Planning.Tests.Seasons;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>Mornings of a gardener's year, each with its plan, its weather and what was recorded. All invented.</summary>
internal static class Scenes
{
    private const string TomatoesInTheLowBed = """
        beds: [ { bed: low bed, frost pocket: 1 °C, cover: light fleece } ]
        plantings: [ { crop: tomato, bed: low bed, set out: 6 May 2026, id: tomatoes } ]
        """;

    public static Scenario TwoColdNights()
    {
        LocalDate date = new(2026, 5, 7);
        return Scenario.On(2026, 5, 7).Plan(TomatoesInTheLowBed).ClearAndCalm()
            .Hourly(WeatherVariable.Air, Morning.Course(date, 12, 22, [-1, -1], [16, 11, 17]));
    }

    private const string PelletsAndFeed = """
        beds: [ { bed: low bed, size: 2 m x 2 m } ]
        chores:
          - chore: Spread slug pellets
            bed: low bed
            id: pellets
            when:
              - rain total next 24 hours at most {too much: 15 mm}
              - rain peak next 24 hours at most {washout: 6 mm/h}
          - chore: Spread granular feed
            bed: low bed
            id: feed
            every: 6 weeks
            minutes: 15
            when:
              - rain total next 24 hours between {enough: 6 mm} and {too much: 20 mm}
              - rain peak next 24 hours at most {washout: 6 mm/h}
            otherwise: after 4 days, water in with 10 mm by hand
        """;

    private static readonly double[] Downpour = [3, 5, 15, 9, 5, 3];

    public static Scenario ADownpour() => Scenario.On(2026, 6, 10).Plan(PelletsAndFeed)
        .Days(WeatherVariable.Rain, 0, 0, at => at.Hour is > 12 and <= 18 ? Downpour[at.Hour - 13] : 0)
        .Days(WeatherVariable.Rain, 4, 4, at => at.Hour is > 12 and <= 18 ? 1.5 : 0)
        .SaidFirst("mill-bank/feed/spread/1", daysAgo: 9).SaidFirst("mill-bank/pellets/spread/1", daysAgo: 9);

    private static Func<LocalDateTime, double> From13(double mm) => at => at.Hour is > 13 and <= 18 ? mm / 5 : 0;

    public static Scenario GentleRainAfterTheSlot() => Scenario.On(2026, 6, 10).Plan(PelletsAndFeed)
        .Days(WeatherVariable.Rain, 0, 0, at => at.Hour switch { 14 => 1.5, 15 => 2, 16 => 2, 17 => 2, 18 => 1.5, _ => 0 })
        .RunsAsForecast(4)
        .Runs(2, WeatherVariable.Rain, 0, 0, From13(7)).Runs(2, WeatherVariable.Rain, 0, 0, From13(16))
        .Runs(1, WeatherVariable.Rain, 0, 0, From13(3)).Runs(1, WeatherVariable.Rain, 0, 0, From13(24));

    public static Scenario NoRainInSight(string size = "2 m x 2 m") => Scenario.On(2026, 6, 10)
        .Plan(PelletsAndFeed.Replace(", size: 2 m x 2 m", size.Length == 0 ? "" : $", size: {size}", StringComparison.Ordinal))
        .SaidFirst("mill-bank/feed/spread/1", daysAgo: 4);

    private const string HardenedSquash = """
        beds:
          - { bed: low bed }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: winter squash, bed: low bed, start: sill, id: squash }
        """;

    public static Scenario WarmSoilColdWeek()
    {
        LocalDate date = new(2026, 5, 20);
        var scenario = Scenario.On(2026, 5, 20).Plan(HardenedSquash).Climate(UsualYears)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 15, 27, [5, 4, 6, 7, 9, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10], [20, 19, 20, 21, 22, 22, 22]))
            .Done("mill-bank/squash/start-indoors/1", 35);
        foreach (int day in Enumerable.Range(0, 10))
            scenario.Done($"mill-bank/squash/harden-off/{day * 100 + 1}", 14 - day);
        return scenario;
    }

    public static Scenario WarmNightsColdSoil()
    {
        LocalDate date = new(2026, 5, 20);
        return Scenario.On(2026, 5, 20).Plan("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: tomato, bed: low bed, bought: mid May, id: tomato } ]
            """)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 12.5, 16.5, [11, 10, 12, 11, 10, 11, 12], [16, 16, 17]))
            .Hourly(WeatherVariable.CloudCover, _ => 95).Hourly(WeatherVariable.Radiation, at => at.Hour is > 8 and < 17 ? 60 : 0);
    }

    public static Scenario LettuceInAHeatWave() => Scenario.On(2026, 7, 10).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: lettuce, bed: low bed, id: lettuce, sowings: 6 every 4 days } ]
        """).ClearAndCalm().Hourly(WeatherVariable.Air, Morning.Course(new(2026, 7, 10), 20, 35, [20], [34, 35, 36, 35, 34]))
        .Done("mill-bank/lettuce/sow/1", 2);

    public static Scenario PotsAndBedAfterFourMillimetres() => Scenario.On(2026, 7, 1).Plan("""
        beds:
          - { bed: kitchen bed, size: 1 m x 3 m, soil: loam }
          - { bed: tub, container: 20 litres }
        plantings:
          - { crop: tomato, bed: kitchen bed, set out: 1 May 2026, id: in-bed }
          - { crop: tomato, bed: tub, set out: 1 May 2026, id: in-tub }
        """)
        .Hourly(WeatherVariable.Air, Scenario.Between(14, 26))
        .Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is >= 8 and < 18 ? 0.5 : 0)
        .Days(WeatherVariable.Rain, -4, -4, _ => 3)
        .Days(WeatherVariable.Rain, -1, -1, at => at.Hour < 2 ? 2 : 0)
        .Done("mill-bank/tub/water/1", 2);

    private const string InFlower = """
        beds:
          - { bed: berry bed, cover: medium fleece }
          - { bed: south wall, cover: sheet }
          - { bed: orchard }
        plantings:
          - { crop: strawberry, bed: berry bed, growing: yes, id: strawberries }
          - { crop: pear, bed: south wall, growing: yes, id: wall-pear }
          - { crop: pear, bed: orchard, growing: yes, id: tall-pear }
        """;

    /// <summary>The tenth of April: by the length of the day nothing need be in flower yet, but the gardener has seen it.</summary>
    public static Scenario BlossomAfterAWarmSpell(bool seen = true)
    {
        LocalDate date = new(2026, 4, 5);
        var scenario = Scenario.On(2026, 4, 5).Plan(InFlower).Hourly(WeatherVariable.CloudCover, _ => 30).Hourly(WeatherVariable.Wind, _ => 2)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 9, 20, [5], [17, 15]))
            .Runs(8, WeatherVariable.Air, 0, 1, Morning.Course(date, 9, 20, [-1], [17, 15])).RunsAsForecast(12);
        if (seen)
            scenario.Noted("strawberries", "in full flower", 1).Noted("wall-pear", "in full flower", 1).Noted("tall-pear", "in full flower", 1);
        return scenario;
    }

    public static Scenario TwoDaysAfterThatFrost()
    {
        LocalDate date = new(2026, 4, 5);
        return Scenario.On(2026, 4, 7).Plan(InFlower).Hourly(WeatherVariable.CloudCover, _ => 30).Hourly(WeatherVariable.Wind, _ => 2)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 9, 20, [-1], [17, 15])).Noted("tall-pear", "in full flower", 3);
    }

    private const string Beans = """
        beds: [ { bed: low bed, cover: medium fleece } ]
        plantings: [ { crop: snap bean, bed: low bed, up: 10 May 2026, id: beans } ]
        """;

    public static Scenario ThreeDegreesClear() => Scenario.On(2026, 5, 20).Plan(Beans).ClearAndCalm()
        .Hourly(WeatherVariable.Wind, _ => 1).Hourly(WeatherVariable.Air, Morning.Course(new(2026, 5, 20), 10, 18, [3], [13, 15]));

    public static Scenario ThreeDegreesClouded() => Scenario.On(2026, 5, 20).Plan(Beans)
        .Hourly(WeatherVariable.CloudCover, _ => 100).Hourly(WeatherVariable.Wind, _ => 6).Hourly(WeatherVariable.Gust, _ => 11)
        .Hourly(WeatherVariable.DewPoint, _ => 1).Hourly(WeatherVariable.RelativeHumidity, _ => 85)
        .Hourly(WeatherVariable.Air, Morning.Course(new(2026, 5, 20), 10, 18, [3], [13, 15]));

    public static Scenario OneInSeven()
    {
        LocalDate date = new(2026, 10, 5);
        return Scenario.On(2026, 10, 5).Plan("""
            beds: [ { bed: low bed, cover: medium fleece }, { bed: top bed, cover: medium fleece } ]
            plantings:
              - { crop: kale, bed: top bed, set out: 15 July 2026, id: kale }
              - { crop: sweet pepper, bed: low bed, set out: 1 June 2026, id: peppers }
            """).Climate(UsualYears).Hourly(WeatherVariable.CloudCover, _ => 40).Hourly(WeatherVariable.Wind, _ => 1.5)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 10, 19, [5.5], [15, 15]))
            .Runs(3, WeatherVariable.Air, 0, 1, Morning.Course(date, 10, 19, [-2], [14, 13]))
            .Runs(4, WeatherVariable.Air, 0, 1, Morning.Course(date, 10, 19, [3.5], [14, 13]))
            .Runs(6, WeatherVariable.Air, 0, 1, Morning.Course(date, 10, 19, [4], [14, 13]))
            .RunsAsForecast(7);
    }

    public static Scenario NoForecastForTonight()
    {
        LocalDate date = new(2026, 5, 7);
        var past = Morning.Course(date.PlusDays(-3), 7, 14, [4, 3, 3], [13, 12, 12, 12]);
        return Scenario.On(2026, 5, 7).Plan(TomatoesInTheLowBed)
            .Hourly(WeatherVariable.Air, at => at.Date > date ? double.NaN : past(at))
            .ForecastAgeHours(40);
    }

    public static Scenario MovingFreeze()
    {
        LocalDate date = new(2026, 10, 8);
        return Scenario.On(2026, 10, 8).Plan("""
            beds: [ { bed: low bed, cover: medium fleece } ]
            plantings:
              - { crop: tomato, bed: low bed, set out: 20 May 2026, id: tomatoes }
              - { crop: sweet pepper, bed: low bed, set out: 1 June 2026, id: peppers }
            """).Hourly(WeatherVariable.CloudCover, _ => 90).Hourly(WeatherVariable.Wind, _ => 7).Hourly(WeatherVariable.Gust, _ => 15)
            .Hourly(WeatherVariable.DewPoint, _ => -6)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 6, 14, [-4], [9, 6]))
            .Climate(UsualYears)
            .Wrote(new JournalEntry(EntryKind.Picked, date.PlusDays(-5), Scenario.Calendar.At(date.PlusDays(-5), new(18, 0)), null, "tomatoes", null, null),
                new JournalEntry(EntryKind.Picked, date.PlusDays(-5), Scenario.Calendar.At(date.PlusDays(-5), new(18, 0)), null, "peppers", null, null));
    }

    public static Scenario ColdNightHotNoon()
    {
        LocalDate date = new(2026, 5, 7);
        return Scenario.On(2026, 5, 7).Plan("""
            beds: [ { bed: film house, over: tunnel } ]
            plantings: [ { crop: tomato, bed: film house, set out: 1 May 2026, id: tomatoes } ]
            """, hours: "{ weekdays: 06:00-07:30 and 17:30-20:30, weekends: 08:00-19:00 }").ClearAndCalm()
            .Hourly(WeatherVariable.Radiation, at => Math.Max(0, 900 * Math.Sin((at.Hour - 6) * Math.PI / 13)))
            .Hourly(WeatherVariable.Air, Morning.Course(date, 9, 18, [1], [14, 21]));
    }

    public static Scenario BlightWeather() => Scenario.On(2026, 6, 20).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: potato, bed: low bed, up: 1 May 2026, id: potatoes } ]
        """)
        .Hourly(WeatherVariable.Air, Morning.Course(new(2026, 6, 17), 8, 18, [11, 12, 12, 9], [18, 18, 19, 18]))
        .Hourly(WeatherVariable.RelativeHumidity, at => Period.DaysBetween(new(2026, 6, 18), at.Date) switch
        {
            0 => at.Hour < 8 ? 92 : 70,
            1 => at.Hour < 9 ? 93 : 70,
            _ => 70,
        });

    public static Scenario SprayWaits(double morningWind = 2) => Scenario.On(2026, 6, 18).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: tomato, bed: low bed, set out: 10 May 2026, id: tomatoes } ]
        chores:
          - chore: Spray the protectant
            bed: low bed
            id: protectant
            minutes: 25
            when:
              - rain total next 4 hours at most 0.2 mm
              - wind mean next 2 hours between {still: 1 m/s} and {windy: 3.6 m/s}
              - air high next 4 hours at most {heat: 29 °C}
            caution: product label
        """).ClearAndCalm()
        .Hourly(WeatherVariable.Air, Scenario.Between(12, 22))
        .Hourly(WeatherVariable.DewPoint, _ => 10)
        .Hourly(WeatherVariable.Wind, at => at.Date == new LocalDate(2026, 6, 18) ? at.Hour <= 18 ? 5 : 0.3 : at.Hour <= 11 ? morningWind : 6)
        .Hourly(WeatherVariable.Gust, _ => 8)
        .Days(WeatherVariable.Rain, 1, 1, at => at.Hour is > 12 and <= 16 ? 3 : 0)
        .Noted("tomatoes", "leaf spot seen", 1);

    public static Scenario PotatoesJustThrough()
    {
        LocalDate date = new(2026, 5, 10);
        return Scenario.On(2026, 5, 10).Plan("""
            beds: [ { bed: low bed, cover: medium fleece } ]
            plantings: [ { crop: potato, bed: low bed, up: 30 April 2026, id: potatoes } ]
            """).ClearAndCalm().Hourly(WeatherVariable.Air, Morning.Course(date, 8, 17, [0], [15, 15]))
            .RunsAsForecast(12).Runs(8, WeatherVariable.Air, 0, 1, Morning.Course(date, 8, 17, [9], [15, 15]));
    }

    public static Scenario ThirtyOneJobsOnASaturday()
    {
        LocalDate date = new(2026, 7, 11);
        string weeding = string.Concat(Enumerable.Range(1, 26).Select(n => $"  - {{ chore: Weed path {n}, kind: other, id: weed-{n} }}\n"));
        return Scenario.On(2026, 7, 11).Plan("""
            beds: [ { bed: low bed, cover: medium fleece }, { bed: top bed }, { bed: bean bed } ]
            plantings:
              - { crop: tomato, bed: low bed, set out: 1 June 2026, id: tomatoes }
              - { crop: snap bean, bed: bean bed, up: 20 May 2026, id: beans }
              - { crop: onion sets, bed: top bed, set out: 5 April 2026, id: onions }
            chores:
              - { chore: Write the seed list, kind: other, id: list }

            """ + weeding).Hourly(WeatherVariable.CloudCover, _ => 70)
            .Hourly(WeatherVariable.Air, Morning.Course(date, 12, 22, [1], [19, 20]))
            .Days(WeatherVariable.Rain, 0, 2, at => at.Date > date || at.Hour > 16 ? 0.8 : 0)
            .Wrote(new JournalEntry(EntryKind.Picked, date.PlusDays(-5), Scenario.Calendar.At(date.PlusDays(-5), new(18, 0)), null, "beans", null, null));
    }

    public static Scenario HeatIndex37() => Scenario.On(2026, 7, 18).Plan("""
        beds: [ { bed: low bed, size: 1 m x 3 m }, { bed: top bed } ]
        plantings:
          - { crop: potato, bed: low bed, sown: 10 April 2026, id: potatoes }
          - { crop: snap bean, bed: top bed, up: 20 May 2026, id: beans }
        """)
        .Hourly(WeatherVariable.Air, Morning.Course(new(2026, 7, 18), 22, 34, [23], [34, 34]))
        .Hourly(WeatherVariable.RelativeHumidity, at => at.Hour is > 7 ? 42 : 60)
        .Hourly(WeatherVariable.DewPoint, _ => 22)
        .Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is >= 8 and < 18 ? 0.6 : 0)
        .Wrote(new JournalEntry(EntryKind.Picked, new(2026, 7, 12), Scenario.Calendar.At(new(2026, 7, 12), new(18, 0)), null, "beans", null, null));

    public static Scenario TomatoNight(double low) => Scenario.On(2026, 5, 7).Plan(TomatoesInTheLowBed)
        .Hourly(WeatherVariable.CloudCover, _ => 60).Hourly(WeatherVariable.Wind, _ => 2.5)
        .Hourly(WeatherVariable.Air, Morning.Course(new(2026, 5, 7), 11, 19, [low], [15, 16]));

    public static Scenario SquashAndTheColdWeek() => Scenario.On(2026, 9, 20).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: winter squash, bed: low bed, set out: 20 May 2026, id: squash } ]
        """).Climate(UsualYears)
        .Hourly(WeatherVariable.Air, Morning.Course(new(2026, 9, 20), 11, 20, [8, 7, 3, 3, 6, 6], [18, 16, 14, 13, 14, 15]))
        .Days(WeatherVariable.Rain, 1, 4, at => at.Hour is > 1 and < 18 ? 1 : 0);

    public static Scenario SpinachInLongLight() => Scenario.On(2026, 5, 10).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: spinach, bed: low bed, id: spinach, sowings: every 10 days } ]
        """).Hourly(WeatherVariable.Air, Scenario.Between(9, 17)).Done("mill-bank/spinach/sow/1", 12);

    public static Scenario SeedMaggots() => Scenario.On(2026, 5, 5).Climate(UsualYears with { DailyAir = ColdUntilSpring }).Plan("""
        beds: [ { bed: low bed } ]
        plantings: [ { crop: snap bean, bed: low bed, id: beans } ]
        """).Hourly(WeatherVariable.Radiation, at => Math.Max(0, 600 * Math.Sin((at.Hour - 6) * Math.PI / 13)))
        .Hourly(WeatherVariable.Air, at => at.Date < new LocalDate(2026, 4, 17) ? 3 : Morning.Course(new(2026, 5, 5), 9, 20, [9])(at));

    private static readonly Lazy<SyntheticYears> Temperate = new(() => new(50, 2015, 9, seed: 7, meanC: 10, swingC: 9.5));
    private static readonly Lazy<SyntheticYears> Southern = new(() => new(-43.5, 2016, 9, seed: 11, meanC: 11, swingC: 6.5));

    /// <summary>Everything is answered until the first of May, then nothing for three weeks.</summary>
    public static IReadOnlyList<PlayedDay> AwayThreeWeeks()
    {
        var garden = SeasonPlayer.Of("""
            beds:
              - { bed: kitchen bed, size: 1 m x 3 m }
              - { bed: low bed, cover: medium fleece }
              - { bed: sill, over: windowsill }
            plantings:
              - { crop: radish, bed: kitchen bed, id: radish, sowings: every 10 days until too warm }
              - { crop: lettuce, bed: low bed, id: lettuce, sowings: 6 every 10 days }
              - { crop: pea, bed: low bed, id: peas }
              - { crop: carrot, bed: low bed, id: carrot }
              - { crop: snap bean, bed: kitchen bed, id: beans }
              - { crop: garlic, bed: low bed, sown: 25 October 2022, id: garlic }
              - { crop: tomato, bed: kitchen bed, start: sill, id: tomato }
            """, new(2023, 2, 1), Temperate.Value, Temperate.Value.Climate(new(2015, 1, 1), new(2023, 1, 1)));
        return [.. garden.Play(new(2023, 2, 1), new(2023, 5, 23), (date, _) => date < new LocalDate(2023, 5, 1) ? EntryKind.Done : null)];
    }

    public static Agenda South(LocalDate? date = null) => SeasonPlayer.Of("""
        beds:
          - { bed: low bed }
          - { bed: top bed }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: carrot, bed: low bed, id: carrots }
          - { crop: carrot, bed: top bed, up: 10 September 2023, id: early-carrots }
          - { crop: potato, bed: low bed, id: potatoes }
          - { crop: tomato, bed: low bed, start: sill, id: tomatoes }
        chores:
          - { chore: Mend the fleece, kind: other, id: fleece-list, when: [ days until first autumn frost at most 30 days ] }
        """, new(2023, 9, 1), Southern.Value, Southern.Value.Climate(new(2016, 1, 1), new(2023, 1, 1)))
        .AgendaAt(Southern.Value.Calendar.At(date ?? new(2023, 10, 20), new LocalTime(6, 0)), LastSaid.Nothing);

    private static readonly ImmutableArray<NormalAir> ColdUntilSpring = [.. Enumerable.Range(0, 365).Select(day => day < 100 ? new NormalAir(-3, 0, 3) : new(9, 14.5, 20))];

    public static readonly ClimateSummary UsualYears = Years();

    private static ClimateSummary Years()
    {
        var newYear = new AnnualDate(1, 1);
        UsualDate On(int early, int middle, int late) => new(newYear, early, middle, late, 30, 30);
        double[] soils = [5, 8, 10, 12, 15.6, 18, 20];
        int[] nights = [4, 7, 9, 10];
        return new(newYear, 1991, 2020, 30,
            [new(false, 0, On(108, 120, 132), On(280, 290, 300)), new(true, 0, On(115, 128, 140), On(270, 282, 292))],
            [.. soils.SelectMany((degrees, step) => new SoilWarm[]
            {
                new(5, false, degrees, On(75 + 13 * step, 85 + 13 * step, 95 + 13 * step)), new(10, false, degrees, On(78 + 13 * step, 88 + 13 * step, 98 + 13 * step)),
                new(10, true, degrees, On(84 + 13 * step, 94 + 13 * step, 104 + 13 * step)),
            })],
            [], [.. nights.Select((degrees, step) => new MildNights(degrees, On(125 + 8 * step, 135 + 8 * step, 147 + 8 * step)))],
            [.. Enumerable.Repeat(20.0, 52)], [.. Enumerable.Repeat(15.0, 52)], [.. Enumerable.Repeat(new NormalAir(8, 13, 18), 365)]);
    }
}

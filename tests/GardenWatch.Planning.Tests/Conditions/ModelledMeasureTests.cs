using System.Collections.Immutable;
using System.Globalization;
using CsCheck;
using GardenWatch.Agronomy.Diseases;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Warmth;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Measures that a model makes of the weather; the models have published cases of their own.</summary>
public sealed class ModelledMeasureTests
{
    private static readonly Instant Start = Scenes.At(2026, 6, 1);
    private static readonly Instant Now = Start + Duration.FromDays(10);
    private const int Hours = 24 * 20;

    private static Scene Weather(Func<WeatherVariable, int, double> value, UnitSystem units = UnitSystem.Metric) =>
        Scenes.Of(Start, Hours, v => Scenes.Hours(Hours, i => value(v, i)), units: units);

    [Theory]
    [InlineData("leaf wetness hours past 1 day at least 1 hour", 6)] // five humid hours, one of rain
    [InlineData("leaf wetness longest run past 1 day at least 1 hour", 5)]
    [InlineData("ground frost hours past 1 day at least 1 hour", 2)]
    [InlineData("ground frost longest run past 1 day at least 1 hour", 2)]
    [InlineData("chill hours past 1 day at least 1 hour", 12)]
    [InlineData("thunder hours past 1 day at least 1 hour", 3)]
    [InlineData("hail hours past 1 day at least 1 hour", 1)]
    public void What_is_or_is_not_so_is_counted_in_hours(string phrase, double hours)
    {
        var scene = Weather((variable, i) => (variable, i % 24) switch
        {
            (WeatherVariable.RelativeHumidity, < 5) => 90,
            (WeatherVariable.RelativeHumidity, _) => 60,
            (WeatherVariable.Rain, 14) => 0.3,
            (WeatherVariable.Rain, _) => 0,
            (WeatherVariable.WeatherCode, 16) => 96,
            (WeatherVariable.WeatherCode, 17 or 18) => 95,
            (WeatherVariable.WeatherCode, 19) => 98, // a dust storm
            (WeatherVariable.Air, 0) => -0.1,
            (WeatherVariable.Air, 1) => 0,
            (WeatherVariable.Air, < 12) => 7.2,
            (WeatherVariable.Air, 12) => 0.1,
            (WeatherVariable.Air, _) => 7.3,
            _ => 3,
        });
        Assert.Equal(hours, scene.Ask(phrase, Now + Duration.FromHours(12)).Value!.Value);
    }

    [Fact]
    public void The_heat_index_is_of_air_and_humidity_of_the_same_hour()
    {
        // US National Weather Service chart: 90 °F at 70 % feels as 105 °F (the regression gives 105.9).
        var scene = Weather((variable, i) => variable == WeatherVariable.Air ? i % 24 == 15 ? (90 - 32) / 1.8 : 20 : 70);
        Assert.Equal(105.9, scene.Ask("heat index past 1 day at least 100 °F", Now).Value!.Value * 1.8 + 32, 0.1);
    }

    [Theory]
    [InlineData(WeatherVariable.RelativeHumidity, "leaf wetness hours past 1 day at most 2 hours")]
    [InlineData(WeatherVariable.Rain, "leaf wetness hours past 1 day at most 2 hours")]
    [InlineData(WeatherVariable.RelativeHumidity, "heat index high past 1 day at most 32 °C")]
    [InlineData(WeatherVariable.WeatherCode, "thunder hours past 1 day at most 0 hours")]
    [InlineData(WeatherVariable.WeatherCode, "hail hours past 1 day at most 0 hours")]
    [InlineData(WeatherVariable.Air, "chill hours past 1 day at most 2 hours")]
    [InlineData(WeatherVariable.Air, "ground frost hours past 1 day at most 2 hours")]
    [InlineData(WeatherVariable.Rain, "soil water deficit past 1 day at most 30 mm")]
    [InlineData(WeatherVariable.ReferenceEvapotranspiration, "soil water deficit past 1 day at most 30 mm")]
    [InlineData(WeatherVariable.RelativeHumidity, "late blight days past 3 days at most 1 day")]
    [InlineData(WeatherVariable.RelativeHumidity, "late blight values past 3 days at most 9 values")]
    [InlineData(WeatherVariable.RelativeHumidity, "early blight values past 3 days at most 9 values")]
    [InlineData(WeatherVariable.RelativeHumidity, "cucumber mildew days past 3 days at most 1 day")]
    [InlineData(WeatherVariable.RelativeHumidity, "basil mildew days past 3 days at most 1 day")]
    [InlineData(WeatherVariable.Air, "warmth base 5 °C by single sine total past 3 days at most 90 °C days")]
    public void What_a_model_needs_and_lacks_leaves_it_unknown(WeatherVariable missing, string phrase)
    {
        // A humidity of 70 % settles nothing, so that a missing rain leaves leaves unknown too.
        Scene Of(bool lacking) => Weather((variable, i) => variable switch
        {
            _ when lacking && variable == missing && i % 24 is 4 or 9 or 14 => double.NaN,
            WeatherVariable.RelativeHumidity => 70,
            WeatherVariable.Rain => i < 4 ? 20 : 0,
            WeatherVariable.ReferenceEvapotranspiration => 0.1,
            WeatherVariable.WeatherCode => 3,
            _ => 12 + i % 24 / 3.0,
        });
        Assert.NotEqual(Truth.Unknown, Of(lacking: false).Ask(phrase, Now).Holds);
        Assert.Equal(Truth.Unknown, Of(lacking: true).Ask(phrase, Now).Holds);
    }

    [Fact]
    public void Soil_water_is_known_from_the_rain_that_fills_the_soil_and_falls_by_use()
    {
        // 20 mm an hour for five hours fill it; then 0.2 mm an hour are used. Easily had are 11.7 mm.
        var scene = Weather((variable, i) => variable switch { WeatherVariable.Rain => i is >= 100 and < 105 ? 20 : 0, _ => 0.2 });
        double After(int hours) => scene.Ask("soil water deficit high past 1 hour at least 0 mm", Start + Duration.FromHours(104 + hours)).Value!.Value;
        Assert.Equal(Truth.Unknown, scene.Ask("soil water deficit past 1 hour at least 0 mm", Start + Duration.FromHours(90)).Holds);
        Assert.Equal(0.2 * 11, After(10), 1e-9);
        Assert.Equal(0.2 * 51, After(50), 1e-9);
        // Beyond what is easily had the use grows less, and never passes wilting.
        Assert.InRange(After(200), 11.7, 0.2 * 201 - 3);
        Assert.Equal(0.2 * 51 / 11.7, scene.Ask("soil water deficit high past 1 hour at least 1 %", Start + Duration.FromHours(154)).Value!.Value, 1e-9);
    }

    [Fact]
    public void No_rain_reaches_a_bed_under_glass()
    {
        var columns = Enum.GetValues<WeatherVariable>().ToImmutableDictionary(v => v,
            v => Scenes.Hours(24 * 60, _ => v == WeatherVariable.Rain ? 2 : 0.2).ToImmutableArray());
        var series = new WeatherSeries(Start, 24 * 60, columns, [], [.. Enumerable.Repeat((short)-1, 24 * 60)]);
        var open = new BedModels(() => [], () => [], _ => []);
        var outside = new BedWeather(series, new LocalCalendar(DateTimeZone.Utc, Scenes.Lexington), open);
        var inside = outside.Beside(open with { RainReachesIt = false });
        Assert.Equal(0.2, outside.Column(new(Measure.WaterDeficit))[24 * 60 - 1], 1e-9);
        Assert.True(inside.Column(new(Measure.WaterDeficit))[24 * 60 - 1] > open.Roots.EasilyHadMm);
    }

    [Fact]
    public void However_the_soil_began_what_is_told_is_near_what_is_so() =>
        Gen.Select(Gen.Double[0, 39], Gen.Int[0, int.MaxValue]).Sample((began, seed) =>
        {
            var zone = new BedModels(() => [], () => [], _ => []).Roots;
            var chance = new Random(seed);
            double[] rain = Scenes.Hours(2000, _ => chance.Next(30) == 0 ? 8 * chance.NextDouble() : 0);
            double[] use = Scenes.Hours(2000, i => i % 24 is > 6 and < 20 ? 0.5 * chance.NextDouble() : 0);
            double[] told = SoilWaterCourse.Depletion(zone, rain, use);
            double so = began;
            int known = 0;
            for (int i = 0; i < told.Length; i++)
            {
                so = zone.Day(so, rain[i], 0, use[i]).DepletionMm;
                if (double.IsNaN(told[i]))
                    continue;
                known++;
                Assert.Equal(so, told[i], SoilWaterCourse.Agreement * zone.TotalMm / 2 + 1e-9);
            }
            Assert.True(known > 500, $"{known} hours known");
        }, iter: 500);

    [Theory]
    [InlineData("late blight days past 4 days at least 1 day", 2)] // of three damp dates the second and third complete two
    [InlineData("late blight values past 4 days at least 1 value", 6)] // 14 hours at 16 °C are 2 each (Wallin)
    [InlineData("early blight values past 4 days at least 1 value", 3)] // 14 hours at 13 to 18 °C are 1 each
    [InlineData("late blight days past 2 days at least 1 day", 2)] // from noon of the 7th, before the 7th and 8th ended
    [InlineData("late blight days today at least 0 days", 0)]
    public void A_date_of_blight_weather_counts_when_it_ends(string phrase, double counted)
    {
        // Three dates, 6 to 8 June, humid from 0:30 to 14:30 at 16 °C; the rest of the time dry.
        var scene = Weather((variable, i) => variable switch
        {
            WeatherVariable.RelativeHumidity => i / 24 is >= 5 and <= 7 && i % 24 is >= 1 and <= 14 ? 95 : 60,
            WeatherVariable.Rain => 0,
            _ => 16,
        });
        var asked = Start + Duration.FromDays(8) + Duration.FromHours(12);
        Assert.Equal(counted, scene.Ask(phrase, asked).Value!.Value);
    }

    [Theory] // wet from 20:00 of each day but the first
    [InlineData("lettuce mildew days past 4 days at least 1 day", 10, 16, 3)] // until ten: four hours from six (Wu et al. 2002)
    [InlineData("lettuce mildew days past 4 days at least 1 day", 9, 16, 0)]
    [InlineData("lettuce mildew days past 4 days at least 1 day", 10, 21, 0)] // too warm
    [InlineData("cucumber mildew days past 4 days at least 1 day", 2, 16, 3)] // six hours at 15 °C and more (Cohen 1977)
    [InlineData("cucumber mildew days past 4 days at least 1 day", 1, 16, 0)]
    [InlineData("cucumber mildew days past 4 days at least 1 day", 2, 14, 0)]
    [InlineData("cucumber mildew days past 4 days at least 1 day", 8, 11, 3)] // twelve from 10 °C on
    [InlineData("basil mildew days past 4 days at least 1 day", 4, 16, 3)] // eight hours of the night (Cohen and Ben-Naim 2016)
    [InlineData("basil mildew days past 4 days at least 1 day", 3, 16, 0)]
    [InlineData("basil mildew days past 4 days at least 1 day", 4, 26, 0)]
    public void A_date_of_mildew_weather_counts_when_it_ends(string phrase, int until, double air, double counted)
    {
        var scene = Weather((variable, i) => variable switch
        {
            WeatherVariable.RelativeHumidity => i >= 5 * 24 && (i % 24 > 20 || i % 24 == 0 || i % 24 <= until) && i > 5 * 24 + 20 && i <= 8 * 24 + 12 ? 96 : 60,
            WeatherVariable.Rain => 0,
            _ => air,
        });
        Assert.Equal(counted, scene.Ask(phrase, Start + Duration.FromDays(9) + Duration.FromHours(12)).Value!.Value);
    }

    [Theory]
    [InlineData(7, Truth.Unknown)] // the first hour after six
    [InlineData(12, Truth.Yes)] // after four wet hours
    public void An_hour_that_may_have_ended_the_wetness_of_a_morning_leaves_it_unknown(int missing, Truth expected)
    {
        var scene = Weather((variable, i) => variable switch
        {
            WeatherVariable.RelativeHumidity => i % 24 == missing ? double.NaN : 95,
            WeatherVariable.Rain => 0,
            _ => 16,
        });
        Assert.Equal(expected, scene.Ask("lettuce mildew days past 3 days at least 2 days", Now).Holds);
    }

    [Fact]
    public void What_is_reckoned_by_dates_is_the_sum_of_a_plain_look_at_each_date_in_any_zone() =>
        Gen.Select(Gen.OneOf("UTC", "Europe/Berlin", "Australia/Lord_Howe", "America/Santiago", "Asia/Beirut", "Pacific/Apia", "Asia/Kolkata"),
            Gen.OneOf(Scenes.At(2011, 3, 15), Scenes.At(2011, 10, 10), Scenes.At(2011, 12, 15), Scenes.At(2026, 8, 25)), Gen.Int[0, 23], Gen.Int[0, int.MaxValue])
            .Sample((zone, from, hour, seed) =>
            {
                var chance = new Random(seed);
                var start = from + Duration.FromHours(hour);
                double[] air = Scenes.Hours(700, i => 14 + 6 * Math.Sin(i * 0.26) + 4 * chance.NextDouble());
                double[] humidity = Scenes.Hours(700, i => 85 - 12 * Math.Sin(i * 0.26) + 8 * chance.NextDouble());
                air[chance.Next(700)] = double.NaN;
                var scene = Scenes.Of(start, 700, v => v == WeatherVariable.Air ? air : v == WeatherVariable.Rain ? new double[700] : humidity, zone);
                var calendar = scene.Weather.Calendar;
                var first = calendar.DateOf(start).PlusDays(2);
                var (sine, hutton, wallin, early) = (0.0, 0, 0, 0);
                var before = DayOf(first.PlusDays(-1));
                for (var date = first; date < first.PlusDays(20); date = date.PlusDays(1))
                {
                    var (airs, humids) = DayOf(date);
                    if (airs.Length == 0)
                        continue;
                    var known = airs.Zip(humids).Where(h => !double.IsNaN(h.First)).ToArray();
                    sine += DegreeDays.SingleSine(known.Min(h => h.First), known.Max(h => h.First), 10);
                    hutton += LateBlight.Hutton(BlightDay.Of(before.Air, before.Humidity), BlightDay.Of(airs, humids)) == true ? 1 : 0;
                    double[] damp = [.. known.Where(h => h.Second >= 90).Select(h => h.First)];
                    wallin += LateBlight.WallinSeverity(damp.Length, damp.Length == 0 ? 0 : damp.Average())!.Value;
                    early += EarlyBlight.Severity(damp.Length, damp.Length == 0 ? 0 : damp.Average())!.Value;
                    before = (airs, humids);
                }
                // At the very start of the date that follows, when the last one has just ended.
                var asked = calendar.StartOf(first.PlusDays(20));
                if ((asked - start).TotalHours % 1 != 0)
                    return;
                string since = $"since {NodaTime.Text.LocalDatePattern.Iso.Format(first)}";
                Assert.Equal(sine, scene.Ask($"warmth base 10 °C by single sine total {since} at least 0 °C days", asked).Value!.Value, 1e-6);
                Assert.Equal(hutton, scene.Ask($"late blight days {since} at least 0 days", asked).Value!.Value);
                Assert.Equal(wallin, scene.Ask($"late blight values {since} at least 0 values", asked).Value!.Value);
                Assert.Equal(early, scene.Ask($"early blight values {since} at least 0 values", asked).Value!.Value);

                (double[] Air, double[] Humidity) DayOf(LocalDate date)
                {
                    var day = calendar.DayOf(date);
                    int[] hours = [.. Enumerable.Range(0, 700).Where(i => start + Duration.FromHours(i) > day.Start && start + Duration.FromHours(i) <= day.End)];
                    return ([.. hours.Select(i => air[i])], [.. hours.Select(i => humidity[i])]);
                }
            }, iter: 400);

    [Theory]
    [InlineData("average", 10, 20, 5.0)] // McMaster and Wilhelm 1997 method 1: 15 - 10
    [InlineData("average", 4, 14, 0.0)]
    [InlineData("clipped average", 4, 14, 2.0)] // method 2: (10 + 14) / 2 - 10
    [InlineData("single triangle", 10, 20, 5.0)]
    [InlineData("double triangle", 10, 20, 5.0)]
    [InlineData("single sine", 10, 20, 5.0)]
    [InlineData("double sine", 10, 20, 5.0)]
    [InlineData("single triangle", 0, 20, 2.5)] // half the time above, 5 on average
    [InlineData("single sine", 0, 20, 3.183)] // 10 / pi
    [InlineData("reducing ceiling", 10, 34, 16.0)] // Perry and Wehner: 30 - (34 - 30) - 10
    public void A_days_warmth_is_that_of_the_method_that_is_named(string method, double low, double high, double warmth)
    {
        var scene = Weather((_, i) => i % 24 < 12 ? low : high);
        Assert.Equal(warmth, scene.Ask($"warmth base 10 °C ceiling 30 °C by {method} total past 1 day at least 0 °C days", Now).Value!.Value, 0.0005);
        Assert.Equal(warmth * 1.5, scene.Ask($"warmth base 10 °C ceiling 30 °C by {method} total past 36 hours at least 0 °C days", Now).Value!.Value, 0.001);
    }

    [Theory]
    [InlineData("single sine", 5)]
    [InlineData("double sine", 8)]
    [InlineData("single triangle", 11)]
    [InlineData("double triangle", 14)]
    public void A_measured_years_warmth_is_the_published_sum(string method, int column)
    {
        string path = MeasuredRecord.PathOf("degreeday_esparto_2020_ucipm.csv");
        double[][] days = [.. File.ReadLines(path).Skip(1).Select(line => line.Split(',')[1..].Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())];
        var from = Scenes.At(2020, 1, 1, 1);
        double[] air = Scenes.Hours(days.Length * 24, i => (days[i / 24][i % 24 < 12 ? 0 : 1] - 32) / 1.8);
        var scene = Scenes.Of(from, air);
        // The last date has no next one, which the double methods need.
        double expected = days[..^1].Sum(day => day[column - 1]);
        double ours = scene.Ask($"warmth base 50 °F ceiling 70 °F by {method} total since 1 January 2020 at least 1 °F days", Scenes.At(2020, 12, 31)).Value!.Value * 1.8;
        // Each date is published to a hundredth.
        Assert.Equal(expected, ours, 0.15);
        Assert.True(ours > 3500);
    }

    [Theory]
    [InlineData(38.0, 2026, 6, 1, 162)] // since 21 December
    [InlineData(-38.0, 2026, 6, 1, 345)] // since 21 June of the year before
    [InlineData(-38.0, 2026, 6, 21, 0)]
    public void Midwinter_is_that_of_the_hemisphere(double latitude, int year, int month, int day, double days)
    {
        var scene = Scenes.Of(Start, [], place: new GeoPosition(latitude, 0, 0));
        Assert.Equal(days, scene.Ask("days since midwinter at least 0 days", Scenes.At(year, month, day, 12)).Value);
    }

    [Theory]
    [InlineData("leaf wetness hours next 2 hours at most 0 hours", UnitSystem.Metric, "no wet leaves in the next 2 hours, none wanted")]
    [InlineData("no wet leaves", UnitSystem.Metric, null)]
    [InlineData("no thunder next 6 hours", UnitSystem.Metric, "no thunder in the next 6 hours, none wanted")]
    [InlineData("none of (hail past 24 hours above 0 hours)", UnitSystem.Metric, "no hail in the past 24 hours, any blocks it")]
    [InlineData("chill hours past 2 days at least 40 hours", UnitSystem.Metric, "2 of 40 hours of chill in the past 2 days")]
    [InlineData("ground frost longest run past 2 days at least 3 hours", UnitSystem.Metric, "0 hours of ground frost on end in the past 2 days, 3 hours wanted")]
    [InlineData("heat index high today at most 32 °C", UnitSystem.Metric, "highest heat index today 23 °C, at most 32 °C wanted")]
    [InlineData("heat index high today at most 90 °F", UnitSystem.Us, "highest heat index today 74 °F, at most 90 °F wanted")]
    [InlineData("soil water deficit past 1 hour at least 12 mm", UnitSystem.Metric, "7 of 12 mm of water lacking in the soil, mean in the past hour")]
    [InlineData("soil water deficit past 1 hour at least 12 mm", UnitSystem.Us, "0.3 of 0.47 in of water lacking in the soil, mean in the past hour")]
    [InlineData("soil water deficit past 1 hour at most 80 %", UnitSystem.Metric, "57 % of the soil's easily had water used up, mean in the past hour, at most 80 % wanted")]
    [InlineData("late blight days past 7 days at least 1 day", UnitSystem.Metric, "no late blight weather in the past 7 days, 1 day wanted")]
    [InlineData("early blight values past 7 days at least 15 values", UnitSystem.Metric, "8 of 15 severity values of early blight weather in the past 7 days")]
    [InlineData("warmth base 5 °C by single sine total past 2 days at least 30 °C days", UnitSystem.Metric, "20 of 30 °C days of warmth above 5 °C by single sine in the past 2 days")]
    [InlineData("warmth base 5 °C by single sine total past 2 days at least 30 °C days", UnitSystem.Us, "36 of 54 °F days of warmth above 41 °F by single sine in the past 2 days")]
    public void A_gardener_is_told_in_plain_words(string phrase, UnitSystem units, string? sentence)
    {
        if (sentence is null)
        {
            Assert.IsType<ConditionReading.Fault>(ConditionText.Read(phrase));
            return;
        }
        var scene = Weather((variable, i) => variable switch
        {
            WeatherVariable.RelativeHumidity => 70,
            WeatherVariable.Rain => i < 140 ? 3 : 0,
            WeatherVariable.ReferenceEvapotranspiration => 0.065,
            WeatherVariable.WeatherCode => 3,
            _ => i % 24 == 3 ? 7 : 13 + i % 24 / 2.3,
        }, units);
        Assert.Equal(sentence, scene.Ask(phrase, Now).Said());
    }
}

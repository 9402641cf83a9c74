using System.Globalization;
using CsCheck;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class WindowMeaningTests
{
    private static readonly string[] Zones =
        ["UTC", "Europe/Berlin", "Australia/Lord_Howe", "America/Santiago", "Asia/Beirut", "Pacific/Apia", "Asia/Kolkata", "America/New_York"];

    // Of measures that either are or are not in an hour, the plain look has to find out what is so.
    private static readonly (Statistic Statistic, Measured Of, Func<double, double> Hourly)[] Asked =
    [
        .. Enum.GetValues<Statistic>().Where(s => s is not (Statistic.Itself or Statistic.Hours or Statistic.Run)).Select(statistic =>
            (statistic, new Measured(statistic is Statistic.Total or Statistic.Peak ? Measure.Rain : Measure.Soil, statistic is Statistic.Total or Statistic.Peak ? null : 0.05), (Func<double, double>)(v => v))),
        (Statistic.Hours, new(Measure.Chill), air => double.IsNaN(air) ? double.NaN : air is >= 0 and <= 7.2 ? 1 : 0),
        (Statistic.Run, new(Measure.GroundFrost), leaf => double.IsNaN(leaf) ? double.NaN : leaf <= 0 ? 1 : 0),
    ];

    private static readonly Gen<TimeWindow> Windows =
        Gen.Select(Gen.Enum<WindowKind>(), Gen.Int[1, 9])
            .Where((kind, _) => kind is not (WindowKind.Since or WindowKind.Until))
            .Select((kind, n) => new TimeWindow(kind, kind is WindowKind.Today or WindowKind.Tonight or WindowKind.Tomorrow ? 0 : n));

    // The end of 2011 has Apia's missing day; the other starts lie around the changes of the clock.
    private static readonly Gen<Instant> Starts = Gen.Select(
        Gen.OneOf(Scenes.At(2011, 12, 15), Scenes.At(2011, 3, 15), Scenes.At(2011, 10, 20), Scenes.At(2012, 3, 20), Scenes.At(2026, 8, 25)),
        Gen.Int[0, 23]).Select((start, hour) => start + Duration.FromHours(hour));

    [Fact]
    public void Every_statistic_of_every_window_is_that_of_a_plain_look_at_each_hour() =>
        Gen.Select(Gen.OneOf(Zones), Starts, Gen.OneOf(Asked), Windows, Gen.Int[0, 700 * 60], Gen.Int[0, 40], Gen.Int[0, int.MaxValue])
            .Sample((zone, start, asks, window, minute, gaps, seed) =>
            {
                if (!ConditionLanguage.Fits(ConditionLanguage.Row(asks.Of.Measure), asks.Statistic, window.Kind))
                    return;
                var chance = new Random(seed);
                double[] hourly = Scenes.Hours(700, i => Math.Round(5 + 8 * Math.Sin(i * 0.26) + 3 * chance.NextDouble(), 1));
                for (int g = 0; g < gaps; g++)
                    hourly[chance.Next(hourly.Length)] = double.NaN;
                var scene = Scenes.Of(start, hourly, zone);
                var asked = start + Duration.FromMinutes(minute);
                var phrase = PlainStatistic.Phrase(asks.Of, asks.Statistic, window, level: 7, limit: -1000);

                var verdict = Evaluate.At(phrase, asked, scene);

                var plain = PlainStatistic.Of(phrase, asked, scene.Weather.Calendar, start, Array.ConvertAll(hourly, v => asks.Hourly(v)), level: 7);
                // -1000 lies below all: only what is open downward is left unknown.
                Assert.Equal(plain.Enough || plain.OpenUpwardOnly ? Truth.Yes : Truth.Unknown, verdict.Holds);
                if (!plain.Enough)
                    return;
                Assert.Equal(plain.Value, verdict.Value!.Value, 1e-6);
                Assert.Equal(plain.Value + 1000, verdict.Margin!.Value, 1e-6);
            }, iter: 30_000);

    [Theory]
    [InlineData("Europe/Berlin", 2026, 3, 29, 10, 23)]
    [InlineData("Europe/Berlin", 2026, 10, 25, 10, 25)]
    [InlineData("Europe/Berlin", 2026, 6, 1, 10, 24)]
    [InlineData("America/Santiago", 2026, 9, 6, 15, 23)] // begins at 1:00, midnight is left out
    [InlineData("Australia/Lord_Howe", 2026, 4, 5, 3, 24)] // 24½ hours: 24 of them end in it
    [InlineData("Australia/Lord_Howe", 2026, 10, 4, 3, 24)] // 23½ hours; the hour that straddles midnight ends in it
    [InlineData("Pacific/Apia", 2011, 12, 29, 20, 24)] // 29 December there
    [InlineData("Pacific/Apia", 2011, 12, 30, 20, 24)] // 31 December there
    public void Today_has_the_hours_of_the_local_date(string zone, int year, int month, int day, int hour, double expected)
    {
        var at = Scenes.At(year, month, day, hour);
        var scene = Scenes.Of(at - Duration.FromDays(5), Scenes.Hours(300, _ => 1), zone);
        Assert.Equal(expected, scene.Ask("rain total today at least 1 mm", at).Value!.Value, 1e-9);
    }

    [Theory]
    [InlineData("Europe/Berlin", "2026-03-29T10:00", "past 1 day", 23)]
    [InlineData("Europe/Berlin", "2026-03-29T10:00", "past 24 hours", 24)]
    [InlineData("Europe/Berlin", "2026-10-25T10:00", "past 1 day", 25)]
    [InlineData("Europe/Berlin", "2026-10-25T10:00", "past 3 days", 73)]
    [InlineData("Europe/Berlin", "2026-10-24T10:00", "next 1 day", 25)]
    [InlineData("Europe/Berlin", "2026-03-30T02:30", "past 1 day", 24)] // 2:30 was left out: the longer of the two readings
    [InlineData("Australia/Lord_Howe", "2026-04-05T12:00", "past 1 day", 25)] // 24½ hours, from half past: 25 of them end in it
    [InlineData("Pacific/Apia", "2011-12-31T10:00", "past 1 day", 24)] // there was no 30 December
    [InlineData("Pacific/Apia", "2011-12-31T10:00", "past 2 days", 24)]
    [InlineData("Pacific/Apia", "2011-12-29T10:00", "tomorrow", 24)] // the 31st
    public void So_many_days_reach_to_the_same_clock_time(string zone, string local, string window, double expected)
    {
        var at = NodaTime.Text.LocalDateTimePattern.CreateWithInvariantCulture("yyyy-MM-dd'T'HH:mm").Parse(local).Value
            .InZoneLeniently(Scenes.Zone(zone)).ToInstant();
        var start = Instant.FromUnixTimeSeconds(at.ToUnixTimeSeconds() / 3600 * 3600) - Duration.FromDays(6);
        var scene = Scenes.Of(start, Scenes.Hours(300, _ => 1), zone);
        Assert.Equal(expected, scene.Ask($"rain total {window} at least 1 mm", at).Value!.Value, 1e-9);
    }

    [Fact]
    public void Rain_of_the_next_hours_is_that_of_the_hours_which_end_in_them()
    {
        var start = Scenes.At(2026, 5, 1);
        var scene = Scenes.Of(start, Scenes.Hours(100, i => i));
        Assert.Equal(10 + 11, scene.Ask("rain total next 2 hours at least 1 mm", start + Duration.FromHours(9)).Value);
        // Within the hour the window still begins with the hour, so that past and next share nothing and leave nothing out.
        Assert.Equal(10 + 11, scene.Ask("rain total next 2 hours at least 1 mm", start + Duration.FromMinutes(9 * 60 + 59)).Value);
        Assert.Equal(8 + 9, scene.Ask("rain total past 2 hours at least 1 mm", start + Duration.FromMinutes(9 * 60 + 59)).Value);
    }

    [Fact]
    public void Air_at_both_ends_of_a_window_counts_for_its_low_and_high()
    {
        var start = Scenes.At(2026, 5, 1);
        var scene = Scenes.Of(start, Scenes.Hours(100, i => i));
        Assert.Equal(9, scene.Ask("air low next 2 hours at least 1 °C", start + Duration.FromHours(9)).Value);
        Assert.Equal(11, scene.Ask("air high next 2 hours at least 1 °C", start + Duration.FromHours(9)).Value);
        Assert.Equal(10.5, scene.Ask("air mean next 2 hours at least 1 °C", start + Duration.FromHours(9)).Value);
    }

    [Fact]
    public void After_midnight_tonight_is_the_night_that_is_running_and_the_next_nights_begin_with_it()
    {
        // Berlin, 10 May: sunset about 20:48, sunrise about 5:17, so the night ends about 7:17.
        var zone = "Europe/Berlin";
        var place = new Agronomy.Quantities.GeoPosition(52.5, 13.4, 35);
        var start = Scenes.At(2026, 5, 6);
        var coldHour = Scenes.At(2026, 5, 11, 3);
        var scene = Scenes.Of(start, Scenes.Hours(240, i => start + Duration.FromHours(i) == coldHour ? -1 : 12), zone, place: place);
        Assert.Equal(-1, scene.Ask("air low tonight at most 2 °C", Scenes.At(2026, 5, 10, 10)).Value);
        Assert.Equal(-1, scene.Ask("air low tonight at most 2 °C", Scenes.At(2026, 5, 11, 5)).Value);
        Assert.Equal(12, scene.Ask("air low tonight at most 2 °C", Scenes.At(2026, 5, 11, 6)).Value);
        Assert.Equal(-1, scene.Ask("air low next 2 nights at most 2 °C", Scenes.At(2026, 5, 11, 5)).Value);
        Assert.Equal(12, scene.Ask("air low past 3 nights at most 2 °C", Scenes.At(2026, 5, 11, 5)).Value);
        Assert.Equal(-1, scene.Ask("air low past 1 night at most 2 °C", Scenes.At(2026, 5, 11, 6)).Value);
    }

    [Fact]
    public void A_measured_year_agrees_with_a_plain_look_at_every_hour()
    {
        string path = MeasuredRecord.PathOf("debilt_hourly_2000.csv");
        var rows = File.ReadLines(path).Skip(1).Select(line => line.Split(',')).ToArray();
        double[] air = [.. rows.Select(cells => double.Parse(cells[1], CultureInfo.InvariantCulture))];
        double[] rain = [.. rows.Select(cells => double.Parse(cells[4], CultureInfo.InvariantCulture))];
        var start = Scenes.At(2000, 1, 1, 1);
        var place = new Agronomy.Quantities.GeoPosition(52.1, 5.18, 2);
        var scene = Scenes.Of(start, air.Length, v => v == Agronomy.Series.WeatherVariable.Rain ? rain : air, "Europe/Amsterdam", place: place);
        foreach (string words in (string[])
            ["air low next 7 nights at least 7 °C", "air low tonight at most 2 °C", "rain total past 2 days at most 5 mm", "rain peak next 24 hours at most 3 mm/h", "air mean next 5 days at least 14 °C", "air high tomorrow above 25 °C"])
        {
            var phrase = (Condition.Phrase)Scenes.Read(words);
            var course = Evaluate.Course(phrase, start, air.Length, scene);
            int yes = 0;
            for (int i = 0; i < air.Length; i++)
            {
                var asked = start + Duration.FromHours(i);
                var pieces = PlainWindow.Values(PlainWindow.Intervals(phrase.Window, asked, scene.Weather.Calendar), start,
                    phrase.Of.Measure == Measure.Rain ? rain : air, phrase.Of.Measure == Measure.Air && phrase.Statistic != Statistic.Mean);
                double[] all = [.. pieces.SelectMany(p => p)];
                if (all.Any(double.IsNaN))
                    continue;
                double value = phrase.Statistic switch
                {
                    Statistic.Low => all.Min(),
                    Statistic.High or Statistic.Peak => all.Max(),
                    Statistic.Mean => all.Average(),
                    _ => all.Sum(),
                };
                double limit = phrase.Limit.Default!.Value.Value;
                bool holds = phrase.Comparison switch
                {
                    Comparison.AtLeast => value >= limit - 1e-6,
                    Comparison.AtMost => value <= limit + 1e-6,
                    _ => value > limit + 1e-6,
                };
                Assert.Equal(holds ? Truth.Yes : Truth.No, course[i]);
                yes += holds ? 1 : 0;
            }
            Assert.InRange(yes, 50, air.Length - 500);
        }
    }
}

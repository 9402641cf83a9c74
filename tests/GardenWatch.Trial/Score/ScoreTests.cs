using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Play;
using NodaTime;

namespace GardenWatch.Trial.Score;

public class ScoreTests
{
    private static readonly LocalDate May1 = new(2000, 5, 1);
    private static readonly Instant Noon = Instant.FromUtc(2000, 5, 1, 12, 0);
    private static readonly RainWanted Wanted = new(EnoughMm: 6, TooMuchMm: 15, WashoutMmPerHour: 8);

    [Fact]
    public void Each_night_is_counted_once()
    {
        double[] lows = [-2, -1, 3, 4, -5];
        var groundLow = lows.Select((low, i) => (Night: May1.PlusDays(i), low)).ToDictionary(pair => pair.Night, pair => pair.low);
        var announced = ImmutableHashSet.Create(May1, May1.PlusDays(2), May1.PlusDays(4));
        var out5 = ImmutableHashSet.Create(May1, May1.PlusDays(1), May1.PlusDays(2), May1.PlusDays(3), May1.PlusDays(9));

        var score = FrostScore.Of(announced, groundLow, out5, frostAtC: 0);

        Assert.Equal([new(May1, -2)], score.Hit);
        Assert.Equal([new(May1.PlusDays(1), -1)], score.Missed);
        Assert.Equal([new(May1.PlusDays(2), 3)], score.FalselyAnnounced);
        Assert.Equal((1, 1, 1), (score.Quiet, score.NothingToProtect, score.NotMeasured));
        Assert.Contains("1 missed (2 May 2000 -1.0 °C)", score.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(9, 1.5, SpreadVerdict.Right)]
    [InlineData(2, 1, SpreadVerdict.TooDry)]
    [InlineData(18, 3, SpreadVerdict.TooWet)]
    [InlineData(10, 9, SpreadVerdict.WashedAway)]
    public void A_spreading_is_judged_by_the_rain_after_it(double total, double peak, SpreadVerdict expected)
    {
        int wetHours = (int)Math.Round(total / peak);
        // Much rain up to the deed must not count; nor what falls a day later.
        var weather = RainSeries(hour => hour <= 12 ? 20 : hour <= 12 + wetHours ? total / wetHours : hour > 36 ? 20 : 0);

        var spreading = Assert.Single(SpreadScore.Of([Noon + Duration.FromMinutes(20)], weather, Wanted).Spreadings);

        Assert.Equal(expected, spreading.Verdict);
        Assert.Equal(total, spreading.RainMm, tolerance: 1e-9);
        Assert.Equal(total / wetHours, spreading.PeakMmPerHour, tolerance: 1e-9);
    }

    [Fact]
    public void Rain_that_is_not_known_gives_no_verdict()
    {
        var gap = RainSeries(hour => hour == 20 ? double.NaN : 1);

        Assert.Equal(SpreadVerdict.Unknown, SpreadScore.Of([Noon], gap, Wanted).Spreadings[0].Verdict);
        Assert.Equal(SpreadVerdict.Unknown, SpreadScore.Of([Noon + Duration.FromDays(5)], RainSeries(_ => 1), Wanted).Spreadings[0].Verdict);
    }

    [Fact]
    public void A_sowing_is_judged_by_the_soil_of_the_days_after_it()
    {
        var beans = new Deed(DeedKind.Sow, "beans", Noon, SoilNeededC: 15);
        var granules = new Deed(DeedKind.Spread, "granules", Noon, null);
        double Soil(Deed _, Instant at) => at < Noon + Duration.FromDays(2) ? 18 : at < Noon + Duration.FromDays(3) ? 10 : double.NaN;

        var met = Assert.Single(SoilMet.Of([granules, beans], Soil, days: 5));

        Assert.Equal(46.0 / 3, met.MeanC, tolerance: 1e-9);
        Assert.Equal(10, met.LowestDayC, tolerance: 1e-9);
        Assert.True(met.WarmEnough);
        Assert.Null(Assert.Single(SoilMet.Of([beans], (_, _) => double.NaN, 5)).WarmEnough);
        Assert.False(Assert.Single(SoilMet.Of([beans], (_, _) => 14.9, 5)).WarmEnough);
    }

    [Fact]
    public void A_young_plant_is_judged_by_its_own_nights()
    {
        // 1 May 2000 begins a night of 4 °C at two metres and -1 °C at the grass; the third night is out of the two asked for.
        var start = Instant.FromUtc(2000, 5, 1, 0, 0);
        var table = new HourTable(96);
        for (int hour = 0; hour < 96; hour++)
            table[WeatherVariable.Air, hour] = hour is 28 ? 4 : hour is 76 ? -9 : hour is 14 ? -5 : 12;
        var lows = ImmutableSortedDictionary.CreateRange<LocalDate, double>([new(May1.PlusDays(-1), -8), new(May1, -1), new(May1.PlusDays(2), -7)]);
        var observed = new ObservedWeather(table.ToSeries(start, new(SourceKind.Archive, "test", start)), lows, DeBilt.Calendar);
        var tomatoes = new Deed(DeedKind.SetOut, "tomatoes", Noon, null, NightsNeededC: 7);

        var met = Assert.Single(NightsMet.Of([tomatoes, new Deed(DeedKind.Spread, "granules", Noon, null)], observed, nights: 2));

        Assert.Equal((4, -1), (met.AirLowC, met.GroundLowC));
        Assert.False(met.WarmEnough);
        Assert.Null((met with { AirLowC = double.NaN }).WarmEnough);
    }

    [Fact]
    public void Only_covers_of_what_stands_out_and_can_be_harmed_count_as_announced()
    {
        var night = new LocalDate(2000, 5, 1);
        var observed = new ObservedWeather(
            WeatherSeries.Empty, ImmutableSortedDictionary.CreateRange<LocalDate, double>(Enumerable.Range(0, 4).Select(day => KeyValuePair.Create(night.PlusDays(day), day == 3 ? 0 : -0.1))), DeBilt.Calendar);
        AdvisedDay Day(int day, string covered, double airC) =>
            new(night.PlusDays(day), [], [covered], (null, airC), Warned: false, ["potato", "tomato"]);
        var season = new AdvisedSeason(2000, [Day(0, "lettuce", 1), Day(1, "potato", 1), Day(2, "tomato", 4), Day(3, "tomato", 4)], [], ["tomato", "lettuce"]);

        var all = FrostFigures.OfAdvice(season, observed);
        var level = FrostFigures.OfAdvice(season, observed, levelOnly: true);
        var plain = FrostFigures.OfPlainRule(season, observed, airC: 1);

        Assert.Equal((2, 1, 1), (all.Hit.Length, all.Missed.Length, all.FalselyAnnounced.Length));
        Assert.Equal((1, 2, 1), (level.Hit.Length, level.Missed.Length, level.FalselyAnnounced.Length));
        Assert.Equal((2, 1, 0), (plain.Hit.Length, plain.Missed.Length, plain.FalselyAnnounced.Length));
    }

    private static WeatherSeries RainSeries(Func<int, double> rain)
    {
        var start = Instant.FromUtc(2000, 5, 1, 0, 0);
        var table = new HourTable(72);
        for (int hour = 0; hour < 72; hour++)
            table[WeatherVariable.Rain, hour] = rain(hour);
        return table.ToSeries(start, new(SourceKind.Archive, "test", start));
    }
}

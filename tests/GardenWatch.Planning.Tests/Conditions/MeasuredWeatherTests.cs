using System.Globalization;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Every statistic over every kind of window on measured years, their gaps included, against a plain look at each hour.</summary>
public sealed class MeasuredWeatherTests
{
    private static readonly TimeWindow[] Windows =
    [
        new(WindowKind.PastHours, 5), new(WindowKind.NextHours, 24), new(WindowKind.PastDays, 3), new(WindowKind.NextDays, 2),
        new(WindowKind.PastNights, 3), new(WindowKind.NextNights, 2), new(WindowKind.Today), new(WindowKind.Tonight), new(WindowKind.Tomorrow),
    ];

    /// <summary>Begins at each zone's own midnight, some weeks into the year.</summary>
    private static TimeWindow SinceOf(Instant start) => new(WindowKind.Since, 0, new Moment.OnDate(start.InUtc().Date.PlusDays(80)));

    [Theory]
    [InlineData("debilt_hourly_2000.csv", "Europe/Amsterdam", 7)]
    [InlineData("debilt_hourly_2000.csv", "Australia/Lord_Howe", 14)] // half an hour, 26 March and 27 August
    [InlineData("debilt_hourly_2000.csv", "America/Santiago", 8)] // midnight is left out on 15 October
    [InlineData("debilt_hourly_2000.csv", "Asia/Beirut", 12.5)] // midnight is left out on 26 March
    [InlineData("scan_ford_dry_lake_hourly_2015.csv", "America/Los_Angeles", 10)]
    [InlineData("scan_ford_dry_lake_hourly_2015.csv", "Australia/Lord_Howe", 20)]
    public void Every_statistic_of_a_measured_year_is_that_of_a_plain_look(string file, string zone, double minuteOfHour)
    {
        var rows = MeasuredRecord.RowsOf(file);
        var start = Instant.FromDateTimeOffset(DateTimeOffset.Parse(rows[0][0] + "Z", CultureInfo.InvariantCulture));
        double[] air = MeasuredRecord.Column(rows, 1), rain = MeasuredRecord.Column(rows, 4);
        var scene = Scenes.Of(start, air.Length, v => v == WeatherVariable.Rain ? rain : air, zone, place: new GeoPosition(52.1, 5.18, 2));
        double[] chill = Array.ConvertAll(air, t => double.IsNaN(t) ? double.NaN : t is >= 0 and <= 7.2 ? 1 : 0);
        double[] frost = Array.ConvertAll(air, t => double.IsNaN(t) ? double.NaN : t <= 0 ? 1 : 0);
        int compared = 0, unknown = 0;
        foreach (var statistic in Enum.GetValues<Statistic>().Where(s => s != Statistic.Itself))
        {
            var (measured, hourly) = statistic switch
            {
                Statistic.Total or Statistic.Peak => (new Measured(Measure.Rain), rain),
                Statistic.Hours => (new Measured(Measure.Chill), chill),
                Statistic.Run => (new Measured(Measure.GroundFrost), frost),
                _ => (new Measured(Measure.Air), air),
            };
            foreach (var window in Windows.Append(SinceOf(start)).Where(w => ConditionLanguage.Fits(ConditionLanguage.Row(measured.Measure), statistic, w.Kind)))
            {
                foreach (int hour in HoursToAsk(scene, start, air.Length))
                {
                    var asked = start + Duration.FromHours(hour) + Duration.FromMinutes(minuteOfHour);
                    var phrase = PlainStatistic.Phrase(measured, statistic, window, level: 9.05, limit: 0);
                    var plain = PlainStatistic.Of(phrase, asked, scene.Weather.Calendar, start, hourly, level: 9.05);
                    if (!plain.Enough)
                    {
                        unknown++;
                        bool mayBeAnything = statistic is Statistic.High or Statistic.Mean or Statistic.Total or Statistic.Peak or Statistic.MeanOfLows or Statistic.MeanOfHighs;
                        Assert.True(!mayBeAnything || Evaluate.Holds(AtLeast(phrase, 1e6), asked, scene) == Truth.Unknown);
                        continue;
                    }
                    compared++;
                    Assert.True(Evaluate.Holds(AtLeast(phrase, plain.Value - 1e-4), asked, scene) == Truth.Yes
                        && Evaluate.Holds(AtLeast(phrase, plain.Value + 1e-4), asked, scene) == Truth.No, $"{statistic} {window} at {asked}: {plain.Value}");
                }
            }
        }
        Assert.True(compared > 50_000, $"{compared} compared, {unknown} unknown");
    }

    /// <summary>Each ninth hour of the year, and every hour within two days of a change of the clock.</summary>
    private static IEnumerable<int> HoursToAsk(Scene scene, Instant start, int hours)
    {
        var changes = scene.Weather.Calendar.Zone.GetZoneIntervals(start, start + Duration.FromHours(hours)).Skip(1).Select(i => (int)(i.Start - start).TotalHours).ToArray();
        return Enumerable.Range(0, hours).Where(h => h % 9 == 0 || changes.Any(change => Math.Abs(h - change) <= 48));
    }

    private static Condition.Phrase AtLeast(Condition.Phrase phrase, double limit) =>
        phrase with { Limit = new Operand(null, phrase.Limit.Default!.Value with { Value = limit }) };
}

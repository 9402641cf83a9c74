using CsCheck;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Weather.Tests.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.History;

public class PullFoldTests
{
    private static readonly Instant Morning = Instant.FromUtc(2027, 4, 21, 5, 10);
    private static readonly Instant LongAfter = Instant.FromUtc(2030, 1, 1, 0, 0);

    [Fact]
    public void Nothing_known_is_an_empty_series()
    {
        Assert.Equal(0, PullFold.Join([], Morning).Hours);
        Assert.Equal(0, PullFold.Join([Of(Morning, 1)], Morning - Duration.Epsilon).Hours);
    }

    [Fact]
    public void The_newest_value_wins_and_older_hours_are_kept()
    {
        var older = Of(Morning - Duration.FromDays(3), 1);
        var newer = Of(Morning, 2);

        var series = PullFold.Join([older, newer], LongAfter);

        Assert.Equal(older.Start, series.Start);
        Assert.Equal(newer.LastStamp, series.LastStamp);
        for (int hour = 0; hour < series.Hours; hour++)
        {
            bool isNew = series.StampOf(hour) >= newer.Start;
            Assert.Equal(isNew ? 2 : 1, series[WeatherVariable.Air][hour]);
            Assert.Equal(
                new(SourceKind.Forecast, "Open-Meteo", isNew ? newer.FetchedAt : older.FetchedAt), series.SourceOf(hour));
        }
    }

    [Fact]
    public void Nothing_fetched_later_is_looked_at()
    {
        var early = Of(Morning, 1);
        var late = Of(Morning + Duration.FromHours(1), 2);

        var series = PullFold.Join([late, early], Morning + Duration.FromMinutes(59));

        Assert.All(series[WeatherVariable.Air].ToArray(), value => Assert.Equal(1, value));
        Assert.Equal(early.FetchedAt, Assert.Single(series.Sources).KnownAt);
    }

    [Fact]
    public void A_null_falls_back_to_the_older_pull_for_that_variable_alone()
    {
        var gap = Morning + Duration.FromMinutes(50); // 06:00
        var older = Of(Morning - Duration.FromHours(1), 1);
        var newer = InventedPull.At(
            Morning, 1, 3, (stamp, v) => stamp == gap && v == WeatherVariable.Air ? double.NaN : 2,
            WeatherVariable.Air, WeatherVariable.Rain);

        var series = PullFold.Join([newer, older], Morning);

        int at = series.FirstAtOrAfter(gap);
        Assert.Equal(1, series[WeatherVariable.Air][at]);
        Assert.Equal(2, series[WeatherVariable.Rain][at]);
        Assert.Equal(2, series[WeatherVariable.Air][at + 1]);
        Assert.Equal(newer.FetchedAt, series.SourceOf(at)!.KnownAt);
    }

    [Fact]
    public void A_variable_no_pull_has_stays_unknown()
    {
        var series = PullFold.Join([Of(Morning, 1)], Morning);

        Assert.All(series[WeatherVariable.SoilAt6Cm].ToArray(), value => Assert.True(double.IsNaN(value)));
    }

    [Theory]
    [InlineData(36, 1)]
    [InlineData(37, double.NaN)]
    public void Past_36_hours_an_older_forecast_no_longer_speaks_of_hours_to_come(int hoursOlder, double expected)
    {
        var older = Of(Morning - Duration.FromHours(hoursOlder), 1);
        var newer = InventedPull.At(
            Morning, 1, 3, (_, v) => v == WeatherVariable.Air ? double.NaN : 2, WeatherVariable.Air, WeatherVariable.Rain);

        var series = PullFold.Join([newer, older], Morning);

        int now = series.LastAtOrBefore(Morning);
        Assert.Equal(1, series[WeatherVariable.Air][now]);
        Assert.Equal(expected, series[WeatherVariable.Air][now + 1]);
    }

    [Fact]
    public void A_gap_between_pulls_stays_a_gap()
    {
        var older = Of(Morning - Duration.FromDays(30), 1);
        var newer = Of(Morning, 2);

        var series = PullFold.Join([older, newer], Morning);

        int gap = series.FirstAtOrAfter(Morning - Duration.FromDays(10));
        Assert.True(double.IsNaN(series[WeatherVariable.Air][gap]));
        Assert.Null(series.SourceOf(gap));
    }

    [Fact]
    public void Folding_agrees_with_looking_up_each_hour_by_the_rule()
    {
        var pull = Gen.Select(Gen.Int[0, 200], Gen.Int[0, 4], Gen.Int[1, 4], Gen.Double[0, 1]).Select((hoursAgo, past, ahead, holes) =>
            InventedPull.At(
                Morning - Duration.FromHours(hoursAgo), past, ahead,
                (stamp, v) => (stamp.ToUnixTimeSeconds() / 3600 * 31 + (int)v * 17 + hoursAgo * 7) % 100 < holes * 60
                    ? double.NaN : (hoursAgo + (int)v) % 60,
                WeatherVariable.Air, WeatherVariable.Wind));
        pull.Array[0, 6].Sample(pulls =>
        {
            pulls = [.. pulls.DistinctBy(p => p.FetchedAt)];
            var asOf = Morning - Duration.FromHours(20);
            var series = PullFold.Join(pulls, asOf);
            var known = pulls.Where(p => p.FetchedAt <= asOf).OrderByDescending(p => p.FetchedAt).ToArray();
            for (int hour = 0; hour < series.Hours; hour++)
                foreach (var variable in new[] { WeatherVariable.Air, WeatherVariable.Wind })
                {
                    var stamp = series.StampOf(hour);
                    double expected = known
                        .Where(p => stamp <= known[0].FetchedAt || known[0].FetchedAt - p.FetchedAt <= Duration.FromHours(36))
                        .Select(p => p.ValueAt(variable, stamp)).FirstOrDefault(v => !double.IsNaN(v), double.NaN);
                    Assert.Equal(expected, series[variable][hour]);
                }
        }, iter: 500);
    }

    [Fact]
    public void The_age_of_the_weather_is_that_of_the_newest_pull_known()
    {
        Instant[] fetched = [Morning, Morning + Duration.FromHours(3), Morning - Duration.FromDays(1)];

        Assert.Equal(new(Morning, Duration.FromHours(2)), WeatherAge.Of(fetched, Morning + Duration.FromHours(2)));
        Assert.False(WeatherAge.Of([Morning], Morning + Duration.FromHours(36)).IsStale);
        Assert.True(WeatherAge.Of([Morning], Morning + Duration.FromHours(37)).IsStale);
        Assert.True(WeatherAge.Of(fetched, Morning - Duration.FromDays(9)).IsMissing);
    }

    private static Pull Of(Instant fetchedAt, double value) =>
        InventedPull.At(fetchedAt, 1, 3, (_, _) => value, WeatherVariable.Air, WeatherVariable.Rain);
}

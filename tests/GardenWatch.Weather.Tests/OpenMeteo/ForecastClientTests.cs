using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class ForecastClientTests
{
    [Fact]
    public async Task A_pull_brings_every_variable_for_every_hour_as_the_service_printed_it()
    {
        await using var bench = await ServiceBench.Open();
        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull;

        Assert.Equal(Instant.FromUtc(2027, 4, 7, 0, 0), pull.Start);
        Assert.Equal(30 * 24, pull.Hours);
        Assert.Equal(ServiceBench.Start, pull.FetchedAt);
        Assert.Equal("127.0.0.1", pull.Host);
        Assert.Equal(13, pull.Columns.Count);
        foreach (var variable in ServiceVariable.All)
            for (int hour = 0; hour < pull.Hours; hour++)
                Assert.Equal(
                    InventedWeather.At(pull.StampOf(hour), variable.Name)!.Value, pull.Columns[variable.Variable][hour]);
    }

    [Fact]
    public async Task The_question_is_one_call_with_metric_units_GMT_and_past_and_coming_days()
    {
        await using var bench = await ServiceBench.Open();
        await bench.Pull(92);

        var call = Assert.Single(bench.Service.Calls);
        Assert.Equal("/v1/forecast", call.Path);
        Assert.Equal("52.1", call.Query["latitude"]);
        Assert.Equal("5.18", call.Query["longitude"]);
        Assert.Equal("2", call.Query["elevation"]);
        Assert.Equal("92", call.Query["past_days"]);
        Assert.Equal("16", call.Query["forecast_days"]);
        Assert.Equal("GMT", call.Query["timezone"]);
        Assert.Equal("unixtime", call.Query["timeformat"]);
        Assert.Equal("ms", call.Query["wind_speed_unit"]);
        Assert.Equal(
            "temperature_2m,relative_humidity_2m,dew_point_2m,precipitation,snowfall,cloud_cover,wind_speed_10m,wind_gusts_10m," +
            "shortwave_radiation,et0_fao_evapotranspiration,weather_code,soil_temperature_6cm,soil_temperature_18cm",
            call.Query["hourly"]);
        Assert.Equal("GardenWatch test (pat@example.org)", call.UserAgent);
    }

    [Fact]
    public async Task A_height_that_is_not_known_is_left_to_the_service()
    {
        await using var bench = await ServiceBench.Open();
        await bench.Forecasts.Pull(
            ServiceBench.Garden with { ElevationMetres = double.NaN }, 1, TestContext.Current.CancellationToken);

        Assert.False(Assert.Single(bench.Service.Calls).Query.ContainsKey("elevation"));
    }

    [Fact]
    public async Task An_address_with_a_key_of_its_own_keeps_it()
    {
        await using var bench = await ServiceBench.Open(adjust: o => o.Forecast = new(o.Forecast + "?apikey=abc"));
        Assert.IsType<PullOutcome.Good>(await bench.Pull());

        var query = Assert.Single(bench.Service.Calls).Query;
        Assert.Equal("abc", query["apikey"]);
        Assert.Equal("52.1", query["latitude"]);
    }

    [Fact]
    public async Task The_services_own_clock_is_given_back_with_good_answers_and_bad_ones()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.DateAhead = Duration.FromMinutes(11);
        var there = ServiceBench.Start + Duration.FromMinutes(11);
        Assert.Equal(there, (await bench.Pull()).ServerDate);

        bench.Service.Always = new Peers.OpenMeteo.StandInFault.BadRequest("no");
        Assert.Equal(there, Assert.IsType<PullOutcome.Refused>(await bench.Pull()).ServerDate);

        bench.Service.Always = new Peers.OpenMeteo.StandInFault.FrontPage(502);
        Assert.Equal(there, Assert.IsType<PullOutcome.TryLater>(await bench.Pull()).ServerDate);
    }

    [Fact]
    public async Task Weather_of_a_series_comes_back_as_that_series()
    {
        var sources = new HourSource(SourceKind.Forecast, "invented", ServiceBench.Start);
        double[] air = [.. Enumerable.Range(0, 24 * 20).Select(h => h == 100 ? double.NaN : h / 10.0)];
        var series = new WeatherSeries(
            Instant.FromUtc(2027, 4, 20, 0, 0), air.Length,
            System.Collections.Immutable.ImmutableDictionary<WeatherVariable, System.Collections.Immutable.ImmutableArray<double>>.Empty
                .Add(WeatherVariable.Air, [.. air]),
            [sources], [.. new short[air.Length]]);
        await using var bench = await ServiceBench.Open(InventedWeather.Of(series));

        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull(1)).Pull;

        Assert.Equal(series.Start, pull.Start);
        for (int hour = 0; hour < pull.Hours; hour++)
            Assert.Equal(air[hour], pull.Columns[WeatherVariable.Air][hour]);
    }
}

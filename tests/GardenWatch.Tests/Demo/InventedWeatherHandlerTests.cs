using System.Net;
using System.Text.Json;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using static GardenWatch.Tests.Demo.InventedYear;

namespace GardenWatch.Tests.Demo;

/// <summary>The stand-in answers in the shape of the weather service.</summary>
public sealed class InventedWeatherHandlerTests : IDisposable
{
    private const string AllNames =
        "temperature_2m,relative_humidity_2m,dew_point_2m,precipitation,snowfall,cloud_cover,wind_speed_10m,wind_gusts_10m," +
        "shortwave_radiation,et0_fao_evapotranspiration,weather_code,soil_temperature_6cm,soil_temperature_18cm";
    private const string Manner = "&timeformat=unixtime&wind_speed_unit=ms&timezone=GMT";

    private static readonly Instant Now = Instant.FromUtc(NotableMornings.Year, 4, 27, 9, 41);
    private static readonly ForecastFromTruth Forecasts = new(Invented, InventedSeason.Place, seed: 5);

    private static readonly ForecastFromTruth[] Runs = [Forecasts, new(Invented, InventedSeason.Place, seed: 6), new(Invented, InventedSeason.Place, seed: 7)];

    private readonly InventedWeatherHandler _handler = new(Forecasts, [.. Runs], InventedSeason.Place, () => Now);
    private readonly HttpClient _http;

    public InventedWeatherHandlerTests() => _http = new(_handler) { BaseAddress = new("https://weather.example.org") };

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        _http.Dispose();
        _handler.Dispose();
    }

    private Task<HttpResponseMessage> Ask(string query) => _http.GetAsync(new Uri("/v1/forecast?latitude=39.5&longitude=-83.5" + query, UriKind.Relative), Cancellation);

    [Fact]
    public async Task The_ensemble_has_its_control_under_the_plain_name_and_the_members_under_numbers()
    {
        using var answer = await _http.GetAsync(
            new Uri("/v1/ensemble?latitude=39.5&longitude=-83.5&models=any&hourly=temperature_2m&forecast_days=4" + Manner, UriKind.Relative), Cancellation);
        using var json = JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync(Cancellation));
        var hourly = json.RootElement.GetProperty("hourly");

        string[] names = ["temperature_2m", "temperature_2m_member01", "temperature_2m_member02"];
        for (int run = 0; run < names.Length; run++)
            Assert.Equal(
                Runs[run].IssuedAt(Now, 0, 4)[WeatherVariable.Air][60], hourly.GetProperty(names[run])[60].GetDouble(), 0.051);
        Assert.False(hourly.TryGetProperty("temperature_2m_member03", out _));
    }

    [Fact]
    public async Task The_answer_holds_the_forecast_hour_by_hour()
    {
        using var answer = await Ask($"&hourly={AllNames}&past_days=3&forecast_days=16" + Manner);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(Now.ToDateTimeOffset().ToUnixTimeSeconds(), answer.Headers.Date!.Value.ToUnixTimeSeconds());
        using var json = JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync(Cancellation));
        var root = json.RootElement;
        var hourly = root.GetProperty("hourly");
        var series = Forecasts.IssuedAt(Now, 3, 16);

        Assert.Equal(0, root.GetProperty("utc_offset_seconds").GetInt32());
        Assert.Equal("GMT", root.GetProperty("timezone").GetString());
        Assert.Equal(290, root.GetProperty("elevation").GetDouble());
        Assert.Equal("unixtime", root.GetProperty("hourly_units").GetProperty("time").GetString());
        Assert.Equal("m/s", root.GetProperty("hourly_units").GetProperty("wind_gusts_10m").GetString());
        long[] times = [.. hourly.GetProperty("time").EnumerateArray().Select(time => time.GetInt64())];
        Assert.Equal(19 * 24, times.Length);
        Assert.Equal(Instant.FromUtc(NotableMornings.Year, 4, 24, 0, 0).ToUnixTimeSeconds(), times[0]);
        Assert.All(Enumerable.Range(1, times.Length - 1), i => Assert.Equal(3600, times[i] - times[i - 1]));

        var variables = Enum.GetValues<WeatherVariable>();
        var inOrderOfNames = new[]
        {
            WeatherVariable.Air, WeatherVariable.RelativeHumidity, WeatherVariable.DewPoint, WeatherVariable.Rain, WeatherVariable.Snowfall,
            WeatherVariable.CloudCover, WeatherVariable.Wind, WeatherVariable.Gust, WeatherVariable.Radiation,
            WeatherVariable.ReferenceEvapotranspiration, WeatherVariable.WeatherCode, WeatherVariable.SoilAt6Cm, WeatherVariable.SoilAt18Cm,
        };
        Assert.Equal(variables.Length, inOrderOfNames.Length);
        foreach (var (name, variable) in AllNames.Split(',').Zip(inOrderOfNames))
        {
            double[] said = [.. hourly.GetProperty(name).EnumerateArray().Select(value => value.ValueKind == JsonValueKind.Null ? double.NaN : value.GetDouble())];
            Assert.Equal(series[variable].ToArray(), said, (a, b) => double.IsNaN(a) ? double.IsNaN(b) : Math.Abs(a - b) < 1e-9);
        }
        Assert.Equal(JsonValueKind.Null, hourly.GetProperty("temperature_2m")[times.Length - 1].ValueKind);
    }

    [Fact]
    public async Task Numbers_have_the_decimals_of_their_unit()
    {
        using var answer = await Ask("&hourly=temperature_2m,precipitation,weather_code&forecast_days=1" + Manner);
        using var json = JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync(Cancellation));
        var hourly = json.RootElement.GetProperty("hourly");

        Assert.Matches(@"^-?\d+\.\d$", hourly.GetProperty("temperature_2m")[0].GetRawText());
        Assert.Matches(@"^\d+\.\d\d$", hourly.GetProperty("precipitation")[0].GetRawText());
        Assert.Matches(@"^\d+$", hourly.GetProperty("weather_code")[0].GetRawText());
        Assert.Equal(["time", "temperature_2m", "precipitation", "weather_code"], hourly.EnumerateObject().Select(column => column.Name));
    }

    [Theory]
    [InlineData("&hourly=temperature_2m,tempest&timeformat=unixtime&wind_speed_unit=ms", "tempest")]
    [InlineData("&hourly=temperature_2m&wind_speed_unit=ms", "timeformat=unixtime")]
    [InlineData("&hourly=temperature_2m&timeformat=unixtime&wind_speed_unit=mph", "wind_speed_unit=ms")]
    [InlineData("&hourly=temperature_2m&forecast_days=17&timeformat=unixtime&wind_speed_unit=ms", "0 to 16")]
    [InlineData("&hourly=temperature_2m&past_days=-1&timeformat=unixtime&wind_speed_unit=ms", "0 to 92")]
    [InlineData("&daily=sunrise&timeformat=unixtime&wind_speed_unit=ms", "daily")]
    public async Task A_question_it_can_not_answer_is_refused_with_a_reason(string query, string named)
    {
        using var answer = await Ask(query);
        using var json = JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync(Cancellation));

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.True(json.RootElement.GetProperty("error").GetBoolean());
        Assert.Contains(named, json.RootElement.GetProperty("reason").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task When_it_is_down_it_answers_with_a_web_page_and_the_hour()
    {
        _handler.IsDown = true;
        using var answer = await Ask("&hourly=temperature_2m" + Manner);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Equal("text/html", answer.Content.Headers.ContentType!.MediaType);
        Assert.NotNull(answer.Headers.Date);
    }

    [Fact]
    public async Task Other_addresses_are_not_found()
    {
        using var answer = await _http.GetAsync(new Uri("/v1/search?name=x", UriKind.Relative), Cancellation);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }
}

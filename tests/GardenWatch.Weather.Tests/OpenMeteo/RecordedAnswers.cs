using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>
/// Answers that the service really gave, kept outside the project. Data: Open-Meteo.com, CC BY 4.0. They were asked for
/// in km/h; where only that stands in the way, the wind is put into m/s first.
/// </summary>
public class RecordedAnswers
{
    [Theory]
    [InlineData("forecast-toronto-summer", "2026-07-30T04:00", 408, 9)]
    [InlineData("forecast-miami-thunder", "2026-07-31T04:00", 168, 9)]
    [InlineData("forecast-andes-snow", "2026-07-31T04:00", 168, 9)]
    [InlineData("forecast-svalbard-midnight-sun", "2026-07-30T22:00", 96, 9)]
    [InlineData("forecast-toronto-ecmwf-gaps", "2026-07-31T04:00", 72, 9)]
    [InlineData("forecast-kampala-precip-spike", "2026-07-30T21:00", 48, 9)]
    [InlineData("forecast-brno-unixtime", "2026-09-30T22:00", 72, 2)]
    [InlineData("archive-toronto-dst-fall", "2025-11-01T04:00", 72, 9)]
    [InlineData("archive-toronto-dst-spring", "2026-03-07T04:00", 72, 9)]
    public void A_recorded_answer_is_read_whole(string name, string startUtc, int hours, int variables)
    {
        var answer = WithWindInMetresPerSecond(Recorded(name));

        var pull = Read(answer, out string? fault);

        Assert.Null(fault);
        Assert.Equal(startUtc, $"{pull!.Start:uuuu-MM-dd'T'HH:mm}");
        Assert.Equal(hours, pull.Hours);
        Assert.Equal(variables, pull.Columns.Count);
        Assert.Equal(0, pull.OutOfRange);
        foreach (var (variable, column) in pull.Columns)
        {
            var printed = answer["hourly"]![ServiceVariable.Of(variable).Name]!.AsArray();
            for (int hour = 0; hour < hours; hour++)
                Assert.Equal(printed[hour]?.GetValue<double>() ?? double.NaN, column[hour]);
        }
    }

    [Fact]
    public void The_last_hours_of_sixteen_days_are_missing_and_not_nought()
    {
        var pull = Read(WithWindInMetresPerSecond(Recorded("forecast-toronto-summer")), out _)!;

        Assert.Equal(
            [false, true, true, true],
            Enumerable.Range(pull.Hours - 4, 4).Select(h => double.IsNaN(pull.Columns[WeatherVariable.Rain][h])));
    }

    [Theory]
    [InlineData("forecast-toronto-summer", "'wind_speed_10m' in 'km/h', and 'm/s' was asked for")]
    [InlineData("forecast-toronto-crossing-dst-imperial", "'temperature_2m' in '°F', and '°C' was asked for")]
    [InlineData("forecast-16-days-null-tail", "air temperature for only")]
    [InlineData("archive-brasilia-hourly-daily", "air temperature for only 24 of the next 48 hours")]
    [InlineData("forecast-berlin-current-minutely15-hourly-daily", "air temperature for only 0")]
    [InlineData("forecast-berlin-two-models", "air temperature for only 0")]
    [InlineData("forecast-daily-all-null-past-range", "no hourly values")]
    [InlineData("forecast-legacy-current_weather-imperial", "no hourly values")]
    [InlineData("archive-brasilia-daily", "no hourly values")]
    [InlineData("archive-1953-trimmed", "'wind_speed_10m' in 'km/h'")]
    public void A_recorded_answer_to_another_question_is_refused_for_what_it_is(string name, string said)
    {
        Assert.Null(Read(Recorded(name), out string? fault));
        Assert.Contains(said, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void An_answer_for_several_places_is_refused() =>
        Assert.Equal("it answered for several places, and one was asked", AnswerText.FaultOf(Bytes("forecast-multi-location")));

    [Theory]
    [InlineData("error-400-bad-unit-2023", "Cannot initialize TemperatureUnit from invalid String value")]
    [InlineData("error-400-unknown-hourly-2023", "Cannot initialize SurfaceAndPressureVariable")]
    public void The_reason_of_a_recorded_refusal_is_found(string name, string said) =>
        Assert.StartsWith(said, AnswerText.ReasonOf(Bytes(name)), StringComparison.Ordinal);

    [Fact]
    public void A_recorded_ensemble_is_read_member_by_member()
    {
        var recorded = Recorded("ensemble-20-members-trimmed");
        var answer = HourlyAnswer.Read(
            Encoding.UTF8.GetBytes(recorded.ToJsonString()), ColumnKey.OfMember, new(52.5, 7.0, double.NaN), out string? fault);

        Assert.Null(fault);
        Assert.Equal(Instant.FromUtc(2026, 10, 3, 0, 0), answer!.Start);
        Assert.Equal(Enumerable.Range(0, 21), answer.Columns.Keys.Select(key => key.Member).Order());
        Assert.All(answer.Columns.Keys, key => Assert.Equal(WeatherVariable.Air, key.Variable.Variable));
        var air = ServiceVariable.Of(WeatherVariable.Air);
        Assert.Equal((10.5, 10.1), (answer.Columns[new(air, 0)][0], answer.Columns[new(air, 0)][1]));
        Assert.Equal((11.8, 11.3), (answer.Columns[new(air, 14)][0], answer.Columns[new(air, 14)][1]));
    }

    [Fact]
    public void Recorded_members_stretched_to_four_days_make_a_pull()
    {
        var recorded = Recorded("ensemble-20-members-trimmed");
        var hourly = recorded["hourly"]!.AsObject();
        // The recording was trimmed to two hours: each hour is told again for days, so that it is enough to be believed.
        foreach (var (name, values) in hourly.ToList())
            hourly[name] = name == "time"
                ? new JsonArray([.. Enumerable.Range(0, 96).Select(hour => (JsonNode)JsonValue.Create($"2026-10-{3 + hour / 24:00}T{hour % 24:00}:00"))])
                : new JsonArray([.. Enumerable.Range(0, 96).Select(hour => (JsonNode)JsonValue.Create(values![hour % 2]!.GetValue<double>()))]);
        var pull = EnsembleAnswer.Read(
            Encoding.UTF8.GetBytes(recorded.ToJsonString()),
            new(new(52.5, 7.0, double.NaN), Instant.FromUtc(2026, 10, 3, 6, 30), "weather.example.org"), "gem_global", null, out string? fault);

        Assert.Null(fault);
        Assert.Equal((21, 89), (pull!.Members.Length, pull.Hours));
        Assert.Equal(9.5, pull.Members[11][WeatherVariable.Air][0]); // 7:00, told as the second hour
    }

    [Fact]
    public void A_recorded_archive_with_a_zone_of_its_own_is_told_from_a_whole_year()
    {
        // Labels of 1 November local, in the offset of the day it was asked: exact in UTC, but three days are no year.
        var answer = WithWindInMetresPerSecond(Recorded("archive-toronto-dst-fall"));
        Assert.Null(ArchiveClient.Read(
            Encoding.UTF8.GetBytes(answer.ToJsonString()),
            new(new(43.69, -79.41, double.NaN), ServiceBench.Start, "weather.example.org"), 2025, out string? fault));
        Assert.Contains("gives 72 hours from 2025-11-01T04:00:00Z", fault, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Recorded_towns_are_read()
    {
        string towns = Encoding.UTF8.GetString(Bytes("geocoding-search-toronto"));
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new Peers.OpenMeteo.StandInFault.Says(200, "application/json", towns);

        var hits = Assert.IsType<Lookup<System.Collections.Immutable.ImmutableArray<PlaceHit>>.Found>(
            await bench.Places.Search("Toronto", null, TestContext.Current.CancellationToken)).Value;

        Assert.True(hits.Length > 1);
        Assert.Equal(("Ontario", 161.0, "America/Toronto"), (hits[0].Region, hits[0].ElevationMetres, hits[0].ZoneName));
    }

    /// <summary>Asked for at the place and the first hour that the answer tells.</summary>
    private static Pull? Read(JsonObject answer, out string? fault)
    {
        var place = new GeoPosition(answer["latitude"]!.GetValue<double>(), answer["longitude"]!.GetValue<double>(), double.NaN);
        var first = answer["hourly"]?["time"]?[0];
        var at = first?.GetValueKind() switch
        {
            JsonValueKind.Number => Instant.FromUnixTimeSeconds(first.GetValue<long>()),
            JsonValueKind.String => NodaTime.Text.LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm")
                .Parse(first.GetValue<string>()).Value.InUtc().ToInstant() - Duration.FromSeconds(answer["utc_offset_seconds"]!.GetValue<int>()),
            _ => ServiceBench.Start,
        };
        return ForecastAnswer.Read(Encoding.UTF8.GetBytes(answer.ToJsonString()), new(place, at, "weather.example.org"), out fault);
    }

    private static JsonObject WithWindInMetresPerSecond(JsonObject answer)
    {
        foreach (string name in new[] { "wind_speed_10m", "wind_gusts_10m" })
        {
            if (answer["hourly"]![name] is not JsonArray kmh)
                continue;
            answer["hourly_units"]![name] = "m/s";
            answer["hourly"]![name] = new JsonArray(
                [.. kmh.Select(v => v is null ? null : (JsonNode)JsonValue.Create(Math.Round(v.GetValue<double>() / 3.6, 2)))]);
        }
        return answer;
    }

    private static JsonObject Recorded(string name) => JsonNode.Parse(Bytes(name))!.AsObject();

    private static byte[] Bytes(string name)
    {
        string? folder = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        Assert.SkipWhen(folder is null, "GARDENWATCH_TEST_DATA does not name the folder of recorded answers.");
        return File.ReadAllBytes(Path.Combine(folder, "open-meteo", "fixtures", name + ".json"));
    }
}

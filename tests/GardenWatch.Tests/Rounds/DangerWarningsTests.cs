using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using GardenWatch.Demo;
using GardenWatch.Tests.Store;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

/// <summary>A day of the whole house on which a gale comes into the forecast, grows and goes again. The weather is invented.</summary>
public sealed class DangerWarningsTests : StoreCase
{
    private const string Plan = """
        garden: Mill Bank
        id: mill-bank
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        units: metric
        in the garden: { weekdays: 06:00-07:30 and 17:30-20:30, weekends: 08:00-20:30 }
        digest: { at: "06:00", to: [pat@example.org] }
        beds:
          - { bed: back bed }
        plantings:
          - { crop: sweet corn, bed: back bed, growing: yes, tune: { cover: { leaf: -30 °C } } }
        """;

    // A Monday.
    private static readonly LocalDate Day = HouseBench.Sunday.PlusDays(1);

    private static readonly (double FromHour, double Gust)[] Forecasts = [(0, 7), (14, 24), (18, 25), (19, 29), (20, 9)];

    [Fact]
    public async Task A_gale_is_warned_of_when_it_is_new_when_it_is_a_step_stronger_and_when_it_is_off_and_never_else()
    {
        using var store = Open();
        using var data = new TemporaryFolder();
        using var bench = new HouseBench(data);
        using var weather = new HttpMessageInvoker(Weather(bench.Clock.GetCurrentInstant));
        Blows(bench, weather);
        var house = bench.House(store, Plan);

        for (int hour = 6; hour <= 22; hour++)
            // The knock after a pull looks at it.
            foreach (int minute in (int[])[15, 16])
                await bench.Knock(house, HouseBench.At(Day, hour, minute));
        await bench.Knock(house, HouseBench.At(Day.PlusDays(1), 6, 5));

        Assert.Equal(
            [
                (6, "Mon 27 April: water the back bed, 1 more job, frost tonight"), // April’s morning with a look after its frost, no gale in it yet
                (17, "Gale tonight: tie the sweet corn by 20:30"), // known since two, and time enough until the evening's look
                (19, "Gale tonight: tie the sweet corn by 20:30"), // at six it was one metre a second more
                (20, "Called off: tie the sweet corn"),
                (6, "Tue 28 April: look over the sweet corn, rain tomorrow"),
            ],
            bench.Mail.Taken.Select(mail => (mail.At.InZone(HouseBench.Zone).Hour, mail.Subject.Split(": nothing")[0].Split(": sow")[0])));
        var stronger = bench.Mail.Taken[2];
        Assert.Contains("It has become worse: the last message said gusts to 86 km/h. Gusts to 104 km/h", stronger.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_look_that_broke_is_made_again_at_the_next_knock()
    {
        using var store = Open();
        using var data = new TemporaryFolder();
        using var bench = new HouseBench(data);
        using var weather = new HttpMessageInvoker(Weather(bench.Clock.GetCurrentInstant));
        Blows(bench, weather);
        var house = bench.House(store, Plan.Replace("[pat@example.org]", "[pat@example.org, push]", StringComparison.Ordinal));
        foreach (int hour in (int[])[6, 14, 15, 17])
            foreach (int minute in (int[])[15, 16])
                await bench.Knock(house, HouseBench.At(Day, hour, minute));
        await bench.Knock(house, HouseBench.At(Day, 19, 15));
        int before = bench.Mail.Taken.Count;

        bench.Push.RenderFault = () => new InvalidOperationException("a bug in the channel");
        await Assert.ThrowsAsync<Xunit.Sdk.EmptyException>(() => bench.Knock(house, HouseBench.At(Day, 19, 16)));
        Assert.Equal(before, bench.Mail.Taken.Count);
        bench.Push.RenderFault = () => null;
        await bench.Knock(house, HouseBench.At(Day, 19, 17));

        Assert.StartsWith("Gale tonight", Assert.Single(bench.Mail.Taken.Skip(before)).Subject, StringComparison.Ordinal);
    }

    /// <summary>The gale's forecasts; all other services are out of reach.</summary>
    private static void Blows(HouseBench bench, HttpMessageInvoker weather)
    {
        bench.Mail.Now = bench.Clock.GetCurrentInstant;
        bench.WeatherFault = (request, ct) => request.RequestUri!.AbsolutePath == "/v1/forecast"
            ? WithGusts(weather, request, GustAt(bench.Clock.GetCurrentInstant()), ct)
            : Task.FromResult(new HttpResponseMessage(HttpStatusCode.ServiceUnavailable));
    }

    private static double GustAt(Instant now) => Forecasts.Last(forecast => now >= HouseBench.At(Day, 0) + Duration.FromHours(forecast.FromHour)).Gust;

    private static InventedWeatherHandler Weather(Func<Instant> now)
    {
        var truth = InventedSeason.Between(NotableMornings.Seed, HouseBench.At(new(NotableMornings.Year, 1, 1), 0), HouseBench.At(new(NotableMornings.Year, 6, 1), 0));
        return new(new ForecastFromTruth(truth, InventedSeason.Place, seed: 5), [], InventedSeason.Place, now);
    }

    /// <summary>The answer with these gusts from nine to midnight of the day, and hardly any else.</summary>
    private static async Task<HttpResponseMessage> WithGusts(HttpMessageInvoker weather, HttpRequestMessage request, double gust, CancellationToken ct)
    {
        using var copy = new HttpRequestMessage(request.Method, request.RequestUri);
        var answer = await weather.SendAsync(copy, ct);
        var root = JsonNode.Parse(await answer.Content.ReadAsStringAsync(ct))!;
        if (root["hourly"] is JsonObject hourly && hourly["wind_gusts_10m"] is JsonArray gusts && hourly["time"] is JsonArray times)
        {
            for (int hour = 0; hour < gusts.Count; hour++)
            {
                var at = Instant.FromUnixTimeSeconds(long.Parse(times[hour]!.ToString(), CultureInfo.InvariantCulture));
                gusts[hour] = at > HouseBench.At(Day, 21) && at <= HouseBench.At(Day.PlusDays(1), 0) ? gust : 6;
            }
        }
        answer.Content = new StringContent(root.ToJsonString(), System.Text.Encoding.UTF8, "application/json");
        return answer;
    }
}

using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>
/// Stands in for the weather service below the HTTP client, so that invented weather takes the way that real answers
/// take. What it does not know it refuses in the service's own manner.
/// </summary>
/// <param name="members">The runs of its ensemble, the control first; none for a service without.</param>
/// <param name="now">What stands for now: dates each answer and picks the run it is made of.</param>
public sealed class InventedWeatherHandler(
    ForecastFromTruth forecasts, ImmutableArray<ForecastFromTruth> members, GeoPosition place, Func<Instant> now) : HttpMessageHandler
{
    private const int MostPastDays = 92;
    private const int MostForecastDays = 16;

    /// <summary>The one way of asking that it understands.</summary>
    private static readonly ImmutableArray<(string Key, string Value)> Manners =
        [("timeformat", "unixtime"), ("wind_speed_unit", "ms"), ("temperature_unit", "celsius"), ("precipitation_unit", "mm"), ("timezone", "GMT")];

    /// <summary>While set, it answers as a front server does whose service is gone.</summary>
    public bool IsDown { get; set; }

    protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        var instant = now();
        var answer = IsDown ? OutOfOrder() : Answer(request, instant);
        answer.RequestMessage = request;
        answer.Headers.Date = instant.ToDateTimeOffset();
        return Task.FromResult(answer);
    }

    private HttpResponseMessage Answer(HttpRequestMessage request, Instant instant)
    {
        string[] answered = members.IsEmpty ? ["/v1/forecast"] : ["/v1/forecast", "/v1/ensemble"];
        if (request.Method != HttpMethod.Get || request.RequestUri is not { } address || !answered.Contains(address.AbsolutePath))
            return Json(HttpStatusCode.NotFound, OpenMeteoAnswer.Error("Not Found"));

        var asked = Query(address);
        bool ensemble = address.AbsolutePath == answered[^1] && asked.Remove("models");
        if (WrongManner(asked) is { } manner)
            return Json(HttpStatusCode.BadRequest, OpenMeteoAnswer.Error(manner));
        string[] names = asked.GetValueOrDefault("hourly", "").Split(',', StringSplitOptions.RemoveEmptyEntries);
        if (Array.Find(names, name => !OpenMeteoAnswer.Knows(name)) is { } unknown)
            return Json(HttpStatusCode.BadRequest, OpenMeteoAnswer.Error($"Cannot initialize hourly variable from invalid String value {unknown}."));
        if (Days(asked, "past_days", 0, MostPastDays) is not { } pastDays)
            return Json(HttpStatusCode.BadRequest, OpenMeteoAnswer.Error($"Past days is invalid. Allowed range 0 to {MostPastDays}."));
        if (Days(asked, "forecast_days", 7, MostForecastDays) is not { } forecastDays)
            return Json(HttpStatusCode.BadRequest, OpenMeteoAnswer.Error($"Forecast days is invalid. Allowed range 0 to {MostForecastDays}."));

        WeatherSeries[] courses = [.. (ensemble ? members : ImmutableArray.Create(forecasts)).Select(source => source.IssuedAt(instant, pastDays, forecastDays))];
        return Json(HttpStatusCode.OK, OpenMeteoAnswer.Write(courses, place, names));
    }

    private static string? WrongManner(Dictionary<string, string> asked)
    {
        foreach (string key in new[] { "daily", "current", "minutely_15", "start_date", "end_date", "models" })
            if (asked.ContainsKey(key))
                return $"Invented weather has no '{key}'; ask for hourly variables with past_days and forecast_days.";
        foreach (var (key, value) in Manners)
            if (asked.TryGetValue(key, out string? given) ? given != value : key is "timeformat" or "wind_speed_unit")
                return $"Invented weather is given with {key}={value} only.";
        return null;
    }

    private static int? Days(Dictionary<string, string> asked, string key, int unsaid, int most) =>
        !asked.TryGetValue(key, out string? text) ? unsaid
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int days) && days <= most ? days
        : null;

    /// <summary>Lists may come as one value with commas or as a repeated parameter.</summary>
    private static Dictionary<string, string> Query(Uri address)
    {
        var asked = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string pair in address.Query.TrimStart('?').Split('&', StringSplitOptions.RemoveEmptyEntries))
        {
            int equals = pair.IndexOf('=', StringComparison.Ordinal);
            string key = Uri.UnescapeDataString(equals < 0 ? pair : pair[..equals]);
            string value = equals < 0 ? "" : Uri.UnescapeDataString(pair[(equals + 1)..]);
            asked[key] = asked.TryGetValue(key, out string? before) ? before + "," + value : value;
        }
        return asked;
    }

    private static HttpResponseMessage Json(HttpStatusCode status, ReadOnlyMemory<byte> body) => new(status)
    {
        Content = new ReadOnlyMemoryContent(body) { Headers = { ContentType = new MediaTypeHeaderValue("application/json", "utf-8") } },
    };

    private static HttpResponseMessage OutOfOrder() => new(HttpStatusCode.ServiceUnavailable)
    {
        Content = new StringContent(
            "<html><head><title>503 Service Temporarily Unavailable</title></head><body>503</body></html>", Encoding.UTF8, "text/html"),
    };
}

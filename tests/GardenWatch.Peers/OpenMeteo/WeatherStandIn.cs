using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Peers.OpenMeteo;

/// <summary>One call as it came in.</summary>
/// <param name="At">By the stand-in's <see cref="WeatherStandIn.Clock"/>.</param>
public sealed record StandInCall(string Path, IReadOnlyDictionary<string, string> Query, string UserAgent, Instant At);

/// <summary>
/// Stands in for the weather service on this machine: the same questions, answers of the same shape, weather of the
/// test's making, and faults on demand.
/// </summary>
public sealed class WeatherStandIn : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly Func<Instant, string, double?> _weather;
    private readonly ConcurrentQueue<StandInFault> _script = new();
    private readonly List<StandInCall> _calls = [];
    private readonly List<(int Count, TaskCompletionSource Reached)> _awaited = [];

    private WeatherStandIn(WebApplication app, Func<Instant, string, double?> weather, Instant now)
    {
        _app = app;
        _weather = weather;
        Now = now;
        Clock = () => Now;
    }

    /// <summary>The service's now: decides which day is today, and is told in the Date header.</summary>
    public Instant Now { get; set; }

    /// <summary>Stamps the calls; <see cref="Now"/> unless set.</summary>
    public Func<Instant> Clock { get; set; }

    /// <summary>How far the service's own clock is ahead of <see cref="Now"/>.</summary>
    public Duration DateAhead { get; set; }

    /// <summary>The zone of every place, for timezone=auto.</summary>
    public string ZoneName { get; set; } = "Europe/Berlin";

    /// <summary>The height of every place that is asked for without one, in metres.</summary>
    public double ElevationMetres { get; set; } = 100;

    /// <summary>Elements of a geocoding answer, as JSON objects; none is answered by leaving the key out.</summary>
    public IReadOnlyList<string> Towns { get; set; } = [];

    /// <summary>Runs of an ensemble, with the control.</summary>
    public int Members { get; set; } = 51;

    /// <summary>
    /// A member's value, by the number of the member (0 is the control); unless set, the weather itself, each member's air
    /// a tenth of a degree warmer than the one before.
    /// </summary>
    public Func<Instant, string, int, double?>? MemberWeather { get; set; }

    /// <summary>The service's own name of the model, put behind the names of an ensemble's columns; null for none.</summary>
    public string? MemberSuffix { get; set; }

    /// <summary>What the service tells of its newest run: begun, and out; null where it tells nothing.</summary>
    public (Instant BegunAt, Instant AvailableAt)? Run { get; set; }

    /// <summary>Befalls every call for which the script has nothing.</summary>
    public StandInFault Always { get; set; } = new StandInFault.None();

    /// <summary>Befalls every call for an ensemble or its runs, whatever befalls the others; null for nothing of its own.</summary>
    public StandInFault? OfEnsemble { get; set; }

    public Uri Root { get; private set; } = new("http://127.0.0.1");
    public Uri Forecast => new(Root, "/v1/forecast");
    public Uri Geocoding => new(Root, "/v1/search");
    public Uri Elevation => new(Root, "/v1/elevation");
    public Uri Ensemble => new(Root, "/v1/ensemble");
    public Uri Archive => new(Root, "/v1/archive");

    public IReadOnlyList<StandInCall> Calls
    {
        get
        {
            lock (_calls)
                return [.. _calls];
        }
    }

    /// <param name="weather">
    /// Value of a variable, by the service's name, at an hour; wind in m/s, all else in the service's own units; null
    /// where nothing is known.
    /// </param>
    public static async Task<WeatherStandIn> Start(
        Func<Instant, string, double?> weather, Instant now, CancellationToken cancellation)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var standIn = new WeatherStandIn(app, weather, now);
        app.Run(standIn.Answer);
        await app.StartAsync(cancellation).ConfigureAwait(false);
        standIn.Root = new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single());
        return standIn;
    }

    /// <summary>Faults for the coming calls, one each, in this order.</summary>
    public void Next(params ReadOnlySpan<StandInFault> script)
    {
        foreach (var fault in script)
            _script.Enqueue(fault);
    }

    /// <summary>Ends when so many calls in all have come in.</summary>
    public Task Received(int calls)
    {
        lock (_calls)
        {
            if (_calls.Count >= calls)
                return Task.CompletedTask;
            var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            _awaited.Add((calls, reached));
            return reached.Task;
        }
    }

    private async Task Answer(HttpContext context)
    {
        Record(context.Request);
        context.Response.Headers.Date = (Now + DateAhead).ToDateTimeOffset().ToString("R", CultureInfo.InvariantCulture);
        bool ensemble = context.Request.Path.Value is "/v1/ensemble" || context.Request.Path.StartsWithSegments("/data", StringComparison.Ordinal);
        var fault = ensemble && OfEnsemble is { } own ? own : _script.TryDequeue(out var scripted) ? scripted : Always;
        try
        {
            await (fault switch
            {
                StandInFault.FrontPage page => Send(context, page.Status, "text/html",
                    $"<html><head><title>{page.Status} Bad Gateway</title></head><body><center>nginx</center></body></html>"),
                StandInFault.Says says => Send(context, says.Status, says.ContentType, says.Body),
                StandInFault.Overloaded overloaded => SendError(context, 503, "The service is overloaded", overloaded.RetryAfter),
                StandInFault.TooMany many => SendError(context, 429, many.Reason, many.RetryAfter),
                StandInFault.BadRequest bad => SendError(context, 400, bad.Reason, null),
                StandInFault.OnlyErrorText => Send(context, 200, Json, StreamedText),
                StandInFault.Huge huge => SendHuge(context, huge.Megabytes),
                _ => SendBody(context, fault),
            }).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            // The client hung up, as a test with a slow answer wants it to.
        }
    }

    private const string Json = "application/json; charset=utf-8";
    private const string StreamedText = "Unexpected error while streaming data: timeoutReached";

    private async Task SendBody(HttpContext context, StandInFault fault)
    {
        string? body = context.Request.Path.Value switch
        {
            "/v1/forecast" or "/v1/archive" => StandInAnswer.Write(Question(context.Request), Now, _weather, ZoneName, fault),
            "/v1/ensemble" => EnsembleAnswer(Question(context.Request), fault),
            { } path when path.EndsWith("/static/meta.json", StringComparison.Ordinal) && Run is { } run => string.Create(
                CultureInfo.InvariantCulture,
                $"{{\"last_run_initialisation_time\":{run.BegunAt.ToUnixTimeSeconds()},\"last_run_availability_time\":{run.AvailableAt.ToUnixTimeSeconds()},\"update_interval_seconds\":21600}}"),
            "/v1/search" => Towns.Count == 0
                ? "{\"generationtime_ms\":0.4}"
                : $"{{\"results\":[{string.Join(',', Towns)}],\"generationtime_ms\":0.4}}",
            "/v1/elevation" => string.Create(CultureInfo.InvariantCulture, $"{{\"elevation\":[{ElevationMetres:0.0}]}}"),
            _ => null,
        };
        if (body is null)
        {
            await SendError(context, 404, "Not Found", null).ConfigureAwait(false);
            return;
        }
        string half = body[..(body.Length / 2)];
        switch (fault)
        {
            case StandInFault.Slow slow:
                await slow.Release.WaitAsync(context.RequestAborted).ConfigureAwait(false);
                await Send(context, 200, Json, body).ConfigureAwait(false);
                break;
            case StandInFault.SlowBody slow:
                await Send(context, 200, Json, half).ConfigureAwait(false);
                await context.Response.Body.FlushAsync(context.RequestAborted).ConfigureAwait(false);
                await slow.Release.WaitAsync(context.RequestAborted).ConfigureAwait(false);
                await context.Response.WriteAsync(body[half.Length..], context.RequestAborted).ConfigureAwait(false);
                break;
            case StandInFault.CutOff:
                await Send(context, 200, Json, half).ConfigureAwait(false);
                await context.Response.Body.FlushAsync(context.RequestAborted).ConfigureAwait(false);
                context.Abort();
                break;
            case StandInFault.Malformed:
                await Send(context, 200, Json, half).ConfigureAwait(false);
                break;
            case StandInFault.StreamedError:
                await Send(context, 200, Json, half + StreamedText).ConfigureAwait(false);
                break;
            default:
                await Send(context, 200, Json, body).ConfigureAwait(false);
                break;
        }
    }

    private string EnsembleAnswer(StandInQuestion question, StandInFault fault)
    {
        string suffix = MemberSuffix is null ? "" : "_" + MemberSuffix;
        string[] columns =
        [
            .. question.Hourly.SelectMany(name => Enumerable.Range(0, Members).Select(member =>
                name + (member == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"_member{member:00}")) + suffix)),
        ];
        return StandInAnswer.Write(question with { Hourly = columns, Suffix = suffix }, Now, Value, ZoneName, fault);

        double? Value(Instant stamp, string column)
        {
            string plain = suffix.Length > 0 ? column[..^suffix.Length] : column;
            int mark = plain.IndexOf("_member", StringComparison.Ordinal);
            int member = mark < 0 ? 0 : int.Parse(plain[(mark + 7)..], CultureInfo.InvariantCulture);
            string name = mark < 0 ? plain : plain[..mark];
            return MemberWeather is { } given ? given(stamp, name, member)
                : name == "temperature_2m" ? _weather(stamp, name) + member / 10.0
                : _weather(stamp, name);
        }
    }

    private static async Task Send(HttpContext context, int status, string contentType, string body)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = contentType;
        await context.Response.WriteAsync(body, context.RequestAborted).ConfigureAwait(false);
    }

    private static Task SendError(HttpContext context, int status, string reason, TimeSpan? retryAfter)
    {
        if (retryAfter is { } wait)
            context.Response.Headers.RetryAfter = ((int)wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        return Send(context, status, Json, $"{{\"reason\":\"{reason}\",\"error\":true}}");
    }

    private static async Task SendHuge(HttpContext context, int megabytes)
    {
        context.Response.ContentType = Json;
        byte[] block = Encoding.ASCII.GetBytes(new string(' ', 1 << 20));
        for (int sent = 0; sent < megabytes; sent++)
            await context.Response.Body.WriteAsync(block, context.RequestAborted).ConfigureAwait(false);
    }

    private StandInQuestion Question(HttpRequest request)
    {
        string zone = Given("timezone") ?? "GMT";
        var offset = zone == "GMT"
            ? Offset.Zero
            : DateTimeZoneProviders.Tzdb[zone == "auto" ? ZoneName : zone].GetUtcOffset(Now);
        return new(
            Number("latitude") ?? double.NaN, Number("longitude") ?? double.NaN, Number("elevation") ?? ElevationMetres,
            (Given("hourly") ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries),
            (int)(Number("past_days") ?? 0), (int)(Number("forecast_days") ?? 7),
            zone, offset, Given("timeformat") == "unixtime", Given("wind_speed_unit") ?? "kmh",
            Given("start_date") is { } from && Given("end_date") is { } to
                ? new(LocalDatePattern.Iso.Parse(from).Value, LocalDatePattern.Iso.Parse(to).Value)
                : null);

        string? Given(string key) => request.Query[key] is { Count: > 0 } values ? values[0] : null;

        double? Number(string key) => Given(key) is { } text ? double.Parse(text, CultureInfo.InvariantCulture) : null;
    }

    private void Record(HttpRequest request)
    {
        lock (_calls)
        {
            _calls.Add(new(
                request.Path, request.Query.ToDictionary(q => q.Key, q => q.Value.ToString(), StringComparer.Ordinal),
                request.Headers.UserAgent.ToString(), Clock()));
            foreach (var (count, reached) in _awaited)
                if (_calls.Count >= count)
                    reached.TrySetResult();
        }
    }

    public async ValueTask DisposeAsync() => await _app.DisposeAsync().ConfigureAwait(false);
}

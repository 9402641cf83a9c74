using System.Net;
using NodaTime;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>
/// The one line to the weather service: one GET at a time, since the service turns away a second from the same address;
/// a few tries within a stated time; whatever goes wrong comes back as a value.
/// </summary>
/// <remarks>
/// A try covers reading the body too: answers also break after a good status line. There is no circuit breaker, as one
/// call an hour never fills its window, and no retry of 4xx, as errors count against the free allowance.
/// </remarks>
public sealed class ServiceLine : IDisposable
{
    /// <summary>Fifty times an ordinary answer.</summary>
    public const int LargestBody = 8 * 1024 * 1024;

    private static readonly ResiliencePropertyKey<long> StartedAt = new("weather.started");

    private readonly HttpClient _http;
    private readonly OpenMeteoOptions _options;
    private readonly IClock _clock;
    private readonly TimeProvider _time;
    private readonly ResiliencePipeline<ServiceReply> _pipeline;
    private readonly SemaphoreSlim _one = new(1, 1);

    /// <param name="http">Its own timeout should be infinite: the tries are timed here.</param>
    /// <param name="clock">What stands for now.</param>
    /// <param name="time">Measures timeouts and waits.</param>
    public ServiceLine(HttpClient http, OpenMeteoOptions options, IClock clock, TimeProvider time)
    {
        _http = http;
        _options = options;
        _clock = clock;
        _time = time;
        var pipeline = new ResiliencePipelineBuilder<ServiceReply> { Name = "weather", TimeProvider = time }
            .AddTimeout(options.TotalTimeout);
        if (options.Retries > 0)
            pipeline.AddRetry(new RetryStrategyOptions<ServiceReply>
            {
                MaxRetryAttempts = options.Retries,
                ShouldHandle = tried => ValueTask.FromResult(IsWorthAnotherTry(tried.Outcome, tried.Context)),
                DelayGenerator = tried => ValueTask.FromResult<TimeSpan?>(WaitAfter(tried.Outcome.Result, tried.AttemptNumber)),
            });
        _pipeline = pipeline.AddTimeout(options.AttemptTimeout).Build();
    }

    /// <summary>A handler that follows changes of address over a long run and takes compressed answers.</summary>
    public static SocketsHttpHandler Handler() => new()
    {
        AutomaticDecompression = DecompressionMethods.GZip | DecompressionMethods.Deflate,
        PooledConnectionLifetime = TimeSpan.FromMinutes(15),
        MaxAutomaticRedirections = 3,
    };

    internal IClock Clock => _clock;

    internal async Task<ServiceReply> Get(Uri address, CancellationToken cancellation)
    {
        await _one.WaitAsync(cancellation).ConfigureAwait(false);
        var context = ResilienceContextPool.Shared.Get(cancellation);
        try
        {
            context.Properties.Set(StartedAt, _time.GetTimestamp());
            return await _pipeline.ExecuteAsync(
                static async (c, call) => await call.Line.Try(call.Address, c.CancellationToken).ConfigureAwait(false),
                context, (Line: this, Address: address)).ConfigureAwait(false);
        }
        catch (TimeoutRejectedException e)
        {
            return new ServiceReply.Broken(
                $"The weather service at {address.Host} did not answer within {e.Timeout.TotalSeconds:0} seconds.", null, null);
        }
        finally
        {
            ResilienceContextPool.Shared.Return(context);
            _one.Release();
        }
    }

    private async Task<ServiceReply> Try(Uri address, CancellationToken cancellation)
    {
        Instant? serverDate = null;
        try
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, address);
            request.Headers.TryAddWithoutValidation("User-Agent", _options.UserAgent);
            request.Headers.TryAddWithoutValidation("Accept", "application/json");
            using var response = await _http
                .SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellation).ConfigureAwait(false);
            serverDate = response.Headers.Date is { } date ? Instant.FromDateTimeOffset(date) : null;
            var body = await Body(response, cancellation).ConfigureAwait(false);
            return body is { } whole
                ? ReplyOf(response, whole.Span, whole, address.Host, serverDate)
                : new ServiceReply.Refused(
                    $"The weather service at {address.Host} sent more than {LargestBody >> 20} MB, which is no forecast; " +
                    "check the address in the settings.", serverDate);
        }
        catch (HttpRequestException e)
        {
            return Broken(e.HttpRequestError switch
            {
                HttpRequestError.NameResolutionError => "could not be found by name; is the network up?",
                HttpRequestError.ConnectionError => "could not be reached; is the network up?",
                HttpRequestError.SecureConnectionError => "could not be reached securely; is this machine's date right?",
                _ => "broke the connection.",
            });
        }
        catch (Exception e) when (e is IOException or InvalidDataException)
        {
            return Broken("broke off in the middle of its answer.");
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return Broken("did not answer in time.");
        }

        ServiceReply.Broken Broken(string what) => new($"The weather service at {address.Host} {what}", null, serverDate);
    }

    private ServiceReply ReplyOf(
        HttpResponseMessage response, ReadOnlySpan<byte> text, ReadOnlyMemory<byte> body, string host, Instant? serverDate)
    {
        int status = (int)response.StatusCode;
        var now = serverDate ?? _clock.GetCurrentInstant();
        var named = RateLimit.WaitIn(response.Headers.RetryAfter, now);
        if (status == 200)
            return AnswerText.FaultOf(text) is { } fault
                ? new ServiceReply.Broken($"The weather service at {host} failed: {fault}.", named, serverDate)
                : new ServiceReply.Sound(body, serverDate);

        string reason = AnswerText.ReasonOf(text) ?? "no reason given";
        return status switch
        {
            429 => new ServiceReply.Broken(
                $"The weather service at {host} asks to be left alone for a while ({reason}).",
                named ?? RateLimit.WaitNamedIn(reason, now), serverDate),
            408 or >= 500 => new ServiceReply.Broken(
                $"The weather service at {host} is out of order (status {status}).", named, serverDate),
            >= 300 and < 400 => new ServiceReply.Refused(
                $"The weather service at {host} has moved (status {status}); check the address in the settings.", serverDate),
            _ => new ServiceReply.Refused(
                $"The weather service at {host} refused the question (status {status}): {reason}.", serverDate),
        };
    }

    /// <summary>Null when it is larger than any forecast; counted as unpacked, so that a packed flood is cut too.</summary>
    private static async Task<ReadOnlyMemory<byte>?> Body(HttpResponseMessage response, CancellationToken cancellation)
    {
        if (response.Content.Headers.ContentLength > LargestBody)
            return null;
        var stream = await response.Content.ReadAsStreamAsync(cancellation).ConfigureAwait(false);
        await using var _ = stream.ConfigureAwait(false);
        var body = new byte[64 * 1024];
        int length = 0;
        while (true)
        {
            if (length == body.Length)
                Array.Resize(ref body, Math.Min(body.Length * 2, LargestBody + 1));
            int read = await stream.ReadAsync(body.AsMemory(length), cancellation).ConfigureAwait(false);
            if (read == 0)
                return body.AsMemory(0, length);
            length += read;
            if (length > LargestBody)
                return null;
        }
    }

    /// <summary>A wait that leaves no room for one whole try is not waited out: the caller is told when to come back.</summary>
    private bool IsWorthAnotherTry(Outcome<ServiceReply> outcome, ResilienceContext context)
    {
        if (outcome.Exception is TimeoutRejectedException)
            return true;
        if (outcome.Result is not ServiceReply.Broken broken)
            return false;
        var left = _options.TotalTimeout - _time.GetElapsedTime(context.Properties.GetValue(StartedAt, _time.GetTimestamp()));
        return broken.Wait is not { } wait || wait.ToTimeSpan() + _options.AttemptTimeout <= left;
    }

    /// <summary>2 to 4 s, then 4 to 8 s, drawn anew each time so that homes which failed together don't return together.</summary>
    private static TimeSpan WaitAfter(ServiceReply? reply, int attempt)
    {
        var ours = TimeSpan.FromSeconds(2 * (1 << Math.Min(attempt, 5)) * (1 + Random.Shared.NextDouble()));
        var theirs = (reply as ServiceReply.Broken)?.Wait?.ToTimeSpan() ?? TimeSpan.Zero;
        return theirs > ours ? theirs : ours;
    }

    public void Dispose() => _one.Dispose();
}

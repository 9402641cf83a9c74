using System.Net;
using GardenWatch.Messages.Mail;
using NodaTime;

namespace GardenWatch.Messages.Channels;

/// <summary>One POST, asked once: what it came to. Trying again is the outbox's.</summary>
public sealed class HttpHandover(HttpClient http, TimeSpan patience, IClock clock)
{
    // The longest that a server's Retry-After is believed.
    private static readonly TimeSpan LongestWait = TimeSpan.FromHours(12);

    /// <summary>A line that follows no redirect, which would carry the secret elsewhere, and reads little of an answer.</summary>
    public static HttpClient NewLine() => new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseCookies = false,
        ConnectTimeout = TimeSpan.FromSeconds(15),
        // The house's address may change between two digests; a kept line would then be a dead one.
        PooledConnectionIdleTimeout = TimeSpan.FromSeconds(30),
    })
    {
        Timeout = Timeout.InfiniteTimeSpan,
    };

    /// <param name="who">"push server".</param>
    /// <param name="secretKey">The setting that names its secret: "token file".</param>
    internal async Task<SendOutcome> Send(HttpRequestMessage request, string who, string secretKey, CancellationToken cancellationToken)
    {
        var body = (WatchedContent)request.Content!;
        // The path may be as good as a password, so only the host is ever told.
        string where = $"The {who} at {request.RequestUri!.Authority}";
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        deadline.CancelAfter(patience);
        try
        {
            using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, deadline.Token).ConfigureAwait(false);
            return Outcome(answer, where, secretKey);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested && !body.HasBegun)
        {
            throw;
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or OperationCanceledException)
        {
            if (body.HasBegun)
                return new SendOutcome.InDoubt($"{where} {(fault is OperationCanceledException ? "did not answer in time" : "broke the line before it answered")}.");
            return new SendOutcome.TryLater(NotReached(fault, where));
        }
    }

    private SendOutcome Outcome(HttpResponseMessage answer, string where, string secretKey)
    {
        int code = (int)answer.StatusCode;
        return answer.StatusCode switch
        {
            _ when answer.IsSuccessStatusCode => new SendOutcome.Accepted($"{code}"),
            // Both are settings that may be put right while the message waits, as with a mail login.
            HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden =>
                new SendOutcome.TryLater($"{where} does not let us in ({code}). Look into the {secretKey} for the right secret, and whether it may write there."),
            HttpStatusCode.TooManyRequests or HttpStatusCode.ServiceUnavailable =>
                new SendOutcome.TryLater($"{where} asks for a pause ({code}).") { WaitAtLeast = RetryAfter(answer) },
            // A gateway that waited in vain does not know whether the server behind it has the message.
            HttpStatusCode.GatewayTimeout => new SendOutcome.InDoubt($"{where} got no answer from the server behind it ({code})."),
            HttpStatusCode.RequestTimeout => new SendOutcome.TryLater($"{where} did not get it whole ({code})."),
            _ when code >= 500 => new SendOutcome.TryLater($"{where} is in trouble ({code}).") { WaitAtLeast = RetryAfter(answer) },
            _ when code is >= 300 and < 400 =>
                new SendOutcome.Refused($"{where} sends us elsewhere ({code}), which is not followed so that no secret goes astray. Write the new address under address."),
            HttpStatusCode.NotFound or HttpStatusCode.MethodNotAllowed =>
                new SendOutcome.Refused($"{where} takes nothing at that address ({code}). Look for a slip under address."),
            _ => new SendOutcome.Refused($"{where} refused the message ({code}). Its log says why."),
        };
    }

    private TimeSpan? RetryAfter(HttpResponseMessage answer)
    {
        var wait = answer.Headers.RetryAfter switch
        {
            { Delta: { } delta } => delta,
            { Date: { } date } => (Instant.FromDateTimeOffset(date) - clock.GetCurrentInstant()).ToTimeSpan(),
            _ => TimeSpan.Zero,
        };
        return wait <= TimeSpan.Zero ? null : wait > LongestWait ? LongestWait : wait;
    }

    private static string NotReached(Exception fault, string where) => fault switch
    {
        HttpRequestException { HttpRequestError: HttpRequestError.NameResolutionError } =>
            $"{where} was not found. Look for a slip under address, and whether this machine reaches the network.",
        HttpRequestException { HttpRequestError: HttpRequestError.SecureConnectionError } =>
            $"{where} has no certificate that is trusted here, or does not speak TLS at that port. Look at https and the port under address.",
        OperationCanceledException => $"{where} could not be reached in time.",
        _ => $"{where} is out of reach. Look whether it runs, and for a slip under address.",
    };
}

/// <summary>Knows whether the first of the body went out: until then the other side can't have the message.</summary>
internal sealed class WatchedContent : HttpContent
{
    private readonly byte[] _bytes;

    public WatchedContent(byte[] bytes, string type)
    {
        _bytes = bytes;
        Headers.ContentType = new(type) { CharSet = type.StartsWith("text/", StringComparison.Ordinal) ? "utf-8" : null };
    }

    public bool HasBegun { get; private set; }

    protected override Task SerializeToStreamAsync(Stream stream, TransportContext? context) =>
        SerializeToStreamAsync(stream, context, CancellationToken.None);

    protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context, CancellationToken cancellationToken)
    {
        HasBegun = true;
        await stream.WriteAsync(_bytes, cancellationToken).ConfigureAwait(false);
    }

    protected override bool TryComputeLength(out long length)
    {
        length = _bytes.Length;
        return true;
    }
}

using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace GardenWatch.Peers.Http;

/// <summary>What a server was sent.</summary>
public sealed record ReceivedPost(string Method, string Path, IReadOnlyDictionary<string, string> Headers, byte[] Body);

/// <summary>A server on the loopback that keeps what it is sent and answers as a test tells it.</summary>
public sealed class HttpStandIn : IAsyncDisposable
{
    private readonly WebApplication _app;

    private HttpStandIn(WebApplication app) => _app = app;

    public ConcurrentQueue<ReceivedPost> Received { get; } = new();

    /// <summary>Set before it is asked; 200 when it is not.</summary>
    public Func<HttpContext, Task> Answer { get; set; } = _ => Task.CompletedTask;

    public Uri Address { get; private set; } = null!;

    public static async Task<HttpStandIn> Start(CancellationToken cancellationToken)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var standIn = new HttpStandIn(builder.Build());
        standIn._app.Run(standIn.Take);
        await standIn._app.StartAsync(cancellationToken).ConfigureAwait(false);
        var addresses = standIn._app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!;
        standIn.Address = new(addresses.Addresses.Single());
        return standIn;
    }

    /// <summary>Answers with a status, and Retry-After when it is given.</summary>
    public static Func<HttpContext, Task> With(int status, string? retryAfter = null) => context =>
    {
        context.Response.StatusCode = status;
        if (retryAfter is not null)
            context.Response.Headers.RetryAfter = retryAfter;
        return Task.CompletedTask;
    };

    /// <summary>Takes the message whole and breaks the line.</summary>
    public static Task Drop(HttpContext context)
    {
        context.Abort();
        return Task.CompletedTask;
    }

    /// <summary>Takes the message whole and says nothing while the caller listens.</summary>
    public static async Task Stall(HttpContext context)
    {
        var gone = new TaskCompletionSource();
        await using var registration = context.RequestAborted.Register(gone.SetResult).ConfigureAwait(false);
        await gone.Task.ConfigureAwait(false);
    }

    public async ValueTask DisposeAsync() => await _app.DisposeAsync().ConfigureAwait(false);

    private async Task Take(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body).ConfigureAwait(false);
        Received.Enqueue(new(
            context.Request.Method, context.Request.Path, context.Request.Headers.ToDictionary(header => header.Key, header => header.Value.ToString(), StringComparer.OrdinalIgnoreCase),
            body.ToArray()));
        await Answer(context).ConfigureAwait(false);
    }
}

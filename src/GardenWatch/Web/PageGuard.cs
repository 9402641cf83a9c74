using System.Globalization;
using System.Net;
using GardenWatch.Setup;
using Microsoft.AspNetCore.Http.Features;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>What holds for every page: strict headers, no foreign host name, no form from elsewhere, nothing too large, nothing too often.</summary>
internal sealed class PageGuard(Settings settings, IClock clock)
{
    public const long MostFormBytes = 64 * 1024;
    /// <summary>A picture as good cameras take it; it goes through a file, and is kept far smaller.</summary>
    public const long MostPictureBytes = 48 * 1024 * 1024;

    private readonly Allowance _forms = new(30, Duration.FromSeconds(4), clock);
    private readonly Allowance _signIns = new(5, Duration.FromSeconds(30), clock);
    private readonly Allowance _allSignIns = new(20, Duration.FromSeconds(5), clock);

    /// <summary>One try for this name; false, and how long to wait, when there were too many.</summary>
    public bool MaySignIn(string name, out Duration wait) =>
        _signIns.Take(name.ToLowerInvariant(), out wait) && _allSignIns.Take("", out wait);

    public async Task Invoke(HttpContext context, RequestDelegate next)
    {
        if (IsForPrograms(context.Request.Path))
        {
            await next(context).ConfigureAwait(false);
            return;
        }
        Headers(context.Response.Headers);
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
            size.MaxRequestBodySize = context.Request.Path.Value?.EndsWith(PagePaths.Picture, StringComparison.Ordinal) == true ? MostPictureBytes : MostFormBytes;
        if (Refusal(context) is var (status, sentence))
        {
            await PlainPage.Write(context, status, "This can’t be shown", sentence).ConfigureAwait(false);
            return;
        }
        try
        {
            await next(context).ConfigureAwait(false);
        }
        catch (BadHttpRequestException refused) when (!context.Response.HasStarted)
        {
            await PlainPage.Write(context, refused.StatusCode, "This was not taken",
                refused.StatusCode == StatusCodes.Status413PayloadTooLarge ? "It is too large. A picture may have 48 MB, a note 500 letters." : "The form did not arrive whole. Go back and send it again.").ConfigureAwait(false);
        }
        catch (InvalidDataException) when (!context.Response.HasStarted)
        {
            await PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", "The form did not arrive whole. Go back and send it again.").ConfigureAwait(false);
        }
    }

    private static void Headers(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy =
            "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        // Within the page a browser tells where a form comes from; elsewhere the address of a garden is nobody's business.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        headers.CacheControl = "no-store";
    }

    private (int Status, string Sentence)? Refusal(HttpContext context)
    {
        var request = context.Request;
        // Without a password, a foreign page could have its own name lead here and read along.
        if (settings.People.IsEmpty && !IsOwnHost(request.Host))
            return (StatusCodes.Status421MisdirectedRequest, $"The page is not reached under this name. Use http://{settings.WebListen}/, or name the address that people use: `web: {{ address: ... }}`.");
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
            return null;
        if (!HttpMethods.IsPost(request.Method))
            return (StatusCodes.Status405MethodNotAllowed, "Pages are read and forms are sent; there is nothing else to do here.");
        string? origin = request.Headers.Origin;
        bool elsewhere = request.Headers["Sec-Fetch-Site"].ToString() is "cross-site" or "same-site"
            || origin is not null && !(Uri.TryCreate(origin, UriKind.Absolute, out var from) && string.Equals(from.Authority, request.Host.Value, StringComparison.OrdinalIgnoreCase));
        if (elsewhere)
            return (StatusCodes.Status403Forbidden, "The form was sent from another site. Open the page itself and send it from there.");
        if (!_forms.Take(context.Connection.RemoteIpAddress?.ToString() ?? "", out var wait))
        {
            context.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
            return (StatusCodes.Status429TooManyRequests, "That was very much at once. Wait a few seconds and send it again.");
        }
        return null;
    }

    private bool IsOwnHost(HostString host) =>
        host.Host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || IPAddress.TryParse(host.Host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address)
        || settings.WebAddress is { } page && page.Host.Equals(host.Host, StringComparison.OrdinalIgnoreCase);

    /// <summary>Health and calendar have readers and headers of their own.</summary>
    private static bool IsForPrograms(PathString path) =>
        path == "/healthz" || path == "/readyz" || path.StartsWithSegments(CalendarAddress.Folder.TrimEnd('/'), StringComparison.Ordinal);
}

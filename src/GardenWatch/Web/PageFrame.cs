using System.Collections.Immutable;
using System.Security.Cryptography;
using GardenWatch.Messages.Letters;
using RazorSlices;

namespace GardenWatch.Web;

/// <summary>Where the pages are.</summary>
internal static class PagePaths
{
    public const string SignIn = "/sign-in", SignOut = "/sign-out", Gardens = "/gardens/", Picture = "/picture";

    public static string Of(string gardenId, string page = "") => $"{Gardens}{Uri.EscapeDataString(gardenId)}{(page.Length > 0 ? "/" + page : "")}";

    /// <summary>A page of a garden, to which a sign-in may lead on; never another site.</summary>
    public static bool IsOwn(string? path) =>
        path is { Length: > 1 and < 300 } && path.StartsWith(Gardens, StringComparison.Ordinal) && !path.Contains('\\', StringComparison.Ordinal) && !path.Any(char.IsControl);
}

/// <summary>What stands round every page.</summary>
public sealed record PageFrame(string Title)
{
    /// <summary>Null for a page that belongs to no garden; then there are no links to its neighbours.</summary>
    public string? GardenId { get; init; }
    public string GardenName { get; init; } = "GardenWatch";
    /// <summary>The garden's day and hour.</summary>
    public string Clock { get; init; } = "";
    /// <summary>The page's own place among its neighbours.</summary>
    public string Current { get; init; } = "";
    /// <summary>Other gardens of the visitor.</summary>
    public ImmutableArray<(string Id, string Name)> Others { get; init; } = [];
    /// <summary>Who is signed in; null where nobody is.</summary>
    public string? Person { get; init; }
    /// <summary>Of the session's forms.</summary>
    public string Token { get; init; } = "";
    public ImmutableArray<FootLine> Foot { get; init; } = [];

    internal static readonly ImmutableArray<(string Page, string Word)> Neighbours =
        [("", "Today"), ("beds", "Beds"), ("sowings", "Sowings"), ("journal", "Journal"), ("conditions", "Conditions"), ("plan", "Plan"), ("status", "Status")];
}

/// <summary>The one style sheet, under an address that changes with it, so that a browser may keep it.</summary>
internal static class PageStyle
{
    private static readonly byte[] Sheet = Load();

    public static string Address { get; } = $"/page-{Convert.ToHexStringLower(SHA256.HashData(Sheet).AsSpan(0, 6))}.css";

    public static Task Write(HttpContext context)
    {
        context.Response.ContentType = "text/css; charset=utf-8";
        context.Response.ContentLength = Sheet.Length;
        context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
        return HttpMethods.IsHead(context.Request.Method) ? Task.CompletedTask : context.Response.Body.WriteAsync(Sheet, context.RequestAborted).AsTask();
    }

    private static byte[] Load()
    {
        using var stream = typeof(PageStyle).Assembly.GetManifestResourceStream("page.css") ?? throw new InvalidOperationException("The program lacks page.css.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}

/// <summary>Sends a page once it is made, so that a fault in making it is no half page.</summary>
internal static class PageWriting
{
    public static async Task Send(this HttpContext context, RazorSlice slice, int status = StatusCodes.Status200OK)
    {
        using var text = new StringWriter();
        await slice.RenderAsync(text, cancellationToken: context.RequestAborted).ConfigureAwait(false);
        byte[] bytes = System.Text.Encoding.UTF8.GetBytes(text.ToString());
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/html; charset=utf-8";
        context.Response.ContentLength = bytes.Length;
        if (!HttpMethods.IsHead(context.Request.Method))
            await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}

/// <summary>A heading and a sentence: what was refused and why.</summary>
public sealed record PlainPage(PageFrame Frame, string Heading, string Sentence)
{
    internal static Task Write(HttpContext context, int status, string heading, string sentence) =>
        context.Send(Slices.Plain.Create(new(new PageFrame(heading), heading, sentence)), status);
}

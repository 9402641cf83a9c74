using System.Security.Cryptography;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>Serves each garden's calendar under its secret address.</summary>
/// <remarks>Any other address, of a garden that is or is not, gets the same 404.</remarks>
/// <param name="onDuty">The gardens as of the last knock; empty before the first.</param>
public sealed class CalendarPage(GardenStore store, Mornings mornings, IClock clock, Func<IEnumerable<GardenOnDuty>> onDuty)
{
    // Calendar programs ask every hour or so; one that asks each second shall not keep a small machine busy.
    private static readonly Duration GoodFor = Duration.FromMinutes(10);

    private readonly Calendars _calendars = new(store);
    private readonly Lock _gate = new();
    private readonly Dictionary<string, (GardenOnDuty Garden, Instant MadeAt, byte[] File)> _made = new(StringComparer.Ordinal);

    public void Map(IEndpointRouteBuilder routes) => routes.MapMethods(
        CalendarAddress.Folder + "{garden}/{file}", [HttpMethods.Get, HttpMethods.Head],
        (RequestDelegate)(context => Answer(context, (string)context.GetRouteValue("garden")!, (string)context.GetRouteValue("file")!)));

    /// <summary>Status and, with 200, the file.</summary>
    public (int Status, byte[]? File) Find(string gardenId, string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (!file.EndsWith(CalendarAddress.Ending, StringComparison.Ordinal)
            || store.Secrets.CalendarKey() is not { } key
            || !CalendarAddress.IsToken(file[..^CalendarAddress.Ending.Length], key, gardenId))
            return (StatusCodes.Status404NotFound, null);
        // It is a garden's, so a moment's wait after a start is told apart from an address that is wrong.
        if (onDuty().FirstOrDefault(garden => garden.Plan.GardenId == gardenId) is not { } garden)
            return (StatusCodes.Status503ServiceUnavailable, null);
        lock (_gate)
        {
            var now = clock.GetCurrentInstant();
            if (_made.TryGetValue(gardenId, out var made) && ReferenceEquals(made.Garden.Plan, garden.Plan) && now - made.MadeAt < GoodFor && now >= made.MadeAt)
                return (StatusCodes.Status200OK, made.File);
            byte[] written = _calendars.FileOf(mornings.AgendaOf(garden.Plan, garden.Place, now), garden.Plan.Units, now);
            _made[gardenId] = (garden, now, written);
            return (StatusCodes.Status200OK, written);
        }
    }

    private async Task Answer(HttpContext context, string gardenId, string file)
    {
        var (status, bytes) = Find(gardenId, file);
        var headers = context.Response.Headers;
        headers.CacheControl = bytes is null ? "no-store" : "private, no-cache";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        if (status == StatusCodes.Status503ServiceUnavailable)
            headers.RetryAfter = "60";
        context.Response.StatusCode = status;
        if (bytes is null)
            return;
        string tag = $"\"{Convert.ToHexStringLower(SHA256.HashData(bytes).AsSpan(0, 16))}\"";
        headers.ETag = tag;
        if (context.Request.Headers.IfNoneMatch.Contains(tag))
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }
        context.Response.ContentType = "text/calendar; charset=utf-8";
        context.Response.ContentLength = bytes.Length;
        if (HttpMethods.IsGet(context.Request.Method))
            await context.Response.Body.WriteAsync(bytes, context.RequestAborted).ConfigureAwait(false);
    }
}

using System.Globalization;
using System.Text.Json.Serialization;
using GardenWatch.Store;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Web;

/// <summary>How the service stands, as asked at one instant.</summary>
/// <param name="ForecastFetchedAt">Of the place whose weather is oldest; null when there is none yet.</param>
/// <param name="LastDigest">Local date of the last digest accepted; null when there was none.</param>
public sealed record HealthState(
    Instant Now, bool StoreAnswers, string? ClockDoubt, Instant? ForecastFetchedAt, LocalDate? LastDigest, OutboxStanding Mail)
{
    /// <summary>How long no round and no knock has ended.</summary>
    public TimeSpan SinceItWentOn { get; init; }

    /// <summary>Of the place whose members are oldest; null when there are none.</summary>
    public Instant? MembersFetchedAt { get; init; }

    /// <summary>Past years that tell what is usual, at the place that has the fewest.</summary>
    public int PastYears { get; init; }

    /// <summary>What makes digests better and did not answer; they come without it.</summary>
    public IReadOnlyList<string> Without { get; init; } = [];
}

/// <summary>Liveness and readiness for whoever watches the service. Says nothing of addresses, places or gardens.</summary>
public static class Health
{
    /// <summary>From here on advice is withheld, so something that watches should say so.</summary>
    public static readonly Duration ForecastTooOld = Duration.FromHours(36);

    /// <summary>Longer than any round that still goes on: a weather service is given up after a minute, and no mail is waited for.</summary>
    public static readonly TimeSpan StuckAfter = TimeSpan.FromMinutes(5);

    private static readonly Duration WaitsTooLong = Duration.FromHours(1);

    /// <param name="state">Asked at each call; cheap.</param>
    public static void MapHealth(this IEndpointRouteBuilder routes, Func<HealthState> state)
    {
        ArgumentNullException.ThrowIfNull(state);
        routes.MapGet("/healthz", (RequestDelegate)(context => Answer(context, Liveness(state()))));
        routes.MapGet("/readyz", (RequestDelegate)(context => Answer(context, Readiness(state()))));
    }

    /// <summary>The process answers, the store too, and rounds go on: a restart would not help what this passes.</summary>
    public static HealthReply Liveness(HealthState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var faults = Dead(state);
        return new(faults.Count == 0, faults, null, null, null);
    }

    public static HealthReply Readiness(HealthState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var faults = Dead(state);
        if (state.ClockDoubt is { } doubt)
            faults.Add($"the clock is not trusted: {doubt}");
        var age = state.Now - state.ForecastFetchedAt;
        if (age is null)
            faults.Add("no forecast yet");
        else if (age > ForecastTooOld)
            faults.Add("the forecast is older than 36 hours");
        string mail = MailWords(state);
        if (state.Mail.Trouble is not null || state.Now - state.Mail.WaitingSince > WaitsTooLong)
            faults.Add($"mail: {mail}");
        return new(
            faults.Count == 0, faults, HoursOf(age), state.LastDigest is { } date ? LocalDatePattern.Iso.Format(date) : null, mail)
        {
            MembersAgeHours = HoursOf(state.Now - state.MembersFetchedAt),
            PastYears = state.PastYears,
            Without = state.Without.Count > 0 ? state.Without : null,
        };
    }

    private static double? HoursOf(Duration? age) => age is { } hours ? Math.Round(hours.TotalHours, 1) : null;

    /// <summary>What only a restart may help.</summary>
    private static List<string> Dead(HealthState state)
    {
        var faults = new List<string>();
        if (!state.StoreAnswers)
            faults.Add("the store does not answer");
        if (state.SinceItWentOn > StuckAfter)
            faults.Add(string.Create(CultureInfo.InvariantCulture, $"no round has ended for {(int)state.SinceItWentOn.TotalMinutes} minutes"));
        return faults;
    }

    private static string MailWords(HealthState state) =>
        state.Mail.Trouble is not null ? "a message did not get through; the log tells which and why"
        : state.Mail.Waiting == 0 ? "nothing waits"
        : state.Mail.Waiting == 1 ? "1 message waits"
        : $"{state.Mail.Waiting} messages wait";

    private static Task Answer(HttpContext context, HealthReply reply)
    {
        context.Response.StatusCode = reply.Ok ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable;
        context.Response.Headers.CacheControl = "no-store";
        return context.Response.WriteAsJsonAsync(reply, HealthJson.Default.HealthReply, contentType: null, context.RequestAborted);
    }
}

/// <summary>What is answered; 200 when ok, else 503.</summary>
public sealed record HealthReply(bool Ok, IReadOnlyList<string> Faults, double? ForecastAgeHours, string? LastDigest, string? Mail)
{
    public double? MembersAgeHours { get; init; }

    public int? PastYears { get; init; }

    /// <summary>No fault: a digest is a digest without it.</summary>
    public IReadOnlyList<string>? Without { get; init; }
}

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(HealthReply))]
internal sealed partial class HealthJson : JsonSerializerContext;

using System.Net.Http.Headers;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>How long the service asks to be left alone.</summary>
internal static class RateLimit
{
    private static readonly Duration Longest = Duration.FromDays(1);

    /// <summary>
    /// From the words of a 429. The service counts by minute, hour and UTC day and names the one that is full; the
    /// counters are wiped only roughly on time, so the whole window is waited out. Null: it was merely busy.
    /// </summary>
    public static Duration? WaitNamedIn(string words, Instant now)
    {
        if (words.Contains("concurrent", StringComparison.OrdinalIgnoreCase))
            return null;
        if (words.Contains("daily", StringComparison.OrdinalIgnoreCase) || words.Contains("tomorrow", StringComparison.OrdinalIgnoreCase))
            return now.InUtc().Date.PlusDays(1).AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() - now + Duration.FromMinutes(5);
        if (words.Contains("hour", StringComparison.OrdinalIgnoreCase))
            return Duration.FromHours(1);
        return Duration.FromMinutes(1);
    }

    /// <summary>From the Retry-After header; at most a day, whatever it says.</summary>
    public static Duration? WaitIn(RetryConditionHeaderValue? header, Instant now)
    {
        Duration? named = header switch
        {
            { Delta: { } delta } => Duration.FromTimeSpan(delta),
            { Date: { } date } => Instant.FromDateTimeOffset(date) - now,
            _ => null,
        };
        return named is { } wait ? Duration.Max(Duration.Zero, Duration.Min(wait, Longest)) : null;
    }
}

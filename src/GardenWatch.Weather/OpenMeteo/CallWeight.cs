using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What a question costs of the service's free allowance, in calls.</summary>
/// <remarks>
/// The service counts 600 a minute, 5 000 an hour and 10 000 a UTC day for one address, all its hosts together as far as
/// is known. A question weighs at least one; ten variables of fourteen days weigh one; each member counts as a run.
/// </remarks>
public static class CallWeight
{
    /// <summary>When the day began by which the service counts.</summary>
    public static Instant DayStart(Instant now) => now.InUtc().Date.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();

    public static double Of(int variables, int members, double days) =>
        Math.Max(1, variables * members / 10.0 * Math.Max(1, days / 14));
}

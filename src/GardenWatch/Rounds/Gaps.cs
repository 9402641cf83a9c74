using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>How long to wait after a failure: longer each time, a little apart from house to house.</summary>
public static class Gaps
{
    private static readonly Duration[] Growing =
        [Duration.FromMinutes(1), Duration.FromMinutes(5), Duration.FromMinutes(15), Duration.FromMinutes(60)];

    /// <summary>A crop may hang on it, so an urgent message does not wait longer than this.</summary>
    private static readonly Duration LongestUrgent = Duration.FromMinutes(5);

    private static readonly Duration Shortest = Duration.FromMinutes(1);

    private const double JitterShare = 0.2;

    /// <param name="tries">Tries made so far, at least one.</param>
    /// <param name="jitter">0 to 1.</param>
    public static Duration After(int tries, double jitter) =>
        Growing[Math.Clamp(tries - 1, 0, Growing.Length - 1)] * (1 + JitterShare * jitter);

    /// <summary>
    /// The gap before the next sending. Never more than half of the time that is left (but a minute at least): a mail
    /// server that comes back at twenty to twelve still gets the digest that ends at noon.
    /// </summary>
    public static Duration BeforeSending(int tries, bool urgent, Duration left, double jitter)
    {
        var gap = After(tries, jitter);
        if (urgent)
            gap = Duration.Min(gap, LongestUrgent);
        return Duration.Max(Shortest, Duration.Min(gap, left / 2));
    }
}

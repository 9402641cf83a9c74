using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>How long to wait after a failure: longer each time, a little apart from house to house.</summary>
public static class Gaps
{
    private static readonly Duration[] Growing =
        [Duration.FromMinutes(1), Duration.FromMinutes(5), Duration.FromMinutes(15), Duration.FromMinutes(60)];

    /// <summary>A crop may hang on it, so an urgent message does not wait longer than this.</summary>
    private static readonly Duration LongestUrgent = Duration.FromMinutes(5);

    /// <summary>A server that asks an urgent message for a longer pause gets this one: the frost does not wait for it.</summary>
    private static readonly Duration LongestUrgentPause = Duration.FromMinutes(20);

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
    /// <param name="pause">What the other side asks for at least; kept within the same half, so that it can't outlast the message.</param>
    public static Duration BeforeSending(int tries, bool urgent, Duration left, double jitter, TimeSpan? pause = null)
    {
        var gap = After(tries, jitter);
        var asked = Duration.FromTimeSpan(pause ?? TimeSpan.Zero);
        if (urgent)
            (gap, asked) = (Duration.Min(gap, LongestUrgent), Duration.Min(asked, LongestUrgentPause));
        gap = Duration.Max(gap, asked);
        return Duration.Max(Shortest, Duration.Min(gap, left / 2));
    }
}

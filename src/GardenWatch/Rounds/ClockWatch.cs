using System.Runtime.InteropServices;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>Gathers the evidence on the clock from tick to tick, and says so once, on change, and daily.</summary>
/// <param name="synchronised">Asks the system; <see cref="ReportedBySystem"/> outside of tests.</param>
/// <param name="monotonic">A timer that no correction of the clock moves.</param>
public sealed class ClockWatch(
    IClock clock, Instant released, Func<bool?> synchronised, TimeProvider monotonic, ILogger logger)
{
    private static readonly Duration HeardLately = Duration.FromHours(24);
    private static readonly Duration Leap = Duration.FromMinutes(2);
    private static readonly Duration Remind = Duration.FromDays(1);

    private readonly Lock gate = new();
    private (Duration Ahead, Instant At, long Timer)? heard;
    private (ClockDoubt Doubt, long Timer)? told;

    /// <summary>The Date header of an answer that has just come in.</summary>
    public void HeardDate(Instant serverDate)
    {
        var now = clock.GetCurrentInstant();
        lock (gate)
            heard = (serverDate - now, now, monotonic.GetTimestamp());
    }

    public ClockVerdict Verdict(Instant? newestFact)
    {
        var now = clock.GetCurrentInstant();
        lock (gate)
        {
            var verdict = ClockTrust.Of(new(now, released, newestFact, ServerAhead(now), synchronised()));
            Tell(verdict);
            return verdict;
        }
    }

    /// <summary>What was heard counts for a day, and only while the clock has run on evenly since.</summary>
    private Duration? ServerAhead(Instant now)
    {
        if (heard is not { } last)
            return null;
        var passed = Duration.FromTimeSpan(monotonic.GetElapsedTime(last.Timer));
        var leapt = now - last.At - passed;
        return passed <= HeardLately && leapt <= Leap && leapt >= -Leap ? last.Ahead : null;
    }

    private void Tell(ClockVerdict verdict)
    {
        if (verdict is not ClockVerdict.Untrusted untrusted)
        {
            if (told is not null)
                logger.ClockTrusted();
            told = null;
            return;
        }
        if (told is { } last && last.Doubt == untrusted.Doubt && Duration.FromTimeSpan(monotonic.GetElapsedTime(last.Timer)) < Remind)
            return;
        told = (untrusted.Doubt, monotonic.GetTimestamp());
        logger.ClockUntrusted(untrusted.Reason);
    }

    /// <summary>Null where nothing tells, as in many containers.</summary>
    public static bool? ReportedBySystem()
    {
        const string timesyncd = "/run/systemd/timesync";
        if (Directory.Exists(timesyncd) && File.Exists(Path.Combine(timesyncd, "synchronized")))
            return true;
        // struct timex is 208 bytes on 64-bit Linux; all zero asks without setting.
        byte[] timex = new byte[256];
        return adjtimex(timex) switch
        {
            < 0 => Directory.Exists(timesyncd) ? false : null,
            TimeError => false,
            _ => true,
        };
    }

    private const int TimeError = 5;

    [DllImport("libc")]
    private static extern int adjtimex(byte[] timex);
}

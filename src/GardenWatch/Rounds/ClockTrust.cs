using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What speaks for and against the machine's clock.</summary>
/// <param name="Released"><see cref="ClockTrust.Released"/> outside of tests.</param>
/// <param name="NewestFact">The latest stamp in the store; null when there is none.</param>
/// <param name="ServerAhead">How far the weather service's Date header was ahead of this clock; null when not lately heard.</param>
/// <param name="Synchronised">As the system reports; null when it cannot be known.</param>
public sealed record ClockEvidence(Instant Now, Instant Released, Instant? NewestFact, Duration? ServerAhead, bool? Synchronised);

public enum ClockDoubt { BeforeRelease, OffTheServer, Unsynchronised, BehindTheStore, LongSilence }

public abstract record ClockVerdict
{
    private ClockVerdict() { }

    /// <param name="FactsAhead">Something in the store is stamped later than now, and is to be set aside.</param>
    public sealed record Trusted(bool FactsAhead) : ClockVerdict;

    /// <summary>Nothing is stored and nothing is sent.</summary>
    /// <param name="Reason">For the log and the status page, with what is done about it.</param>
    /// <param name="AskWeatherService">Its Date header would settle it: ask, and keep nothing of the answer.</param>
    public sealed record Untrusted(ClockDoubt Doubt, string Reason, bool AskWeatherService) : ClockVerdict;
}

/// <summary>
/// Small boards have no clock of their own: they wake with the hour of their last shutdown, or with 1970, and leap when
/// the network comes. A digest dated by such a clock would be sent on the wrong day, and the right one never.
/// </summary>
public static class ClockTrust
{
    /// <summary>Moved on with each release; no clock that is before it can be right.</summary>
    public static readonly Instant Released = Instant.FromUtc(2026, 11, 25, 0, 0);

    /// <summary>More than this off the weather service's Date header is wrong.</summary>
    public static readonly Duration ServerTolerance = Duration.FromMinutes(10);

    /// <summary>A running service leaves a stamp each day; longer without one, and the clock may have leapt.</summary>
    public static readonly Duration LongestSilence = Duration.FromDays(2);

    public static ClockVerdict Of(ClockEvidence evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var now = evidence.Now;
        bool factsAhead = evidence.NewestFact > now + Store.SetAsideTable.Tolerance;
        if (now < evidence.Released)
            return Doubted(ClockDoubt.BeforeRelease, $"the clock says {now}, before this program was built");
        // Another machine's clock is the best witness: it also clears one whose own time service is not known here.
        if (evidence.ServerAhead is { } ahead)
            return ahead > ServerTolerance || ahead < -ServerTolerance
                ? Doubted(ClockDoubt.OffTheServer, $"the clock is {Math.Abs(ahead.TotalMinutes):0} minutes {(ahead > Duration.Zero ? "behind" : "ahead of")} the weather service's")
                : new ClockVerdict.Trusted(factsAhead);
        if (evidence.Synchronised == false)
            return Doubted(ClockDoubt.Unsynchronised, "the system reports that its clock is not synchronised");
        if (evidence.Synchronised == true)
            return new ClockVerdict.Trusted(factsAhead);
        if (factsAhead)
            return Doubted(ClockDoubt.BehindTheStore, $"the clock says {now}, before what was stored at {evidence.NewestFact}");
        if (now - evidence.NewestFact > LongestSilence)
            return Doubted(ClockDoubt.LongSilence, $"the clock says {now}, more than two days after all that is stored, and nothing confirms it yet");
        return new ClockVerdict.Trusted(FactsAhead: false);
    }

    private static ClockVerdict.Untrusted Doubted(ClockDoubt doubt, string reason) =>
        new(doubt, reason, AskWeatherService: doubt != ClockDoubt.BeforeRelease);
}

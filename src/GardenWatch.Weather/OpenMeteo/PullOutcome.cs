using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>How a pull went. Reasons are sentences a gardener understands.</summary>
public abstract record PullOutcome
{
    private PullOutcome(Instant? serverDate) => ServerDate = serverDate;

    /// <summary>
    /// The service's own clock in its last answer, of whatever kind; null when no answer came. A clock of ours that is
    /// ten minutes off it is wrong.
    /// </summary>
    public Instant? ServerDate { get; }

    public sealed record Good(Pull Pull) : PullOutcome(Pull.ServerDate);

    /// <param name="NotBefore">When the service named a wait; null means at the ordinary interval.</param>
    public sealed record TryLater(string Reason, Instant? NotBefore, Instant? ServerDate) : PullOutcome(ServerDate);

    /// <summary>Asking again in the same way gives the same: something must change first, here or there.</summary>
    public sealed record Refused(string Reason, Instant? ServerDate) : PullOutcome(ServerDate);
}

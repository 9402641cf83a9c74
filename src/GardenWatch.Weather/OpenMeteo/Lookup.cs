using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>How looking something up went. Reasons are sentences a gardener understands.</summary>
public abstract record Lookup<T>
{
    private Lookup(Instant? serverDate) => ServerDate = serverDate;

    /// <summary>The service's own clock; null when no answer came.</summary>
    public Instant? ServerDate { get; }

    public sealed record Found(T Value, Instant? ServerDate) : Lookup<T>(ServerDate);

    public sealed record TryLater(string Reason, Instant? NotBefore, Instant? ServerDate) : Lookup<T>(ServerDate);

    public sealed record Refused(string Reason, Instant? ServerDate) : Lookup<T>(ServerDate);
}

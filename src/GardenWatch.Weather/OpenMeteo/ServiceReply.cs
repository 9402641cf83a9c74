using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What came back over the line: sound JSON, a fault that may pass, or a refusal.</summary>
internal abstract record ServiceReply
{
    private ServiceReply(Instant? serverDate) => ServerDate = serverDate;

    public Instant? ServerDate { get; }

    /// <summary>One whole JSON object without an error in it; what it says is not yet checked.</summary>
    public sealed record Sound(ReadOnlyMemory<byte> Body, Instant? ServerDate) : ServiceReply(ServerDate);

    /// <param name="Wait">Named by the service; null when it is ours to choose.</param>
    public sealed record Broken(string Reason, Duration? Wait, Instant? ServerDate) : ServiceReply(ServerDate);

    public sealed record Refused(string Reason, Instant? ServerDate) : ServiceReply(ServerDate);
}

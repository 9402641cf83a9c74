using NodaTime;

namespace GardenWatch;

/// <summary>The host's log sentences, events 100 to 199. No addresses, secrets or bodies; each says what happens next.</summary>
internal static partial class Log
{
    [LoggerMessage(110, LogLevel.Information, "Message {Id} ({Kind}, garden {Garden}) was accepted")]
    public static partial void Accepted(this ILogger logger, long id, string kind, string garden);

    [LoggerMessage(111, LogLevel.Warning, "Message {Id} ({Kind}, garden {Garden}) was not taken ({Reason}); next try {NextTry}")]
    public static partial void TriedInVain(this ILogger logger, long id, string kind, string garden, string reason, Instant nextTry);

    [LoggerMessage(112, LogLevel.Error, "Message {Id} ({Kind}, garden {Garden}) was refused for good ({Reason}); `gardenwatch status` shows it")]
    public static partial void Refused(this ILogger logger, long id, string kind, string garden, string reason);

    [LoggerMessage(113, LogLevel.Warning, "Message {Id} ({Kind}, garden {Garden}) may or may not have arrived ({Reason}); the same bytes are offered again: {NextTry}")]
    public static partial void InDoubt(this ILogger logger, long id, string kind, string garden, string reason, string nextTry);

    [LoggerMessage(114, LogLevel.Warning, "Messages were being sent when the service last ended; they are offered again in {Gap}")]
    public static partial void SendingFoundAtStart(this ILogger logger, Duration gap);

    [LoggerMessage(115, LogLevel.Error, "A message waits, because its sending cannot be written down: {Sentence}")]
    public static partial void NotClaimed(this ILogger logger, string sentence);

    [LoggerMessage(116, LogLevel.Warning, "An urgent message ({Kind}, garden {Garden}) goes out without being written down; after a restart it may come twice")]
    public static partial void SentWithoutClaim(this ILogger logger, string kind, string garden);

    [LoggerMessage(117, LogLevel.Error, "Sending message {Id} broke; it is offered again later, the others go on")]
    public static partial void SendBroke(this ILogger logger, Exception exception, long id);

    [LoggerMessage(120, LogLevel.Error, "The clock cannot be trusted: {Reason}. Nothing is stored or sent until it can")]
    public static partial void ClockUntrusted(this ILogger logger, string reason);

    [LoggerMessage(121, LogLevel.Information, "The clock can be trusted again; rounds go on")]
    public static partial void ClockTrusted(this ILogger logger);

    [LoggerMessage(130, LogLevel.Warning, "The heartbeat address did not answer ({Reason}); tried again after the next digest")]
    public static partial void HeartbeatFailed(this ILogger logger, string reason);
}

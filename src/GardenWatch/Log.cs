using NodaTime;

namespace GardenWatch;

/// <summary>The host's log sentences, events 100 to 199. No addresses, secrets or bodies; each says what happens next.</summary>
internal static partial class Log
{
    [LoggerMessage(110, LogLevel.Information, "Message {Id} ({Kind}, garden {Garden}) was accepted")]
    public static partial void Accepted(this ILogger logger, long id, string kind, string garden);

    [LoggerMessage(111, LogLevel.Warning, "Message {Id} ({Kind}, garden {Garden}) was not taken ({Reason}); next try {NextTry}")]
    public static partial void TriedInVain(this ILogger logger, long id, string kind, string garden, string reason, Instant nextTry);

    [LoggerMessage(112, LogLevel.Error, "Message {Id} ({Kind}, garden {Garden}) was refused for good ({Reason}); /readyz of the health page shows it")]
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

    [LoggerMessage(140, LogLevel.Information, "{File} is in force for the garden {Garden}")]
    public static partial void PlanTaken(this ILogger logger, string file, string garden);

    [LoggerMessage(141, LogLevel.Warning, "{File} cannot be used as it is now, so the plan of before stays in force: {Faults}")]
    public static partial void PlanStays(this ILogger logger, string file, string faults);

    [LoggerMessage(142, LogLevel.Error, "{File} cannot be used, and there is no plan of before: {Faults}")]
    public static partial void PlanUnusable(this ILogger logger, string file, string faults);

    [LoggerMessage(143, LogLevel.Error, "The place of the garden {Garden} is not known, so nothing can be said for it yet: {Reason}")]
    public static partial void PlaceUnknown(this ILogger logger, string garden, string reason);

    [LoggerMessage(150, LogLevel.Warning, "Forecast pull failed ({Reason}); the last good one serves, next try {RetryAt}")]
    public static partial void PullFailed(this ILogger logger, string reason, Instant retryAt);

    [LoggerMessage(151, LogLevel.Warning, "Ensemble pull failed ({Reason}); chances come from the last members while they are fresh, next try {RetryAt}")]
    public static partial void MembersFailed(this ILogger logger, string reason, Instant retryAt);

    [LoggerMessage(152, LogLevel.Warning, "A past year was not fetched ({Reason}); next try {RetryAt}")]
    public static partial void PastYearFailed(this ILogger logger, string reason, Instant retryAt);

    [LoggerMessage(160, LogLevel.Information, "The digest of {Date} for the garden {Garden} was due while this was off, and is left out; the next one says so")]
    public static partial void DigestSkipped(this ILogger logger, string garden, LocalDate date);

    [LoggerMessage(161, LogLevel.Error, "Not stored: {Sentence}")]
    public static partial void NotStored(this ILogger logger, string sentence);

    [LoggerMessage(162, LogLevel.Error, "No backup was made: {Sentence}")]
    public static partial void NoBackup(this ILogger logger, string sentence);

    [LoggerMessage(163, LogLevel.Error, "The round {Round} broke; the others go on, and it is tried again at the next knock")]
    public static partial void RoundBroke(this ILogger logger, Exception exception, string round);

    [LoggerMessage(170, LogLevel.Information, "A reply for the garden {Garden} was taken: {Answers} answers, {Pictures} pictures")]
    public static partial void ReplyTaken(this ILogger logger, string garden, int answers, int pictures);

    [LoggerMessage(171, LogLevel.Warning, "A reply for the garden {Garden} waits ({Reason}); tried again at the next look")]
    public static partial void ReplyWaits(this ILogger logger, string garden, string reason);

    [LoggerMessage(172, LogLevel.Warning, "A mail that names no message of ours rightly is refused ({Fate}); nothing is answered")]
    public static partial void ReplyRefused(this ILogger logger, string fate);

    [LoggerMessage(173, LogLevel.Warning, "A mail to an addressee of the garden {Garden} came back ({Reason}); `status` says so until one arrives")]
    public static partial void MailCameBack(this ILogger logger, string garden, string reason);

    [LoggerMessage(174, LogLevel.Error, "A mail could not be read and is left out; the others go on")]
    public static partial void ReplyBroke(this ILogger logger, Exception exception);

    [LoggerMessage(175, LogLevel.Warning, "The mailbox with replies can't be read ({Reason}); next try in {Gap}")]
    public static partial void MailboxUnread(this ILogger logger, string reason, TimeSpan gap);

    [LoggerMessage(176, LogLevel.Information, "The mailbox with replies is read again")]
    public static partial void MailboxReadAgain(this ILogger logger);

    [LoggerMessage(177, LogLevel.Warning, "Mails wait, as the records can't be read ({Reason}); tried again at the next look")]
    public static partial void RepliesWait(this ILogger logger, string reason);

    [LoggerMessage(180, LogLevel.Information, "There is no plan in {Folder} yet: open http://{Listen}/new, or run `gardenwatch new`; the service goes on once there is one")]
    public static partial void NoPlanYet(this ILogger logger, string folder, string listen);
}

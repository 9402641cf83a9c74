using NodaTime;

namespace GardenWatch.Store;

/// <summary>What a message is told apart by: one to a garden, addressee, kind and occasion, whatever happens.</summary>
/// <param name="Addressee">A mail address, or the address of another channel. Upper and lower case are one.</param>
/// <param name="Kind"><see cref="MessageKind"/>.</param>
/// <param name="Occasion">The local date of a digest, or event and revision of a warning.</param>
public sealed record OutboxKey(string Garden, string Addressee, string Kind, string Occasion);

public static class MessageKind
{
    public const string Digest = "digest";
    public const string Warning = "warning";
    /// <summary>What was made of an answer by mail, where its writer has to know it before the next digest.</summary>
    public const string Notice = "notice";
}

/// <summary>A message ready to be sent, rendered once: every try sends these bytes.</summary>
/// <param name="ExpiresAt">Not sent from here on: noon of a digest, the end of a warning's event.</param>
/// <param name="Urgent">Saves a crop: goes out even when the claim can't be written.</param>
/// <param name="Jobs">Lines "1=job id": what "done 1" means in an answer to this message.</param>
/// <param name="NotBefore">The first try, when not at once.</param>
/// <param name="FallbackFor">A row whose failure this one answers on another channel; skipped once all to people of its occasion are sent.</param>
public sealed record OutboxDraft(
    OutboxKey Key, string MessageId, string Subject, byte[] Bytes, Instant CreatedAt, Instant ExpiresAt, bool Urgent, string Jobs,
    Instant? NotBefore = null, long? FallbackFor = null)
{
    /// <summary>The same for a row that is stored together with this one, when its id is not known yet.</summary>
    public OutboxKey? FallbackForKey { get; init; }
}

public enum OutboxState { Pending, Sending, Sent, Refused, InDoubt, Expired, Skipped, SetAside }

/// <param name="Doubts">How often nobody could tell whether the other side has it.</param>
/// <param name="NextTryAt">Null when it is not tried again.</param>
public sealed record OutboxRow(
    long Id, OutboxKey Key, string MessageId, string Subject, byte[] Bytes, Instant CreatedAt, Instant ExpiresAt, bool Urgent,
    OutboxState State, int Tries, int Doubts, Instant? NextTryAt, Instant? EndedAt, string? LastReply, string Jobs);

/// <summary>The mail as the status page tells it.</summary>
/// <param name="Waiting">Not yet accepted, still to be tried.</param>
/// <param name="WaitingSince">Since when the oldest of them waits.</param>
/// <param name="Trouble">What the other side said last, when something waits after a try, was refused or expired since the last acceptance.</param>
public sealed record OutboxStanding(int Waiting, Instant? WaitingSince, Instant? LastAccepted, string? Trouble);

namespace GardenWatch.Messages.Mail;

/// <summary>What became of one message. The reason is a sentence or two for the gardener, without addresses or secrets.</summary>
public abstract record SendOutcome
{
    private SendOutcome() { }

    public sealed record Accepted(string Reply) : SendOutcome;

    /// <summary>Surely not sent; the same may go through later, or once a setting is put right.</summary>
    public sealed record TryLater(string Reason) : SendOutcome
    {
        /// <summary>What the other side asks for; null when it names no time.</summary>
        public TimeSpan? WaitAtLeast { get; init; }
    }

    /// <summary>Surely not sent, and trying the same again would not help.</summary>
    public sealed record Refused(string Reason) : SendOutcome;

    /// <summary>The link broke after the body: the server may or may not have it.</summary>
    public sealed record InDoubt(string Reason) : SendOutcome;
}

namespace GardenWatch.Messages.Mail;

/// <summary>Where no mail is set up and other channels are: a mail that a plan asks for all the same is refused, and so is seen.</summary>
public sealed class NoPostbox : IPostbox
{
    /// <summary>Stands in the place of a sender until a mail account has one.</summary>
    public const string From = "gardenwatch@localhost";

    public Task<SendOutcome> Send(ReadOnlyMemory<byte> mail, string from, string to, CancellationToken cancellationToken) =>
        Task.FromResult<SendOutcome>(new SendOutcome.Refused("The plan names a mail address, and gardenwatch.yaml sets no mail server up."));
}

namespace GardenWatch.Messages.Mail;

/// <summary>A way out for mail that is already written.</summary>
public interface IPostbox
{
    /// <param name="mail">The whole message as <see cref="OutgoingMail"/> rendered it.</param>
    /// <param name="from">The envelope's sender, an address alone.</param>
    /// <param name="to">The envelope's one recipient, an address alone.</param>
    /// <exception cref="OperationCanceledException">Stopped while the mail was surely not sent.</exception>
    Task<SendOutcome> Send(ReadOnlyMemory<byte> mail, string from, string to, CancellationToken cancellationToken);
}

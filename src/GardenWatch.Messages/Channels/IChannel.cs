using GardenWatch.Messages.Mail;

namespace GardenWatch.Messages.Channels;

/// <summary>A way out beside mail: it writes a note in its own form, and hands what is written over as often as asked.</summary>
public interface IChannel
{
    /// <summary>As plans name it, one of <see cref="Planning.Plans.ChannelWords"/>.</summary>
    string Word { get; }

    /// <summary>The whole message. Equal notes give equal bytes.</summary>
    byte[] Render(ChannelNote note);

    /// <param name="rendered">What <see cref="Render"/> gave, perhaps in an earlier process.</param>
    /// <param name="messageId">The same for each try of a message, so that the other side can know a double.</param>
    /// <exception cref="OperationCanceledException">Stopped while the message was surely not sent.</exception>
    Task<SendOutcome> Send(ReadOnlyMemory<byte> rendered, string messageId, CancellationToken cancellationToken);
}

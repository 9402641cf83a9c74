using MimeKit;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>A mail in the mailbox, of which the headers are known.</summary>
/// <param name="Size">In bytes, as it lies there.</param>
public sealed record InboxMail(uint Uid, HeaderList Headers, long Size);

/// <summary>A picture that came with a reply.</summary>
/// <param name="Name">Of the file, as it was sent; only shown.</param>
/// <param name="Content">From its start; at the disk when it is large.</param>
public sealed record ReplyPicture(string Name, Stream Content)
{
    /// <summary>The content of one that is too large to be fetched; its sender is told.</summary>
    public static Stream TooLarge => Stream.Null;
}

/// <summary>A mail as far as it is read: all of a small one, of a large one the words alone and its pictures one by one.</summary>
public sealed record FetchedMail(MimeMessage Message, IReadOnlyList<ReplyPicture> Pictures) : IDisposable
{
    public void Dispose()
    {
        Message.Dispose();
        foreach (var picture in Pictures)
            picture.Content.Dispose();
    }
}

/// <summary>A line to the mailbox. Made anew after each fault; anything may throw when the other side fails.</summary>
public interface IReplyInbox : IAsyncDisposable
{
    /// <summary>The folder's UIDVALIDITY: with another one, mails are numbered anew.</summary>
    uint Validity { get; }

    Task Connect(CancellationToken ct);

    /// <summary>Mails from a number on, in its order; from a day on where the number is not known.</summary>
    Task<IReadOnlyList<InboxMail>> From(uint? uid, LocalDate since, CancellationToken ct);

    /// <summary>Null when it is gone, or is no mail.</summary>
    Task<FetchedMail?> Fetch(InboxMail mail, CancellationToken ct);

    /// <summary>Until there may be something new, or it is time to look anyway.</summary>
    Task News(CancellationToken ct);
}

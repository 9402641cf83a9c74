using System.Collections.Immutable;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;

namespace GardenWatch.Rounds;

/// <summary>A mail that was read as an answer to a message of ours.</summary>
/// <param name="Message">The message that is answered: its garden, its numbers, and whose answer it is.</param>
/// <param name="MailId">The mail's own Message-ID: the same one is acted on once.</param>
/// <param name="Pictures">To be read before this is given back.</param>
public sealed record ReplyRead(OutboxRow Message, string MailId, ImmutableArray<Answer> Answers, ImmutableArray<ReplyPicture> Pictures)
{
    public TakenMail AsTaken() => new(MailId, Message, WishOf(Answers));

    public static MessageWish WishOf(ImmutableArray<Answer> answers) =>
        answers.Any(answer => answer is Answer.Stop) ? MessageWish.Stop
        : answers.Any(answer => answer is Answer.Start) ? MessageWish.Start
        : MessageWish.AsBefore;

    public IncomingAnswers AsIncoming() => new(AnswerOrigin.Mail, Answers)
    {
        Person = Message.Key.Addressee,
        Message = Message.Id,
        Source = MailId,
        Pictures = [.. Pictures.Select(picture => new IncomingPicture(picture.Name, picture.Content))],
    };
}

/// <summary>Writes down what a reply says. Null when it is done, also when it was before; else why it can't be just now, and then it is tried again.</summary>
public delegate string? TakeReply(ReplyRead reply, GardenOnDuty garden);

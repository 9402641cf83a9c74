using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Answers by mail get a word back where it can't wait for the next digest, which tells all else: what was not understood, and
/// that messages stop or begin again. One for each mail, however often this is killed.
/// </summary>
/// <param name="from">Of the mails.</param>
/// <param name="answersTo">Where answers by mail are read; null where none are.</param>
public sealed class NoticeRound(GardenStore store, string from, string? answersTo)
{
    // After a day the digest has told the rest, and the question is stale.
    private static readonly Duration Life = Duration.FromDays(1);

    private readonly MessageIds _ids = new(store.Secrets);

    public void Run(IReadOnlyList<GardenOnDuty> onDuty, Instant now)
    {
        ArgumentNullException.ThrowIfNull(onDuty);
        foreach (var answer in store.Answered.Owed(now))
        {
            if (onDuty.FirstOrDefault(garden => garden.Plan.GardenId == answer.Garden) is not { } garden)
                continue;
            // One that is older was told of in the meantime, or its sender was never to be told.
            bool isNews = now - answer.RecordedAt < Life && answer.Understood.Count + answer.Asked.Count > 0;
            // Stored under the answer's own key, so that a death before the mark adds no second.
            if (isNews && answer.Person is { } person && person.Contains('@', StringComparison.Ordinal)
                && store.Outbox.Add(Draft(answer, person, garden, now)) is WriteOutcome.Failed)
                return;
            store.Answered.MarkAcknowledged(answer.Id, now);
        }
    }

    private OutboxDraft Draft(AnswerRow answer, string person, GardenOnDuty garden, Instant now)
    {
        var key = new OutboxKey(answer.Garden, person, MessageKind.Notice, answer.Batch);
        var letter = NoticeLetter.Of(
            answer.Garden, garden.Plan.Name, Taking.SpeechOf(garden.Plan, garden.Place, AnswerOrigin.Mail), garden.Place.Calendar.DateOf(now),
            [.. answer.Understood], [.. answer.Asked], answersTo);
        var mail = OutgoingMail.Render(letter, _ids.LeftOf(key), from, person, now);
        // What is answered to it goes by the numbers of the message before.
        string jobs = store.Outbox.LastSentTo(answer.Garden, person, now)?.Jobs ?? "";
        return new(key, mail.MessageId, letter.Subject, [.. mail.Bytes], now, now + Life, Urgent: false, jobs);
    }
}

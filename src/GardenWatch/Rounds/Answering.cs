using GardenWatch.Planning.Agendas;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// Takes answers, whichever way they came: binds them to the message and the plan, writes what is clear of them in one
/// transaction, and says what was understood and what was not. The same answer a second time changes nothing.
/// </summary>
public sealed class Answering(GardenStore store, Mornings mornings)
{
    /// <param name="plan">Its subjects' ids are kept in the store (<see cref="Setup.GardenFile.Keep"/>) before.</param>
    public AnswersTaken Take(Plan plan, GardenPlace place, IncomingAnswers incoming, Instant now)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(incoming);
        if (incoming.Source is { } source && store.Answered.Find(source) is { } before)
            return new([.. before.Understood], [.. before.Asked]) { Repeated = true };
        if (incoming.Message is { } id && store.Outbox.FindRow(id) is { } row && row.Key.Garden != plan.GardenId)
            return new([], [$"That message is of another garden (`{row.Key.Garden}`), not of {plan.Name}; nothing was recorded."]);

        string batch = Guid.NewGuid().ToString("N")[..16];
        var taking = new Taking(store, mornings, plan, place, incoming, batch, now);
        foreach (var answer in incoming.Answers)
            taking.Take(answer);
        foreach (var picture in incoming.Pictures)
        {
            taking.Take(picture, ReferenceEquals(picture.Content, ReplyPicture.TooLarge)
                ? new PictureOutcome.Refused($"is larger than {ImapInbox.LargestPicture >> 20} MB; send a smaller one")
                : store.JournalPictures.Keep(picture.Content));
        }
        var taken = new AnswersTaken([.. taking.Understood], [.. taking.Asked]) { EntryIds = [.. taking.Entries.Select(entry => entry.Id!)] };
        // At the terminal and on the page one is told at once, and the next digest tells what was written down; a mail of which
        // nothing was, or that was not clear, is still to be answered.
        var told = incoming.Origin == AnswerOrigin.Mail && (taken.EntryIds.IsEmpty || !taken.Asked.IsEmpty) ? (Instant?)null : now;
        var wish = ReplyRead.WishOf(incoming.Answers);
        var mail = incoming is { Origin: AnswerOrigin.Mail, Message: { } answered, Source: { } mailId } && store.Outbox.FindRow(answered) is { } message
            ? new TakenMail(mailId, message, wish)
            : null;
        if (mail is null && incoming.Person is { } person && taken.Asked.IsEmpty && wish != MessageWish.AsBefore
            && store.Replies.Wish(plan.GardenId, person, wish, now) is WriteOutcome.Failed(_, var unwritten))
            return new([], taken.Asked) { NotWritten = unwritten };
        var written = store.Answered.Add(
            new(0, plan.GardenId, batch, incoming.Source, incoming.Origin, incoming.Person, now, taken.Understood, taken.Asked, told), taking.Entries, mail);
        return written switch
        {
            WriteOutcome.Failed(_, var sentence) => new([], taken.Asked) { NotWritten = sentence },
            // Another process took in the same mail in between.
            WriteOutcome.Unchanged when incoming.Source is { } same && store.Answered.Find(same) is { } other =>
                new([.. other.Understood], [.. other.Asked]) { Repeated = true },
            _ => WithoutOvertaken(taken, taking, plan, now),
        };
    }

    /// <summary>Somebody may have answered the same job at the same moment; the store keeps the first, and it is said so.</summary>
    private AnswersTaken WithoutOvertaken(AnswersTaken taken, Taking taking, Plan plan, Instant now)
    {
        if (taking.Entries.Count == 0)
            return taken;
        var journal = mornings.JournalOf(plan, now);
        var stored = store.Journal.AsOf(plan.GardenId, now).Select(entry => entry.Id).ToHashSet();
        foreach (var entry in taking.Entries.Where(entry => !stored.Contains(entry.Id)))
        {
            taken = taken with
            {
                EntryIds = taken.EntryIds.Remove(entry.Id!),
                Understood = taken.Understood.Replace(
                    taking.SentenceOf(entry), JobId.TryParse(entry.JobId ?? "", out var job) && journal.Of(job.Value, entry.Kind) is { } first ? taking.Already(first) : taking.SentenceOf(entry)),
            };
        }
        return taken;
    }
}

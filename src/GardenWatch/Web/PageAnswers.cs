using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;

namespace GardenWatch.Web;

/// <summary>What became of an answer: the sentence says what was written, or why nothing was.</summary>
internal readonly record struct AnswerTaken(bool Ok, string Sentence);

/// <summary>Reads the page's forms into answers and has them written down. The one place where the page writes.</summary>
internal sealed class PageAnswers(GardenStore store, GardenLooks looks)
{
    public const int LongestNote = 500;
    private const int LongestWaitDays = 366;

    /// <summary>The answer to one job that a form means; null when it means none.</summary>
    /// <param name="days">For later: after how many days to ask again; null is tomorrow.</param>
    public static Answer? Of(string? answer, string jobId, string? days, GardenLook look)
    {
        ImmutableArray<string> jobs = [jobId];
        return answer switch
        {
            "done" => new Answer.Done(jobs),
            "skip" => new Answer.Skip(jobs),
            "later" when days is null => new Answer.Later(jobs, null),
            "later" when int.TryParse(days, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out int count) && count is >= 1 and <= LongestWaitDays =>
                new Answer.Later(jobs, look.Agenda.Date.PlusDays(count)),
            _ => null,
        };
    }

    public AnswerTaken Take(GardenLook look, Answer answer)
    {
        var plan = look.Garden.Plan;
        var today = look.Agenda.Date;
        var now = look.Now;
        JournalEntry OfJob(EntryKind kind, string id, NodaTime.LocalDate? until = null) =>
            new(kind, today, now, id, JobId.TryParse(id, out var job) ? job.Value.SubjectId : null, until, null);
        ImmutableArray<JournalEntry> entries = answer switch
        {
            Answer.Done(var jobs, _) => [.. jobs.Select(id => OfJob(EntryKind.Done, id))],
            Answer.Skip(var jobs, _) => [.. jobs.Select(id => OfJob(EntryKind.Skip, id))],
            Answer.Later(var jobs, var until) => [.. jobs.Select(id => OfJob(EntryKind.Later, id, until ?? today.PlusDays(1)))],
            Answer.Note(var text, _, _) => [new(EntryKind.Note, today, now, null, null, null, text)],
            _ => [],
        };
        if (entries.IsEmpty)
            return new(false, "That can’t be written down here.");
        var written = store.Journal.Add(plan.GardenId, [.. entries.Select(entry => (entry, (string?)null))]);
        looks.Forget(plan.GardenId);
        return written is WriteOutcome.Failed failed ? new(false, failed.Sentence) : new(true, "Written down.");
    }
}

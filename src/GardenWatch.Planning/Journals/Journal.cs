using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Journals;

/// <summary>
/// What one garden's gardener has written down, as far as it was recorded by some instant and not taken back by then;
/// oldest first.
/// </summary>
public sealed class Journal
{
    private readonly ILookup<(string Subject, JobKind Kind), (int Time, JournalEntry Entry)> _answers;

    private Journal(ImmutableArray<JournalEntry> entries)
    {
        Entries = entries;
        _answers = entries
            .Select(entry => (Id: entry.JobId is { } text && JobId.TryParse(text, out var id) ? id : null, Entry: entry))
            .Where(answer => answer.Id is not null)
            .ToLookup(
                answer => (answer.Id!.Value.SubjectId, answer.Id.Value.Kind),
                answer => (answer.Id!.Value.Time, answer.Entry));
    }

    public ImmutableArray<JournalEntry> Entries { get; }

    public static Journal Empty { get; } = new([]);

    /// <summary>Only what had been recorded by an instant, so that a look back sees what was known then.</summary>
    public static Journal AsOf(IEnumerable<JournalEntry> entries, Instant asOf)
    {
        var recorded = entries.Where(entry => entry.RecordedAt <= asOf).OrderBy(entry => entry.RecordedAt).ToList();
        var takenBack = recorded.Select(entry => entry.Undoes).OfType<string>().ToHashSet(StringComparer.Ordinal);
        return new([.. recorded.Where(entry => entry.Kind != EntryKind.Undo && !(entry.Id is { } id && takenBack.Contains(id)))]);
    }

    /// <summary>The entry by which a job was done, skipped or put off last; null when there is none.</summary>
    public JournalEntry? Of(JobId job, EntryKind kind) => Last(job.SubjectId, job.Kind, job.Time, kind);

    /// <summary>What a person, or where null anyone, recorded last, all of it that came together; empty when there is nothing.</summary>
    public ImmutableArray<JournalEntry> LastRecorded(string? person)
    {
        var own = Entries.Where(entry => entry.Id is not null && entry.Origin != AnswerOrigin.Import
            && (person is null || string.Equals(entry.Person, person, StringComparison.OrdinalIgnoreCase))).ToList();
        return own.Count == 0 ? [] : [.. own.Where(entry => entry.Batch == own[^1].Batch)];
    }

    /// <summary>The date on which a job was done; null while it was not.</summary>
    public LocalDate? DoneOn(string subjectId, JobKind kind, int time) =>
        Last(subjectId, kind, time, EntryKind.Done)?.Date;

    public bool Skipped(string subjectId, JobKind kind, int time) =>
        Last(subjectId, kind, time, EntryKind.Skip) is not null;

    /// <summary>The date before which the gardener does not want to be asked again.</summary>
    public LocalDate? PutOffUntil(string subjectId, JobKind kind, int time) =>
        Last(subjectId, kind, time, EntryKind.Later)?.Until;

    /// <summary>How often a job of a subject was closed, by doing or by skipping it, before a date.</summary>
    public int TimesClosed(string subjectId, JobKind kind, LocalDate before) =>
        _answers[(subjectId, kind)]
            .Where(answer => answer.Entry.Kind is EntryKind.Done or EntryKind.Skip && answer.Entry.Date < before)
            .Select(answer => answer.Time)
            .Distinct()
            .Count();

    /// <summary>The last date on which a job of a subject was done, whichever time it was.</summary>
    public LocalDate? LastDone(string subjectId, JobKind kind) => LastOf(subjectId, kind, EntryKind.Done);

    /// <summary>The last date on which a job of a subject was skipped.</summary>
    public LocalDate? LastSkipped(string subjectId, JobKind kind) => LastOf(subjectId, kind, EntryKind.Skip);

    private LocalDate? LastOf(string subjectId, JobKind kind, EntryKind entryKind) =>
        _answers[(subjectId, kind)]
            .Where(answer => answer.Entry.Kind == entryKind)
            .Select(answer => (LocalDate?)answer.Entry.Date)
            .Max();

    private JournalEntry? Last(string subjectId, JobKind kind, int time, EntryKind entryKind) =>
        _answers[(subjectId, kind)]
            .Where(answer => answer.Time == time && answer.Entry.Kind == entryKind)
            .Select(answer => answer.Entry)
            .LastOrDefault();
}

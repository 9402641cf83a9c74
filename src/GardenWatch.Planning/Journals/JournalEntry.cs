using NodaTime;

namespace GardenWatch.Planning.Journals;

public enum EntryKind { Done, Skip, Later, Note, Reading, Picked }

/// <summary>What was done, seen, measured or picked.</summary>
/// <param name="Date">The local date it is about.</param>
/// <param name="RecordedAt">When it was written down; a look back as of an instant sees only what was recorded by then.</param>
/// <param name="JobId">The job it answers; null for a note or reading of its own.</param>
/// <param name="SubjectId">Planting, chore or bed it is about, if any.</param>
/// <param name="Until">For <see cref="EntryKind.Later"/>: the first local date on which to ask again.</param>
/// <param name="Text">The gardener's own words.</param>
public sealed record JournalEntry(
    EntryKind Kind, LocalDate Date, Instant RecordedAt, string? JobId, string? SubjectId, LocalDate? Until, string? Text);

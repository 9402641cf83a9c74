using NodaTime;

namespace GardenWatch.Planning.Journals;

public enum EntryKind
{
    Done,
    Skip,
    Later,
    Note,
    Reading,
    Picked,
    /// <summary>Takes another entry back; that one stays in the records.</summary>
    Undo,
    /// <summary>Readings of its measure and bed from before it correct nothing any more.</summary>
    Reset,
}

/// <summary>Which way an entry came into the journal.</summary>
public enum AnswerOrigin { Command, Mail, Page, Import }

/// <summary>What was done, seen, measured or picked.</summary>
/// <param name="Date">The local date it is about.</param>
/// <param name="RecordedAt">When it was written down; a look back as of an instant sees only what was recorded by then.</param>
/// <param name="JobId">The job it answers; null for a note or reading of its own.</param>
/// <param name="SubjectId">Planting, chore or bed it is about, if any.</param>
/// <param name="Until">For <see cref="EntryKind.Later"/>: the first local date on which to ask again.</param>
/// <param name="Text">The gardener's own words.</param>
public sealed record JournalEntry(
    EntryKind Kind, LocalDate Date, Instant RecordedAt, string? JobId, string? SubjectId, LocalDate? Until, string? Text)
{
    /// <summary>Its own for good, in every file it is copied to; null before it is stored.</summary>
    public string? Id { get; init; }

    /// <summary>Who said it; null when nobody was named, as at the terminal.</summary>
    public string? Person { get; init; }

    /// <summary>Null for entries of before this was kept.</summary>
    public AnswerOrigin? Origin { get; init; }

    public string? BedId { get; init; }

    public string? SowingId { get; init; }

    /// <summary>What it is about, as it was called then: a planting that has left the plan keeps its name here.</summary>
    public string? About { get; init; }

    /// <summary>For <see cref="EntryKind.Undo"/>: the entry taken back.</summary>
    public string? Undoes { get; init; }

    /// <summary>For <see cref="EntryKind.Reading"/> and <see cref="EntryKind.Reset"/>.</summary>
    public ReadingKind? Measure { get; init; }

    /// <summary>°C or mm, by <see cref="Measure"/>.</summary>
    public double? Value { get; init; }

    public double? DepthMetres { get; init; }

    /// <summary>What the model said of the same hour and place when the reading was recorded, in the same unit; null when it did not know.</summary>
    public double? Modelled { get; init; }

    /// <summary>For the low of a night: how much of a clear, calm night its hour was, 0 to 1.</summary>
    public double? ClearAndCalm { get; init; }

    public double? Grams { get; init; }

    public double? Pieces { get; init; }

    /// <summary>Names of files in the pictures' folder, parted by spaces; null for none.</summary>
    public string? Pictures { get; init; }

    /// <summary>The part of <see cref="Id"/> that entries share which were recorded with one another.</summary>
    public string? Batch => Id?.LastIndexOf('-') is > 0 and var hyphen ? Id[..hyphen] : Id;

    /// <summary>The how-manieth entry of one recording.</summary>
    public static string IdOf(string batch, int number) => $"{batch}-{number}";
}

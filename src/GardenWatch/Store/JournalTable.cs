using GardenWatch.Planning.Journals;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>The journal is only added to; the file itself refuses to change or delete an entry.</summary>
public sealed class JournalTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO journal (garden, kind, date, recorded_at, job, subject, until, text, source)
        VALUES ($garden, $kind, $date, $recorded, $job, $subject, $until, $text, $source)
        ON CONFLICT (source) DO NOTHING
        """;

    private const string Select =
        """
        SELECT kind, date, recorded_at, job, subject, until, text FROM journal
        WHERE garden = $garden AND recorded_at <= $asOf AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'journal')
        ORDER BY recorded_at, id
        """;

    /// <param name="source">What brought the entry, for a reply its Message-ID and line: the same source counts once.</param>
    public WriteOutcome Add(string garden, JournalEntry entry, string? source = null) => Add(garden, [(entry, source)]);

    public WriteOutcome Add(string garden, IReadOnlyCollection<(JournalEntry Entry, string? Source)> entries) =>
        connection.Write(transaction => entries.Sum(added => transaction.Run(
            Insert, ("$garden", garden), ("$kind", Word(added.Entry.Kind)), ("$date", StoreText.Of(added.Entry.Date)),
            ("$recorded", StoreText.Of(added.Entry.RecordedAt)), ("$job", added.Entry.JobId), ("$subject", added.Entry.SubjectId),
            ("$until", added.Entry.Until is { } until ? StoreText.Of(until) : null), ("$text", added.Entry.Text),
            ("$source", added.Source))));

    /// <summary>What had been written down by an instant, in that order.</summary>
    public IReadOnlyList<JournalEntry> AsOf(string garden, Instant asOf) =>
        connection.Read(Select, Entry, ("$garden", garden), ("$asOf", StoreText.Of(asOf)));

    private static JournalEntry Entry(SqliteDataReader row) => new(
        Kind(row.GetString(0)), StoreText.ToDate(row.GetString(1)), StoreText.ToInstant(row.GetString(2)),
        Text(row, 3), Text(row, 4), Text(row, 5) is { } until ? StoreText.ToDate(until) : null, Text(row, 6));

    private static string? Text(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static string Word(EntryKind kind) => kind switch
    {
        EntryKind.Done => "done",
        EntryKind.Skip => "skip",
        EntryKind.Later => "later",
        EntryKind.Note => "note",
        EntryKind.Reading => "reading",
        EntryKind.Picked => "picked",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A new kind of entry needs its word in the file."),
    };

    private static EntryKind Kind(string word) => word switch
    {
        "done" => EntryKind.Done,
        "skip" => EntryKind.Skip,
        "later" => EntryKind.Later,
        "note" => EntryKind.Note,
        "reading" => EntryKind.Reading,
        "picked" => EntryKind.Picked,
        _ => throw new InvalidDataException($"The journal holds an entry of the unknown kind \"{word}\"."),
    };
}

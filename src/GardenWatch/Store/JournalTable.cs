using GardenWatch.Planning.Journals;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>The journal is only added to; the file itself refuses to change or delete an entry.</summary>
public sealed class JournalTable(StoreConnection connection)
{
    // A job is done, or skipped, once: of two who say so at the same moment the first is recorded. What was taken back does not count.
    private const string Insert =
        """
        INSERT INTO journal (garden, kind, date, recorded_at, job, subject, until, text, source, entry, person, origin, bed, sowing, about,
            undoes, measure, value, depth_m, modelled, clear_and_calm, grams, pieces, pictures)
        SELECT $garden, $kind, $date, $recorded, $job, $subject, $until, $text, $source, coalesce($entry, lower(hex(randomblob(8))) || '-1'), $person, $origin, $bed, $sowing, $about,
            $undoes, $measure, $value, $depth, $modelled, $clear, $grams, $pieces, $pictures
        WHERE NOT ($once AND EXISTS (
            SELECT 1 FROM journal AS before WHERE garden = $garden AND job = $job AND kind = $kind
                AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'journal')
                AND NOT EXISTS (SELECT 1 FROM journal WHERE garden = $garden AND undoes = before.entry
                    AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'journal'))))
        ON CONFLICT DO NOTHING
        """;

    private const string Select =
        """
        SELECT kind, date, recorded_at, job, subject, until, text, entry, person, origin, bed, sowing, about,
            undoes, measure, value, depth_m, modelled, clear_and_calm, grams, pieces, pictures
        FROM journal
        WHERE garden = $garden AND recorded_at <= $asOf AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'journal')
        ORDER BY recorded_at, id
        """;

    /// <param name="source">What brought the entry, for a reply its Message-ID and line: the same source counts once.</param>
    public WriteOutcome Add(string garden, JournalEntry entry, string? source = null) => Add(garden, [(entry, source)]);

    public WriteOutcome Add(string garden, IReadOnlyCollection<(JournalEntry Entry, string? Source)> entries) =>
        connection.Write(transaction => entries.Sum(added => Add(transaction, garden, added.Entry, added.Source)));

    /// <summary>What had been written down by an instant, in that order; with what was taken back, and what takes it back.</summary>
    public IReadOnlyList<JournalEntry> AsOf(string garden, Instant asOf) =>
        connection.Read(Select, Entry, ("$garden", garden), ("$asOf", StoreText.Of(asOf)));

    /// <summary>Gives 0 when the entry, its source, or the same word on its job was there before.</summary>
    /// <param name="once">A job's done and skip count once.</param>
    internal static int Add(StoreConnection.Transaction transaction, string garden, JournalEntry entry, string? source = null, bool once = false) =>
        transaction.Run(
            Insert, ("$garden", garden), ("$kind", EntryWords.Of(entry.Kind)), ("$date", StoreText.Of(entry.Date)),
            ("$recorded", StoreText.Of(entry.RecordedAt)), ("$job", entry.JobId), ("$subject", entry.SubjectId),
            ("$until", entry.Until is { } until ? StoreText.Of(until) : null), ("$text", entry.Text), ("$source", source),
            ("$entry", entry.Id), ("$person", entry.Person), ("$origin", entry.Origin is { } origin ? EntryWords.Of(origin) : null),
            ("$bed", entry.BedId), ("$sowing", entry.SowingId), ("$about", entry.About), ("$undoes", entry.Undoes),
            ("$measure", entry.Measure is { } measure ? EntryWords.Of(measure) : null), ("$value", entry.Value), ("$depth", entry.DepthMetres),
            ("$modelled", entry.Modelled), ("$clear", entry.ClearAndCalm), ("$grams", entry.Grams), ("$pieces", entry.Pieces),
            ("$pictures", entry.Pictures), ("$once", once && entry is { JobId: not null, Kind: EntryKind.Done or EntryKind.Skip }));

    private static JournalEntry Entry(SqliteDataReader row) => new(
        EntryWords.Kind(row.GetString(0)) ?? throw new InvalidDataException($"The journal holds an entry of the unknown kind \"{row.GetString(0)}\"."),
        StoreText.ToDate(row.GetString(1)), StoreText.ToInstant(row.GetString(2)),
        Text(row, 3), Text(row, 4), Text(row, 5) is { } until ? StoreText.ToDate(until) : null, Text(row, 6))
    {
        Id = Text(row, 7),
        Person = Text(row, 8),
        Origin = Text(row, 9) is { } origin ? EntryWords.Origin(origin) : null,
        BedId = Text(row, 10),
        SowingId = Text(row, 11),
        About = Text(row, 12),
        Undoes = Text(row, 13),
        Measure = Text(row, 14) is { } measure ? EntryWords.Measure(measure) : null,
        Value = Number(row, 15),
        DepthMetres = Number(row, 16),
        Modelled = Number(row, 17),
        ClearAndCalm = Number(row, 18),
        Grams = Number(row, 19),
        Pieces = Number(row, 20),
        Pictures = Text(row, 21),
    };

    private static string? Text(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static double? Number(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);
}

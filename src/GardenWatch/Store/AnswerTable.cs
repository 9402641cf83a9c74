using GardenWatch.Planning.Journals;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What came in at once and what was made of it.</summary>
/// <param name="Source">A mail's Message-ID; null where nothing can come twice.</param>
/// <param name="Understood">Sentences.</param>
/// <param name="Asked">What was not understood, as sentences.</param>
/// <param name="AcknowledgedAt">When its sender was told; null while that is owed.</param>
public sealed record AnswerRow(
    long Id, string Garden, string Batch, string? Source, AnswerOrigin Origin, string? Person, Instant RecordedAt,
    IReadOnlyList<string> Understood, IReadOnlyList<string> Asked, Instant? AcknowledgedAt);

/// <summary>Answers with what was understood of them: kept with their entries, so that neither is there without the other.</summary>
public sealed class AnswerTable(StoreConnection connection)
{
    private const string Columns = "id, garden, batch, source, origin, person, recorded_at, understood, asked, acknowledged_at";

    private const string Insert =
        """
        INSERT INTO answer (garden, batch, source, origin, person, recorded_at, understood, asked, acknowledged_at)
        VALUES ($garden, $batch, $source, $origin, $person, $recorded, $understood, $asked, $acknowledged)
        ON CONFLICT (source) DO NOTHING
        """;

    private const string SelectBySource = $"SELECT {Columns} FROM answer WHERE source = $source";

    private const string SelectOwed = $"SELECT {Columns} FROM answer WHERE acknowledged_at IS NULL AND recorded_at <= $asOf ORDER BY id";

    private const string SetAcknowledged = "UPDATE answer SET acknowledged_at = $now WHERE id = $id AND acknowledged_at IS NULL";

    /// <summary>
    /// The answer and its entries, all or nothing. Unchanged when its source was there before. An entry whose job was
    /// answered alike before is left out. A mail is marked as read with it: what is marked is written, and what is written is
    /// marked, so that none is lost and none comes twice.
    /// </summary>
    /// <param name="mail">That brought it; null for another way.</param>
    public WriteOutcome Add(AnswerRow answer, IReadOnlyCollection<JournalEntry> entries, TakenMail? mail = null)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var outcome = connection.Write(transaction =>
        {
            if (mail is not null)
                ReplyTable.AddTaken(transaction, mail, answer.RecordedAt);
            int added = transaction.Run(
                Insert, ("$garden", answer.Garden), ("$batch", answer.Batch), ("$source", answer.Source), ("$origin", EntryWords.Of(answer.Origin)),
                ("$person", answer.Person), ("$recorded", StoreText.Of(answer.RecordedAt)), ("$understood", string.Join('\n', answer.Understood)),
                ("$asked", string.Join('\n', answer.Asked)), ("$acknowledged", answer.AcknowledgedAt is { } at ? StoreText.Of(at) : null));
            Failpoints.Hit(Failpoints.MidAnswer);
            if (added == 0)
                return 0;
            foreach (var entry in entries)
                JournalTable.Add(transaction, answer.Garden, entry, once: true);
            return added;
        });
        Failpoints.Hit(Failpoints.AfterAnswer);
        return outcome;
    }

    public AnswerRow? Find(string source) => connection.Read(SelectBySource, Row, ("$source", source)).FirstOrDefault();

    /// <summary>Those whose senders were not told yet what was understood, oldest first.</summary>
    public IReadOnlyList<AnswerRow> Owed(Instant asOf) => connection.Read(SelectOwed, Row, ("$asOf", StoreText.Of(asOf)));

    public WriteOutcome MarkAcknowledged(long id, Instant now) => connection.Write(SetAcknowledged, ("$id", id), ("$now", StoreText.Of(now)));

    private static AnswerRow Row(SqliteDataReader row) => new(
        row.GetInt64(0), row.GetString(1), row.GetString(2), row.IsDBNull(3) ? null : row.GetString(3),
        EntryWords.Origin(row.GetString(4)) ?? throw new InvalidDataException($"An answer came by the unknown way \"{row.GetString(4)}\"."),
        row.IsDBNull(5) ? null : row.GetString(5), StoreText.ToInstant(row.GetString(6)), Lines(row.GetString(7)), Lines(row.GetString(8)),
        row.IsDBNull(9) ? null : StoreText.ToInstant(row.GetString(9)));

    private static string[] Lines(string text) => text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
}

using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Planning.Journals;

/// <summary>An entry of a table with the garden it is of.</summary>
public readonly record struct TabledEntry(string Garden, JournalEntry Entry);

/// <summary>The journal as a table that outlives this program: what is written is read back the same.</summary>
public static class JournalCsv
{
    private static readonly InstantPattern Instants = InstantPattern.ExtendedIso;

    private static readonly (string Name, Func<string, JournalEntry, string?> Of)[] Columns =
    [
        ("id", (_, entry) => entry.Id),
        ("garden", (garden, _) => garden),
        ("kind", (_, entry) => EntryWords.Of(entry.Kind)),
        ("date", (_, entry) => LocalDatePattern.Iso.Format(entry.Date)),
        ("recorded_at", (_, entry) => Instants.Format(entry.RecordedAt)),
        ("person", (_, entry) => entry.Person),
        ("origin", (_, entry) => entry.Origin is { } origin ? EntryWords.Of(origin) : null),
        ("job", (_, entry) => entry.JobId),
        ("subject", (_, entry) => entry.SubjectId),
        ("bed", (_, entry) => entry.BedId),
        ("sowing", (_, entry) => entry.SowingId),
        ("about", (_, entry) => entry.About),
        ("until", (_, entry) => entry.Until is { } until ? LocalDatePattern.Iso.Format(until) : null),
        ("text", (_, entry) => entry.Text),
        ("undoes", (_, entry) => entry.Undoes),
        ("measure", (_, entry) => entry.Measure is { } measure ? EntryWords.Of(measure) : null),
        ("value", (_, entry) => Number(entry.Value)),
        ("depth_m", (_, entry) => Number(entry.DepthMetres)),
        ("modelled", (_, entry) => Number(entry.Modelled)),
        ("clear_and_calm", (_, entry) => Number(entry.ClearAndCalm)),
        ("grams", (_, entry) => Number(entry.Grams)),
        ("pieces", (_, entry) => Number(entry.Pieces)),
        ("pictures", (_, entry) => entry.Pictures),
    ];

    /// <param name="entries">With their ids, and all of them: what was taken back, and what takes it back.</param>
    public static string Write(string garden, IEnumerable<JournalEntry> entries)
    {
        var text = new StringBuilder(CsvRecords.Write(Columns.Select(column => column.Name)));
        foreach (var entry in entries)
            text.Append(CsvRecords.Write(Columns.Select(column => column.Of(garden, entry))));
        return text.ToString();
    }

    /// <summary>
    /// The entries of a table, each under its columns' names in any order; a column that is not there is empty. What can't be
    /// read is left out and named with its line.
    /// </summary>
    /// <param name="garden">Of rows that name none.</param>
    /// <param name="now">When rows that do not say it were recorded; later ones are refused.</param>
    public static (IReadOnlyList<TabledEntry> Entries, IReadOnlyList<string> Faults) Read(string text, string garden, Instant now)
    {
        text = text.TrimStart('\uFEFF');
        int headEnd = text.AsSpan().IndexOfAny('\r', '\n');
        string[] head = [.. (headEnd < 0 ? text : text[..headEnd]).Split(',').Select(name => name.Trim().Trim('"').ToLowerInvariant())];
        foreach (string needed in (ReadOnlySpan<string>)["kind", "date"])
            if (!head.Contains(needed))
                return ([], [$"Line 1 names no column `{needed}`; the first line must name the columns, as `gardenwatch journal export` writes them."]);
        var entries = new List<TabledEntry>();
        var faults = new List<string>();
        foreach (var record in CsvRecords.Read(text, head.Length).Skip(1))
        {
            string? fault = record.Fault;
            if (record.Fields is { } fields)
            {
                var row = new Row(head, fields);
                if (EntryOf(row, now) is { } entry && row.Fault is null)
                {
                    string of = row["garden"] ?? garden;
                    entries.Add(new(of, entry.Id is null ? entry with { Id = IdOf(of, fields) } : entry));
                }
                fault = row.Fault;
            }
            if (fault is not null)
                faults.Add($"Line {record.Line} {fault}; it is left out.");
        }
        return (entries, faults);
    }

    private static JournalEntry? EntryOf(Row row, Instant now)
    {
        var kind = row.Meant("kind", EntryWords.Kind);
        var date = row.Date("date");
        var recordedAt = row["recorded_at"] is { } recorded ? row.Parsed("recorded_at", Instants.Parse(recorded)) : now;
        if (recordedAt > now)
            row.Wrong("was recorded after now");
        if (kind is null || date is null || recordedAt is null)
        {
            row.Wrong($"has no {(kind is null ? "kind" : "date")}");
            return null;
        }
        if (kind == EntryKind.Undo && row["undoes"] is null)
            row.Wrong("takes back nothing: `undoes` is empty");
        if (kind == EntryKind.Reading && (row["measure"] is null || row["value"] is null))
            row.Wrong("is a reading without measure or value");
        return new(kind.Value, date.Value, recordedAt.Value, row["job"], row["subject"], row.Date("until"), row["text"])
        {
            Id = row["id"],
            Person = row["person"],
            Origin = row["id"] is null ? AnswerOrigin.Import : row.Meant("origin", EntryWords.Origin),
            BedId = row["bed"],
            SowingId = row["sowing"],
            About = row["about"],
            Undoes = row["undoes"],
            Measure = row.Meant("measure", EntryWords.Measure),
            Value = row.Number("value"),
            DepthMetres = row.Number("depth_m"),
            Modelled = row.Number("modelled"),
            ClearAndCalm = row.Number("clear_and_calm"),
            Grams = row.Number("grams"),
            Pieces = row.Number("pieces"),
            Pictures = row["pictures"],
        };
    }

    /// <summary>Made of the row itself, so that the same row taken in twice is one entry.</summary>
    private static string IdOf(string garden, string[] fields) =>
        JournalEntry.IdOf(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\u001F', [garden, .. fields]))).AsSpan(0, 8)), 1);

    private static string? Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>One record by its columns' names; keeps the first thing that is wrong with it.</summary>
    private sealed class Row(string[] head, string[] fields)
    {
        public string? Fault { get; private set; }

        public string? this[string column] => Array.IndexOf(head, column) is >= 0 and var at && fields[at].Length > 0 ? fields[at] : null;

        public void Wrong(string fault) => Fault ??= fault;

        public T? Meant<T>(string column, Func<string, T?> meaning) where T : struct
        {
            if (this[column] is not { } word)
                return null;
            var meant = meaning(word);
            if (meant is null)
                Wrong($"has the {column} `{word}`, which is none");
            return meant;
        }

        public LocalDate? Date(string column) => this[column] is { } text ? Parsed(column, LocalDatePattern.Iso.Parse(text)) : null;

        public double? Number(string column)
        {
            if (this[column] is not { } text)
                return null;
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value))
                return value;
            Wrong($"has the {column} `{text}`, which is no number");
            return null;
        }

        public T? Parsed<T>(string column, ParseResult<T> result) where T : struct
        {
            if (result.Success)
                return result.Value;
            Wrong($"has the {column} `{this[column]}`, which is not written as 2026-04-21{(typeof(T) == typeof(Instant) ? "T06:00:00Z" : "")}");
            return null;
        }
    }
}

using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using GardenWatch.Messages.Calendars;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What calendars were told before. Entries that went stay here: if they come back, their count goes on.</summary>
public sealed class CalendarTable(StoreConnection connection)
{
    private sealed record Row(string Key, string Hours, bool Tentative, string Told, int Sequence, Instant ModifiedAt);

    private const string Upsert =
        """
        INSERT INTO calendar_entry (garden, key, hours, tentative, told, sequence, modified_at)
        VALUES ($garden, $key, $hours, $tentative, $told, $sequence, $modified)
        ON CONFLICT (garden, key) DO UPDATE SET
            hours = $hours, tentative = $tentative, told = $told, sequence = $sequence, modified_at = $modified
        """;

    private const string Select =
        "SELECT key, hours, tentative, told, sequence, modified_at FROM calendar_entry WHERE garden = $garden";

    /// <summary>
    /// The entries with what changed since they were last told, which is stored. On a full disk they are told all the same.
    /// </summary>
    public ImmutableArray<RevisedEntry> Revised(string garden, IReadOnlyCollection<CalendarEntry> entries, Instant now)
    {
        ArgumentNullException.ThrowIfNull(entries);
        var before = connection.Read(
            Select,
            row => new Row(row.GetString(0), row.GetString(1), row.GetInt64(2) == 1, row.GetString(3), row.GetInt32(4), StoreText.ToInstant(row.GetString(5))),
            ("$garden", garden)).ToDictionary(row => row.Key, StringComparer.Ordinal);
        var revised = entries.Select(entry => Revised(entry, before.GetValueOrDefault(entry.Key), now)).ToImmutableArray();
        var changed = revised.Where(entry => !(before.TryGetValue(entry.Entry.Key, out var row) && row.Told == Told(entry.Entry))).ToList();
        if (changed.Count > 0)
            _ = connection.Write(transaction => changed.Sum(entry => transaction.Run(
                Upsert, ("$garden", garden), ("$key", entry.Entry.Key), ("$hours", entry.Entry.When.ToString()),
                ("$tentative", entry.Entry.Tentative ? 1 : 0), ("$told", Told(entry.Entry)), ("$sequence", entry.Sequence),
                ("$modified", StoreText.Of(entry.ModifiedAt)))));
        return revised;
    }

    private static RevisedEntry Revised(CalendarEntry entry, Row? before, Instant now)
    {
        if (before is null)
            return new(entry, 0, now);
        // What has begun was told with its true beginning before; each later look would move it up.
        if (entry is { HasBegun: true, When: CalendarTime.Hours hours } && CalendarTime.ReadHours(before.Hours) is { } told && told.From < hours.From && hours.From < told.Until)
            entry = entry with { When = hours with { From = told.From } };
        if (before.Told == Told(entry))
            return new(entry, before.Sequence, before.ModifiedAt);
        bool moved = before.Hours != entry.When.ToString() || before.Tentative != entry.Tentative;
        return new(entry, before.Sequence + (moved ? 1 : 0), now);
    }

    private static string Told(CalendarEntry entry) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(
        string.Join('\n', entry.When, entry.Tentative, entry.Summary, entry.Bed, entry.Description))));
}

using CsCheck;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Tests.Journals;

public sealed class JournalCsvTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 10, 0);

    // Commas, quotes and line ends are what tables break on.
    private static readonly Gen<string?> Words = Gen.String[Gen.Char["ab é“,;\"'\r\n\t=-"], 1, 12].Null();
    private static readonly Gen<double?> Number = Gen.Double[-1e6, 1e6].Nullable();

    private static readonly Gen<JournalEntry> Entry = Gen.Select(
        Gen.Select(Gen.Enum<EntryKind>(), Gen.Int[0, 9000], Gen.Long[0, 1_000_000_000]), Gen.Select(Words, Words, Words, Words), Gen.Select(Number, Number, Number),
        Gen.Select(Gen.Enum<AnswerOrigin>().Nullable(), Gen.Enum<ReadingKind>(), Gen.Guid),
        (what, words, numbers, more) => new JournalEntry(
            what.Item1, new LocalDate(2001, 1, 1).PlusDays(what.Item2), Now - Duration.FromMilliseconds(what.Item3), words.Item1, words.Item2,
            what.Item2 % 2 == 0 ? new LocalDate(2026, 4, 1) : null, words.Item3)
        {
            Id = JournalEntry.IdOf(more.Item3.ToString("N"), 1),
            About = words.Item4,
            Person = words.Item1,
            Origin = more.Item1,
            Undoes = what.Item1 == EntryKind.Undo ? "x-1" : null,
            Measure = more.Item2,
            Value = numbers.Item1 ?? 1,
            Modelled = numbers.Item2,
            Grams = numbers.Item3,
            Pictures = "0a.jpg 1b.jpg",
        });

    [Fact]
    public void What_is_written_is_read_back_the_same() => Entry.Array[0, 12].Sample(entries =>
    {
        var (read, faults) = JournalCsv.Read(JournalCsv.Write("mill-bank", entries), "another", Now);
        Assert.Empty(faults);
        Assert.Equal(entries.Select(entry => new TabledEntry("mill-bank", entry)), read);
    }, iter: 300);

    [Fact]
    public void A_damaged_row_costs_itself_alone_and_is_named()
    {
        string table = "kind,date,text\r\n"
            + "note,2026-04-21,first\r\n"
            + "note,2026-04-22,\"never closed\r\n"
            + "note,2026-04-23,\"two\r\nlines\"\r\n"
            + "dance,2026-04-24,what\r\n"
            + "note,yesterday,when\r\n"
            + "note,2026-04-25\r\n"
            + "note,2026-04-26,\"shut\" badly\r\n"
            + "note,2026-04-27,last";

        var (read, faults) = JournalCsv.Read(table, "mill-bank", Now);

        Assert.Equal(["first", "two\r\nlines", "last"], read.Select(row => row.Entry.Text));
        Assert.All(read, row => Assert.Equal(("mill-bank", AnswerOrigin.Import, Now), (row.Garden, row.Entry.Origin!.Value, row.Entry.RecordedAt)));
        Assert.Equal(["Line 3", "Line 6", "Line 7", "Line 8", "Line 9"], faults.Select(fault => fault[..6]));
    }

    [Fact]
    public void The_same_row_of_a_foreign_table_is_the_same_entry_each_time()
    {
        const string Table = "date,kind,text\nnot-needed-order,,\n2026-04-21,note,slugs\n";
        string Id() => Assert.Single(JournalCsv.Read(Table, "mill-bank", Now).Entries).Entry.Id!;

        Assert.Equal(Id(), Id());
        Assert.StartsWith("Line 1", Assert.Single(JournalCsv.Read("a,b\n1,2", "mill-bank", Now).Faults), StringComparison.Ordinal);
        Assert.Contains("after now", Assert.Single(JournalCsv.Read("kind,date,recorded_at\nnote,2027-01-01,2027-01-01T00:00:00Z", "mill-bank", Now).Faults), StringComparison.Ordinal);
    }

    [Fact]
    public void No_text_at_all_breaks_the_reading() =>
        Gen.String[Gen.Char["kindate,\"\r\n1a"], 0, 60].Sample(text => JournalCsv.Read("kind,date\n" + text, "mill-bank", Now));
}

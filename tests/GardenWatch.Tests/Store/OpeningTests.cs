using System.Text;
using GardenWatch.Store;
using Microsoft.Data.Sqlite;

namespace GardenWatch.Tests.Store;

public sealed class OpeningTests : StoreCase
{
    [Fact]
    public void A_new_folder_gets_a_file_that_only_its_owner_reads()
    {
        using var store = Open();

        Assert.True(store.Answers());
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Folder.Database));
    }

    [Fact]
    public void Every_commit_is_on_the_disk_before_it_counts()
    {
        using (Open())
        {
        }
        using var store = Open();

        Assert.Equal("wal", store.Connection.Read("PRAGMA journal_mode", row => row.GetString(0))[0]);
        const long full = 2;
        Assert.Equal(full, store.Connection.Read("PRAGMA synchronous", row => row.GetInt64(0))[0]);
        Assert.Equal(1, store.Connection.Read("PRAGMA foreign_keys", row => row.GetInt64(0))[0]);
    }

    [Fact]
    public void A_second_run_on_one_folder_is_refused_and_a_command_is_not()
    {
        using var first = Open();

        var refused = Assert.IsType<StoreOutcome.InUse>(GardenStore.Open(Data.Path, StoreUse.Run, Morning));
        Assert.Contains(Data.Path, refused.Sentence, StringComparison.Ordinal);

        using var command = Open(StoreUse.Command);
        Assert.True(command.Outbox.Add(Digest()).IsWritten);
        Assert.Single(first.Outbox.Due(Morning));
    }

    [Fact]
    public void The_folder_is_free_again_when_the_first_run_has_ended()
    {
        Open().Dispose();

        Open().Dispose();
    }

    [Fact]
    public void A_file_of_a_later_version_is_refused_untouched()
    {
        Open().Dispose();
        Execute("PRAGMA user_version = 99");
        byte[] before = File.ReadAllBytes(Folder.Database);

        var refused = Assert.IsType<StoreOutcome.Newer>(GardenStore.Open(Data.Path, StoreUse.Run, Morning));

        Assert.Contains("99", refused.Sentence, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Folder.Database));
    }

    [Fact]
    public void An_older_file_is_copied_before_it_is_brought_up_to_date()
    {
        using (var store = Open())
            store.Outbox.Add(Digest());
        var later = new Schema([.. Schema.Shipped.Scripts, "CREATE TABLE added (id INTEGER PRIMARY KEY) STRICT;"]);

        using (var store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Folder, StoreUse.Run, Morning, later)).Store)
            Assert.Single(store.Outbox.Due(Morning));

        Assert.Equal(Schema.Shipped.Version + 1, Number(Folder.Database, "PRAGMA user_version"));
        string copy = Assert.Single(Directory.GetFiles(Folder.Backups));
        Assert.Equal(Schema.Shipped.Version, Number(copy, "PRAGMA user_version"));
        Assert.Equal(1, Number(copy, "SELECT count(*) FROM outbox"));
    }

    [Fact]
    public void Entries_of_before_the_journal_was_widened_stay_and_get_an_id()
    {
        var before = new Schema([.. Schema.Shipped.Scripts.Take(3)]);
        using (var old = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Folder, StoreUse.Run, Morning, before)).Store)
        {
            old.Connection.Run("""
                INSERT INTO journal (garden, kind, date, recorded_at, job, subject, until, text, source)
                VALUES ('quarry-lane', 'done', '2027-04-20', '2027-04-20T18:00:00.000Z', 'quarry-lane/tomato/cover/1', 'tomato', NULL, NULL, 'mail-1'),
                    ('quarry-lane', 'note', '2027-04-20', '2027-04-20T19:00:00.000Z', NULL, NULL, NULL, 'slugs', NULL)
                """);
        }

        using var store = Open();

        var entries = store.Journal.AsOf("quarry-lane", Morning);
        Assert.Equal([("tomato", null), (null, "slugs")], entries.Select(entry => (entry.SubjectId, entry.Text)));
        Assert.Equal(2, entries.Select(entry => Assert.IsType<string>(entry.Id)).Distinct().Count());
        Assert.Throws<SqliteException>(() => store.Connection.Run("UPDATE journal SET text = 'other'"));
        Assert.Throws<SqliteException>(() => store.Connection.Run("DELETE FROM journal"));
    }

    [Fact]
    public void A_script_that_fails_half_way_leaves_the_file_as_it_was()
    {
        Open().Dispose();
        var broken = new Schema([.. Schema.Shipped.Scripts, "CREATE TABLE half (id INTEGER); SELECT no_such_function();"]);

        Assert.Throws<SqliteException>(() => GardenStore.Open(Folder, StoreUse.Run, Morning, broken));

        Assert.Equal(Schema.Shipped.Version, Number(Folder.Database, "PRAGMA user_version"));
        Assert.Equal(0, Number(Folder.Database, "SELECT count(*) FROM sqlite_schema WHERE name = 'half'"));
        Open().Dispose();
    }

    [Fact]
    public void Another_programs_database_is_left_alone()
    {
        Execute("CREATE TABLE theirs (id INTEGER)");

        Assert.IsType<StoreOutcome.Unusable>(GardenStore.Open(Data.Path, StoreUse.Run, Morning));

        Assert.Equal(1, Number(Folder.Database, "SELECT count(*) FROM sqlite_schema"));
    }

    [Theory]
    [InlineData("text")]
    [InlineData("first page")]
    [InlineData("middle page")]
    [InlineData("cut")]
    [InlineData("nothing")]
    public void A_damaged_file_is_refused_with_the_way_back(string damage)
    {
        using (var store = Open())
        {
            for (int day = 1; day < 28; day++)
                store.Outbox.Add(Digest(date: $"2027-04-{day:00}") with { Bytes = new byte[20_000] });
            Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(new(2027, 4, 20), elsewhere: null));
        }
        Damage(damage);

        var refused = Assert.IsType<StoreOutcome.Damaged>(GardenStore.Open(Data.Path, StoreUse.Run, Morning));

        Assert.Contains("gardenwatch restore", refused.Sentence, StringComparison.Ordinal);
        Assert.Contains("gardenwatch-2027-04-20.db", refused.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_cannot_be_written_is_told_as_a_sentence()
    {
        string file = Data.Write("in the way", "");

        var refused = Assert.IsType<StoreOutcome.Unusable>(GardenStore.Open(Path.Combine(file, "data"), StoreUse.Run, Morning));

        Assert.Contains("data:", refused.Sentence, StringComparison.Ordinal);
    }

    private void Damage(string damage)
    {
        byte[] bytes = File.ReadAllBytes(Folder.Database);
        byte[] noise = Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("garden", 700)));
        switch (damage)
        {
            case "text": bytes = noise; break;
            case "first page": noise.AsSpan(0, 3000).CopyTo(bytes.AsSpan(100)); break;
            // Every second page, so that some table's tree is hit whatever the layout.
            case "middle page":
                for (int page = 2; page < bytes.Length / 4096; page += 2)
                    noise.AsSpan(0, 4096).CopyTo(bytes.AsSpan(page * 4096));
                break;
            case "cut": bytes = bytes[..(bytes.Length / 2)]; break;
            case "nothing": bytes = []; break;
            default: throw new ArgumentOutOfRangeException(nameof(damage), damage, null);
        }
        File.WriteAllBytes(Folder.Database, bytes);
    }

    private void Execute(string sql)
    {
        using var connection = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        connection.Open();
        using var command = new SqliteCommand(sql, connection);
        command.ExecuteNonQuery();
    }

    private static long Number(string file, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Open();
        using var command = new SqliteCommand(sql, connection);
        return (long)command.ExecuteScalar()!;
    }
}

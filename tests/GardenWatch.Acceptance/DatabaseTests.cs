using GardenWatch.Acceptance.Trials;
using Microsoft.Data.Sqlite;

namespace GardenWatch.Acceptance;

/// <summary>One service to a data folder; a damaged database is refused with the way back, a newer one with a sentence.</summary>
public class DatabaseTests
{
    [Fact]
    public async Task A_second_service_on_the_same_data_is_refused()
    {
        await using var house = await TrialHouse.Open();
        await using var first = house.Run(TrialHouse.Morning(12));
        await house.MailsCome(1);

        await using var second = house.Run(TrialHouse.Morning(12));
        var ended = await second.End();

        Assert.Equal(2, ended.Code);
        Assert.Contains("Another `gardenwatch run` is using", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.Equal(0, (await first.Stop()).Code);
        Assert.Single(house.Mail.Kept);
    }

    [Theory]
    [InlineData("overwritten pages")]
    [InlineData("a text")]
    [InlineData("nothing")]
    public async Task A_damaged_database_is_refused_and_the_way_back_works_without_a_second_digest(string damage)
    {
        await using var house = await TrialHouse.Open();
        // The day's backup is made before the digest is sent, so it does not know that it was.
        await house.Live(TrialHouse.Morning(12), mails: 1);
        Damage(house.Records.Database, damage);

        await using (var refused = house.Run(TrialHouse.Morning(12, minutesAfter: 20)))
        {
            var ended = await refused.End();
            Assert.Equal(2, ended.Code);
            Assert.Contains("is damaged. The way back: stop the service and run `gardenwatch restore", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        }
        var today = await house.Command(TrialHouse.Morning(12, minutesAfter: 20), "today");
        Assert.Equal(2, today.WithoutStackTrace().Code);

        string backup = Assert.Single(Directory.GetFiles(Path.Combine(house.Data, "backups")));
        var restored = await house.Command(TrialHouse.Morning(12, minutesAfter: 20), "restore", backup);
        Assert.Equal(0, restored.Code);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 30), mails: 0);
        await house.Live(TrialHouse.Morning(13), mails: 1);
    }

    [Fact]
    public async Task A_backup_made_while_the_service_runs_is_a_way_back()
    {
        await using var house = await TrialHouse.Open();
        string elsewhere = Directory.CreateDirectory(Path.Combine(house.Folder, "stick")).FullName;
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Says("was accepted");
            var made = await house.Command(TrialHouse.Morning(12, minutesAfter: 10), "backup", elsewhere);
            Assert.Equal(0, made.WithoutStackTrace().Code);
            await service.Stop();
        }
        string copy = Assert.Single(Directory.GetFiles(elsewhere));
        Assert.Contains("2026-05-12", copy, StringComparison.Ordinal);
        File.Delete(house.Records.Database);

        Assert.Equal(0, (await house.Command(TrialHouse.Morning(12, minutesAfter: 20), "restore", copy)).WithoutStackTrace().Code);

        Assert.Equal("sent", Assert.Single(house.Records.States()).Value);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 30), mails: 0);
    }

    [Fact]
    public async Task A_backup_that_cannot_be_written_is_said_in_a_sentence_and_leaves_nothing()
    {
        await using var house = await TrialHouse.Open();
        var none = await house.Command(TrialHouse.Morning(12), "backup");
        await house.Live(TrialHouse.Morning(12), mails: 1);

        var onItself = await house.Command(TrialHouse.Morning(12), "backup", house.Records.Database);
        var under = await house.Command(TrialHouse.Morning(12), "backup", Path.Combine(house.PlanFile, "copy.db"));

        Assert.Equal(2, none.WithoutStackTrace().Code);
        Assert.Contains("nothing to copy", none.Errors, StringComparison.Ordinal);
        Assert.Equal(2, onItself.WithoutStackTrace().Code);
        Assert.Equal(1, under.WithoutStackTrace().Code);
        Assert.NotEqual("", under.Errors.Trim());
        Assert.True(house.Records.IsSound());
    }

    [Fact]
    public async Task What_is_no_backup_is_not_put_in_place()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);

        var text = await house.Command(TrialHouse.Morning(12), "restore", house.PlanFile);
        var none = await house.Command(TrialHouse.Morning(12), "restore", Path.Combine(house.Folder, "no.db"));

        Assert.Equal(2, text.WithoutStackTrace().Code);
        Assert.Equal(2, none.WithoutStackTrace().Code);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 10), mails: 0);
    }

    [Fact]
    public async Task A_database_of_a_later_version_is_refused_and_left_as_it_is()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        await Change(house.Records.Database, "PRAGMA user_version = 99");

        await using var service = house.Run(TrialHouse.Morning(13));
        var ended = await service.End();

        Assert.Equal(2, ended.Code);
        Assert.Contains("was written by a later version of this program", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.Equal([["99"]], house.Records.Read("PRAGMA user_version"));
        Assert.Single(house.Records.States());
    }

    [Fact]
    public async Task Another_programs_database_is_left_alone()
    {
        await using var house = await TrialHouse.Open();
        Directory.CreateDirectory(house.Data);
        await Change(house.Records.Database, "CREATE TABLE theirs (x)");

        await using var service = house.Run(TrialHouse.Morning(12));
        var ended = await service.End();

        Assert.Equal(2, ended.Code);
        Assert.Contains("is another program's database", ended.WithoutStackTrace().All, StringComparison.Ordinal);
        Assert.Equal([["theirs"]], house.Records.Read("SELECT name FROM sqlite_schema"));
    }

    private static void Damage(string database, string damage)
    {
        File.Delete(database + "-wal");
        File.Delete(database + "-shm");
        switch (damage)
        {
            case "a text":
                File.WriteAllText(database, string.Join('\n', Enumerable.Repeat("This is no database.", 400)));
                break;
            case "nothing":
                File.WriteAllBytes(database, []);
                break;
            default:
                byte[] bytes = File.ReadAllBytes(database);
                for (int page = 4096; page < bytes.Length; page += 8192)
                    bytes.AsSpan(page, Math.Min(512, bytes.Length - page)).Fill(0xA5);
                File.WriteAllBytes(database, bytes);
                break;
        }
    }

    private static async Task Change(string database, string sql)
    {
        await using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = database, Pooling = false }.ToString());
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using var command = connection.CreateCommand();
        // The tests' own statements, never anybody's words.
#pragma warning disable CA2100
        command.CommandText = sql;
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
    }
}

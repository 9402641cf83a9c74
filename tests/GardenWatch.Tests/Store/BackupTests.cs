using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Store;

public sealed class BackupTests : StoreCase
{
    private static readonly LocalDate Today = new(2027, 4, 21);

    [Fact]
    public void Seven_nights_are_kept_here_and_elsewhere()
    {
        using var elsewhere = new TemporaryFolder();
        using var store = Open();
        for (int night = 0; night < 9; night++)
            Assert.Null(Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(Today.PlusDays(night), elsewhere.Path)).CopyFault);

        var kept = store.Folder.NightlyBackups().Select(Path.GetFileName);
        Assert.Equal(Enumerable.Range(2, 7).Select(night => Backup.NameOf(Today.PlusDays(night))).Reverse(), kept);
        Assert.Equal(kept.Order(), Directory.GetFiles(elsewhere.Path).Select(Path.GetFileName).Order());
    }

    [Fact]
    public void A_missing_second_medium_does_not_spoil_the_backup()
    {
        string file = Data.Write("no folder", "");
        using var store = Open();

        var made = Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(Today, Path.Combine(file, "usb")));

        Assert.True(File.Exists(made.File));
        Assert.Contains("usb", made.CopyFault, StringComparison.Ordinal);
    }

    [Fact]
    public void A_restored_backup_does_not_send_again_what_was_sent_since()
    {
        string backup;
        using (var store = Open())
        {
            store.Outbox.Add(Digest("waiting@example.org"));
            backup = Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(Today, elsewhere: null)).File;
            store.Outbox.Add(Digest());
            foreach (var row in store.Outbox.Due(Morning))
            {
                store.Outbox.TryClaim(row.Id, Morning);
                store.Outbox.MarkSent(row, "250 ok", Morning);
            }
        }

        var restored = Assert.IsType<RestoreOutcome.Restored>(Restore.From(backup, Data.Path, Morning));

        Assert.True(File.Exists(restored.KeptAs));
        using var after = Open();
        Assert.Empty(after.Outbox.Due(Morning));
        Assert.Equal(OutboxState.Sent, after.Outbox.Find(Digest().Key)!.State);
        Assert.IsType<WriteOutcome.Unchanged>(after.Outbox.Add(Digest()));
    }

    [Fact]
    public void A_restore_waits_for_the_service_to_stop()
    {
        using var store = Open();
        string backup = Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(Today, elsewhere: null)).File;

        Assert.Contains("Stop it", Assert.IsType<RestoreOutcome.Refused>(Restore.From(backup, Data.Path, Morning)).Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("not a database at all, but long enough to be taken for one by the look of its size")]
    [InlineData("")]
    public void What_is_no_backup_does_not_replace_the_database(string content)
    {
        using (var store = Open())
            store.Outbox.Add(Digest());
        string wrong = Data.Write("wrong.db", content);

        Assert.IsType<RestoreOutcome.Refused>(Restore.From(wrong, Data.Path, Morning));

        using var after = Open();
        Assert.Single(after.Outbox.Due(Morning));
    }

    [Fact]
    public void A_damaged_database_does_not_push_out_the_good_backups()
    {
        using (var store = Open())
        {
            for (int day = 1; day < 28; day++)
                store.Outbox.Add(Digest(date: $"2027-04-{day:00}") with { Bytes = new byte[20_000] });
            for (int night = 0; night < Backup.Kept; night++)
                store.Backup.Nightly(Today.PlusDays(night), elsewhere: null);
        }
        var before = Folder.NightlyBackups();
        byte[] bytes = File.ReadAllBytes(Folder.Database);
        for (int page = 2; page < bytes.Length / 4096; page += 2)
            bytes.AsSpan(page * 4096, 4096).Fill(0x5A);
        File.WriteAllBytes(Folder.Database, bytes);
        using var damaged = new StoreConnection(Folder);

        var failed = Assert.IsType<BackupOutcome.Failed>(new Backup(Folder, damaged).Nightly(Today.PlusDays(30), elsewhere: null));

        Assert.Equal(StoreFault.Damaged, failed.Fault);
        Assert.Equal(before, Folder.NightlyBackups());
        Assert.Empty(Directory.GetFiles(Folder.Backups, "*.partial"));
    }
}

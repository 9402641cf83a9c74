using GardenWatch.Planning.Journals;
using GardenWatch.Store;
using SkiaSharp;

namespace GardenWatch.Tests.Store;

/// <summary>The journal's pictures go where its entries go.</summary>
public sealed class PictureBackupTests : StoreCase
{
    private static string Kept(GardenStore store, SKColor colour)
    {
        using var bitmap = new SKBitmap(8, 8);
        bitmap.Erase(colour);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 90);
        using var stream = data.AsStream();
        string name = Assert.IsType<PictureOutcome.Kept>(store.JournalPictures.Keep(stream)).File;
        store.Journal.Add("quarry-lane", new JournalEntry(EntryKind.Note, new(2027, 4, 21), Morning, null, null, null, name) { Pictures = name });
        return name;
    }

    [Fact]
    public void A_backup_to_another_folder_brings_them_along_and_a_restore_elsewhere_has_them()
    {
        using var usb = new TemporaryFolder();
        string first, second;
        using (var store = Open())
        {
            first = Kept(store, SKColors.Red);
            var made = Assert.IsType<BackupOutcome.Made>(store.Backup.To(usb.File("one.db")));
            Assert.Equal(usb.File("pictures"), made.Pictures);
            second = Kept(store, SKColors.Blue);
            Assert.IsType<BackupOutcome.Made>(store.Backup.To(usb.File("two.db")));
            // The data folder's own backups have them beside their folder.
            Assert.Null(Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(new(2027, 4, 22), elsewhere: null)).Pictures);
        }
        Assert.Equal(new[] { first, second }.Order(StringComparer.Ordinal), Directory.GetFiles(usb.File("pictures")).Select(Path.GetFileName).Order(StringComparer.Ordinal));

        using var other = new TemporaryFolder();
        Assert.Equal(0, Assert.IsType<RestoreOutcome.Restored>(Restore.From(usb.File("two.db"), other.Path, Morning)).PicturesMissing);
        using var restored = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(other.Path, StoreUse.Run, Morning)).Store;
        Assert.All(restored.Journal.AsOf("quarry-lane", Morning), entry => Assert.NotNull(restored.JournalPictures.PathOf(entry.Pictures!)));
    }

    [Fact]
    public void What_is_missing_is_counted()
    {
        using var usb = new TemporaryFolder();
        using (var store = Open())
        {
            string name = Kept(store, SKColors.Red);
            Assert.IsType<BackupOutcome.Made>(store.Backup.To(usb.File("one.db")));
            File.Delete(Path.Combine(usb.File("pictures"), name));
        }
        using var other = new TemporaryFolder();
        Assert.Equal(1, Assert.IsType<RestoreOutcome.Restored>(Restore.From(usb.File("one.db"), other.Path, Morning)).PicturesMissing);
    }
}

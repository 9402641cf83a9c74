using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Store;

/// <summary>What tests of the store share: a data folder, an instant, a message.</summary>
public abstract class StoreCase : IDisposable
{
    protected static readonly Instant Morning = Instant.FromUtc(2027, 4, 21, 10, 0);

    protected TemporaryFolder Data { get; } = new();

    protected StoreFolder Folder => new(Data.Path);

    protected GardenStore Open(StoreUse use = StoreUse.Run) =>
        Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Data.Path, use, Morning)).Store;

    protected static OutboxDraft Digest(string addressee = "pat@example.org", string date = "2027-04-21") => new(
        new("quarry-lane", addressee, MessageKind.Digest, date), $"digest-{date}-{addressee}", "Wed 21 April", [1, 2, 3, 0, 255],
        Morning, Morning + Duration.FromHours(6), Urgent: false, "1=quarry-lane/tomato/1\n2=quarry-lane/radish/3");

    protected static OutboxDraft Warning(string addressee = "pat@example.org") => new(
        new("quarry-lane", addressee, MessageKind.Warning, "frost 2027-04-21"), $"warning-{addressee}", "Frost tonight", [7, 7],
        Morning, Morning + Duration.FromHours(3), Urgent: true, "1=quarry-lane/tomato/cover/1");

    /// <summary>The file grows no further, as on a full disk.</summary>
    protected static void FillDisk(GardenStore store)
    {
        store.Connection.Read("PRAGMA max_page_count = 1", row => row.GetInt64(0));
        int free = 0;
        while (store.Pulls.Add($"filler {free}", "forecast", Morning, Morning, 1, "example.org", "best_match", new byte[3000]).IsWritten)
            free++;
    }

    public void Dispose()
    {
        Data.Dispose();
        GC.SuppressFinalize(this);
    }
}

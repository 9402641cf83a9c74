using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>The ledger as the store has it.</summary>
public static class StoredLedger
{
    // A zone changed in the plan moves the local date by one at most; a few more cost nothing.
    private static readonly Period LookBack = Period.FromDays(4);

    /// <param name="pullKind">The kind of pull whose age counts, "forecast".</param>
    public static RoundsLedger Of(GardenStore store, string pullKind, Instant now)
    {
        ArgumentNullException.ThrowIfNull(store);
        var since = now.InUtc().Date - LookBack;
        var kept = new HashSet<Kept>();
        foreach (var key in store.Outbox.Made(MessageKind.Digest, since, now))
        {
            if (StoreText.TryDate(key.Occasion) is { } date)
                kept.Add(Kept.Digest(key.Garden, key.Addressee, date));
        }
        foreach (var (garden, kind, date) in store.Ledger.Since(since, now))
            kept.Add(new(garden, "", kind, date));
        return new()
        {
            Kept = kept,
            NewestPull = store.Pulls.NewestByPlace(pullKind, now),
            PullNotBefore = store.Pulls.WaitsByPlace().ToDictionary(wait => wait.Key, wait => wait.Value.NotBefore),
            Begun = new HashSet<string>([.. store.Outbox.GardensWith(MessageKind.Digest), .. store.Ledger.GardensWith(LedgerTable.DigestRested), .. store.Ledger.GardensWith(LedgerTable.DigestSkipped)], StringComparer.Ordinal),
            NextExpiry = store.Outbox.NextExpiry(),
            LastBackup = store.Ledger.Last(LedgerTable.WholeHouse, LedgerTable.BackupMade, now),
        };
    }
}

using System.Collections.Immutable;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Readings;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>How one garden is served.</summary>
/// <param name="Place">Null while it is not settled.</param>
/// <param name="ForecastWait">Why its weather is not asked for just now; null when nothing stands in the way.</param>
/// <param name="LastDigest">The last one accepted; null when there was none.</param>
/// <param name="NextDigestAt">When the next is due; null where nobody gets one or the place is not settled.</param>
public sealed record GardenStanding(
    Plan Plan, GardenPlace? Place, Instant? ForecastFetchedAt, PullWait? ForecastWait, Instant? MembersFetchedAt, int PastYears,
    OutboxRow? LastDigest, Instant? NextDigestAt)
{
    /// <summary>What the gardener's own readings add to the weather.</summary>
    public required Corrections Corrections { get; init; }

    /// <summary>The last readings, newest first.</summary>
    public ImmutableArray<JournalEntry> Readings { get; init; } = [];
}

/// <summary>How the house stands at an instant, from its records alone: nothing is asked of the network.</summary>
/// <param name="Runs">A service holds the records just now.</param>
/// <param name="Recent">The last messages, newest first.</param>
/// <param name="Faults">What is wrong, each with what to do; empty when all is well.</param>
public sealed record HouseStanding(
    Instant Now, bool Runs, ImmutableArray<GardenStanding> Gardens, OutboxStanding Outbox, ImmutableArray<OutboxRow> Recent,
    LocalDate? LastBackup, int SetAside, ImmutableArray<string> Faults)
{
    private const int RecentMessages = 8;
    private const int RecentReadings = 5;
    private const int BackupTooOldDays = 2;
    private static readonly Duration WaitsTooLong = Duration.FromHours(1);

    public static HouseStanding Of(GardenStore store, GardenPlaces places, IReadOnlyList<GardenFile> files, Instant now)
    {
        var ledger = StoredLedger.Of(store, PullRound.Kind, now);
        var gardens = files.Where(file => file.Plan is not null).Select(file => GardenOf(store, places, ledger, file.Plan!, now)).ToImmutableArray();
        var outbox = store.Outbox.Stands();
        bool runs = IsHeld(store.Folder);
        var standing = new HouseStanding(
            now, runs, gardens, outbox, [.. store.Outbox.Recent(RecentMessages, now)], ledger.LastBackup, store.SetAside.Count(), []);
        return standing with { Faults = [.. files.SelectMany(file => file.Faults.Select(fault => fault.ToString())), .. standing.Wrong()] };
    }

    private static GardenStanding GardenOf(GardenStore store, GardenPlaces places, RoundsLedger ledger, Plan plan, Instant now)
    {
        var place = places.Known(plan.Place);
        var journal = Journal.AsOf(store.Journal.AsOf(plan.GardenId, now), now);
        return new(
            plan, place,
            place is not null && ledger.NewestPull.TryGetValue(place.Key, out var fetched) ? fetched : null,
            place is not null && store.Pulls.WaitsByPlace().TryGetValue(place.Key, out var wait) && wait.NotBefore > now ? wait : null,
            place is null ? null : store.Members.NewestFetchedAt(place.Key, now),
            place is null ? 0 : store.Climates.YearsOf(place.Key, now),
            store.Outbox.LastSent(plan.GardenId, MessageKind.Digest, now),
            place is null ? null : NextDigest(plan, place, ledger, now))
        {
            Corrections = Corrections.Of(journal, now),
            Readings = [.. journal.Entries.Where(entry => entry.Kind == EntryKind.Reading).Reverse().Take(RecentReadings)],
        };
    }

    private static Instant? NextDigest(Plan plan, GardenPlace place, RoundsLedger ledger, Instant now)
    {
        var zone = place.Calendar.Zone;
        var today = place.Calendar.DateOf(now);
        var owed = new GardenOnDuty(plan, place, []).AddresseesOn(today)
            .Select(told => (Hour: told.At ?? plan.Digest.At, HadIt: ledger.Kept.Contains(Kept.Digest(plan.GardenId, told.Address, today))))
            .Select(told => (told.Hour, Today: Due.DigestWindow(zone, told.Hour, today), told.HadIt))
            .Select(told => told.HadIt || now >= told.Today.End ? Due.DigestWindow(zone, told.Hour, today.PlusDays(1)).Start : told.Today.Start)
            .ToList();
        return owed.Count == 0 ? null : owed.Min();
    }

    private IEnumerable<string> Wrong()
    {
        if (!Runs)
            yield return "The service does not run, so no digest comes. Start it: `gardenwatch run`, or `systemctl start gardenwatch`.";
        foreach (var garden in Gardens)
        {
            string name = garden.Plan.Name;
            if (garden.Place is null)
                yield return $"{name}: where the garden is, is not settled yet. Latitude, longitude and `zone:` in `place:` settle it at once.";
            else if (garden.ForecastFetchedAt is not { } fetched)
                yield return $"{name}: no forecast has come yet.{Why(garden)}";
            else if (Now - fetched > Health.ForecastTooOld)
                yield return $"{name}: the forecast is older than 36 hours, so advice on sowing, spreading and setting out is withheld.{Why(garden)}";
            if (garden.Plan.Digest.To.IsEmpty)
                yield return $"{name}: nobody is told. Add `digest: {{ to: [you@example.org] }}` to the plan.";
        }
        if (Outbox.Trouble is { } trouble)
            yield return $"A message did not get through: {trouble.TrimEnd('.', ' ')}. `gardenwatch send-test` tries the way out and names the remedy.";
        else if (Now - Outbox.WaitingSince > WaitsTooLong)
            yield return "A message has waited for more than an hour. `gardenwatch send-test` tries the way out and names the remedy.";
        if (Runs && LastBackup is { } made && Gardens.FirstOrDefault(garden => garden.Place is not null) is { } first
            && Period.DaysBetween(made, first.Place!.Calendar.DateOf(Now)) > BackupTooOldDays)
            yield return $"The last backup is of {StoreText.Of(made)}. Is the disk full? The log says why none was made since.";
        if (SetAside > 0)
            yield return $"{SetAside} records were stamped by a clock that ran ahead and are set aside; nothing obeys them.";
    }

    private static string Why(GardenStanding garden) => garden.ForecastWait is { } wait ? $" {wait.Reason.TrimEnd('.', ' ')}." : "";

    private static bool IsHeld(StoreFolder folder)
    {
        if (!File.Exists(folder.LockFile))
            return false;
        using var held = folder.TryLock();
        return held is null;
    }
}

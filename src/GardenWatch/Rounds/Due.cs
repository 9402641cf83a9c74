using System.Collections.Immutable;
using NodaTime;
using NodaTime.TimeZones;

namespace GardenWatch.Rounds;

/// <summary>
/// What is to be done now, from what was done and the clock alone. The scheduler only knocks; whether it knocked on time,
/// twice, or not for days does not matter.
/// </summary>
public static class Due
{
    /// <summary>Until here a missed digest is still worth sending; the day's decisions are made by then.</summary>
    public static readonly LocalTime DigestEnds = LocalTime.Noon;

    /// <summary>A slow machine and a busy minute are not "late".</summary>
    public static readonly Duration LateAfter = Duration.FromMinutes(15);

    /// <summary>A longer wait was written by a clock that ran ahead, and is not obeyed.</summary>
    public static readonly Duration LongestPullWait = Duration.FromHours(24);

    /// <summary>A garden's first digest does not go out shortly before its hour.</summary>
    public static readonly Duration FirstAwaitsItsHour = Duration.FromMinutes(10);

    /// <summary>Nor without weather, as long as that may yet come.</summary>
    public static readonly Duration FirstAwaitsWeather = Duration.FromMinutes(5);

    private static readonly Duration FirstLife = Duration.FromHours(1);

    private static readonly LocalTime BackupFrom = new(3, 0);

    private static readonly ZoneLocalMappingResolver FirstOrGapsEnd =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnStartOfIntervalAfter);

    public static IReadOnlyList<DueRound> Rounds(
        RoundsLedger ledger, IReadOnlyList<GardenRounds> gardens, Duration pullEvery, Instant now)
    {
        ArgumentNullException.ThrowIfNull(ledger);
        ArgumentNullException.ThrowIfNull(gardens);
        var due = new List<DueRound>();
        // First, so that nothing is sent that has just run out; then weather, so that messages are made of it.
        if (ledger.NextExpiry <= now)
            due.Add(new DueRound.Expire());
        AddPulls(due, ledger, gardens, pullEvery, now);
        foreach (var garden in gardens)
        {
            if (!IsToBegin(garden, ledger, now))
                due.AddRange(DigestsOf(garden, ledger, now));
            else if (ledger.NewestPull.ContainsKey(garden.PlaceKey) || !(now - garden.KnownSince < FirstAwaitsWeather))
                due.Add(FirstDigestOf(garden, now));
            else
                // Nothing is told before it, as all is news.
                continue;
            if (EveningLookOf(garden, ledger, now) is { } look)
                due.Add(look);
            else if (NewForecastLookOf(garden, ledger, now) is { } another)
                due.Add(another);
        }
        if (BackupOf(ledger, gardens, now) is { } backup)
            due.Add(backup);
        return due;
    }

    /// <summary>From the digest's hour until noon, or until the day's end when the gardener wants it in the afternoon.</summary>
    public static Interval DigestWindow(DateTimeZone zone, LocalTime hour, LocalDate date)
    {
        ArgumentNullException.ThrowIfNull(zone);
        return new(At(zone, date, hour), hour < DigestEnds ? At(zone, date, DigestEnds) : EndOf(zone, date));
    }

    /// <summary>Who has just planned a garden is to see what comes of it, whatever the hour.</summary>
    private static bool IsToBegin(GardenRounds garden, RoundsLedger ledger, Instant now)
    {
        if (garden.Addressees.IsEmpty || garden.IsQuiet || ledger.Begun.Contains(garden.GardenId)
            || ledger.Kept.Any(kept => kept.GardenId == garden.GardenId && kept.Kind != Store.LedgerTable.EveningLook))
            return false;
        var date = now.InZone(garden.Zone).Date;
        return !garden.Addressees.Select(addressee => DigestWindow(garden.Zone, garden.HourOf(addressee), date))
            .Any(window => window.Start <= now + FirstAwaitsItsHour && now < window.End);
    }

    private static DueRound.Digest FirstDigestOf(GardenRounds garden, Instant now)
    {
        var date = now.InZone(garden.Zone).Date;
        // Late in the evening, too, there is time for a second try.
        var window = new Interval(now, Instant.Max(EndOf(garden.Zone, date), now + FirstLife));
        return new(garden.GardenId, date, garden.Addressees, window, Late: false) { First = true };
    }

    /// <summary>The start of the stretch, one pull long, in which a place's weather is asked for once; each place has its own minute.</summary>
    public static Instant PullSlot(string placeKey, Duration pullEvery, Instant now)
    {
        ArgumentNullException.ThrowIfNull(placeKey);
        long every = (long)pullEvery.TotalMilliseconds;
        // Spread by place, so that not all homes call the free service on the hour.
        long phase = (long)(Hash(placeKey) % (ulong)every);
        long since = now.ToUnixTimeMilliseconds() - phase;
        long slot = since - (((since % every) + every) % every);
        return Instant.FromUnixTimeMilliseconds(slot + phase);
    }

    private static List<DueRound> DigestsOf(GardenRounds garden, RoundsLedger ledger, Instant now)
    {
        var date = now.InZone(garden.Zone).Date;
        var due = new List<DueRound>();
        if (ledger.Kept.Contains(Kept.DigestRested(garden.GardenId, date)))
            return due;
        bool allOver = !garden.Addressees.IsEmpty;
        Instant? lastEnd = null;
        foreach (var sameHour in garden.Addressees.GroupBy(garden.HourOf).OrderBy(group => group.Key))
        {
            var window = DigestWindow(garden.Zone, sameHour.Key, date);
            lastEnd = lastEnd is { } end ? Instant.Max(end, window.End) : window.End;
            allOver &= now >= window.End;
            var without = sameHour.Where(addressee => !ledger.Kept.Contains(Kept.Digest(garden.GardenId, addressee, date))).ToImmutableArray();
            if (window.Contains(now) && !without.IsEmpty)
                due.Add(new DueRound.Digest(garden.GardenId, date, without, window, now - window.Start > LateAfter));
        }
        if (!allOver)
            return due;
        bool owed = garden.KnownSince is not { } since || since < lastEnd;
        // One who was added to the plan in the afternoon missed nothing, as long as the garden had its digest.
        bool had = garden.Addressees.Any(addressee => ledger.Kept.Contains(Kept.Digest(garden.GardenId, addressee, date)))
            || ledger.Kept.Contains(Kept.DigestSkipped(garden.GardenId, date));
        if (owed && !had)
            due.Add(new DueRound.DigestSkipped(garden.GardenId, date));
        return due;
    }

    /// <summary>From its hour until the day ends: a warning that comes late may still save something.</summary>
    private static DueRound.EveningLook? EveningLookOf(GardenRounds garden, RoundsLedger ledger, Instant now)
    {
        var date = now.InZone(garden.Zone).Date;
        return now >= At(garden.Zone, date, garden.EveningLookAt)
            && !garden.Addressees.IsEmpty
            && !ledger.Kept.Contains(Kept.EveningLook(garden.GardenId, date))
            ? new(garden.GardenId, date)
            : null;
    }

    /// <summary>From the digest on until the day ends: by night nobody covers anything, and the morning's digest is near.</summary>
    private static DueRound.NewForecastLook? NewForecastLookOf(GardenRounds garden, RoundsLedger ledger, Instant now)
    {
        var date = now.InZone(garden.Zone).Date;
        bool digestIsMade = ledger.Kept.Contains(Kept.DigestRested(garden.GardenId, date))
            || garden.Addressees.Any(addressee => ledger.Kept.Contains(Kept.Digest(garden.GardenId, addressee, date)));
        return digestIsMade
            && ledger.NewestPull.TryGetValue(garden.PlaceKey, out var newest)
            && !(ledger.LookedAt.TryGetValue(garden.GardenId, out var looked) && looked >= newest)
                ? new(garden.GardenId, date, Evening: now >= At(garden.Zone, date, garden.EveningLookAt))
                : null;
    }

    private static void AddPulls(
        List<DueRound> due, RoundsLedger ledger, IReadOnlyList<GardenRounds> gardens, Duration pullEvery, Instant now)
    {
        for (int i = 0; i < gardens.Count; i++)
        {
            string place = gardens[i].PlaceKey;
            if (!IsFirstOfPlace(gardens, i))
                continue;
            bool waits = ledger.PullNotBefore.TryGetValue(place, out var notBefore)
                && now < notBefore && notBefore - now <= LongestPullWait;
            bool stale = !ledger.NewestPull.TryGetValue(place, out var newest) || newest < PullSlot(place, pullEvery, now);
            if (stale && !waits)
                due.Add(new DueRound.Pull(place));
        }
    }

    private static bool IsFirstOfPlace(IReadOnlyList<GardenRounds> gardens, int index)
    {
        for (int i = 0; i < index; i++)
        {
            if (gardens[i].PlaceKey == gardens[index].PlaceKey)
                return false;
        }
        return true;
    }

    /// <summary>In the small hours of the first garden's place; later in the day when the machine was off then.</summary>
    private static DueRound.Backup? BackupOf(RoundsLedger ledger, IReadOnlyList<GardenRounds> gardens, Instant now)
    {
        var local = now.InZone(gardens.Count > 0 ? gardens[0].Zone : DateTimeZone.Utc);
        return local.TimeOfDay >= BackupFrom && !(ledger.LastBackup >= local.Date) ? new(local.Date) : null;
    }

    /// <summary>
    /// A repeated hour means the first; one that is left out moves on by the gap, but never out of its date: where clocks
    /// go from 23:00 to midnight, 23:30 is the last quarter before.
    /// </summary>
    private static Instant At(DateTimeZone zone, LocalDate date, LocalTime time) =>
        Instant.Min(zone.AtLeniently(date + time).ToInstant(), EndOf(zone, date) - LateAfter);

    // Not AtStartOfDay, which throws where the next date does not exist.
    private static Instant EndOf(DateTimeZone zone, LocalDate date) =>
        zone.ResolveLocal(date.PlusDays(1).AtMidnight(), FirstOrGapsEnd).ToInstant();

    /// <summary>FNV-1a: the same on every machine and in every process, as string.GetHashCode is not.</summary>
    private static ulong Hash(string text)
    {
        ulong hash = 14695981039346656037;
        foreach (char c in text)
            hash = unchecked((hash ^ c) * 1099511628211);
        return hash;
    }
}

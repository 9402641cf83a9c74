using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// The days and nights of a <see cref="LocalCalendar"/> as plain numbers, kept once found, for asking at every hour of
/// thirty years. Instants are seconds since 1970, days are counted from 1 January 1970. Outside the stretch it was made
/// for it asks the calendar each time.
/// </summary>
internal sealed class LocalDays
{
    public const int SecondsAnHour = 3600;
    private const int SecondsADay = 86400;
    private const long NotYetFound = long.MinValue;
    private static readonly Duration Margin = Duration.FromDays(400);
    private static readonly LocalDate Epoch = new(1970, 1, 1);

    private readonly LocalCalendar _calendar;
    private readonly long[] _offsetFrom;
    private readonly int[] _offset;
    private readonly long _knownUntil;
    private readonly int _firstDay;
    private readonly long[] _starts;
    private readonly long[] _dusks;
    private readonly long[] _dawns;
    private int _lastInterval;

    public LocalDays(LocalCalendar calendar, Instant from, Instant until)
    {
        _calendar = calendar;
        var covered = new Interval(from - Margin, Instant.Max(from, until) + Margin);
        var intervals = calendar.Zone.GetZoneIntervals(covered).ToArray();
        _offsetFrom = [.. intervals.Select(i => Seconds(i.HasStart && i.Start > covered.Start ? i.Start : covered.Start))];
        _offset = [.. intervals.Select(i => i.WallOffset.Seconds)];
        _knownUntil = Seconds(covered.End);
        _firstDay = DayAt(_offsetFrom[0]) + 1;
        int days = DayAt(_knownUntil - 1) - _firstDay;
        _starts = Unfound(days);
        _dusks = Unfound(days);
        _dawns = Unfound(days);
    }

    public static long Seconds(Instant instant) => instant.ToUnixTimeSeconds();

    public static LocalDate DateOf(int day) => Epoch.PlusDays(day);

    public static int NumberOf(LocalDate date) => Period.DaysBetween(Epoch, date);

    public LocalCalendar Calendar => _calendar;

    public int DayAt(long second) => (int)FloorDivide(second + OffsetAt(second), SecondsADay);

    /// <summary>Seconds of the clock since midnight.</summary>
    public int ClockAt(long second)
    {
        long local = second + OffsetAt(second);
        return (int)(local - FloorDivide(local, SecondsADay) * SecondsADay);
    }

    public long StartOf(int day)
    {
        int i = day - _firstDay;
        if ((uint)i >= (uint)_starts.Length)
            return Seconds(_calendar.StartOf(DateOf(day)));
        if (_starts[i] == NotYetFound)
            _starts[i] = Seconds(_calendar.StartOf(DateOf(day)));
        return _starts[i];
    }

    /// <summary>A date that the zone leaves out has no hours.</summary>
    public bool Exists(int day) => StartOf(day + 1) > StartOf(day);

    public (long Dusk, long Dawn) NightOf(int day)
    {
        int i = day - _firstDay;
        if ((uint)i >= (uint)_dusks.Length)
            return Found(_calendar.NightOf(DateOf(day)));
        // Two threads may both look; the dawn is written last, so that who sees it sees its dusk too.
        long dawn = Volatile.Read(ref _dawns[i]);
        if (dawn == NotYetFound)
        {
            (_dusks[i], dawn) = Found(_calendar.NightOf(DateOf(day)));
            Volatile.Write(ref _dawns[i], dawn);
        }
        return (_dusks[i], dawn);
    }

    /// <summary>The date of the night that is running, else of the one that begins next.</summary>
    public int TonightAt(long second)
    {
        int today = DayAt(second);
        int before = Exists(today - 1) ? today - 1 : today - 2;
        return second < NightOf(before).Dawn ? before : today;
    }

    /// <summary>
    /// The same clock time some days later, or earlier when negative. Where the clock leaves it out or has it twice, the
    /// one that makes the stretch longer, so that so many days are never less than asked.
    /// </summary>
    public long SameClockTime(long second, int days) => SameClockTime(second, days, out _);

    /// <param name="early">Of two readings, or of what lies on both sides of a gap, the earlier.</param>
    public long SameClockTime(long second, int days, bool early) => SameClockTime(second, days, early, out _);

    /// <param name="steadyUntil">Until then the same clock time stays as far away as it is now.</param>
    public long SameClockTime(long second, int days, out long steadyUntil) => SameClockTime(second, days, days < 0, out steadyUntil);

    private long SameClockTime(long second, int days, bool early, out long steadyUntil)
    {
        int offset = OffsetAt(second);
        long there = second + (long)days * SecondsADay;
        int interval = IntervalAt(there);
        // Far from any change of the clock: its offset is the interval's.
        const int FarFromChange = 26 * SecondsAnHour;
        steadyUntil = second;
        if (interval >= 0 && there - _offsetFrom[interval] > FarFromChange && EndOf(interval) - there > FarFromChange)
        {
            int here = IntervalAt(second);
            if (here >= 0)
                steadyUntil = Math.Min(EndOf(here), second + EndOf(interval) - FarFromChange - there);
            return there + offset - _offset[interval];
        }

        var wanted = Instant.FromUnixTimeSeconds(there).WithOffset(Offset.FromSeconds(offset)).LocalDateTime;
        var mapped = _calendar.Zone.MapLocal(wanted);
        int before = mapped.EarlyInterval.WallOffset.Seconds, after = mapped.LateInterval.WallOffset.Seconds;
        return there + offset - (early ? Math.Max(before, after) : Math.Min(before, after));
    }

    private long EndOf(int interval) => interval + 1 < _offsetFrom.Length ? _offsetFrom[interval + 1] : _knownUntil;

    private int OffsetAt(long second)
    {
        int interval = IntervalAt(second);
        return interval >= 0
            ? _offset[interval]
            : _calendar.Zone.GetUtcOffset(Instant.FromUnixTimeSeconds(second)).Seconds;
    }

    /// <summary>-1 outside the stretch. Asked in order of time mostly, so the last answer is tried first.</summary>
    private int IntervalAt(long second)
    {
        int i = _lastInterval;
        if (second >= _offsetFrom[i] && second < EndOf(i))
            return i;
        if (second < _offsetFrom[0] || second >= _knownUntil)
            return -1;
        i = Array.BinarySearch(_offsetFrom, second);
        return _lastInterval = i >= 0 ? i : ~i - 1;
    }

    private static long FloorDivide(long a, long b) => a >= 0 ? a / b : -((b - 1 - a) / b);

    private static (long Dusk, long Dawn) Found(Interval night) => (Seconds(night.Start), Seconds(night.End));

    private static long[] Unfound(int days)
    {
        long[] table = new long[Math.Max(days, 0)];
        Array.Fill(table, NotYetFound);
        return table;
    }
}

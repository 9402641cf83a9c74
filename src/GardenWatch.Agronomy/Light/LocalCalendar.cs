using System.Collections.Concurrent;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Light;

/// <summary>Days and nights of a place. A day is a local date: 23, 24 or 25 hours, in some zones a half more or less.</summary>
public sealed class LocalCalendar(DateTimeZone zone, GeoPosition place)
{
    private static readonly Duration WarmingAfterSunrise = Duration.FromHours(2);
    private static readonly LocalTime PolarDusk = new(18, 0);
    private static readonly LocalTime PolarMorning = new(9, 0);

    private const int NightsKept = 4096;

    private readonly ConcurrentDictionary<LocalDate, Interval> _nights = new();

    // Nights are asked for in order, and the morning of one is of the date on which the next begins.
    private volatile DatedCourse? _lastCourse;

    private sealed record DatedCourse(LocalDate Date, SunCourse Course);

    public DateTimeZone Zone { get; } = zone;

    public GeoPosition Place { get; } = place;

    public LocalDate DateOf(Instant instant) => instant.InZone(Zone).Date;

    public LocalTime TimeOf(Instant instant) => instant.InZone(Zone).TimeOfDay;

    /// <summary>A repeated hour means the first; an hour that is left out moves on by the gap.</summary>
    public Instant At(LocalDate date, LocalTime time) => Zone.AtLeniently(date + time).ToInstant();

    /// <summary>Empty for a date that the zone left out, such as 30 December 2011 in Samoa.</summary>
    public Interval DayOf(LocalDate date) => new(StartOf(date), StartOf(date.PlusDays(1)));

    /// <summary>When a date begins. One that the zone left out begins and ends with the next.</summary>
    public Instant StartOf(LocalDate date) => Sun.StartOfDay(date, Zone);

    /// <summary>
    /// The night that begins on a date: from sunset to two hours after the next sunrise, since the lowest air often
    /// comes after sunrise; 18:00 to 09:00 where the sun does not set or does not rise.
    /// </summary>
    public Interval NightOf(LocalDate date)
    {
        if (_nights.TryGetValue(date, out var known))
            return known;
        // A season of mornings asks for the same nights over and over; a lifetime of them must not pile up.
        if (_nights.Count >= NightsKept)
            _nights.Clear();
        var night = Night(date);
        _nights[date] = night;
        return night;
    }

    /// <summary>Zones that crossed the date line have left a date out.</summary>
    public bool Exists(LocalDate date) => StartOf(date.PlusDays(1)) > StartOf(date);

    /// <summary>The night that is running; else the one that begins next.</summary>
    public (LocalDate Date, Interval Night) TonightAt(Instant instant)
    {
        var today = DateOf(instant);
        var yesterday = Neighbour(today, -1);
        var running = NightOf(yesterday);
        return instant < running.End ? (yesterday, running) : (today, NightOf(today));
    }

    private Interval Night(LocalDate date)
    {
        var day = DayOf(date);
        if (day.Duration == Duration.Zero)
            return day;
        var morrow = Neighbour(date, 1);
        if (CourseOf(date).Set is { } dusk && CourseOf(morrow).Rise is { } dawn && dawn > dusk)
            return new(dusk, dawn + WarmingAfterSunrise);
        return new(At(date, PolarDusk), At(morrow, PolarMorning));
    }

    private SunCourse CourseOf(LocalDate date)
    {
        if (_lastCourse is { } last && last.Date == date)
            return last.Course;
        var course = Sun.Course(Place, date, Zone);
        _lastCourse = new(date, course);
        return course;
    }

    // The next date, to either side, that has hours.
    private LocalDate Neighbour(LocalDate date, int step)
    {
        var next = date.PlusDays(step);
        return DayOf(next).Duration == Duration.Zero ? next.PlusDays(step) : next;
    }
}

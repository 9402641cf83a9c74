using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Light;

/// <summary>Days and nights of a place. A day is a local date: 23, 24 or 25 hours, in some zones a half more or less.</summary>
public sealed class LocalCalendar(DateTimeZone zone, GeoPosition place)
{
    private static readonly Duration WarmingAfterSunrise = Duration.FromHours(2);
    private static readonly LocalTime PolarDusk = new(18, 0);
    private static readonly LocalTime PolarMorning = new(9, 0);

    public DateTimeZone Zone { get; } = zone;

    public GeoPosition Place { get; } = place;

    public LocalDate DateOf(Instant instant) => instant.InZone(Zone).Date;

    public LocalTime TimeOf(Instant instant) => instant.InZone(Zone).TimeOfDay;

    /// <summary>A repeated hour means the first; an hour that is left out moves on by the gap.</summary>
    public Instant At(LocalDate date, LocalTime time) => Zone.AtLeniently(date + time).ToInstant();

    public Interval DayOf(LocalDate date) => new(StartOf(date), StartOf(date.PlusDays(1)));

    /// <summary>When a date begins. One that the zone leaves out (Apia, 30 December 2011) begins and ends with the next.</summary>
    public Instant StartOf(LocalDate date) => StartOf(date, Zone);

    internal static Instant StartOf(LocalDate date, DateTimeZone zone)
    {
        var midnight = zone.MapLocal(date.AtMidnight());
        return midnight.Count == 0 ? midnight.LateInterval.Start : midnight.First().ToInstant();
    }

    /// <summary>
    /// The night that begins on a date: from sunset to two hours after the next sunrise, since the lowest air often
    /// comes after sunrise; 18:00 to 09:00 where the sun does not set or does not rise.
    /// </summary>
    public Interval NightOf(LocalDate date)
    {
        if (!Exists(date))
            return NightOf(date.PlusDays(-1));
        var morning = Exists(date.PlusDays(1)) ? date.PlusDays(1) : date.PlusDays(2);
        var sunset = Sun.Course(Place, date, Zone).Set;
        var sunrise = Sun.Course(Place, morning, Zone).Rise;
        if (sunset is { } dusk && sunrise is { } dawn && dawn > dusk)
            return new(dusk, dawn + WarmingAfterSunrise);
        return new(At(date, PolarDusk), At(morning, PolarMorning));
    }

    /// <summary>Zones that crossed the date line have left a date out.</summary>
    public bool Exists(LocalDate date) => StartOf(date.PlusDays(1)) > StartOf(date);

    /// <summary>The night that is running; else the one that begins next.</summary>
    public (LocalDate Date, Interval Night) TonightAt(Instant instant)
    {
        var today = DateOf(instant);
        var before = Exists(today.PlusDays(-1)) ? today.PlusDays(-1) : today.PlusDays(-2);
        var running = NightOf(before);
        return instant < running.End ? (before, running) : (today, NightOf(today));
    }
}

using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>A morning on which a garden has something to show.</summary>
public sealed record NotableMorning(LocalDate Date, string Story);

/// <summary>The mornings that are pinned into the invented year, and the weather that makes them.</summary>
public static class NotableMornings
{
    public const int Year = 2026;

    /// <summary>A year whose own frosts end before the pinned one, and whose soil is not warm before the pinned morning.</summary>
    public const ulong Seed = 143;

    /// <summary>Forecasts that err on the notable mornings as everywhere, but not so far that they would tell another story.</summary>
    public const ulong ForecastSeed = 67;

    private static readonly LocalCalendar Calendar =
        new(DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId], InventedSeason.Place);

    public static NotableMorning LateFrost { get; } =
        new(new(Year, 4, 27), "A clear calm evening ahead, and tender plants stand outside already.");

    public static NotableMorning WarmSoil { get; } =
        new(new(Year, 5, 12), "The soil is warm for the first time this spring, and the nights stay mild.");

    public static NotableMorning RainForGranules { get; } =
        new(new(Year, 5, 21), "Soft rain from noon: enough to wash granules in, too little to wash them away.");

    public static NotableMorning Quiet { get; } = new(new(Year, 6, 9), "Nothing presses.");

    public static NotableMorning NoWeather { get; } =
        new(new(Year, 6, 23), "The weather service has been out of reach for two days.");

    public static NotableMorning Washout { get; } =
        new(new(Year, 7, 8), "A cloudburst in the afternoon: no day to spread anything.");

    public static ImmutableArray<NotableMorning> All { get; } =
        [LateFrost, WarmSoil, RainForGranules, Quiet, NoWeather, Washout];

    /// <summary>Hours in which the weather service of the demo does not answer.</summary>
    public static Interval ServiceDown { get; } =
        new(At(NoWeather.Date.PlusDays(-2), 12), At(NoWeather.Date, 14));

    public static ImmutableArray<Shape> Shapes { get; } =
    [
        new(new(At(LateFrost.Date, 16), At(LateFrost.Date.PlusDays(1), 10)), AirKelvins: -3.4, DewBelowAirKelvins: 7, Cloud: 4, Wind: 1),
        new(new(At(WarmSoil.Date.PlusDays(-10), 0), At(WarmSoil.Date.PlusDays(-2), 0)), AirKelvins: -3, DewBelowAirKelvins: 4, Cloud: 70, Wind: 3, Firmness: 0.65),
        new(new(At(WarmSoil.Date.PlusDays(-1), 0), At(WarmSoil.Date.PlusDays(6), 12)), AirKelvins: 2, DewBelowAirKelvins: 4, Cloud: 50, Wind: 2.5, Firmness: 0.65),
        new(new(At(RainForGranules.Date.PlusDays(-2), 0), At(RainForGranules.Date.PlusDays(1), 12)), AirKelvins: 0, DewBelowAirKelvins: 4, Cloud: 55,
            Wind: 2, Rain(RainForGranules.Date, 12, hours: 8, mm: 9, RainKind.Soft)),
        new(new(At(Quiet.Date.PlusDays(-1), 0), At(Quiet.Date.PlusDays(1), 12)), AirKelvins: 0, DewBelowAirKelvins: 4, Cloud: 35, Wind: 2),
        new(new(At(Washout.Date, 0), At(Washout.Date.PlusDays(1), 0)), AirKelvins: 1.5, DewBelowAirKelvins: 3, Cloud: 50, Wind: 2.5,
            Rain(Washout.Date, 15, hours: 2.5, mm: 24, RainKind.Downpour)),
    ];

    private static Instant At(LocalDate date, int hour) => Calendar.At(date, new(hour, 0));

    private static RainSpell Rain(LocalDate date, int hour, double hours, double mm, RainKind kind) =>
        new(At(date, hour).ToUnixTimeSeconds() / 3600.0, hours, mm, kind);
}

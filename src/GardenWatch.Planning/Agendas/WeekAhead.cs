using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The seven local days from today on, as the place has them.</summary>
internal static class WeekAhead
{
    // A day or night of which more than a tenth of the hours is missing is not known.
    private const double KnownShare = 0.9;
    private const double WetHourMm = 0.1;
    // A wet day by the WMO's climate indices (RR1; Expert Team on Climate Change Detection and Indices).
    private const double WetDayMm = 1;
    // What falls through air colder than that is mostly snow (Auer 1974: 95 in 100 at 0 °C, 50 at 2 °C).
    private const double SnowBelowC = 1;

    public static ImmutableArray<DayAhead> Of(GardenWeather weather, LocalDate today) =>
        [.. Enumerable.Range(0, 7).Select(day => DayOf(weather, today.PlusDays(day)))];

    private static DayAhead DayOf(GardenWeather weather, LocalDate date)
    {
        var day = weather.Calendar.DayOf(date);
        var night = weather.Calendar.NightOf(date);
        var place = weather.Place.Weather;
        var rain = Hours(place, Measure.Rain, day.Start + Duration.FromHours(1), day.End);
        return new(
            date,
            Least(Hours(place, Measure.Air, night.Start, night.End)),
            Most(Hours(place, Measure.Air, day.Start, day.End)),
            Least(Hours(place, Measure.Leaf, night.Start, night.End)),
            rain.IsKnown ? rain.Known.Sum(hour => hour.Value) : null,
            Most(rain),
            RainChance: ShareOf(weather, run => Hours(run, Measure.Rain, day.Start + Duration.FromHours(1), day.End) is { IsKnown: true } hours
                ? hours.Known.Sum(hour => hour.Value) >= WetDayMm
                : null),
            FrostChance: ShareOf(weather, run => Least(Hours(run, Measure.Leaf, night.Start, night.End)) is { } low ? low <= 0 : null),
            Most(Hours(place, Measure.Gust, day.Start + Duration.FromHours(1), day.End)),
            WetSpell(rain))
        {
            SnowShare = SnowOf(rain, Hours(place, Measure.Air, day.Start + Duration.FromHours(1), day.End)),
        };
    }

    private static double? SnowOf(Span fallen, Span air)
    {
        if (!fallen.IsKnown || !air.IsKnown || fallen.Known.Sum(hour => hour.Value) is not (> 0 and var all))
            return null;
        var cold = air.Known.Where(hour => hour.Value < SnowBelowC).Select(hour => hour.Stamp).ToHashSet();
        return fallen.Known.Where(hour => cold.Contains(hour.Stamp)).Sum(hour => hour.Value) / all;
    }

    /// <summary>The share of the forecast's runs; null where there are none, or fewer than half of them tell.</summary>
    private static double? ShareOf(GardenWeather weather, Func<BedWeather, bool?> holds)
    {
        var runs = weather.PlaceInRuns;
        var told = new bool?[runs.Length];
        Parallel.For(0, told.Length, run => told[run] = holds(runs[run].Weather));
        int known = told.Count(answer => answer is not null);
        return known == 0 || known * 2 < told.Length ? null : (double)told.Count(answer => answer == true) / known;
    }

    private static double? Least(Span hours) => hours.IsKnown ? hours.Known.Min(hour => hour.Value) : null;

    private static double? Most(Span hours) => hours.IsKnown ? hours.Known.Max(hour => hour.Value) : null;

    private static Interval? WetSpell(Span rain)
    {
        var wet = rain.Known.Where(hour => hour.Value >= WetHourMm).ToList();
        return wet.Count == 0 ? null : new(wet[0].Stamp - Duration.FromHours(1), wet[^1].Stamp);
    }

    private static Span Hours(BedWeather place, Measure measure, Instant from, Instant until)
    {
        var (series, values) = (place.Series, place.Column(new(measure)));
        var known = new List<(Instant Stamp, double Value)>();
        int first = series.FirstAtOrAfter(from), last = series.LastAtOrBefore(until);
        for (int hour = Math.Max(0, first); hour <= Math.Min(series.Hours - 1, last); hour++)
            if (!double.IsNaN(values[hour]))
                known.Add((series.StampOf(hour), values[hour]));
        return new(known, last - first + 1);
    }

    private readonly record struct Span(List<(Instant Stamp, double Value)> Known, int Expected)
    {
        public bool IsKnown => Known.Count > 0 && Known.Count >= KnownShare * Expected;
    }
}

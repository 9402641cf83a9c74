using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Play;

namespace GardenWatch.Trial.Score;

/// <summary>The nights that a sowing or a planting met.</summary>
/// <param name="AirLowC">Lowest hourly air at two metres; NaN when none is known.</param>
/// <param name="GroundLowC">Lowest of the grass thermometer; NaN when none is known.</param>
internal sealed record NightsMet(Deed Deed, double AirLowC, double GroundLowC)
{
    /// <summary>Null when the deed asked for nothing or the nights are not known.</summary>
    public bool? WarmEnough => Deed.NightsNeededC is { } needed && !double.IsNaN(AirLowC) ? AirLowC >= needed : null;

    /// <param name="nights">That of the deed's own date, and those that follow, so many in all.</param>
    public static ImmutableArray<NightsMet> Of(IEnumerable<Deed> deeds, ObservedWeather observed, int nights) =>
        [.. deeds.Where(deed => deed.Kind is DeedKind.Sow or DeedKind.SetOut).OrderBy(deed => deed.At).Select(deed => After(deed, observed, nights))];

    private static NightsMet After(Deed deed, ObservedWeather observed, int nights)
    {
        var dates = Enumerable.Range(0, nights).Select(night => observed.Calendar.DateOf(deed.At).PlusDays(night)).ToList();
        return new(
            deed,
            dates.Select(date => AirLow(observed, date)).Where(low => !double.IsNaN(low)).DefaultIfEmpty(double.NaN).Min(),
            dates.Where(observed.GroundLow.ContainsKey).Select(date => observed.GroundLow[date]).DefaultIfEmpty(double.NaN).Min());
    }

    /// <summary>Lowest hourly air of the night that begins on a date; NaN when none is known.</summary>
    public static double AirLow(ObservedWeather observed, NodaTime.LocalDate date)
    {
        var (night, weather) = (observed.Calendar.NightOf(date), observed.Weather);
        double low = double.NaN;
        for (int hour = Math.Max(0, weather.FirstAtOrAfter(night.Start)); hour <= Math.Min(weather.Hours - 1, weather.LastAtOrBefore(night.End)); hour++)
            if (!(low <= weather[WeatherVariable.Air][hour]) && !double.IsNaN(weather[WeatherVariable.Air][hour]))
                low = weather[WeatherVariable.Air][hour];
        return low;
    }
}

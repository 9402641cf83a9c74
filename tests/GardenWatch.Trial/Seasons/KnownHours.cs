using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using GardenWatch.Trial.Observed;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>What a service that has pulled each morning since some date knows: its past hours as they were told, and the newest forecast.</summary>
internal sealed class KnownHours
{
    private const int PastDays = 60, AheadDays = 10, ToldAgainDays = 2;

    private readonly ForecastFromTruth _forecasts;
    private readonly LocalCalendar _calendar;
    private readonly Instant _start;
    private readonly Dictionary<WeatherVariable, double[]> _columns;
    private int _known;

    public KnownHours(Station station, LocalDate from, LocalDate until, ulong seed)
    {
        _forecasts = new(station.Weather, station.Calendar.Place, seed);
        _calendar = station.Calendar;
        _start = _calendar.StartOf(from.PlusDays(-PastDays));
        int hours = (Period.DaysBetween(from, until) + PastDays + AheadDays + 2) * 24;
        // What the service's forecasts are asked for; a station measures no soil and no thunder.
        _columns = new[]
        {
            WeatherVariable.Air, WeatherVariable.DewPoint, WeatherVariable.RelativeHumidity, WeatherVariable.Rain, WeatherVariable.Snowfall, WeatherVariable.CloudCover,
            WeatherVariable.Wind, WeatherVariable.Gust, WeatherVariable.Radiation, WeatherVariable.ReferenceEvapotranspiration, WeatherVariable.WeatherCode,
        }.ToDictionary(variable => variable, _ => new double[hours]);
    }

    public WeatherSeries AsOf(Instant asOf)
    {
        var today = _calendar.DateOf(asOf);
        int first = Math.Max(0, Math.Min(_known, HourOf(today.PlusDays(-ToldAgainDays)))), last = HourOf(today.PlusDays(AheadDays));
        var told = _forecasts.IssuedAt(asOf, _start + Duration.FromHours(first), last - first);
        foreach (var (variable, column) in _columns)
            told[variable].CopyTo(column.AsSpan(first));
        _known = HourOf(today);
        return new(
            _start, last, _columns.ToImmutableDictionary(pair => pair.Key, pair => ImmutableArray.Create(pair.Value, 0, last)),
            [new(SourceKind.Forecast, "forecast of known weather", asOf)], [.. Enumerable.Repeat((short)0, last)]);
    }

    private int HourOf(LocalDate date) => (int)Math.Ceiling((_calendar.StartOf(date) - _start).TotalHours);
}

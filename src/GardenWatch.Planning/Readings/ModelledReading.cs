using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Readings;

/// <summary>What model and series say of a reading's hours and place, before anything was learned; kept with the reading.</summary>
/// <param name="Value">In the reading's unit; null when it is not known.</param>
/// <param name="ClearAndCalm">Of the hour of the night's low; null for other readings.</param>
public sealed record ModelledReading(double? Value, double? ClearAndCalm)
{
    /// <summary>A soil thermometer is stuck in as far as seeds lie, where nobody says how far.</summary>
    public const double UsualDepthMetres = 0.05;

    public static ModelledReading Of(
        Plan plan, LocalCalendar calendar, KnownWeather known, ReadingKind kind, double? depthMetres, string? bedId, LocalDate date, Instant recordedAt)
    {
        var span = ReadingSpan.Of(kind, date, recordedAt, calendar);
        return kind switch
        {
            ReadingKind.Soil => new(SoilC(plan, calendar, known, depthMetres ?? UsualDepthMetres, bedId, span, recordedAt), null),
            ReadingKind.Rain => new(RainMm(known.Series, span), null),
            _ => Low(known.Series, calendar, span),
        };
    }

    private static double? SoilC(
        Plan plan, LocalCalendar calendar, KnownWeather known, double depthMetres, string? bedId, Interval span, Instant recordedAt)
    {
        var garden = new GardenWeather(plan, calendar, known, recordedAt, Corrections.None);
        var bed = bedId is null ? garden.Place : garden.BedOf(plan.BedOf(bedId));
        var soil = bed.Weather.Column(new(Measure.Soil, depthMetres));
        double sum = 0;
        int hours = 0;
        foreach (int hour in HoursIn(known.Series, span))
            if (!double.IsNaN(soil[hour]))
            {
                sum += soil[hour];
                hours++;
            }
        return hours == 0 ? null : sum / hours;
    }

    /// <summary>Null when any hour is missing.</summary>
    private static double? RainMm(WeatherSeries series, Interval span)
    {
        var rain = series[WeatherVariable.Rain];
        double sum = 0;
        int hours = 0;
        foreach (int hour in HoursIn(series, new(span.Start + Duration.Epsilon, span.End)))
        {
            sum += rain[hour];
            hours++;
        }
        return double.IsNaN(sum) || hours < (int)span.Duration.TotalHours ? null : sum;
    }

    private static ModelledReading Low(WeatherSeries series, LocalCalendar calendar, Interval span)
    {
        var air = series[WeatherVariable.Air];
        int lowest = -1;
        foreach (int hour in HoursIn(series, span))
            if (!double.IsNaN(air[hour]) && (lowest < 0 || air[hour] < air[lowest]))
                lowest = hour;
        return lowest < 0 ? new(null, null) : new(air[lowest], BedAir.ClearAndCalm(series, calendar.Place, lowest));
    }

    private static IEnumerable<int> HoursIn(WeatherSeries series, Interval span)
    {
        int first = Math.Max(0, series.FirstAtOrAfter(span.Start)), last = Math.Min(series.Hours - 1, series.LastAtOrBefore(span.End));
        return last < first ? [] : Enumerable.Range(first, last - first + 1);
    }
}

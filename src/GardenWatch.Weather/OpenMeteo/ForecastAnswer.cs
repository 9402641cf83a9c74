using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Turns the answer of a forecast into a pull, or says why it is not to be believed.</summary>
internal static class ForecastAnswer
{
    /// <summary>Of the air temperatures of the next 48 hours, so many must be given for an answer to be of use.</summary>
    public const double LeastAirKnown = 0.75;

    public const int HoursThatMatter = 48;

    /// <summary>Null, with the fault, when the answer is refused.</summary>
    public static Pull? Read(ReadOnlySpan<byte> json, Asked asked, out string? fault)
    {
        var answer = HourlyAnswer.Read(json, ColumnKey.Plain, asked.Place, out fault);
        if (answer is null)
            return null;
        answer.Columns.TryGetValue(new(ServiceVariable.Of(WeatherVariable.Air), 0), out var air);
        fault = TooLittleAir(air, answer.Start, answer.Hours, asked.At);
        return fault is null ? PullOf(answer, asked, Pull.BestMatch) : null;
    }

    public static Pull PullOf(HourlyAnswer answer, Asked asked, string models) => new(
        asked.At, asked.Host, models, answer.Start, answer.Hours,
        answer.Columns.ToImmutableSortedDictionary(column => column.Key.Variable.Variable, column => column.Value),
        answer.Latitude, answer.Longitude, answer.ElevationMetres, answer.ZoneName, asked.ServerDate, answer.OutOfRange);

    internal static string? TooLittleAir(PulledColumn? air, Instant start, int hours, Instant now)
    {
        int first = (int)Math.Clamp(Math.Ceiling((now - start).TotalHours), -HoursThatMatter, Pull.MostHours);
        int known = 0;
        if (air is not null)
            for (int hour = Math.Max(first, 0); hour < Math.Min(first + HoursThatMatter, hours); hour++)
                if (air.Scaled[hour] != PulledColumn.Missing)
                    known++;
        return known < HoursThatMatter * LeastAirKnown
            ? $"it gives the air temperature for only {known} of the next {HoursThatMatter} hours"
            : null;
    }
}

using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What was asked, against which an answer is held.</summary>
internal sealed record Asked(GeoPosition Place, Instant At, string Host, Instant? ServerDate = null);

/// <summary>Turns an answer into a pull, or says why it is not to be believed.</summary>
/// <remarks>
/// Names, models and units of the service have changed within weeks, so nothing is taken on trust: a wind in km/h read
/// as m/s would call every breeze a gale.
/// </remarks>
internal static class ForecastAnswer
{
    /// <summary>Of the air temperatures of the next 48 hours, so many must be given for an answer to be of use.</summary>
    public const double LeastAirKnown = 0.75;

    public const int HoursThatMatter = 48;

    /// <summary>More impossible values than this share, and the rest is not believed either.</summary>
    public const double MostOutOfRange = 0.03;

    /// <summary>Grid cells are up to half a degree wide; the neighbour may be taken for its height.</summary>
    public const double FarthestCellDegrees = 0.6;

    /// <summary>Seconds since 1970, about the years 700 and 3200: beyond lies only nonsense, and overflow.</summary>
    private const long FarthestStamp = 40_000_000_000;

    /// <summary>The unit of a variable that the model lacks; all its values are null.</summary>
    private const string Absent = "undefined";

    /// <summary>Null, with the fault, when the answer is refused.</summary>
    public static Pull? Read(ReadOnlySpan<byte> json, Asked asked, out string? fault)
    {
        var table = HourlyTable.Read(json, out fault);
        if (table is null)
            return null;
        fault = WrongPlace(table, asked.Place) ?? WrongTimes(table) ?? WrongLengths(table) ?? WrongUnits(table);
        if (fault is not null)
            return null;

        int hours = table.Times.Count;
        var start = Instant.FromUnixTimeSeconds(FirstStamp(table));
        var columns = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
        int given = 0;
        int outOfRange = 0;
        foreach (var (variable, column) in table.Columns)
        {
            if (table.Units[variable.Name] == Absent)
                continue;
            var values = CollectionsMarshal.AsSpan(column.Values);
            int given0 = given;
            int outOfRange0 = outOfRange;
            for (int hour = 0; hour < hours; hour++)
            {
                if (double.IsNaN(values[hour]))
                    continue;
                given++;
                values[hour] = variable.Believed(values[hour]);
                if (double.IsNaN(values[hour]))
                    outOfRange++;
            }
            if (variable.Variable == WeatherVariable.Air)
                fault = TooManyOutOfRange(outOfRange - outOfRange0, given - given0, "its air temperatures");
            columns[variable.Variable] = PulledColumn.Of(values, column.Decimals);
        }
        fault ??= TooManyOutOfRange(outOfRange, given, "its values");
        if (fault is not null)
            return null;

        var pull = new Pull(
            asked.At, asked.Host, Pull.BestMatch, start, hours, columns.ToImmutable(),
            table.Latitude!.Value, table.Longitude!.Value, table.Elevation ?? double.NaN,
            table.TimeZone is null or "GMT" ? null : AnswerText.Quoted(table.TimeZone), asked.ServerDate, outOfRange);
        fault = TooLittleAir(pull, asked.At);
        return fault is null ? pull : null;
    }

    private static string? WrongPlace(HourlyTable table, GeoPosition place)
    {
        if (table.Latitude is not { } latitude || table.Longitude is not { } longitude)
            return "its answer does not say for which place it is";
        double north = Math.Abs(latitude - place.LatitudeDegrees);
        // Degrees of longitude shrink towards the poles; the date line is no distance.
        double east = Math.Abs(Math.IEEERemainder(longitude - place.LongitudeDegrees, 360))
            * Math.Cos(place.LatitudeDegrees * Math.PI / 180);
        if (north <= FarthestCellDegrees && east <= FarthestCellDegrees)
            return null;
        return string.Create(CultureInfo.InvariantCulture,
            $"its answer is for {latitude:0.00}, {longitude:0.00} and the garden is at {place.LatitudeDegrees:0.00}, {place.LongitudeDegrees:0.00}");
    }

    private static string? WrongTimes(HourlyTable table)
    {
        if (table.TimeUnit is not ("unixtime" or "iso8601"))
            return $"its hours are in '{AnswerText.Quoted(table.TimeUnit ?? "no unit")}', and unixtime was asked for";
        if (table.Times.Count == 0)
            return "its answer has no hours";
        long first = FirstStamp(table);
        if (first % 3600 != 0 || first is < -FarthestStamp or > FarthestStamp)
            return "its hours are not whole hours";
        for (int hour = 1; hour < table.Times.Count; hour++)
            if (table.Times[hour] != table.Times[0] + 3600L * hour)
                return "its hours do not follow one another";
        return null;
    }

    /// <summary>Labels carry one offset for the whole answer, summer or winter; taking it off again is exact.</summary>
    private static long FirstStamp(HourlyTable table) =>
        table.TimeUnit == "iso8601" ? table.Times[0] - table.OffsetSeconds : table.Times[0];

    private static string? WrongLengths(HourlyTable table)
    {
        foreach (var (variable, column) in table.Columns)
            if (column.Values.Count != table.Times.Count)
                return $"it sent {column.Values.Count} values of '{variable.Name}' for {table.Times.Count} hours";
        return null;
    }

    private static string? WrongUnits(HourlyTable table)
    {
        foreach (var (variable, _) in table.Columns)
        {
            string unit = table.Units.GetValueOrDefault(variable.Name, "no unit");
            if (unit != variable.Unit && unit != Absent)
                return $"it sent '{variable.Name}' in '{AnswerText.Quoted(unit)}', and '{variable.Unit}' was asked for";
        }
        return null;
    }

    private static string? TooManyOutOfRange(int outOfRange, int given, string what) =>
        outOfRange > given * MostOutOfRange ? $"{outOfRange} of {given} of {what} can't be true" : null;

    private static string? TooLittleAir(Pull pull, Instant now)
    {
        int first = (int)Math.Clamp(Math.Ceiling((now - pull.Start).TotalHours), -HoursThatMatter, Pull.MostHours);
        int known = 0;
        if (pull.Columns.TryGetValue(WeatherVariable.Air, out var air))
            for (int hour = Math.Max(first, 0); hour < Math.Min(first + HoursThatMatter, pull.Hours); hour++)
                if (air.Scaled[hour] != PulledColumn.Missing)
                    known++;
        return known < HoursThatMatter * LeastAirKnown
            ? $"it gives the air temperature for only {known} of the next {HoursThatMatter} hours"
            : null;
    }
}

using System.Globalization;
using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What was asked, against which an answer is held.</summary>
internal sealed record Asked(GeoPosition Place, Instant At, string Host, Instant? ServerDate = null);

/// <summary>The hourly part of an answer once place, times, lengths, units and values have been found to be possible.</summary>
/// <remarks>
/// Names, models and units of the service have changed within weeks, so nothing is taken on trust: a wind in km/h read
/// as m/s would call every breeze a gale.
/// </remarks>
internal sealed record HourlyAnswer(
    Instant Start, int Hours, Dictionary<ColumnKey, PulledColumn> Columns, int OutOfRange,
    double Latitude, double Longitude, double ElevationMetres, string? ZoneName)
{
    /// <summary>More impossible values than this share, and the rest is not believed either.</summary>
    public const double MostOutOfRange = 0.03;

    /// <summary>Grid cells are up to half a degree wide; the neighbour may be taken for its height.</summary>
    public const double FarthestCellDegrees = 0.6;

    /// <summary>Seconds since 1970, about the years 700 and 3200: beyond lies only nonsense, and overflow.</summary>
    private const long FarthestStamp = 40_000_000_000;

    /// <summary>The unit of a variable that the model lacks; all its values are null.</summary>
    private const string Absent = "undefined";

    /// <summary>Null, with the fault, when the answer is refused.</summary>
    public static HourlyAnswer? Read(
        ReadOnlySpan<byte> json, Func<string, ColumnKey?> keyOf, GeoPosition place, out string? fault)
    {
        var table = HourlyTable.Read(json, keyOf, out fault);
        if (table is null)
            return null;
        fault = WrongPlace(table, place) ?? WrongTimes(table) ?? WrongLengths(table) ?? WrongUnits(table);
        if (fault is not null)
            return null;

        var columns = new Dictionary<ColumnKey, PulledColumn>();
        int given = 0, outOfRange = 0, airGiven = 0, airOutOfRange = 0;
        foreach (var (key, column) in table.Columns)
        {
            if (table.Units[column.Name] == Absent)
                continue;
            var values = CollectionsMarshal.AsSpan(column.Values);
            var (givenHere, outOfRangeHere) = KeepBelieved(values, key.Variable);
            given += givenHere;
            outOfRange += outOfRangeHere;
            if (key.Variable.Variable == WeatherVariable.Air)
                (airGiven, airOutOfRange) = (airGiven + givenHere, airOutOfRange + outOfRangeHere);
            columns[key] = PulledColumn.Of(values, column.Decimals);
        }
        fault = TooManyOutOfRange(airOutOfRange, airGiven, "its air temperatures") ?? TooManyOutOfRange(outOfRange, given, "its values");
        return fault is not null
            ? null
            : new(
                Instant.FromUnixTimeSeconds(FirstStamp(table)), table.Times.Count, columns, outOfRange,
                table.Latitude!.Value, table.Longitude!.Value, table.Elevation ?? double.NaN,
                table.TimeZone is null or "GMT" ? null : AnswerText.Quoted(table.TimeZone));
    }

    private static (int Given, int OutOfRange) KeepBelieved(Span<double> values, ServiceVariable variable)
    {
        int given = 0, outOfRange = 0;
        foreach (ref double value in values)
        {
            if (double.IsNaN(value))
                continue;
            given++;
            value = variable.Believed(value);
            if (double.IsNaN(value))
                outOfRange++;
        }
        return (given, outOfRange);
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
        foreach (var column in table.Columns.Values)
            if (column.Values.Count != table.Times.Count)
                return $"it sent {column.Values.Count} values of '{AnswerText.Quoted(column.Name)}' for {table.Times.Count} hours";
        return null;
    }

    private static string? WrongUnits(HourlyTable table)
    {
        foreach (var (key, column) in table.Columns)
        {
            string unit = table.Units.GetValueOrDefault(column.Name, "no unit");
            if (unit != key.Variable.Unit && unit != Absent)
                return $"it sent '{AnswerText.Quoted(column.Name)}' in '{AnswerText.Quoted(unit)}', and '{key.Variable.Unit}' was asked for";
        }
        return null;
    }

    private static string? TooManyOutOfRange(int outOfRange, int given, string what) =>
        outOfRange > given * MostOutOfRange ? $"{outOfRange} of {given} of {what} can't be true" : null;
}

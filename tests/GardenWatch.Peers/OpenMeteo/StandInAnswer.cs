using System.Globalization;
using System.Text;
using NodaTime;

namespace GardenWatch.Peers.OpenMeteo;

/// <summary>A question for hours as the service reads it, with its defaults.</summary>
/// <param name="Suffix">What stands behind the name of every column.</param>
/// <param name="Dates">First and last date of an archive's question; null where days are counted from today.</param>
internal sealed record StandInQuestion(
    double Latitude, double Longitude, double? Elevation, string[] Hourly, int PastDays, int ForecastDays,
    string ZoneName, Offset Offset, bool UnixTime, string WindUnit, DateInterval? Dates = null, string Suffix = "");

/// <summary>Writes an answer in the service's shape: units, fixed decimals, one offset for all of it.</summary>
internal static class StandInAnswer
{
    private const double CellDegrees = 0.0625;

    private static readonly Dictionary<string, (string Unit, int Decimals)> Printed = new(StringComparer.Ordinal)
    {
        ["relative_humidity_2m"] = ("%", 0),
        ["cloud_cover"] = ("%", 0),
        ["precipitation_probability"] = ("%", 0),
        ["precipitation"] = ("mm", 2),
        ["rain"] = ("mm", 2),
        ["et0_fao_evapotranspiration"] = ("mm", 2),
        ["snowfall"] = ("cm", 2),
        ["shortwave_radiation"] = ("W/m²", 1),
        ["weather_code"] = ("wmo code", 0),
    };

    public static string Write(
        StandInQuestion question, Instant now, Func<Instant, string, double?> weather, string placeZone, StandInFault fault)
    {
        var (latitude, longitude) = fault is StandInFault.WrongContinent
            ? (-question.Latitude, question.Longitude > 0 ? question.Longitude - 120 : question.Longitude + 120)
            : (Cell(question.Latitude), Cell(question.Longitude));
        var today = now.WithOffset(question.Offset).Date;
        var start = today.PlusDays(-question.PastDays).AtMidnight().WithOffset(question.Offset).ToInstant();
        int hours = 24 * (question.PastDays + question.ForecastDays);
        if (question.Dates is { } dates)
        {
            start = dates.Start.AtMidnight().WithOffset(question.Offset).ToInstant();
            hours = 24 * dates.Length;
        }

        var json = new StringBuilder(hours * (question.Hourly.Length + 2) * 6);
        json.Append(CultureInfo.InvariantCulture, $"{{\"latitude\":{latitude:0.######},\"longitude\":{longitude:0.######},");
        json.Append(CultureInfo.InvariantCulture, $"\"generationtime_ms\":0.25,\"utc_offset_seconds\":{question.Offset.Seconds},");
        json.Append(CultureInfo.InvariantCulture, $"\"timezone\":\"{(question.ZoneName == "auto" ? placeZone : question.ZoneName)}\",");
        json.Append(CultureInfo.InvariantCulture, $"\"timezone_abbreviation\":\"GMT{question.Offset.Seconds / 3600.0:+0.#;-0.#;+0}\",");
        json.Append(CultureInfo.InvariantCulture, $"\"elevation\":{question.Elevation ?? 100:0.0},");
        WriteUnits(json, question, fault);
        WriteColumns(json, question, start, hours, now, weather, fault);
        return json.Append('}').ToString();
    }

    private static void WriteUnits(StringBuilder json, StandInQuestion question, StandInFault fault)
    {
        json.Append(CultureInfo.InvariantCulture, $"\"hourly_units\":{{\"time\":\"{(question.UnixTime ? "unixtime" : "iso8601")}\"");
        foreach (string name in question.Hourly)
        {
            string unit = fault switch
            {
                StandInFault.WrongUnit wrong when wrong.Variable == Bare(name, question) => wrong.Unit,
                StandInFault.Undefined missing when missing.Variable == Bare(name, question) => "undefined",
                _ => UnitOf(name, question).Unit,
            };
            json.Append(CultureInfo.InvariantCulture, $",\"{name}\":\"{unit}\"");
        }
        json.Append("},");
    }

    private static void WriteColumns(
        StringBuilder json, StandInQuestion question, Instant start, int hours, Instant now,
        Func<Instant, string, double?> weather, StandInFault fault)
    {
        json.Append("\"hourly\":{\"time\":[");
        for (int hour = 0; hour < hours; hour++)
        {
            var stamp = start + Duration.FromHours(hour);
            json.Append(hour == 0 ? "" : ",");
            if (question.UnixTime)
                json.Append(stamp.ToUnixTimeSeconds());
            else
                json.Append(CultureInfo.InvariantCulture, $"\"{stamp.WithOffset(question.Offset).LocalDateTime:uuuu-MM-dd'T'HH:mm}\"");
        }
        json.Append(']');
        foreach (string name in question.Hourly)
        {
            bool isWind = name.StartsWith("wind_", StringComparison.Ordinal);
            double scale = isWind && question.WindUnit == "kmh" ? 3.6 : 1;
            string format = "F" + UnitOf(name, question).Decimals.ToString(CultureInfo.InvariantCulture);
            int length = fault is StandInFault.WrongLength wrong && wrong.Variable == name ? hours - 1 : hours;
            json.Append(CultureInfo.InvariantCulture, $",\"{name}\":[");
            for (int hour = 0; hour < length; hour++)
            {
                var stamp = start + Duration.FromHours(hour);
                json.Append(hour == 0 ? "" : ",");
                if (IsLeftOut(name, stamp, now, question, fault) || weather(stamp, name) is not { } value || double.IsNaN(value))
                    json.Append("null");
                else
                    json.Append((value * scale).ToString(format, CultureInfo.InvariantCulture));
            }
            json.Append(']');
        }
        json.Append('}');
    }

    private static bool IsLeftOut(string name, Instant stamp, Instant now, StandInQuestion question, StandInFault fault) => fault switch
    {
        StandInFault.NullsFrom nulls => stamp >= now + Duration.FromHours(nulls.HoursFromNow),
        StandInFault.NullsIn nulls => nulls.Variable == Bare(name, question),
        StandInFault.Undefined missing => missing.Variable == Bare(name, question),
        _ => false,
    };

    private static (string Unit, int Decimals) UnitOf(string name, StandInQuestion question) =>
        name.StartsWith("wind_", StringComparison.Ordinal) ? (question.WindUnit == "ms" ? ("m/s", 2) : ("km/h", 1))
        : Printed.TryGetValue(Bare(name, question), out var printed) ? printed
        : ("°C", 1);

    /// <summary>The variable of a member's column.</summary>
    private static string Bare(string name, StandInQuestion question) =>
        name.IndexOf("_member", StringComparison.Ordinal) is var mark and > 0 ? name[..mark] : name[..^question.Suffix.Length];

    private static double Cell(double degrees) => Math.Round(degrees / CellDegrees) * CellDegrees;
}

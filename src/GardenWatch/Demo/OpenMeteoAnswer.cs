using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Demo;

/// <summary>A series written as the weather service writes it: metric, wind in m/s, times in unix seconds, null where nothing is known.</summary>
public static class OpenMeteoAnswer
{
    private sealed record Column(WeatherVariable Variable, string Name, string Unit, int Decimals);

    private static readonly ImmutableDictionary<string, Column> Columns = new Column[]
    {
        new(WeatherVariable.Air, "temperature_2m", "°C", 1),
        new(WeatherVariable.RelativeHumidity, "relative_humidity_2m", "%", 0),
        new(WeatherVariable.DewPoint, "dew_point_2m", "°C", 1),
        new(WeatherVariable.Rain, "precipitation", "mm", 2),
        new(WeatherVariable.Snowfall, "snowfall", "cm", 2),
        new(WeatherVariable.CloudCover, "cloud_cover", "%", 0),
        new(WeatherVariable.Wind, "wind_speed_10m", "m/s", 2),
        new(WeatherVariable.Gust, "wind_gusts_10m", "m/s", 2),
        new(WeatherVariable.Radiation, "shortwave_radiation", "W/m²", 1),
        new(WeatherVariable.ReferenceEvapotranspiration, "et0_fao_evapotranspiration", "mm", 2),
        new(WeatherVariable.WeatherCode, "weather_code", "wmo code", 0),
        new(WeatherVariable.SoilAt6Cm, "soil_temperature_6cm", "°C", 1),
        new(WeatherVariable.SoilAt18Cm, "soil_temperature_18cm", "°C", 1),
    }.ToImmutableDictionary(column => column.Name, StringComparer.Ordinal);

    public static bool Knows(string name) => Columns.ContainsKey(name);

    /// <param name="courses">The forecast alone, or an ensemble's control and members; all of the same hours.</param>
    /// <param name="names">Hourly variables by the service's names, in the order asked; each one known.</param>
    public static ReadOnlyMemory<byte> Write(IReadOnlyList<WeatherSeries> courses, GeoPosition place, IReadOnlyList<string> names)
    {
        var body = new ArrayBufferWriter<byte>(64 * 1024);
        using (var json = new Utf8JsonWriter(body))
        {
            json.WriteStartObject();
            json.WriteNumber("latitude", place.LatitudeDegrees);
            json.WriteNumber("longitude", place.LongitudeDegrees);
            json.WriteNumber("generationtime_ms", 0.1);
            json.WriteNumber("utc_offset_seconds", 0);
            json.WriteString("timezone", "GMT");
            json.WriteString("timezone_abbreviation", "GMT");
            json.WriteNumber("elevation", place.ElevationMetres);
            WriteUnits(json, courses.Count, names);
            WriteHours(json, courses, names);
            json.WriteEndObject();
        }
        return body.WrittenMemory;
    }

    /// <summary>How the service says that it will not answer.</summary>
    public static ReadOnlyMemory<byte> Error(string reason)
    {
        var body = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(body))
        {
            json.WriteStartObject();
            json.WriteBoolean("error", true);
            json.WriteString("reason", reason);
            json.WriteEndObject();
        }
        return body.WrittenMemory;
    }

    private static void WriteUnits(Utf8JsonWriter json, int courses, IReadOnlyList<string> names)
    {
        json.WriteStartObject("hourly_units");
        json.WriteString("time", "unixtime");
        foreach (string name in names)
            for (int course = 0; course < courses; course++)
                json.WriteString(Of(name, course), Columns[name].Unit);
        json.WriteEndObject();
    }

    private static void WriteHours(Utf8JsonWriter json, IReadOnlyList<WeatherSeries> courses, IReadOnlyList<string> names)
    {
        json.WriteStartObject("hourly");
        json.WriteStartArray("time");
        for (int hour = 0; hour < courses[0].Hours; hour++)
            json.WriteNumberValue(courses[0].StampOf(hour).ToUnixTimeSeconds());
        json.WriteEndArray();
        foreach (string name in names)
            for (int course = 0; course < courses.Count; course++)
                WriteColumn(json, Of(name, course), Columns[name], courses[course]);
        json.WriteEndObject();
    }

    private static void WriteColumn(Utf8JsonWriter json, string name, Column column, WeatherSeries series)
    {
        string format = "F" + column.Decimals.ToString(CultureInfo.InvariantCulture);
        json.WriteStartArray(name);
        foreach (double value in series[column.Variable])
        {
            if (double.IsNaN(value))
                json.WriteNullValue();
            else
                json.WriteRawValue(value.ToString(format, CultureInfo.InvariantCulture));
        }
        json.WriteEndArray();
    }

    /// <summary>The control bears the plain name.</summary>
    private static string Of(string name, int course) =>
        course == 0 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}_member{course:00}");
}

using System.Text.Json;
using NodaTime.Text;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>The hourly part of an answer as it stands there, before anything of it is believed.</summary>
internal sealed class HourlyTable
{
    /// <summary>Longer answers than we ever ask for are not read on.</summary>
    private const int MostRows = Pull.MostHours;

    private static readonly LocalDateTimePattern Label = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    public double? Latitude { get; private set; }
    public double? Longitude { get; private set; }
    public double? Elevation { get; private set; }
    public string? TimeZone { get; private set; }
    public int OffsetSeconds { get; private set; }
    public string? TimeUnit => Units.GetValueOrDefault("time");
    /// <summary>Seconds since 1970: of UTC if the unit is unixtime, of the answer's one offset if it is iso8601.</summary>
    public List<long> Times { get; } = [];
    public Dictionary<string, string> Units { get; } = new(StringComparer.Ordinal);
    public Dictionary<ColumnKey, Column> Columns { get; } = [];

    /// <summary>Values, NaN for null, and the most decimals that any was printed with.</summary>
    public sealed class Column(string name)
    {
        /// <summary>As the answer has it: the key of its unit.</summary>
        public string Name { get; } = name;
        public List<double> Values { get; } = [];
        public int Decimals { get; set; }
    }

    private readonly Func<string, ColumnKey?> _keyOf;

    private HourlyTable(Func<string, ColumnKey?> keyOf) => _keyOf = keyOf;

    /// <summary>Null, with the fault, when the JSON has another shape than an answer's.</summary>
    /// <param name="keyOf">Which columns are wanted, by their names; the others are passed over.</param>
    public static HourlyTable? Read(ReadOnlySpan<byte> json, Func<string, ColumnKey?> keyOf, out string? fault)
    {
        var table = new HourlyTable(keyOf);
        try
        {
            var reader = new Utf8JsonReader(json);
            fault = table.Fill(ref reader);
        }
        catch (JsonException)
        {
            fault = "its answer is cut off or damaged";
        }
        catch (InvalidOperationException)
        {
            // A name or text that is no valid Unicode.
            fault = "its answer is damaged";
        }
        return fault is null ? table : null;
    }

    private string? Fill(ref Utf8JsonReader reader)
    {
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
            return "its answer is not for one place";
        bool hourly = false;
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string name = reader.GetString()!;
            reader.Read();
            string? fault = null;
            switch (name)
            {
                case "latitude": Latitude = Number(ref reader); break;
                case "longitude": Longitude = Number(ref reader); break;
                case "elevation": Elevation = Number(ref reader); break;
                case "utc_offset_seconds": OffsetSeconds = (int)Math.Clamp(Number(ref reader) ?? 0, -86_400, 86_400); break;
                case "timezone": TimeZone = reader.TokenType == JsonTokenType.String ? reader.GetString() : null; break;
                case "hourly_units": fault = FillUnits(ref reader); break;
                case "hourly" when hourly: return "its answer has the hours twice";
                case "hourly": hourly = true; fault = FillColumns(ref reader); break;
            }
            if (fault is not null)
                return fault;
            reader.Skip();
        }
        while (reader.Read())
        {
            // To the end, so that text after the answer is noticed.
        }
        return hourly ? null : "its answer has no hourly values";
    }

    private string? FillUnits(ref Utf8JsonReader reader)
    {
        if (reader.TokenType != JsonTokenType.StartObject)
            return "its answer names no units";
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string name = reader.GetString()!;
            reader.Read();
            if (reader.TokenType == JsonTokenType.String)
                Units[name] = reader.GetString()!;
            reader.Skip();
        }
        return null;
    }

    private string? FillColumns(ref Utf8JsonReader reader)
    {
        if (reader.TokenType != JsonTokenType.StartObject)
            return "its hourly values have no columns";
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string name = reader.GetString()!;
            reader.Read();
            if (name == "time")
            {
                if (FillTimes(ref reader) is { } fault)
                    return fault;
            }
            else if (_keyOf(name) is { } key)
            {
                var column = new Column(name);
                if (!Columns.TryAdd(key, column))
                    return $"its answer has '{name}' twice";
                if (!Fill(column, ref reader))
                    return $"its values of '{name}' are no list of numbers";
            }
            else
                reader.Skip();
        }
        return null;
    }

    private string? FillTimes(ref Utf8JsonReader reader)
    {
        const string Unreadable = "its hours can't be read";
        if (reader.TokenType != JsonTokenType.StartArray || Times.Count > 0)
            return Unreadable;
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            if (Times.Count == MostRows)
                return $"its answer has more than {MostRows} hours";
            if (reader.TokenType == JsonTokenType.Number && reader.TryGetInt64(out long seconds))
                Times.Add(seconds);
            else if (reader.TokenType == JsonTokenType.String && Label.Parse(reader.GetString()!) is { Success: true } label)
                Times.Add(label.Value.InUtc().ToInstant().ToUnixTimeSeconds());
            else
                return Unreadable;
        }
        return null;
    }

    private static bool Fill(Column column, ref Utf8JsonReader reader)
    {
        if (reader.TokenType != JsonTokenType.StartArray)
            return false;
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            if (column.Values.Count == MostRows)
                return false;
            if (reader.TokenType == JsonTokenType.Null)
                column.Values.Add(double.NaN);
            else if (reader.TokenType == JsonTokenType.Number && reader.TryGetDouble(out double value))
            {
                column.Values.Add(value);
                column.Decimals = Math.Max(column.Decimals, DecimalsIn(reader.ValueSpan));
            }
            else
                return false;
        }
        return true;
    }

    private static int DecimalsIn(ReadOnlySpan<byte> number)
    {
        if (number.IndexOfAny((byte)'e', (byte)'E') >= 0)
            return PulledColumn.MostDecimals;
        int point = number.IndexOf((byte)'.');
        return point < 0 ? 0 : number[point..].TrimEnd((byte)'0').Length - 1;
    }

    private static double? Number(ref Utf8JsonReader reader) =>
        reader.TokenType == JsonTokenType.Number && reader.TryGetDouble(out double value) && double.IsFinite(value) ? value : null;
}

using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>Hours of a place over the time that is played.</summary>
internal abstract class PlayedWeather
{
    public abstract LocalCalendar Calendar { get; }

    /// <summary>The hours from one local date to another, the latter left out.</summary>
    public abstract WeatherSeries Between(LocalDate from, LocalDate until);
}

/// <summary>The measured hours of De Bilt in the year 2000 (KNMI).</summary>
internal sealed class MeasuredYear : PlayedWeather
{
    private readonly Instant _start;
    private readonly ImmutableDictionary<WeatherVariable, ImmutableArray<double>> _columns;

    private MeasuredYear(Instant start, ImmutableDictionary<WeatherVariable, ImmutableArray<double>> columns) => (_start, _columns) = (start, columns);

    public override LocalCalendar Calendar { get; } = new(DateTimeZoneProviders.Tzdb["Europe/Amsterdam"], new GeoPosition(52.1, 5.18, 2));

    /// <summary>Skips the test where the record is not at hand.</summary>
    public static MeasuredYear DeBilt()
    {
        string path = MeasuredRecord.PathOf("debilt_hourly_2000.csv");
        var rows = File.ReadLines(path).Select(line => line.Split(',')).ToArray();
        var start = Instant.FromDateTimeOffset(DateTimeOffset.Parse(rows[1][0] + "Z", CultureInfo.InvariantCulture));
        ImmutableArray<double> Column(string name, double unit = 1)
        {
            int at = Array.IndexOf(rows[0], name);
            return [.. rows.Skip(1).Select(cells => cells[at].Length == 0 ? double.NaN : double.Parse(cells[at], CultureInfo.InvariantCulture) / unit)];
        }
        return new(start, new Dictionary<WeatherVariable, ImmutableArray<double>>
        {
            [WeatherVariable.Air] = Column("temperature_2m"),
            [WeatherVariable.RelativeHumidity] = Column("relative_humidity_2m"),
            [WeatherVariable.DewPoint] = Column("dew_point_2m"),
            [WeatherVariable.CloudCover] = Column("cloud_cover"),
            [WeatherVariable.Rain] = Column("precipitation"),
            [WeatherVariable.Wind] = Column("wind_speed_10m", 3.6),
            [WeatherVariable.Gust] = Column("wind_gusts_10m", 3.6),
            [WeatherVariable.Radiation] = Column("shortwave_radiation"),
        }.ToImmutableDictionary());
    }

    public override WeatherSeries Between(LocalDate from, LocalDate until)
    {
        int all = _columns[WeatherVariable.Air].Length;
        int first = Math.Clamp(HourOf(from), 0, all), last = Math.Clamp(HourOf(until), first, all);
        var start = _start + Duration.FromHours(first);
        return new(start, last - first, _columns.ToImmutableDictionary(column => column.Key, column => column.Value[first..last]),
            [new(SourceKind.Forecast, "measured", start)], [.. Enumerable.Repeat((short)0, last - first)]);
    }

    private int HourOf(LocalDate date) => (int)(Calendar.StartOf(date) - _start).TotalHours;
}

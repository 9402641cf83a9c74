using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Agronomy.Tests;

/// <summary>Weather series of the measured stations in weather-data/, for tests that skip where it is absent.</summary>
public static class Stations
{
    public static readonly GeoPosition DeBilt = new(52.10, 5.18, 2);
    public static readonly GeoPosition FordDryLake = new(33.65, -115.10, 120);

    /// <summary>De Bilt 2000, hourly, nothing missing; with the lowest at 10 cm of the six hours before, where measured.</summary>
    public static (WeatherSeries Weather, double[] GroundLow) DeBiltHours()
    {
        var rows = PublishedTable.StationRows("debilt_hourly_2000.csv");
        var weather = TestSeries.Of(
            InstantOf(rows[0]["time_utc"]), rows.Count,
            (WeatherVariable.Air, i => rows[i].Number("temperature_2m")),
            (WeatherVariable.RelativeHumidity, i => rows[i].Number("relative_humidity_2m")),
            (WeatherVariable.DewPoint, i => rows[i].Number("dew_point_2m")),
            (WeatherVariable.CloudCover, i => rows[i].Number("cloud_cover")),
            (WeatherVariable.Wind, i => rows[i].Number("wind_speed_10m") / 3.6),
            (WeatherVariable.Radiation, i => rows[i].Number("shortwave_radiation")));
        return (weather, [.. rows.Select(row => row.Number("ground_min_temperature_10cm_6h"))]);
    }

    /// <summary>De Bilt, hours made of daily values: cloud, wind and dew point are the day's mean at every hour.</summary>
    public static (WeatherSeries Weather, LocalDate First, double[] GroundLow, double[] AirLow) DeBiltDays()
    {
        var rows = PublishedTable.StationRows("debilt_daily_1980_2019.csv");
        var first = DateOf(rows[0]);
        var calendar = new LocalCalendar(DateTimeZone.Utc, DeBilt);
        double[] Column(string name) => [.. rows.Select(row => row.Number(name))];
        var (start, air) = DailyToHourly.Air(Column("tmin_c"), Column("tmax_c"), first, calendar);
        var (_, sun) = DailyToHourly.Radiation(Column("global_radiation_mj_m2"), first, calendar);
        double[] mean = Column("tmean_c"), humidity = Column("rh_mean_pct"), cloud = Column("cloud_mean_pct"), wind = Column("wind_mean_10m_m_s");
        var weather = TestSeries.Of(start, air.Length,
            (WeatherVariable.Air, i => air[i]),
            (WeatherVariable.DewPoint, i => DewPoint.Of(mean[i / 24], humidity[i / 24])),
            (WeatherVariable.CloudCover, i => cloud[i / 24]),
            (WeatherVariable.Wind, i => wind[i / 24]),
            (WeatherVariable.Radiation, i => sun[i]));
        return (weather, first, Column("ground_min_10cm_c"), Column("tmin_c"));
    }

    public static LocalDate DateOf(PublishedTable.Row row) => LocalDatePattern.Iso.Parse(row["date"]).Value;

    private static Instant InstantOf(string text) =>
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(text).Value.InUtc().ToInstant();
}

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

    /// <summary>A station with measured soil under short grass, daily means; hours made of the day's low, high and sun.</summary>
    public static SoilStation Grassland(string station)
    {
        string file = station.StartsWith("KS", StringComparison.Ordinal)
            ? "uscrn_manhattan_ks_daily_2010_2016.csv" : "uscrn_daily_2020.csv";
        var rows = PublishedTable.StationRows(file).Where(row => row["station"] == station).ToList();
        var (place, offset) = station switch
        {
            "NE Lincoln 8 ENE" => (new GeoPosition(40.85, -96.57, 362), -6),
            "OR Corvallis 10 SSW" => (new GeoPosition(44.42, -123.33, 95), -8),
            "IL Champaign 9 SW" => (new GeoPosition(40.05, -88.37, 213), -6),
            "TX Palestine 6 WNW" => (new GeoPosition(31.78, -95.72, 117), -6),
            "KS Manhattan 6 SSW" => (new GeoPosition(39.10, -96.61, 347), -6),
            _ => throw new ArgumentException($"No position for {station}."),
        };
        var calendar = new LocalCalendar(DateTimeZone.ForOffset(Offset.FromHours(offset)), place);
        var first = DateOf(rows[0]);
        double[] Column(string name) => [.. rows.Select(row => row.Number(name))];
        var (start, air) = DailyToHourly.Air(Column("tmin_c"), Column("tmax_c"), first, calendar);
        var (_, sun) = DailyToHourly.Radiation(Column("solar_mj_m2"), first, calendar);
        double[] mean = Column("tavg_c"), humidity = Column("rh_avg_pct"), rain = Column("precip_mm");
        double[] cloud = CloudFromSun(start, sun, place);
        var weather = TestSeries.Of(start, air.Length,
            (WeatherVariable.Air, i => air[i]),
            (WeatherVariable.DewPoint, i => DewPoint.Of(mean[i / 24], humidity[i / 24])),
            (WeatherVariable.CloudCover, i => cloud[i / 24]),
            (WeatherVariable.Rain, i => rain[i / 24] / 24),
            (WeatherVariable.Radiation, i => sun[i]));
        return new(weather, place, first, mean, Column("soil_temp_5cm_c"), Column("soil_temp_10cm_c"));
    }

    /// <summary>Ford Dry Lake 2015: bare desert, hourly soil; the year from local midnight on.</summary>
    public static (SoilStation Daily, double[] Soil5Cm, double[] Soil10Cm) Desert()
    {
        var rows = PublishedTable.StationRows("scan_ford_dry_lake_hourly_2015.csv");
        double[] Column(string name) => [.. rows.Select(row => row.Number(name))];
        double[] sun = Column("shortwave_radiation");
        var start = InstantOf(rows[0]["time_utc"]);
        double[] cloud = CloudFromSun(start, sun, FordDryLake);
        var weather = TestSeries.Of(start, rows.Count,
            (WeatherVariable.Air, i => rows[i].Number("temperature_2m")),
            (WeatherVariable.DewPoint, i => rows[i].Number("dew_point_2m")),
            (WeatherVariable.CloudCover, i => cloud[i / 24]),
            // From three metres to ten by FAO-56 eq. 47.
            (WeatherVariable.Wind, i => rows[i].Number("wind_speed_3m") / 3.6 * 4.87 / Math.Log(67.8 * 3 - 5.42) / 0.748),
            (WeatherVariable.Rain, i => rows[i].Number("precipitation")),
            (WeatherVariable.Radiation, i => sun[i]));
        double[] five = Column("soil_temperature_5cm"), ten = Column("soil_temperature_10cm");
        return (new(weather, FordDryLake, new(2015, 1, 1), DailyMeans(Column("temperature_2m"), 20), DailyMeans(five, 24), DailyMeans(ten, 24)), five, ten);
    }

    /// <summary>Means of runs of 24 hours; NaN where fewer hours are known than needed.</summary>
    public static double[] DailyMeans(double[] hours, int needed) =>
        [.. hours.Chunk(24).Where(day => day.Length == 24).Select(day =>
            day.Count(v => !double.IsNaN(v)) >= needed ? day.Where(v => !double.IsNaN(v)).Average() : double.NaN)];

    // These stations do not see cloud: what sun is missing from a clear day's tells it (Haurwitz; Kasten and Czeplak).
    private static double[] CloudFromSun(Instant start, double[] sun, GeoPosition place) =>
        [.. sun.Chunk(24).Select((day, d) =>
        {
            double clear = Enumerable.Range(0, day.Length).Sum(hour =>
            {
                double height = Math.Sin(Sun.AltitudeDegrees(start + Duration.FromMinutes(60 * (24 * d + hour) - 30), place) * Math.PI / 180);
                return height <= 0 ? 0 : 1098 * height * Math.Exp(-0.057 / height);
            });
            return 100 * Math.Pow(Math.Clamp((1 - day.Sum() / clear) / 0.75, 0, 1), 1 / 3.4);
        })];

    public static LocalDate DateOf(PublishedTable.Row row) => LocalDatePattern.Iso.Parse(row["date"]).Value;

    private static Instant InstantOf(string text) =>
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(text).Value.InUtc().ToInstant();
}

/// <summary>Weather of a station with its measured soil, daily means.</summary>
public sealed record SoilStation(
    WeatherSeries Weather, GeoPosition Place, LocalDate First, double[] MeanAir, double[] Soil5Cm, double[] Soil10Cm);

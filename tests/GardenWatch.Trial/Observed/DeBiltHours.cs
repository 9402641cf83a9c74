using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Trial.Observed;

/// <summary>The year 2000 as it was measured each hour.</summary>
internal static class DeBiltHours
{
    public const string FileName = "debilt_hourly_2000.csv";

    private static readonly LocalDateTimePattern Stamp = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    public static ObservedWeather Read(string path)
    {
        var file = ObservedTable.Read(path);
        var start = Stamp.Parse(file.Text(0, "time_utc")).Value.InUtc().ToInstant();
        var table = new HourTable(file.Rows);
        var sixHourLows = new Dictionary<Instant, double>();
        for (int row = 0; row < file.Rows; row++)
        {
            var stamp = Stamp.Parse(file.Text(row, "time_utc")).Value.InUtc().ToInstant();
            if (stamp != start + Duration.FromHours(row))
                throw new InvalidDataException($"{path}: {stamp} is out of step with the hours before it.");
            double air = file.Number(row, "temperature_2m"), rain = file.Number(row, "precipitation");
            double cloud = file.Number(row, "cloud_cover"), humidity = file.Number(row, "relative_humidity_2m");
            double wind = file.Number(row, "wind_speed_10m") / 3.6, radiation = file.Number(row, "shortwave_radiation");
            table[WeatherVariable.Air, row] = air;
            table[WeatherVariable.RelativeHumidity, row] = humidity;
            table[WeatherVariable.DewPoint, row] = Math.Min(air, file.Number(row, "dew_point_2m"));
            table[WeatherVariable.Rain, row] = rain;
            table[WeatherVariable.Snowfall, row] = Moisture.SnowfallCm(air, rain);
            table[WeatherVariable.CloudCover, row] = cloud;
            table[WeatherVariable.Wind, row] = wind;
            table[WeatherVariable.Gust, row] = file.Number(row, "wind_gusts_10m") / 3.6;
            table[WeatherVariable.Radiation, row] = radiation;
            table[WeatherVariable.ReferenceEvapotranspiration, row] = Sky.Evapotranspiration(air, radiation);
            table[WeatherVariable.WeatherCode, row] = Sky.WeatherCode(air, rain, cloud, humidity, wind, RainKind.Soft);
            double low = file.Number(row, "ground_min_temperature_10cm_6h");
            if (!double.IsNaN(low))
                sixHourLows[stamp] = low;
        }
        var series = table.ToSeries(start, new(SourceKind.Archive, "De Bilt, hourly (KNMI)", start + Duration.FromHours(file.Rows)));
        return new(series, GroundLows(sixHourLows), DeBilt.Calendar);
    }

    /// <summary>Of the three readings that cover 18 to 12 UTC; a night without all three is unknown.</summary>
    private static ImmutableSortedDictionary<LocalDate, double> GroundLows(Dictionary<Instant, double> sixHourLows)
    {
        var lows = ImmutableSortedDictionary.CreateBuilder<LocalDate, double>();
        foreach (var date in sixHourLows.Keys.Select(stamp => stamp.InUtc().Date).Distinct())
        {
            var evening = date.AtMidnight().InUtc().ToInstant() + Duration.FromHours(24);
            Instant[] readings = [evening, evening + Duration.FromHours(6), evening + Duration.FromHours(12)];
            if (readings.All(sixHourLows.ContainsKey))
                lows[date] = readings.Min(stamp => sixHourLows[stamp]);
        }
        return lows.ToImmutable();
    }
}

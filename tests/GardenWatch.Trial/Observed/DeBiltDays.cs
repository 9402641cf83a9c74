using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Trial.Observed;

/// <summary>Forty years measured by the day, made hourly. Each UTC day keeps its lowest and highest air, its rain and its sun.</summary>
/// <remarks>
/// The hours are made by these rules, and are no measurement: air rises along a half cosine from the low, at the first
/// whole hour after sunrise, to the high at 13 UTC, falls to the next low fast at first (the share of the way gone is the
/// share of the time to the power 0.7), and is held within its day's extremes; vapour pressure is steady through a day
/// and such that the mean humidity comes out; cloud is the day's mean; wind is the day's mean times 1 ± 0.35 with its top
/// at 13 UTC, gusts 1.6 times that; radiation follows the sine of the sun's height; rain falls in one spell at a seeded
/// hour, about as long as its millimetres times 0.4 to 1.3, half as long from May to September. Held against the hours
/// measured in 2000, air made so errs by 1.7 K (root mean square).
/// </remarks>
internal static class DeBiltDays
{
    public const string FileName = "debilt_daily_1980_2019.csv";

    private const int HourOfHigh = 13;
    private const double WindSwing = 0.35;
    private const double GustFactor = 1.6;
    private static readonly Scatter RainHours = new(260);

    private sealed record Day(
        LocalDate Date, double Low, double High, double GroundLow, double RainMm, double SunMegajoules, double Wind, double Humidity, double Cloud);

    /// <summary>The years from one to another, both included.</summary>
    public static ObservedWeather Read(string path, int fromYear, int toYear)
    {
        var days = Days(path).Where(day => day.Date.Year >= fromYear && day.Date.Year <= toYear).ToArray();
        var start = days[0].Date.AtMidnight().InUtc().ToInstant() + Duration.FromHours(1);
        var table = new HourTable(days.Length * 24);
        for (int i = 0; i < days.Length; i++)
            Spread(table, i * 24, days[i], days[Math.Max(0, i - 1)], days[Math.Min(days.Length - 1, i + 1)]);

        var source = new HourSource(SourceKind.Archive, "De Bilt, daily made hourly (KNMI)", start + Duration.FromDays(days.Length));
        // A UTC day holds the end of one night and the evening of the next, so its grass minimum can't be placed for
        // certain. It is given to the night that ends on it: of April to October 2000 that tells frost from none
        // rightly in 210 of 214 nights.
        var lows = days.Where(day => !double.IsNaN(day.GroundLow)).ToImmutableSortedDictionary(day => day.Date.PlusDays(-1), day => day.GroundLow);
        return new(table.ToSeries(start, source), lows, DeBilt.Calendar);
    }

    private static IEnumerable<Day> Days(string path)
    {
        var file = ObservedTable.Read(path);
        for (int row = 0; row < file.Rows; row++)
            yield return new(
                LocalDatePattern.Iso.Parse(file.Text(row, "date")).Value,
                file.Number(row, "tmin_c"), file.Number(row, "tmax_c"), file.Number(row, "ground_min_10cm_c"),
                file.Number(row, "precip_mm"), file.Number(row, "global_radiation_mj_m2"), file.Number(row, "wind_mean_10m_m_s"),
                file.Number(row, "rh_mean_pct"), file.Number(row, "cloud_mean_pct"));
    }

    /// <summary>Fills the stamps 01:00 to 24:00 of one day.</summary>
    private static void Spread(HourTable table, int first, Day day, Day before, Day after)
    {
        double[] air = new double[24], height = new double[24];
        int low = HourOfLow(day.Date);
        for (int hour = 1; hour <= 24; hour++)
        {
            double course = hour < low ? Cooling(before.High, day.Low, hour + 24 - HourOfHigh, low + 24 - HourOfHigh)
                : hour <= HourOfHigh ? Warming(day.Low, day.High, hour - low, HourOfHigh - low)
                : Cooling(day.High, after.Low, hour - HourOfHigh, HourOfLow(after.Date) + 24 - HourOfHigh);
            air[hour - 1] = double.IsNaN(course) ? double.NaN : Math.Clamp(course, day.Low, day.High);
            var middle = day.Date.AtMidnight().InUtc().ToInstant() + Duration.FromMinutes(60 * hour - 30);
            height[hour - 1] = Math.Max(0, Math.Sin(Sun.AltitudeDegrees(middle, DeBilt.Place) * Math.PI / 180));
        }

        double vapour = day.Humidity / 100 / air.Average(celsius => 1 / Moisture.SaturationKilopascals(celsius));
        double wattsPerHeight = day.SunMegajoules * 1e6 / 3600 / height.Sum();
        double[] rain = RainOf(day);
        for (int i = 0; i < 24; i++)
        {
            int row = first + i;
            double dew = Math.Min(air[i], Moisture.DewPoint(vapour));
            double humidity = Moisture.RelativeHumidity(air[i], dew);
            double wind = day.Wind * (1 + WindSwing * Math.Cos(2 * Math.PI * (i + 1 - HourOfHigh) / 24));
            double radiation = wattsPerHeight * height[i];
            table[WeatherVariable.Air, row] = air[i];
            table[WeatherVariable.DewPoint, row] = dew;
            table[WeatherVariable.RelativeHumidity, row] = humidity;
            table[WeatherVariable.CloudCover, row] = day.Cloud;
            table[WeatherVariable.Wind, row] = wind;
            table[WeatherVariable.Gust, row] = GustFactor * wind;
            table[WeatherVariable.Radiation, row] = radiation;
            table[WeatherVariable.ReferenceEvapotranspiration, row] = Sky.Evapotranspiration(air[i], radiation);
            table[WeatherVariable.Rain, row] = rain[i];
            table[WeatherVariable.Snowfall, row] = Moisture.SnowfallCm(air[i], rain[i]);
            if (!double.IsNaN(air[i] + rain[i] + day.Cloud + humidity + wind))
                table[WeatherVariable.WeatherCode, row] = Sky.WeatherCode(air[i], rain[i], day.Cloud, humidity, wind, RainKind.Soft);
        }
    }

    private static double Warming(double low, double high, double hours, double of) =>
        low + (high - low) * (1 - Math.Cos(Math.PI * hours / of)) / 2;

    private static double Cooling(double high, double low, double hours, double of) =>
        high + (low - high) * Math.Pow(hours / of, 0.7);

    private static int HourOfLow(LocalDate date)
    {
        var sunrise = Sun.Course(DeBilt.Place, date, DateTimeZone.Utc).Rise!.Value;
        return (int)Math.Ceiling((sunrise - date.AtMidnight().InUtc().ToInstant()).TotalHours);
    }

    private static double[] RainOf(Day day)
    {
        var mm = new double[24];
        if (double.IsNaN(day.RainMm))
            Array.Fill(mm, double.NaN);
        if (!(day.RainMm > 0))
            return mm;

        var chance = RainHours.Stream(day.Date.ToDateTimeUnspecified().Ticks / TimeSpan.TicksPerDay);
        double length = 1 + day.RainMm * (0.4 + 0.9 * chance.Share(0));
        double hours = Math.Clamp(Math.Round(day.Date.Month is >= 5 and <= 9 ? length / 2 : length), 1, 18);
        var spell = new RainSpell(Math.Floor(chance.Share(1) * (25 - hours)), hours, day.RainMm, RainKind.Soft);
        // Tenths of the sum so far, so that the tenths of the hours add up to the day's.
        double fallen = 0, told = 0;
        for (int i = 0; i < 24; i++)
        {
            fallen += spell.InHourEnding(i + 1);
            mm[i] = (Math.Round(fallen * 10) - told) / 10;
            told = Math.Round(fallen * 10);
        }
        return mm;
    }
}

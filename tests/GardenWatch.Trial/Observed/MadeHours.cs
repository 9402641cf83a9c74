using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;

namespace GardenWatch.Trial.Observed;

/// <summary>A day as a station measured it; what it did not is NaN. °C, mm, MJ/m², m/s, %.</summary>
internal sealed record MeasuredDay(LocalDate Date, double Low, double High, double RainMm, double SunMegajoules, double Wind, double Humidity, double Cloud);

/// <summary>Days measured at a station, made hourly. Each day keeps its lowest and highest air, its rain and its sun.</summary>
/// <remarks>
/// The hours are made by these rules, and are no measurement: air rises along a half cosine from the low, at the first
/// whole hour after sunrise, to the high, falls to the next low fast at first (the share of the way gone is the
/// share of the time to the power 0.7), and is held within its day's extremes; vapour pressure is steady through a day
/// and such that the mean humidity comes out; cloud is the day's mean; wind is the day's mean times 1 ± 0.35 with its top
/// at the hour of the high, gusts 1.6 times that; radiation follows the sine of the sun's height; rain falls in one spell at a seeded
/// hour, about as long as its millimetres times 0.4 to 1.3, half as long in the warm half of the year.
/// What was not measured is estimated: sun from the day's span of air (Hargreaves and Samani, FAO-56 eq. 50, inland), vapour by a dew point
/// at the day's low (FAO-56 eq. 48), cloud by the share of the clear sky's sun that came through (Kasten and Czeplak 1980 turned round).
/// </remarks>
/// <param name="standard">How far the station's days are from UTC days.</param>
/// <param name="hourOfHigh">Of a day's highest air, on the station's own clock.</param>
internal sealed class MadeHours(GeoPosition place, Offset standard, int hourOfHigh, Scatter rainHours)
{
    private const double WindSwing = 0.35;
    private const double GustFactor = 1.6;

    private readonly DateTimeZone _clock = DateTimeZone.ForOffset(standard);

    /// <param name="days">Without a gap.</param>
    public WeatherSeries Of(MeasuredDay[] days, string source)
    {
        var start = Midnight(days[0].Date) + Duration.FromHours(1);
        var table = new HourTable(days.Length * 24);
        for (int i = 0; i < days.Length; i++)
            Spread(table, i * 24, days[i], days[Math.Max(0, i - 1)], days[Math.Min(days.Length - 1, i + 1)]);
        return table.ToSeries(start, new(SourceKind.Archive, source, start + Duration.FromDays(days.Length)));
    }

    private Instant Midnight(LocalDate date) => date.AtMidnight().WithOffset(standard).ToInstant();

    /// <summary>Fills the stamps 01:00 to 24:00 of one day.</summary>
    private void Spread(HourTable table, int first, MeasuredDay day, MeasuredDay before, MeasuredDay after)
    {
        double[] air = new double[24], height = new double[24];
        int low = HourOfLow(day.Date);
        for (int hour = 1; hour <= 24; hour++)
        {
            double course = hour < low ? Cooling(before.High, day.Low, hour + 24 - hourOfHigh, low + 24 - hourOfHigh)
                : hour <= hourOfHigh ? Warming(day.Low, day.High, hour - low, hourOfHigh - low)
                : Cooling(day.High, after.Low, hour - hourOfHigh, HourOfLow(after.Date) + 24 - hourOfHigh);
            air[hour - 1] = double.IsNaN(course) ? double.NaN : Math.Clamp(course, day.Low, day.High);
            height[hour - 1] = Math.Max(0, Math.Sin(Sun.AltitudeDegrees(MiddleOf(day.Date, hour), place) * Math.PI / 180));
        }

        double sun = double.IsNaN(day.SunMegajoules) ? SunOf(day) : day.SunMegajoules;
        double cloud = double.IsNaN(day.Cloud) ? CloudOf(day.Date, sun) : day.Cloud;
        double vapour = double.IsNaN(day.Humidity)
            ? Moisture.SaturationKilopascals(day.Low)
            : day.Humidity / 100 / air.Average(celsius => 1 / Moisture.SaturationKilopascals(celsius));
        double wattsPerHeight = sun * 1e6 / 3600 / height.Sum();
        double[] rain = RainOf(day);
        for (int i = 0; i < 24; i++)
        {
            int row = first + i;
            double dew = Math.Min(air[i], Moisture.DewPoint(vapour));
            double humidity = Moisture.RelativeHumidity(air[i], dew);
            double wind = day.Wind * (1 + WindSwing * Math.Cos(2 * Math.PI * (i + 1 - hourOfHigh) / 24));
            double radiation = wattsPerHeight * height[i];
            table[WeatherVariable.Air, row] = air[i];
            table[WeatherVariable.DewPoint, row] = dew;
            table[WeatherVariable.RelativeHumidity, row] = humidity;
            table[WeatherVariable.CloudCover, row] = cloud;
            table[WeatherVariable.Wind, row] = wind;
            table[WeatherVariable.Gust, row] = GustFactor * wind;
            table[WeatherVariable.Radiation, row] = radiation;
            table[WeatherVariable.ReferenceEvapotranspiration, row] = Sky.Evapotranspiration(air[i], radiation);
            table[WeatherVariable.Rain, row] = rain[i];
            table[WeatherVariable.Snowfall, row] = Moisture.SnowfallCm(air[i], rain[i]);
            if (!double.IsNaN(air[i] + rain[i] + cloud + humidity + wind))
                table[WeatherVariable.WeatherCode, row] = Sky.WeatherCode(air[i], rain[i], cloud, humidity, wind, RainKind.Soft);
        }
    }

    private Instant MiddleOf(LocalDate date, int hour) => Midnight(date) + Duration.FromMinutes(60 * hour - 30);

    private double SunOf(MeasuredDay day) =>
        0.16 * Math.Sqrt(day.High - day.Low) * SolarRadiation.Extraterrestrial(place.LatitudeDegrees, day.Date.DayOfYear);

    private double CloudOf(LocalDate date, double megajoules)
    {
        double clear = Enumerable.Range(1, 24).Sum(hour => Sky.ClearRadiation(Midnight(date) + Duration.FromHours(hour), place)) * 3600 / 1e6;
        return double.IsNaN(megajoules) ? double.NaN : 100 * Math.Pow(Math.Clamp((1 - megajoules / clear) / 0.75, 0, 1), 1 / 3.4);
    }

    private static double Warming(double low, double high, double hours, double of) =>
        low + (high - low) * (1 - Math.Cos(Math.PI * hours / of)) / 2;

    private static double Cooling(double high, double low, double hours, double of) =>
        high + (low - high) * Math.Pow(hours / of, 0.7);

    private int HourOfLow(LocalDate date)
    {
        var sunrise = Sun.Course(place, date, _clock).Rise!.Value;
        return (int)Math.Ceiling((sunrise - Midnight(date)).TotalHours);
    }

    private double[] RainOf(MeasuredDay day)
    {
        var mm = new double[24];
        if (double.IsNaN(day.RainMm))
            Array.Fill(mm, double.NaN);
        if (!(day.RainMm > 0))
            return mm;

        var chance = rainHours.Stream(day.Date.ToDateTimeUnspecified().Ticks / TimeSpan.TicksPerDay);
        double length = 1 + day.RainMm * (0.4 + 0.9 * chance.Share(0));
        bool warmHalf = day.Date.Month is >= 5 and <= 9 == place.LatitudeDegrees >= 0;
        double hours = Math.Clamp(Math.Round(warmHalf ? length / 2 : length), 1, 18);
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

using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>
/// What a weather service would have said at an instant of weather that is known to have come: the past nearly right,
/// the future with errors that grow with the lead and change little from one run to the next.
/// </summary>
/// <remarks>
/// Root mean square error of air: 0.3 K in the past, about 1.0 K a day ahead, 1.5 K at two, 2.5 K at five, near 3.5 K
/// from the eighth on, where the forecast also leans back to what is usual. Rain keeps its amount on the whole, comes
/// earlier or later, stronger or weaker, now and then not at all, or where none was due. An unknown hour of the truth
/// stays unknown.
/// </remarks>
public sealed class ForecastFromTruth
{
    /// <summary>A run is out four hours after its instant, and reaches fifteen and a half days: sixteen whole days end in unknown hours.</summary>
    private static readonly Duration RunIsOutAfter = Duration.FromHours(4);
    private const int RunEveryHours = 6;
    private const int ReachHours = 372;

    private enum Stream { Air, AirByHour, Dryness, Cloud, Wind, RainTime, RainAmount, RainMissed, RainFalse, Soil }

    private readonly WeatherSeries _truth;
    private readonly GeoPosition _place;
    private readonly Scatter _scatter;
    private readonly UsualAir _usual;
    private readonly double[] _rainUntil;

    public ForecastFromTruth(WeatherSeries truth, GeoPosition place, ulong seed)
    {
        _truth = truth;
        _place = place;
        _scatter = new(seed);
        _usual = new(truth);
        _rainUntil = new double[truth.Hours + 1];
        var rain = truth[WeatherVariable.Rain];
        for (int i = 0; i < rain.Length; i++)
            _rainUntil[i + 1] = _rainUntil[i] + (double.IsNaN(rain[i]) ? 0 : rain[i]);
    }

    /// <summary>Whole UTC days: those before today, and those from today on.</summary>
    public WeatherSeries IssuedAt(Instant asOf, int pastDays, int forecastDays)
    {
        var today = Instant.FromUtc(asOf.InUtc().Year, asOf.InUtc().Month, asOf.InUtc().Day, 0, 0);
        return IssuedAt(asOf, today - Duration.FromDays(pastDays), 24 * (pastDays + forecastDays));
    }

    /// <param name="start">First stamp, a whole hour.</param>
    public WeatherSeries IssuedAt(Instant asOf, Instant start, int hours)
    {
        long runHour = (long)Math.Floor((asOf - RunIsOutAfter).ToUnixTimeSeconds() / 3600.0 / RunEveryHours) * RunEveryHours;
        var table = new HourTable(hours);
        for (int i = 0; i < hours; i++)
        {
            var stamp = start + Duration.FromHours(i);
            int hour = _truth.FirstAtOrAfter(stamp);
            long valid = stamp.ToUnixTimeSeconds() / 3600;
            if (hour >= 0 && hour < _truth.Hours && valid - runHour <= ReachHours)
                Tell(table, i, hour, valid, runHour);
        }
        return table.ToSeries(start, new(SourceKind.Forecast, "forecast of known weather", asOf));
    }

    private void Tell(HourTable table, int i, int hour, long valid, long runHour)
    {
        double True(WeatherVariable variable) => _truth[variable][hour];
        // Of an hour that is past only the run of its own time is kept, so that the past does not change.
        double lead = Math.Max(0, valid - runHour), run = Math.Min(valid, runHour);
        double Error(Stream stream, double validScale, double runScale = 36) =>
            _scatter.Stream((int)stream).Field(valid / validScale, run / runScale);

        double air = True(WeatherVariable.Air);
        double kept = Growth.At(lead, 1, 1, 1, 1, 1, day16: 0.45);
        double airError = Growth.At(lead, 0.3, 1.0, 1.5, 2.5, 3.5, day16: 3.5) *
            (Math.Sqrt(0.85) * Error(Stream.Air, 18) + Math.Sqrt(0.15) * Error(Stream.AirByHour, 5, 12));
        double airSaid = Math.Round(_usual.At(hour) + kept * (air - _usual.At(hour)) + airError, 1);
        table[WeatherVariable.Air, i] = airSaid;

        double dryness = air - True(WeatherVariable.DewPoint);
        double drynessError = Growth.At(lead, 0.2, 0.7, 1.0, 1.6, 2.2, day16: 2.2) * Error(Stream.Dryness, 18);
        double dewSaid = Math.Round(airSaid - Math.Max(0, dryness + drynessError), 1);
        double humidity = Math.Round(Moisture.RelativeHumidity(airSaid, dewSaid));
        table[WeatherVariable.DewPoint, i] = dewSaid;
        table[WeatherVariable.RelativeHumidity, i] = humidity;

        double rainSaid = RainAt(hour, lead, Error);
        table[WeatherVariable.Rain, i] = rainSaid;
        table[WeatherVariable.Snowfall, i] = Math.Round(Moisture.SnowfallCm(airSaid, rainSaid), 2);

        double cloud = True(WeatherVariable.CloudCover);
        double cloudSaid = Math.Clamp(cloud + Growth.At(lead, 5, 16, 22, 30, 36, day16: 36) * Error(Stream.Cloud, 12), 0, 100);
        cloudSaid = Math.Round(rainSaid >= 0.1 ? Math.Max(cloudSaid, 75) : cloudSaid);
        table[WeatherVariable.CloudCover, i] = cloudSaid;

        double windFactor = Math.Exp(Growth.At(lead, 0.08, 0.18, 0.25, 0.38, 0.45, day16: 0.45) * Error(Stream.Wind, 14));
        double windSaid = Math.Round(True(WeatherVariable.Wind) * windFactor, 2);
        table[WeatherVariable.Wind, i] = windSaid;
        table[WeatherVariable.Gust, i] = Math.Round(True(WeatherVariable.Gust) * windFactor, 2);

        double brightness = Sky.ThroughCloud(cloudSaid) / Sky.ThroughCloud(cloud);
        double radiation = True(WeatherVariable.Radiation);
        double clear = Math.Max(radiation, Sky.ClearRadiation(_truth.StampOf(hour), _place));
        double radiationSaid = Math.Round(Math.Min(clear, radiation * brightness), 1);
        table[WeatherVariable.Radiation, i] = radiationSaid;
        double evaporation = True(WeatherVariable.ReferenceEvapotranspiration);
        table[WeatherVariable.ReferenceEvapotranspiration, i] =
            Math.Round(radiation > 0 ? evaporation * radiationSaid / radiation : evaporation, 2);

        if (!double.IsNaN(airSaid + rainSaid + cloudSaid + humidity + windSaid))
            table[WeatherVariable.WeatherCode, i] = Sky.WeatherCode(
                airSaid, rainSaid, cloudSaid, humidity, windSaid, rainSaid > 10 ? RainKind.Downpour : RainKind.Soft);

        double soilError = Growth.At(lead, 0.2, 0.4, 0.6, 1.1, 1.6, day16: 1.6) * Error(Stream.Soil, 60);
        table[WeatherVariable.SoilAt6Cm, i] = Math.Round(True(WeatherVariable.SoilAt6Cm) + soilError, 1);
        table[WeatherVariable.SoilAt18Cm, i] = Math.Round(True(WeatherVariable.SoilAt18Cm) + soilError * 0.6, 1);
    }

    private double RainAt(int hour, double lead, Func<Stream, double, double, double> error)
    {
        if (double.IsNaN(_truth[WeatherVariable.Rain][hour]))
            return double.NaN;
        double hoursOff = Growth.At(lead, 0.2, 1.5, 3, 6, 10, day16: 12);
        double shift = hoursOff * error(Stream.RainTime, 30, 36);
        double spread = Growth.At(lead, 0.15, 0.4, 0.5, 0.7, 0.85, day16: 0.85);
        double factor = Math.Exp(spread * error(Stream.RainAmount, 30, 36) - spread * spread / 2);
        double missed = Above(error(Stream.RainMissed, 24, 36), Growth.At(lead, 9, 1.9, 1.7, 1.3, 1.0, day16: 1.0));
        double falsely = Above(error(Stream.RainFalse, 7, 36), Growth.At(lead, 9, 2.4, 2.1, 1.9, 1.8, day16: 1.8));
        double fallen = Math.Max(0, RainUntil(hour + 1 + shift) - RainUntil(hour + shift));
        return Math.Round(fallen * factor * Math.Max(0, 1 - 3 * missed) + 1.2 * falsely, 1);
    }

    private static double Above(double value, double threshold) => Math.Max(0, value - threshold);

    /// <summary>Rain gathered up to a place between two stamps, so that a shifted spell keeps its amount.</summary>
    private double RainUntil(double index)
    {
        double at = Math.Clamp(index, 0, _rainUntil.Length - 1);
        int below = Math.Min((int)at, _rainUntil.Length - 2);
        return _rainUntil[below] + (at - below) * (_rainUntil[below + 1] - _rainUntil[below]);
    }

    /// <summary>How an error grows with the hours ahead, straight between the days named.</summary>
    private static class Growth
    {
        public static double At(double lead, double past, double day1, double day2, double day5, double day8, double day16) => lead switch
        {
            < 24 => Between(lead, 0, 24, past, day1),
            < 48 => Between(lead, 24, 48, day1, day2),
            < 120 => Between(lead, 48, 120, day2, day5),
            < 192 => Between(lead, 120, 192, day5, day8),
            _ => Between(Math.Min(lead, 384), 192, 384, day8, day16),
        };

        private static double Between(double x, double x0, double x1, double y0, double y1) => y0 + (y1 - y0) * (x - x0) / (x1 - x0);
    }
}

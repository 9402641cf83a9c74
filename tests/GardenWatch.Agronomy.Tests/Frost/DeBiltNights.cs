using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

/// <summary>Nights of De Bilt's frost season, 15 April to 31 October, with the lowest at 10 cm over grass that came.</summary>
/// <param name="Date">The UTC day of the low.</param>
/// <param name="Measured">As it came: the day's low, its means of cloud, wind and dew point, the high and low of the day before.</param>
public sealed record DeBiltNight(LocalDate Date, NightAhead Measured, double GroundLowC)
{
    public bool Froze => GroundLowC < 0;

    public bool OddYear => Date.Year % 2 == 1;

    public PastNight Past => new(Measured, GroundLowC);

    public static List<DeBiltNight> Season()
    {
        var rows = PublishedTable.StationRows("debilt_daily_1980_2019.csv");
        List<DeBiltNight> nights = [];
        for (int i = 1; i < rows.Count; i++)
        {
            var (before, row, date) = (rows[i - 1], rows[i], Stations.DateOf(rows[i]));
            var night = new NightAhead(
                row.Number("tmin_c"), DewPoint.Of(row.Number("tmean_c"), row.Number("rh_mean_pct")), row.Number("cloud_mean_pct"),
                row.Number("wind_mean_10m_m_s"), before.Number("tmax_c"), before.Number("tmin_c"),
                24 - SolarRadiation.DaylightHours(Stations.DeBilt.LatitudeDegrees, date.DayOfYear));
            var measured = new DeBiltNight(date, night, row.Number("ground_min_10cm_c"));
            if (date.Month * 100 + date.Day is >= 415 and <= 1031 && !double.IsNaN(measured.GroundLowC + night.CloudPercent))
                nights.Add(measured);
        }
        return nights;
    }
}

/// <summary>Forecasts of measured nights, by seeded errors.</summary>
public static class ForecastNights
{
    /// <summary>The low off by 1.5 K; the rest as the day's means turned out, which blur a night about as much as a forecast errs.</summary>
    public static NightAhead LowOnly(DeBiltNight night, Random random) =>
        night.Measured with { LowC = night.Measured.LowC + LowError(random) };

    public static double LowError(Random random) => 1.5 * Normal(random);

    /// <summary>
    /// All of it off: the low by 1.5 K, the dew point by half of that error and 1 K of its own, cloud by 20 of 100, wind by a
    /// quarter, and the day before as measured.
    /// </summary>
    public static NightAhead AllOff(DeBiltNight night, Random random)
    {
        double airMass = LowError(random);
        var measured = night.Measured;
        return measured with
        {
            LowC = measured.LowC + airMass,
            DewPointC = measured.DewPointC + 0.5 * airMass + Normal(random),
            CloudPercent = Math.Clamp(measured.CloudPercent + 20 * Normal(random), 0, 100),
            WindMetresPerSecond = measured.WindMetresPerSecond * Math.Exp(0.25 * Normal(random)),
        };
    }

    // Box and Muller 1958.
    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

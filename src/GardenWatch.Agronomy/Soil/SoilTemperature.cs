using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Soil;

/// <summary>Soil temperature of a bed, from air, sun and wind: one model over forecast and archive alike.</summary>
/// <remarks>
/// Sol-air temperature over a conducting column (<see cref="SurfaceHeat"/>, <see cref="SoilColumn"/>); no constant is
/// fitted to one station. Daily means against six measured stations (SoilAtStationsTests): RMSE 0.8 to 1.9 K at 5 and
/// 10 cm, where a week's mean of the air or its exponential smoothing leaves 1.9 to 4.7 K. Lying snow is not in it: under
/// snow the soil is warmer than said.
/// </remarks>
public static class SoilTemperature
{
    private const double LargestOffset = 4;
    private const int OffsetDays = 10;
    private const int OffsetDaysNeeded = 3;
    private const int OffsetHoursNeeded = 20;

    /// <summary>°C at each stamp; NaN where it is not known.</summary>
    /// <remarks>
    /// Air is needed: up to three missing hours are bridged, after a longer gap the column starts anew. A start takes the
    /// mean of its first five days for the soil, so its first hours (<see cref="StartHours"/>) are not given. Sun, wind,
    /// cloud, humidity or rain that are missing are taken as usual for the hour: even with air alone the stations' RMSE
    /// at 5 cm stays between 0.9 and 1.8 K.
    /// </remarks>
    public static double[] Hourly(WeatherSeries weather, GeoPosition place, double depthMetres, SoilSurface surface)
    {
        CheckDepth(depthMetres, surface);
        var soil = new double[weather.Hours];
        Array.Fill(soil, double.NaN);
        int start = StartHours(depthMetres);
        SoilRun.Over(weather, place, surface, 0, null, (hour, sinceStart, run) =>
        {
            if (sinceStart >= start)
                soil[hour] = run.Column.At(depthMetres);
        });
        return soil;
    }

    /// <summary>Hours after a start for which the guessed start still matters at a depth: 3 days at 5 cm, 5 at 10, 9 at 20.</summary>
    public static int StartHours(double depthMetres) => (int)Math.Round(24 * (1 + 40 * depthMetres));

    /// <summary>To which depth soil is known, m.</summary>
    public static double Deepest(bool container) => SoilColumn.Deepest(container);

    internal static void CheckDepth(double depthMetres, SoilSurface surface)
    {
        double deepest = Deepest(surface.Place == SoilPlace.Container);
        if (!(depthMetres >= 0 && depthMetres <= deepest))
            throw new ArgumentOutOfRangeException(nameof(depthMetres), depthMetres, $"Soil is known from 0 to {deepest} m.");
    }

    /// <summary>
    /// What to add to the model to meet the service's own soil level: the median of the last ten days' mean differences,
    /// at most 4 K; null with fewer than three days on which both are known for 20 hours.
    /// </summary>
    /// <param name="modelC">The model at the level's own depth (0.06 or 0.18 m), one value a stamp.</param>
    /// <param name="level"><see cref="WeatherVariable.SoilAt6Cm"/> or <see cref="WeatherVariable.SoilAt18Cm"/>.</param>
    /// <remarks>
    /// A service's soil is that of a mean field of its grid, and its layers change without notice: use the offset to
    /// correct the level of the model, never to judge the bed by.
    /// </remarks>
    public static TemperatureDifference? ServiceOffset(
        WeatherSeries weather, ReadOnlySpan<double> modelC, WeatherVariable level, Instant asOf)
    {
        if (modelC.Length != weather.Hours)
            throw new ArgumentException($"{modelC.Length} values for {weather.Hours} hours.", nameof(modelC));
        if (level is not (WeatherVariable.SoilAt6Cm or WeatherVariable.SoilAt18Cm))
            throw new ArgumentOutOfRangeException(nameof(level), level, "Not a soil level of the service.");
        var service = weather[level];
        int last = Math.Min(weather.LastAtOrBefore(asOf), weather.Hours - 1);
        List<double> differences = [];
        for (int day = 0; day < OffsetDays; day++)
        {
            double sum = 0;
            int known = 0;
            for (int hour = Math.Max(0, last - 24 * day - 23); hour <= last - 24 * day; hour++)
            {
                double difference = service[hour] - modelC[hour];
                if (double.IsNaN(difference))
                    continue;
                sum += difference;
                known++;
            }
            if (known >= OffsetHoursNeeded)
                differences.Add(sum / known);
        }
        if (differences.Count < OffsetDaysNeeded)
            return null;
        differences.Sort();
        int middle = differences.Count / 2;
        double median = differences.Count % 2 == 1
            ? differences[middle]
            : (differences[middle - 1] + differences[middle]) / 2;
        return new(Math.Clamp(median, -LargestOffset, LargestOffset));
    }
}

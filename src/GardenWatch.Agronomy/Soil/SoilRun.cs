using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Soil;

/// <summary>The soil's state as it is carried from hour to hour: the column's heat and the crust's moisture.</summary>
internal sealed class SoilRun(SoilColumn column, SurfaceHeat heat)
{
    private const int LongestBridgedGapHours = 3;
    private const int RunInHours = 5 * 24;

    public SoilColumn Column => column;

    public SurfaceHeat Heat => heat;

    /// <summary>What is told of each hour: the hour, how many hours since the column started, and its state.</summary>
    public delegate void Told(int hour, int sinceStart, SoilRun run);

    /// <summary>All hours from one on whose air is known or bridged; after a longer gap the column starts anew.</summary>
    /// <param name="before">The state at the hour before <paramref name="from"/> and its hours since the start; null to start.</param>
    public static void Over(
        WeatherSeries weather, GeoPosition place, SoilSurface surface, int from, (SoilRun Run, int SinceStart)? before, Told told)
    {
        int bridgedFrom = Math.Max(0, from - LongestBridgedGapHours - 1);
        double[] air = Bridged(weather[WeatherVariable.Air][bridgedFrom..]);
        double At(int hour) => air[hour - bridgedFrom];
        for (int start = from; start < weather.Hours;)
        {
            if (double.IsNaN(At(start)))
            {
                (start, before) = (start + 1, null);
                continue;
            }
            int until = start;
            while (until < weather.Hours && !double.IsNaN(At(until)))
                until++;
            bool goesOn = start == from && before is not null;
            var run = goesOn ? before!.Value.Run : Started(weather, place, surface, air.AsSpan(start - bridgedFrom, until - start), start);
            int sinceStart = goesOn ? before!.Value.SinceStart + 1 : 0;
            run.Through(weather, place, air.AsSpan(start - bridgedFrom, until - start), start, (hour, at) => told(hour, sinceStart + hour - start, at));
            start = until;
        }
    }

    /// <summary>
    /// A column that took the mean of its first five days and went through them once, so that it holds their sun as well as
    /// their air.
    /// </summary>
    private static SoilRun Started(WeatherSeries weather, GeoPosition place, SoilSurface surface, ReadOnlySpan<double> air, int first)
    {
        var days = air[..Math.Min(RunInHours, air.Length)];
        double startC = 0;
        foreach (double hour in days)
            startC += hour / days.Length;
        var run = new SoilRun(new(surface.Place == SoilPlace.Container, startC), new(surface));
        run.Through(weather, place, days, first, null);
        return run;
    }

    private void Through(WeatherSeries weather, GeoPosition place, ReadOnlySpan<double> air, int first, Action<int, SoilRun>? told)
    {
        var hours = SkyBalance.Over(weather, place, WhenUnknown.Usual);
        var rain = weather[WeatherVariable.Rain];
        for (int i = 0; i < air.Length; i++)
        {
            var (drawnTo, conductance) = heat.Hour(hours.At(first + i, air[i]), rain[first + i]);
            column.Step(drawnTo, conductance, air[i]);
            told?.Invoke(first + i, this);
        }
    }

    private static double[] Bridged(ReadOnlySpan<double> air)
    {
        double[] bridged = air.ToArray();
        int known = -1;
        for (int hour = 0; hour < bridged.Length; hour++)
        {
            if (double.IsNaN(bridged[hour]))
                continue;
            int gap = hour - known - 1;
            if (known >= 0 && gap is > 0 and <= LongestBridgedGapHours)
                for (int i = 1; i <= gap; i++)
                    bridged[known + i] = bridged[known] + (bridged[hour] - bridged[known]) * i / (gap + 1);
            known = hour;
        }
        return bridged;
    }
}

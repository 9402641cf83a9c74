using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Weather.History;

/// <summary>Use of water by the reference crop, reckoned from the other variables of an hour where the service told none.</summary>
/// <remarks>
/// A model that gives no evapotranspiration, or a host of one's own that leaves it out, would else leave every bed unknown. FAO-56
/// (Allen et al. 1998) eq. 53, with its stand-ins for wind, humidity and sun; an hour without air stays unknown.
/// </remarks>
public static class ReckonedWaterUse
{
    /// <summary>The same series where nothing is missing, or nothing can be mended.</summary>
    public static WeatherSeries In(WeatherSeries weather, GeoPosition place)
    {
        var given = weather[WeatherVariable.ReferenceEvapotranspiration];
        var air = weather[WeatherVariable.Air];
        int from = 0, until = weather.Hours;
        while (from < until && !IsMissing(from, given, air))
            from++;
        while (until > from && !IsMissing(until - 1, given, air))
            until--;
        if (from == until)
            return weather;
        double[] reckoned = new double[weather.Hours], use = given.ToArray();
        EvapotranspirationHours.Fill(weather, place, reckoned);
        for (int hour = from; hour < until; hour++)
            if (double.IsNaN(use[hour]))
                use[hour] = reckoned[hour];
        return weather.WithColumn(WeatherVariable.ReferenceEvapotranspiration, ImmutableCollectionsMarshal.AsImmutableArray(use));
    }

    private static bool IsMissing(int hour, ReadOnlySpan<double> given, ReadOnlySpan<double> air) => double.IsNaN(given[hour]) && !double.IsNaN(air[hour]);
}

using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Frost;

/// <summary>Air at screen height over one bed: that of the place, less the cold that gathers in a hollow.</summary>
public static class BedAir
{
    // Reflected by leaves and grass, FAO-56 (Allen et al. 1998) eq. 38.
    private const double Albedo = 0.23;

    /// <summary>°C at each stamp; NaN only where the air itself is not known.</summary>
    /// <param name="frostPocket">
    /// How much colder the bed is than the place on a clear, still night. Less of it counts under cloud and in wind, and
    /// none by day. Negative for a bed that is kept warmer, under a wall.
    /// </param>
    /// <remarks>
    /// Cloud by the longwave balance: full cloud leaves about a third. Wind by the trade's limits: all of it up to 1.5 m/s
    /// at ten metres, none from 5 m/s, where no cold air can lie. Missing cloud, wind or humidity is taken at its worst.
    /// </remarks>
    public static double[] Hourly(WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket)
    {
        var bed = new double[weather.Hours];
        Fill(bed, 0, weather, place, frostPocket);
        return bed;
    }

    /// <summary>The hours from one on, into a column whose earlier ones stand.</summary>
    public static void Fill(Span<double> bed, int from, WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket)
    {
        if (frostPocket.Kelvins == 0)
        {
            weather[WeatherVariable.Air][from..].CopyTo(bed[from..]);
            return;
        }
        var hours = SkyBalance.Over(weather, place, WhenUnknown.Worst);
        for (int hour = from; hour < bed.Length; hour++)
            bed[hour] = At(hours.At(hour), frostPocket);
    }

    /// <summary>How much of a clear, calm night an hour of a series is, 0 to 1: so much of a frost pocket counts then. NaN where the air is not known.</summary>
    public static double ClearAndCalm(WeatherSeries weather, GeoPosition place, int hour) =>
        double.IsNaN(weather[WeatherVariable.Air][hour]) ? double.NaN : ClearAndCalm(SkyBalance.Over(weather, place, WhenUnknown.Worst).At(hour));

    internal static double At(in SkyBalance sky, TemperatureDifference frostPocket) =>
        sky.AirC - frostPocket.Kelvins * ClearAndCalm(sky);

    /// <summary>What leafy ground loses beyond what sun and sky bring, W/m²; by day below nothing.</summary>
    internal static double NetLossWatts(in SkyBalance sky) => sky.LossWatts - (1 - Albedo) * sky.SunWatts;

    /// <summary>How much of a clear, calm night an hour is, 0 to 1.</summary>
    internal static double ClearAndCalm(in SkyBalance sky)
    {
        double loss = NetLossWatts(sky);
        return loss <= 0
            ? 0
            : Math.Min(1, loss / sky.ClearLossWatts) * Math.Clamp((5 - sky.WindMetresPerSecond) / 3.5, 0, 1);
    }
}

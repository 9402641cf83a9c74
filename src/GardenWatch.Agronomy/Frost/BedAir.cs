using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Frost;

/// <summary>Air at screen height over one bed: that of the place, less the cold that gathers in a hollow.</summary>
public static class BedAir
{
    /// <summary>°C at each stamp; NaN only where the air itself is not known.</summary>
    /// <param name="frostPocket">
    /// How much colder the bed is than the place on a clear, still night. Less of it counts under cloud and in wind, and
    /// none by day. Negative for a bed that is kept warmer, under a wall.
    /// </param>
    public static double[] Hourly(WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket)
    {
        if (frostPocket.Kelvins == 0)
            return weather[WeatherVariable.Air].ToArray();
        var hours = NightSky.Read(weather, place);
        var bed = new double[weather.Hours];
        for (int hour = 0; hour < bed.Length; hour++)
            bed[hour] = At(hours.At(hour), frostPocket);
        return bed;
    }

    internal static double At(in NightSky sky, TemperatureDifference frostPocket) =>
        sky.AirC - frostPocket.Kelvins * sky.ClearAndCalm;
}

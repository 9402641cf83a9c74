using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Water;

/// <summary>How many hours of a series had something put in the place of what was not known.</summary>
public readonly record struct HoursGuessed(int Humidity, int Wind, int Radiation);

/// <summary>Reference evapotranspiration of each hour of a series, mm in the hour that ends at the stamp.</summary>
/// <remarks>
/// FAO-56 (Allen et al. 1998) eq. 53. Whether the sky is clear is seen while the sun is well up; through the night the value
/// of two hours before sunset is kept (p. 75). Air, and through it the hour, is never guessed.
/// </remarks>
public static class EvapotranspirationHours
{
    private const double MegajoulesOfWattHour = 0.0036;
    // m/s at two metres; the mean of 2000 stations (FAO-56 p. 63).
    private const double UsualWind = 2;

    /// <summary>Fills in one value an hour; NaN where air is not known at both ends of the hour.</summary>
    /// <param name="into">As long as the series has hours.</param>
    /// <exception cref="ArgumentException">Room for another number of hours, or a value that can't be true.</exception>
    /// <remarks>
    /// Missing humidity: the dew point, else the lowest air of the twelve hours on either side (eq. 48). Missing wind: 2 m/s.
    /// Missing radiation: the share of a clear sky's that eq. 50 gives for how far those hours warm, the same for each hour.
    /// </remarks>
    public static HoursGuessed Fill(WeatherSeries weather, GeoPosition place, Span<double> into)
    {
        if (into.Length != weather.Hours)
            throw new ArgumentException($"Room for {into.Length} values, of {weather.Hours} hours.", nameof(into));
        var air = weather[WeatherVariable.Air];
        var humidity = weather[WeatherVariable.RelativeHumidity];
        var dewPoint = weather[WeatherVariable.DewPoint];
        var wind = weather[WeatherVariable.Wind];
        var radiation = weather[WeatherVariable.Radiation];
        var around = new WindowedColumn(air);
        HoursGuessed guessed = default;
        double clearness = 0.5; // before the first day: FAO-56 p. 75 takes 0.4 to 0.6 in moist places
        for (int i = 0; i < into.Length; i++)
        {
            double airC = i == 0 ? air[0] : (air[i - 1] + air[i]) / 2;
            if (double.IsNaN(airC))
            {
                into[i] = double.NaN;
                continue;
            }
            var sky = Sky(weather.StampOf(i), place);
            double sun = radiation[i] * MegajoulesOfWattHour;
            if (double.IsNaN(sun))
            {
                guessed = guessed with { Radiation = guessed.Radiation + 1 };
                double range = around.High(i - 12, i + 11) - around.Low(i - 12, i + 11);
                sun = sky.Top * Math.Min(0.16 * Math.Sqrt(range), 0.75 + 2e-5 * place.ElevationMetres);
            }
            if (sky.WellUp)
                clearness = Math.Clamp(sun / sky.Clear, 0.3, 1);

            double relative = humidity[i];
            if (double.IsNaN(relative))
            {
                double dewPointC = dewPoint[i];
                if (double.IsNaN(dewPointC))
                {
                    dewPointC = around.Low(i - 12, i + 11);
                    guessed = guessed with { Humidity = guessed.Humidity + 1 };
                }
                relative = Agronomy.Humidity.DewPoint.HumidityFrom(airC, Math.Min(dewPointC, airC));
            }
            double atTwo = double.IsNaN(wind[i]) ? UsualWind : ReferenceEvapotranspiration.WindAtTwoMetres(wind[i], 10);
            if (double.IsNaN(wind[i]))
                guessed = guessed with { Wind = guessed.Wind + 1 };
            into[i] = ReferenceEvapotranspiration.Hourly(airC, relative, sun, atTwo, place.ElevationMetres, clearness, isDay: sky.Top > 0 && sun > 0);
        }
        return guessed;
    }

    /// <summary>Of the hour that ends at a stamp: radiation at the top and of a clear sky, MJ/m², and whether the sun is two hours from the horizon.</summary>
    private static (double Top, double Clear, bool WellUp) Sky(Instant stamp, GeoPosition place)
    {
        var middle = stamp.Minus(Duration.FromMinutes(30)).InUtc();
        double hour = middle.TimeOfDay.TickOfDay / (double)NodaConstants.TicksPerHour;
        double top = SolarRadiation.ExtraterrestrialOfHour(place.LatitudeDegrees, place.LongitudeDegrees, middle.DayOfYear, hour);
        double angle = SolarRadiation.SolarTimeAngle(place.LongitudeDegrees, middle.DayOfYear, hour);
        double wellUp = SolarRadiation.SunsetHourAngle(place.LatitudeDegrees, middle.DayOfYear) - Math.PI / 6;
        double clear = SolarRadiation.ClearSky(top, place.ElevationMetres);
        return (top, clear, clear > 0 && Math.Abs(angle) < wellUp);
    }
}

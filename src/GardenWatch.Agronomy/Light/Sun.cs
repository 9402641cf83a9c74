using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Light;

/// <summary>When the sun rises and sets on a local date; null where it does not.</summary>
public readonly record struct SunCourse(Instant? Rise, Instant? Set, Duration DayLength);

/// <summary>The sun's path over a place.</summary>
/// <remarks>
/// Low-precision solar coordinates of Meeus, Astronomical Algorithms (2nd ed. 1998, ch. 25), as the US NOAA solar
/// calculator spells them out. Within about a minute of almanacs between 72° north and south, years 1900 to 2100.
/// </remarks>
public static class Sun
{
    /// <summary>Centre of the disc at rise and set: 34' of refraction and 16' of radius below the horizon.</summary>
    public const double RiseAndSetAltitudeDegrees = -0.833;

    /// <summary>Rise and set that fall on a local date, and how long the sun is up on it.</summary>
    public static SunCourse Course(GeoPosition place, LocalDate date, DateTimeZone zone)
    {
        // Solar noon of the date: start from the zone's midday and correct by longitude, so that far-off zones agree.
        var day = new Interval(LocalCalendar.StartOf(date, zone), LocalCalendar.StartOf(date.PlusDays(1), zone));
        var noon = SolarNoonNear(day.Start + day.Duration / 2, place.LongitudeDegrees);
        var rise = Crossing(noon, place, RiseAndSetAltitudeDegrees, rising: true);
        var set = Crossing(noon, place, RiseAndSetAltitudeDegrees, rising: false);
        if (rise is { } r && set is { } s)
            return new(r, s, s - r);
        return new(null, null, AltitudeDegrees(noon, place) > RiseAndSetAltitudeDegrees ? day.Duration : Duration.Zero);
    }

    /// <summary>Height of the sun's centre above the horizon, without refraction, in degrees.</summary>
    public static double AltitudeDegrees(Instant instant, GeoPosition place)
    {
        var (declination, equationOfTimeMinutes) = Coordinates(instant);
        double minutes = instant.ToUnixTimeSeconds() / 60.0 % 1440;
        double hourAngle = Radians((minutes + equationOfTimeMinutes + 4 * place.LongitudeDegrees) / 4 - 180);
        double latitude = Radians(place.LatitudeDegrees);
        return Degrees(Math.Asin(
            Math.Sin(latitude) * Math.Sin(declination) +
            Math.Cos(latitude) * Math.Cos(declination) * Math.Cos(hourAngle)));
    }

    private static Instant SolarNoonNear(Instant guess, double longitudeDegrees)
    {
        double minutes = guess.ToUnixTimeSeconds() / 60.0 % 1440;
        double solar = minutes + Coordinates(guess).EquationOfTimeMinutes + 4 * longitudeDegrees;
        double behind = Math.IEEERemainder(720 - solar, 1440);
        return guess + Duration.FromSeconds(Math.Round(behind * 60));
    }

    private static Instant? Crossing(Instant noon, GeoPosition place, double altitudeDegrees, bool rising)
    {
        double latitude = Radians(place.LatitudeDegrees);
        var instant = noon;
        // The declination of the crossing itself is wanted; three rounds settle it to the second.
        for (int round = 0; round < 3; round++)
        {
            var (declination, equationOfTime) = Coordinates(instant);
            double cosine =
                (Math.Sin(Radians(altitudeDegrees)) - Math.Sin(latitude) * Math.Sin(declination)) /
                (Math.Cos(latitude) * Math.Cos(declination));
            if (cosine is < -1 or > 1 || double.IsNaN(cosine))
                return null;
            double minutesFromNoon = 4 * Degrees(Math.Acos(cosine)) * (rising ? -1 : 1);
            double drift = Coordinates(noon).EquationOfTimeMinutes - equationOfTime;
            instant = noon + Duration.FromSeconds(Math.Round((minutesFromNoon + drift) * 60));
        }
        return instant;
    }

    private static (double Declination, double EquationOfTimeMinutes) Coordinates(Instant instant)
    {
        double century = (instant.ToUnixTimeSeconds() / 86400.0 + 2440587.5 - 2451545) / 36525;
        double meanLongitude = Radians((280.46646 + century * (36000.76983 + century * 0.0003032)) % 360);
        double anomaly = Radians(357.52911 + century * (35999.05029 - 0.0001537 * century));
        double eccentricity = 0.016708634 - century * (0.000042037 + 0.0000001267 * century);
        double centre =
            Math.Sin(anomaly) * (1.914602 - century * (0.004817 + 0.000014 * century)) +
            Math.Sin(2 * anomaly) * (0.019993 - 0.000101 * century) +
            Math.Sin(3 * anomaly) * 0.000289;
        double node = Radians(125.04 - 1934.136 * century);
        double longitude = meanLongitude + Radians(centre - 0.00569 - 0.00478 * Math.Sin(node));
        double obliquity = Radians(
            23 + (26 + (21.448 - century * (46.815 + century * (0.00059 - century * 0.001813))) / 60) / 60 +
            0.00256 * Math.Cos(node));
        double declination = Math.Asin(Math.Sin(obliquity) * Math.Sin(longitude));
        double y = Math.Pow(Math.Tan(obliquity / 2), 2);
        double equationOfTime = 4 * Degrees(
            y * Math.Sin(2 * meanLongitude) - 2 * eccentricity * Math.Sin(anomaly) +
            4 * eccentricity * y * Math.Sin(anomaly) * Math.Cos(2 * meanLongitude) -
            0.5 * y * y * Math.Sin(4 * meanLongitude) - 1.25 * eccentricity * eccentricity * Math.Sin(2 * anomaly));
        return (declination, equationOfTime);
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}

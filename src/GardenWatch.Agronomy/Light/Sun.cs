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

    public const double CivilTwilightAltitudeDegrees = -6;

    public const double NauticalTwilightAltitudeDegrees = -12;

    /// <summary>Rise and set that fall on a local date, and how long the sun is up on it.</summary>
    /// <remarks>
    /// Near polar day the set belongs to the date's noon even when it comes after midnight. A date that a zone left out,
    /// such as 30 December 2011 in Samoa, has neither.
    /// </remarks>
    public static SunCourse Course(GeoPosition place, LocalDate date, DateTimeZone zone) =>
        Course(place, date, zone, RiseAndSetAltitudeDegrees);

    /// <summary>Dawn and dusk of a local date, in place of rise and set: the time of light to work by out of doors.</summary>
    public static SunCourse CivilTwilight(GeoPosition place, LocalDate date, DateTimeZone zone) =>
        Course(place, date, zone, CivilTwilightAltitudeDegrees);

    /// <summary>
    /// First and last grey of a local date, in place of rise and set: outside them it is night to moths and slugs. In high
    /// summer north of 54.5° the night does not come; there is no dawn or dusk then, and the length is the whole day.
    /// </summary>
    public static SunCourse NauticalTwilight(GeoPosition place, LocalDate date, DateTimeZone zone) =>
        Course(place, date, zone, NauticalTwilightAltitudeDegrees);

    /// <summary>Height of the sun's centre above the horizon, without refraction, in degrees.</summary>
    public static double AltitudeDegrees(Instant instant, GeoPosition place) =>
        Degrees(Math.Asin(new SunPosition(instant).SineOfAltitude(instant, place)));

    /// <summary>First instant of a local date; of a date that the zone left out, the instant at which it did so.</summary>
    internal static Instant StartOfDay(LocalDate date, DateTimeZone zone)
    {
        var mapping = zone.MapLocal(date.AtMidnight());
        return mapping.Count == 0 ? mapping.LateInterval.Start : mapping.First().ToInstant();
    }

    private static SunCourse Course(GeoPosition place, LocalDate date, DateTimeZone zone, double altitudeDegrees)
    {
        var day = new Interval(StartOfDay(date, zone), StartOfDay(date.PlusDays(1), zone));
        if (day.Duration == Duration.Zero)
            return new(null, null, Duration.Zero);
        // Solar noon of the date: start from the zone's midday and correct by longitude, so that far-off zones agree.
        var noon = SolarNoonNear(day.Start + day.Duration / 2, place.LongitudeDegrees);
        var position = new SunPosition(noon);
        var rise = Crossing(noon, position, place, altitudeDegrees, rising: true);
        var set = Crossing(noon, position, place, altitudeDegrees, rising: false);
        if (rise is { } r && set is { } s)
            return new(r, s, s - r);
        bool up = position.SineOfAltitude(noon, place) > Math.Sin(Radians(altitudeDegrees));
        return new(null, null, up ? day.Duration : Duration.Zero);
    }

    private static Instant SolarNoonNear(Instant guess, double longitudeDegrees)
    {
        double solar = MinutesOfDay(guess) + new SunPosition(guess).EquationOfTimeMinutes + 4 * longitudeDegrees;
        double behind = Math.IEEERemainder(720 - solar, 1440);
        return guess + Duration.FromSeconds(Math.Round(behind * 60));
    }

    private static Instant? Crossing(
        Instant noon, in SunPosition atNoon, GeoPosition place, double altitudeDegrees, bool rising)
    {
        double sineLatitude = Math.Sin(Radians(place.LatitudeDegrees));
        double cosineLatitude = Math.Cos(Radians(place.LatitudeDegrees));
        double sineAltitude = Math.Sin(Radians(altitudeDegrees));
        var position = atNoon;
        var instant = noon;
        // The declination of the crossing itself is wanted; three rounds settle it to the second.
        for (int round = 0; round < 3; round++)
        {
            if (round > 0)
                position = new SunPosition(instant);
            double cosine = (sineAltitude - sineLatitude * position.SineDeclination)
                / (cosineLatitude * position.CosineDeclination);
            if (!(cosine is >= -1 and <= 1))
                return null;
            double minutesFromNoon = 4 * Degrees(Math.Acos(cosine)) * (rising ? -1 : 1);
            double drift = atNoon.EquationOfTimeMinutes - position.EquationOfTimeMinutes;
            instant = noon + Duration.FromSeconds(Math.Round((minutesFromNoon + drift) * 60));
        }
        return instant;
    }

    private static double MinutesOfDay(Instant instant) => instant.ToUnixTimeSeconds() / 60.0 % 1440;

    /// <summary>Where the sun stands among the stars; good for some hours to either side.</summary>
    internal readonly struct SunPosition
    {
        public SunPosition(Instant instant)
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
            SineDeclination = Math.Sin(obliquity) * Math.Sin(longitude);
            CosineDeclination = Math.Sqrt(1 - SineDeclination * SineDeclination);
            double half = Math.Tan(obliquity / 2);
            double y = half * half;
            EquationOfTimeMinutes = 4 * Degrees(
                y * Math.Sin(2 * meanLongitude) - 2 * eccentricity * Math.Sin(anomaly) +
                4 * eccentricity * y * Math.Sin(anomaly) * Math.Cos(2 * meanLongitude) -
                0.5 * y * y * Math.Sin(4 * meanLongitude) - 1.25 * eccentricity * eccentricity * Math.Sin(2 * anomaly));
        }

        public double SineDeclination { get; }

        public double CosineDeclination { get; }

        public double EquationOfTimeMinutes { get; }

        public double SineOfAltitude(Instant instant, GeoPosition place)
        {
            double hourAngle = Radians((MinutesOfDay(instant) + EquationOfTimeMinutes + 4 * place.LongitudeDegrees) / 4 - 180);
            double latitude = Radians(place.LatitudeDegrees);
            return Math.Sin(latitude) * SineDeclination + Math.Cos(latitude) * CosineDeclination * Math.Cos(hourAngle);
        }
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}

using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Light;

/// <summary>Radiation at the top of the air and at the ground by FAO-56 (Allen et al. 1998), MJ/m² a day or an hour.</summary>
/// <remarks>
/// The sun is that of the paper: the centre of the disc, no refraction. For rise and set see <see cref="Sun"/>. A latitude
/// outside -90 to 90° or a day outside 1 to 366 is an error; at the poles days have 24 hours or none.
/// </remarks>
public static class SolarRadiation
{
    private const double SolarConstantPerMinute = 0.0820;
    private const double StefanBoltzmannPerDay = 4.903e-9;

    /// <summary>Water that a megajoule evaporates, mm (eq. 20).</summary>
    public const double MillimetresPerMegajoule = 0.408;

    /// <summary>Inverse relative distance from the sun (eq. 23).</summary>
    public static double InverseDistance(int dayOfYear) => 1 + 0.033 * Math.Cos(2 * Math.PI * Within.DayOfYear(dayOfYear) / 365);

    /// <summary>Declination, radians (eq. 24).</summary>
    public static double Declination(int dayOfYear) =>
        0.409 * Math.Sin(2 * Math.PI * Within.DayOfYear(dayOfYear) / 365 - 1.39);

    /// <summary>Hour angle of sunset, radians (eq. 25); π on a polar day, 0 in a polar night.</summary>
    public static double SunsetHourAngle(double latitudeDegrees, int dayOfYear) =>
        Math.Acos(Math.Clamp(-Math.Tan(Radians(Within.Latitude(latitudeDegrees))) * Math.Tan(Declination(dayOfYear)), -1, 1));

    /// <summary>Hours of daylight (eq. 34): some ten minutes shorter than from rise to set.</summary>
    public static double DaylightHours(double latitudeDegrees, int dayOfYear) =>
        24 / Math.PI * SunsetHourAngle(latitudeDegrees, dayOfYear);

    /// <summary>At the top of the air in a day (eq. 21).</summary>
    public static double Extraterrestrial(double latitudeDegrees, int dayOfYear)
    {
        double latitude = Radians(latitudeDegrees), declination = Declination(dayOfYear);
        double sunset = SunsetHourAngle(latitudeDegrees, dayOfYear);
        return 24 * 60 / Math.PI * SolarConstantPerMinute * InverseDistance(dayOfYear) * (
            sunset * Math.Sin(latitude) * Math.Sin(declination)
            + Math.Cos(latitude) * Math.Cos(declination) * Math.Sin(sunset));
    }

    /// <summary>At the top of the air in the hour around an instant (eq. 28 to 33).</summary>
    /// <param name="middleHoursUtc">The middle of the hour, in hours of the UTC day.</param>
    public static double ExtraterrestrialOfHour(
        double latitudeDegrees, double longitudeDegrees, int dayOfYear, double middleHoursUtc)
    {
        double latitude = Radians(latitudeDegrees), declination = Declination(dayOfYear);
        double middle = SolarTimeAngle(longitudeDegrees, dayOfYear, middleHoursUtc);
        double sunset = SunsetHourAngle(latitudeDegrees, dayOfYear);
        // The part of the hour that the sun is up.
        double from = Math.Clamp(middle - Math.PI / 24, -sunset, sunset);
        double until = Math.Clamp(middle + Math.PI / 24, -sunset, sunset);
        return 12 * 60 / Math.PI * SolarConstantPerMinute * InverseDistance(dayOfYear) * (
            (until - from) * Math.Sin(latitude) * Math.Sin(declination)
            + Math.Cos(latitude) * Math.Cos(declination) * (Math.Sin(until) - Math.Sin(from)));
    }

    /// <summary>Angle of the sun from its noon, radians, -π to π (eq. 31).</summary>
    public static double SolarTimeAngle(double longitudeDegrees, int dayOfYear, double hoursUtc) =>
        Math.IEEERemainder(
            Math.PI / 12 * (hoursUtc + Within.Longitude(longitudeDegrees) / 15 + SeasonalCorrection(dayOfYear) - 12), 2 * Math.PI);

    /// <summary>Hours by which the sun is ahead of the clock at the zone's meridian (eq. 32 and 33).</summary>
    public static double SeasonalCorrection(int dayOfYear)
    {
        double b = 2 * Math.PI * (Within.DayOfYear(dayOfYear) - 81) / 364;
        return 0.1645 * Math.Sin(2 * b) - 0.1255 * Math.Cos(b) - 0.025 * Math.Sin(b);
    }

    /// <summary>At the ground, from hours of sunshine (eq. 35 with 0.25 and 0.50).</summary>
    public static double FromSunshine(double sunshineHours, double daylightHours, double extraterrestrial) =>
        daylightHours == 0 ? 0 : (0.25 + 0.50 * sunshineHours / daylightHours) * extraterrestrial;

    /// <summary>At the ground, from how far the day warms (eq. 50); at most that of a clear day.</summary>
    /// <param name="coefficient">0.16 inland, 0.19 by the sea.</param>
    /// <exception cref="ArgumentException">The lowest air is above the highest.</exception>
    public static double FromTemperatureRange(
        double minC, double maxC, double extraterrestrial, double elevationMetres, double coefficient = 0.16) =>
        minC > maxC
            ? throw new ArgumentException(FormattableString.Invariant(
                $"The lowest air of a day, {minC} °C, is above its highest, {maxC} °C."), nameof(minC))
            : Math.Min(coefficient * Math.Sqrt(maxC - minC) * extraterrestrial, ClearSky(extraterrestrial, elevationMetres));

    /// <summary>At the ground under a clear sky (eq. 37).</summary>
    public static double ClearSky(double extraterrestrial, double elevationMetres) =>
        (0.75 + 2e-5 * elevationMetres) * extraterrestrial;

    /// <summary>What reference grass keeps of the sun (eq. 38).</summary>
    public static double NetShortwave(double atGround) => 0.77 * atGround;

    /// <summary>What reference grass loses to the sky in a day (eq. 39).</summary>
    /// <param name="clearness">Radiation at the ground over that of a clear sky; 0.3 to 1 counts.</param>
    public static double NetLongwave(double minC, double maxC, double vapourKPa, double clearness) =>
        StefanBoltzmannPerDay * (FourthPower(minC) + FourthPower(maxC)) / 2 * SkyFactor(vapourKPa, clearness);

    /// <summary>What reference grass loses to the sky in an hour (eq. 39; a 24th of the day's constant).</summary>
    public static double NetLongwaveOfHour(double airC, double vapourKPa, double clearness) =>
        StefanBoltzmannPerDay / 24 * FourthPower(airC) * SkyFactor(vapourKPa, clearness);

    // Darkest days kept at 0.3 after ASCE-EWRI 2005 eq. 18: below it the paper's straight line would turn the loss round.
    private static double SkyFactor(double vapourKPa, double clearness) =>
        (0.34 - 0.14 * Math.Sqrt(vapourKPa)) * (1.35 * Math.Clamp(clearness, 0.3, 1) - 0.35);

    private static double FourthPower(double celsius) => Math.Pow(celsius + 273.16, 4);

    private static double Radians(double degrees) => degrees * Math.PI / 180;
}

using System.Runtime.CompilerServices;

namespace GardenWatch.Agronomy.Quantities;

/// <summary>What can't be true is an error that names the value and its range; what is missing (NaN) goes through.</summary>
internal static class Within
{
    public static double Humidity(double percent, [CallerArgumentExpression(nameof(percent))] string? name = null) =>
        Checked(percent, 0, 100, "Relative humidity", "%", name);

    public static double Air(double celsius, [CallerArgumentExpression(nameof(celsius))] string? name = null) =>
        Checked(celsius, -100, 100, "Air", "°C", name);

    public static double Latitude(double degrees, [CallerArgumentExpression(nameof(degrees))] string? name = null) =>
        Checked(degrees, -90, 90, "Latitude", "degrees", name);

    public static double Longitude(double degrees, [CallerArgumentExpression(nameof(degrees))] string? name = null) =>
        Checked(degrees, -180, 180, "Longitude", "degrees", name);

    public static double Pressure(double kilopascals, [CallerArgumentExpression(nameof(kilopascals))] string? name = null) =>
        Checked(kilopascals, 30, 110, "Air pressure", "kPa", name);

    /// <summary>Of 1.</summary>
    public static double Share(double share, string what, [CallerArgumentExpression(nameof(share))] string? name = null) =>
        Checked(share, 0, 1, what, "(a share of 1)", name);

    public static int DayOfYear(int day, [CallerArgumentExpression(nameof(day))] string? name = null) =>
        day is >= 1 and <= 366 ? day : throw new ArgumentOutOfRangeException(name, day, "Day of the year is from 1 to 366.");

    public static double Checked(double value, double low, double high, string what, string unit, string? name) =>
        value < low || value > high
            ? throw new ArgumentOutOfRangeException(name, value, FormattableString.Invariant($"{what} is from {low} to {high} {unit}."))
            : value;
}

using NodaTime;

namespace GardenWatch.Demo;

/// <summary>Where the year stands, by the air: its top is about 20 July.</summary>
public static class Season
{
    private const double DaysInYear = 365.2425;
    private static readonly Instant ColdestDay = Instant.FromUtc(2000, 1, 20, 0, 0);

    /// <summary>-1 in late January, 1 in late July.</summary>
    public static double Warmth(Instant instant) =>
        -Math.Cos(2 * Math.PI * (instant - ColdestDay).TotalDays / DaysInYear);

    /// <summary>0 in late January, 1 in late July.</summary>
    public static double SummerShare(Instant instant) => (1 + Warmth(instant)) / 2;
}

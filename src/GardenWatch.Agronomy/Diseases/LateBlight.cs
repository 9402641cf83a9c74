using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>A day as the blight rules see it. Unknown values are NaN.</summary>
/// <param name="HumidHours">Hours with a relative humidity of 90 % or more; they need not follow each other.</param>
public readonly record struct BlightDay(double LowC, double HumidHours)
{
    /// <summary>Lowest air and humid hours of a local date; unknown when more than one hour in ten is.</summary>
    public static BlightDay Of(ReadOnlySpan<double> airC, ReadOnlySpan<double> relativeHumidityPercent)
    {
        if (airC.Length != relativeHumidityPercent.Length)
            throw new ArgumentException($"{airC.Length} hours of air, {relativeHumidityPercent.Length} of humidity.", nameof(airC));
        double low = double.PositiveInfinity;
        int humid = 0, known = 0;
        for (int hour = 0; hour < airC.Length; hour++)
        {
            if (double.IsNaN(airC[hour]) || double.IsNaN(relativeHumidityPercent[hour]))
                continue;
            known++;
            low = Math.Min(low, airC[hour]);
            humid += relativeHumidityPercent[hour] >= LateBlight.HumidPercent ? 1 : 0;
        }
        return known == 0 || known < 0.9 * airC.Length ? new(double.NaN, double.NaN) : new(low, humid);
    }
}

/// <summary>Weather for late blight of potato and tomato: a reason to look under leaves, never a finding.</summary>
/// <remarks>Anything sprayed follows its label and local rules, which may ask for longer intervals than a rule here.</remarks>
public static class LateBlight
{
    public const double HumidPercent = 90;

    private const double LowNeededC = 10, HumidHoursNeeded = 6;

    /// <summary>Whether the later of two days running completes the Hutton Criteria; null when a day is unknown.</summary>
    /// <remarks>
    /// James Hutton Institute and AHDB 2017: on each day a lowest of at least 10 °C and at least 6 humid hours. Alerts often, so it is a
    /// reason to look.
    /// </remarks>
    public static bool? Hutton(BlightDay first, BlightDay second)
    {
        var (a, b) = (IsHumid(first), IsHumid(second));
        return a == false || b == false ? false : a is null || b is null ? null : true;
    }

    /// <summary>Wallin's severity value of a humid spell or day, 0 to 4; null when unknown.</summary>
    /// <param name="meanOfHumidHoursC">Mean air in the humid hours.</param>
    /// <remarks>
    /// Wallin 1962, as used by Krause, Massie and Hyre 1975 (Plant Dis. Rep. 59:95-98): sum from emergence, first look in
    /// earnest at 18 to 20. The bands are printed in whole °F; 7.2, 11.6, 15.0 and 26.6 °C are taken as their limits.
    /// </remarks>
    public static int? WallinSeverity(double humidHours, double meanOfHumidHoursC)
    {
        if (Within.Checked(humidHours, 0, 240, "Humid hours of a spell", "hours", nameof(humidHours)) == 0)
            return 0;
        if (double.IsNaN(humidHours) || double.IsNaN(Within.Air(meanOfHumidHoursC)))
            return null;
        if (meanOfHumidHoursC is < 7.2 or > 26.6)
            return 0;
        // Hours for the first value; each further one takes three more.
        int needed = meanOfHumidHoursC <= 11.6 ? 16 : meanOfHumidHoursC <= 15.0 ? 13 : 10;
        int most = meanOfHumidHoursC <= 11.6 ? 3 : 4;
        return humidHours < needed ? 0 : Math.Min(most, 1 + (int)((humidHours - needed) / 3));
    }

    private static bool? IsHumid(BlightDay day) =>
        day.LowC < LowNeededC || day.HumidHours < HumidHoursNeeded ? false
        : double.IsNaN(day.LowC) || double.IsNaN(day.HumidHours) ? null : true;
}

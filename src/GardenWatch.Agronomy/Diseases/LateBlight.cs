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

/// <summary>What a week of blight weather asks for where a crop is protected at all.</summary>
public enum BlightWeek
{
    Nothing,
    /// <summary>Look again in two or three days.</summary>
    Warning,
    /// <summary>Renew protection every seven days.</summary>
    EverySevenDays,
    /// <summary>Every five days.</summary>
    EveryFiveDays,
}

/// <summary>Weather for late blight of potato and tomato: a reason to look under leaves, never a finding.</summary>
/// <remarks>Anything sprayed follows its label and local rules, which may ask for longer intervals than a rule here.</remarks>
public static class LateBlight
{
    /// <summary>Severity values, or rain-favourable days on end, that bring the first blight in 7 to 14 days.</summary>
    /// <remarks>Krause, Massie and Hyre 1975, Plant Dis. Rep. 59:95-98. The values are printed as 18 to 20; the lower is taken.</remarks>
    public const int FirstAtSeverity = 18, FirstAtFavourableDays = 10;

    public const double HumidPercent = 90;

    private const double LowNeededC = 10;

    /// <summary>Whether the later of two days running completes the Hutton Criteria; null when a day is unknown.</summary>
    /// <remarks>
    /// James Hutton Institute and AHDB 2017: on each day a lowest of at least 10 °C and at least 6 humid hours. Alerts far
    /// more often than Smith's period.
    /// </remarks>
    public static bool? Hutton(BlightDay first, BlightDay second) => Both(first, second, 6);

    /// <summary>Whether the later of two days running completes a Smith Period; null when a day is unknown.</summary>
    /// <remarks>Smith 1956: as the Hutton Criteria, with at least 11 humid hours.</remarks>
    public static bool? Smith(BlightDay first, BlightDay second) => Both(first, second, 11);

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

    /// <summary>Whether a day is rain-favourable; null when something it hangs on is unknown.</summary>
    /// <remarks>
    /// Hyre 1954, Plant Dis. Rep. 38:245-253: five days' mean below 25.5 °C, ten days' rain of 30 mm or more, lowest not
    /// below 7.2 °C.
    /// </remarks>
    public static bool? HyreFavourable(double fiveDayMeanC, double tenDayRainMm, double lowC)
    {
        Within.Air(fiveDayMeanC);
        Within.Air(lowC);
        Within.Checked(tenDayRainMm, 0, 5000, "Rain of ten days", "mm", nameof(tenDayRainMm));
        // One condition that surely fails settles the day, whatever is unknown.
        if (fiveDayMeanC >= 25.5 || tenDayRainMm < 30 || lowC < 7.2)
            return false;
        return double.IsNaN(fiveDayMeanC) || double.IsNaN(tenDayRainMm) || double.IsNaN(lowC) ? null : true;
    }

    /// <summary>Whether the first blight of the season is forecast: blight follows in 7 to 14 days.</summary>
    /// <param name="favourableDaysOnEnd">Rain-favourable days in a row (<see cref="HyreFavourable"/>), up to today.</param>
    /// <param name="severitySum">Sum of <see cref="WallinSeverity"/> since the crop came up.</param>
    /// <remarks>Krause, Massie and Hyre 1975.</remarks>
    public static bool FirstForecast(int favourableDaysOnEnd, int severitySum) =>
        favourableDaysOnEnd >= FirstAtFavourableDays || severitySum >= FirstAtSeverity;

    /// <summary>After the first forecast: what the last seven days ask for.</summary>
    /// <param name="favourableDays">Rain-favourable days of the seven, 0 to 7.</param>
    /// <param name="severitySum">Severity values of the seven days, 0 to 28.</param>
    /// <exception cref="ArgumentOutOfRangeException">More days or values than a week can have.</exception>
    /// <remarks>
    /// Krause, Massie and Hyre 1975, their matrix. With few favourable days 6 values keep the seven-day interval, as printed; a
    /// later program is known to give five.
    /// </remarks>
    public static BlightWeek Week(int favourableDays, int severitySum)
    {
        Within.Checked(favourableDays, 0, 7, "Favourable days of a week", "days", nameof(favourableDays));
        Within.Checked(severitySum, 0, 28, "Severity values of a week", "(4 a day)", nameof(severitySum));
        bool wet = favourableDays >= 5;
        return severitySum <= (wet ? 2 : 3) ? BlightWeek.Nothing
            : severitySum == (wet ? 3 : 4) ? BlightWeek.Warning
            : severitySum <= (wet ? 4 : 6) ? BlightWeek.EverySevenDays
            : BlightWeek.EveryFiveDays;
    }

    private static bool? Both(BlightDay first, BlightDay second, double hours)
    {
        var (a, b) = (Day(first, hours), Day(second, hours));
        return a == false || b == false ? false : a is null || b is null ? null : true;
    }

    private static bool? Day(BlightDay day, double hours) =>
        day.LowC < LowNeededC || day.HumidHours < hours ? false
        : double.IsNaN(day.LowC) || double.IsNaN(day.HumidHours) ? null : true;
}

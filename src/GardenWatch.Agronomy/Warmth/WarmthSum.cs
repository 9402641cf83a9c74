using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Warmth;

/// <summary>Warmth gathered over some days: what the known ones brought, and how many were not known.</summary>
public readonly record struct WarmthGathered(double KnownDegreeDays, int Days, int UnknownDays)
{
    /// <summary>The sum if every day is known; NaN otherwise, since missing is not zero.</summary>
    public double DegreeDays => UnknownDays == 0 ? KnownDegreeDays : double.NaN;

    /// <summary>
    /// The sum with unknown days counted as the mean of the known ones; NaN when more than one in ten is unknown.
    /// </summary>
    public double EstimatedDegreeDays =>
        UnknownDays * 10 > Days ? double.NaN :
        UnknownDays == 0 ? KnownDegreeDays : KnownDegreeDays * Days / (Days - UnknownDays);
}

/// <summary>Degree-days from hourly air, °C days.</summary>
public static class WarmthSum
{
    /// <summary>A day with fewer of its hours known is unknown: the warm or the cold half may be what is missing.</summary>
    public const double ShareOfHoursNeeded = 0.9;

    /// <summary>Degree-days of a run of hours: each hour adds a twenty-fourth of its warmth over the base.</summary>
    /// <remarks>
    /// The mean over the known hours stands for the few unknown ones. A day of 23 or 25 hours counts as such. Against
    /// a sine through lowest and highest it follows the true course of the day, so a fitted sum may differ by some per cent.
    /// A ceiling that is not above the base is an error.
    /// </remarks>
    public static double OfHours(
        ReadOnlySpan<double> airC, double baseC, double ceilingC = double.PositiveInfinity,
        UpperCutoff cutoff = UpperCutoff.Horizontal)
    {
        DegreeDays.CheckThresholds(baseC, ceilingC);
        return OfDay(airC, airC.Length, baseC, ceilingC, cutoff);
    }

    /// <summary>Degree-days of each local date from <paramref name="first"/> to <paramref name="last"/>, both included.</summary>
    public static double[] Daily(
        WeatherSeries weather, LocalCalendar calendar, LocalDate first, LocalDate last,
        double baseC, double ceilingC = double.PositiveInfinity, UpperCutoff cutoff = UpperCutoff.Horizontal)
    {
        DegreeDays.CheckThresholds(baseC, ceilingC);
        int days = Math.Max(0, Period.DaysBetween(first, last) + 1);
        var warmth = new double[days];
        var air = weather[WeatherVariable.Air];
        for (int i = 0; i < days; i++)
        {
            var day = calendar.DayOf(first.PlusDays(i));
            int from = weather.FirstAtOrAfter(day.Start);
            int until = weather.FirstAtOrAfter(day.End);
            var held = air[Math.Clamp(from, 0, weather.Hours)..Math.Clamp(until, 0, weather.Hours)];
            warmth[i] = OfDay(held, until - from, baseC, ceilingC, cutoff);
        }
        return warmth;
    }

    /// <summary>Adds up daily degree-days, unknown ones apart.</summary>
    public static WarmthGathered Gather(ReadOnlySpan<double> dailyDegreeDays)
    {
        double sum = 0;
        int unknown = 0;
        foreach (double day in dailyDegreeDays)
        {
            if (double.IsNaN(day))
                unknown++;
            else
                sum += day;
        }
        return new(sum, dailyDegreeDays.Length, unknown);
    }

    private static double OfDay(ReadOnlySpan<double> heldC, int hoursOfDay, double baseC, double ceilingC, UpperCutoff cutoff)
    {
        double sum = 0;
        int known = 0;
        foreach (double air in heldC)
        {
            if (double.IsNaN(air))
                continue;
            known++;
            sum += OfHour(air, baseC, ceilingC, cutoff);
        }
        return known == 0 || known < ShareOfHoursNeeded * hoursOfDay ? double.NaN : sum / known * hoursOfDay / 24;
    }

    // The same three cut-offs as of a curve, hour by hour.
    private static double OfHour(double airC, double baseC, double ceilingC, UpperCutoff cutoff) =>
        airC <= ceilingC
            ? Math.Max(0, airC - baseC)
            : cutoff switch
            {
                UpperCutoff.Horizontal => ceilingC - baseC,
                UpperCutoff.Intermediate => 2 * ceilingC - airC - baseC,
                UpperCutoff.Vertical => 0,
                _ => throw new ArgumentOutOfRangeException(nameof(cutoff), cutoff, "Not a cut-off."),
            };
}

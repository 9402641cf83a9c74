using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Agronomy.Tests;

/// <summary>Hours made of a daily record, for the years of which only lows, highs and sums are kept.</summary>
public static class DailyToHourly
{
    // Parton and Logan 1981: the day's peak comes late by 1.86 h, the night's fall is spent to a ninth at its end.
    private const double PeakDelayHours = 1.86;
    private const double NightDecay = 2.2;

    /// <summary>
    /// Air, °C, at each whole UTC hour from the start of the first local date to the end of the last: a sine by day, an
    /// exponential fall by night, through every low (at sunrise) and high.
    /// </summary>
    /// <remarks>
    /// Parton and Logan 1981, Agric. Meteorol. 23:205-216, with the night brought down to the low itself. Where a low or
    /// high is missing the hours that hang on it are NaN. Hourly error about 1.5 to 2.5 K: fronts are not in it.
    /// Where the sun does not rise or set, it is taken to rise at 6 and set at 18 by the sun.
    /// </remarks>
    public static (Instant Start, double[] AirC) Air(
        ReadOnlySpan<double> lowC, ReadOnlySpan<double> highC, LocalDate first, LocalCalendar calendar)
    {
        if (lowC.Length != highC.Length)
            throw new ArgumentException($"{lowC.Length} lows for {highC.Length} highs.", nameof(highC));
        var suns = Suns(first, lowC.Length + 1, calendar);
        var (start, hours) = Grid(first, lowC.Length, calendar);
        var air = new double[hours];
        int day = 0;
        for (int hour = 0; hour < hours; hour++)
        {
            var stamp = start + Duration.FromHours(hour);
            while (day < lowC.Length - 1 && stamp >= suns[day + 1].Rise)
                day++;
            air[hour] = stamp < suns[0].Rise
                // Before the first sunrise the evening before is not known: the first day's own evening stands in.
                ? Night(Day(suns[0], suns[0].Set, lowC[0], highC[0]), lowC[0], suns[0].Set, suns[1].Rise, stamp + Duration.FromDays(1))
                : stamp <= suns[day].Set
                    ? Day(suns[day], stamp, lowC[day], highC[day])
                    : Night(
                        Day(suns[day], suns[day].Set, lowC[day], highC[day]),
                        lowC[Math.Min(day + 1, lowC.Length - 1)],
                        suns[day].Set, suns[day + 1].Rise, stamp);
        }
        return (start, air);
    }

    /// <summary>
    /// Radiation, W/m², mean of the hour that ends at each stamp of <see cref="Air"/>, from daily sums in MJ/m²: spread as
    /// the sine of the sun's height. A day without sun keeps none; a missing day is NaN.
    /// </summary>
    public static (Instant Start, double[] Watts) Radiation(
        ReadOnlySpan<double> dailyMegajoules, LocalDate first, LocalCalendar calendar)
    {
        var (start, hours) = Grid(first, dailyMegajoules.Length, calendar);
        var watts = new double[hours];
        for (int i = 0; i < dailyMegajoules.Length; i++)
        {
            var day = calendar.DayOf(first.PlusDays(i));
            int from = HoursFrom(start, day.Start), until = HoursFrom(start, day.End);
            double heights = 0;
            for (int hour = from; hour < until; hour++)
            {
                // The hour that ends at the stamp is best met half an hour before it.
                double altitude = Sun.AltitudeDegrees(start + Duration.FromMinutes(60 * hour - 30), calendar.Place);
                watts[hour] = Math.Max(0, Math.Sin(altitude * Math.PI / 180));
                heights += watts[hour];
            }
            double scale = heights == 0 && dailyMegajoules[i] >= 0 ? 0 : dailyMegajoules[i] * 1e6 / 3600 / heights;
            for (int hour = from; hour < until; hour++)
                watts[hour] = watts[hour] == 0 && !double.IsNaN(scale) ? 0 : watts[hour] * scale;
        }
        return (start, watts);
    }

    private static (Instant Start, int Hours) Grid(LocalDate first, int days, LocalCalendar calendar)
    {
        var begin = calendar.DayOf(first).Start;
        long seconds = begin.ToUnixTimeSeconds();
        var start = Instant.FromUnixTimeSeconds((seconds + 3599) / 3600 * 3600);
        return (start, days == 0 ? 0 : HoursFrom(start, calendar.DayOf(first.PlusDays(days - 1)).End));
    }

    private static int HoursFrom(Instant start, Instant until) => (int)Math.Ceiling((until - start).TotalHours);

    private static (Instant Rise, Instant Set)[] Suns(LocalDate first, int days, LocalCalendar calendar)
    {
        var suns = new (Instant Rise, Instant Set)[days];
        for (int i = 0; i < days; i++)
        {
            var course = Sun.Course(calendar.Place, first.PlusDays(i), calendar.Zone);
            suns[i] = course is { Rise: { } rise, Set: { } set }
                ? (rise, set)
                : (calendar.At(first.PlusDays(i), new LocalTime(6, 0)), calendar.At(first.PlusDays(i), new LocalTime(18, 0)));
        }
        return suns;
    }

    private static double Day((Instant Rise, Instant Set) sun, Instant stamp, double lowC, double highC)
    {
        double light = (sun.Set - sun.Rise).TotalHours;
        return lowC + (highC - lowC) * Math.Sin(Math.PI * (stamp - sun.Rise).TotalHours / (light + 2 * PeakDelayHours));
    }

    private static double Night(double sunsetC, double lowC, Instant sunset, Instant sunrise, Instant stamp)
    {
        double passed = Math.Clamp((stamp - sunset) / (sunrise - sunset), 0, 1);
        double left = (Math.Exp(-NightDecay * passed) - Math.Exp(-NightDecay)) / (1 - Math.Exp(-NightDecay));
        return lowC + (sunsetC - lowC) * left;
    }
}

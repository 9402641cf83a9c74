using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>The meaning of windows and statistics once more, by looking at every hour: slow and with nothing in common with the gauge.</summary>
internal static class PlainWindow
{
    public static List<Interval> Intervals(TimeWindow window, Instant asked, LocalCalendar calendar)
    {
        var now = Instant.FromUnixTimeSeconds(asked.ToUnixTimeSeconds() / 3600 * 3600);
        var today = calendar.DateOf(asked);
        int n = window.Count;
        return window.Kind switch
        {
            WindowKind.PastHours => [new(now - Duration.FromHours(n), now)],
            WindowKind.NextHours => [new(now, now + Duration.FromHours(n))],
            WindowKind.PastDays => [new(SameClock(now, -n, calendar.Zone), now)],
            WindowKind.NextDays => [new(now, SameClock(now, n, calendar.Zone))],
            WindowKind.Since when window.Moment is Moment.OnDate(var date) => [new(Instant.Min(calendar.StartOf(date), now), now)],
            WindowKind.Today => [Day(today)],
            WindowKind.Tomorrow => [Day(Following(today))],
            WindowKind.Tonight => Nights(calendar.TonightAt(asked).Date, 1, 1),
            WindowKind.NextNights => Nights(calendar.TonightAt(asked).Date, n, 1),
            WindowKind.PastNights => Nights(calendar.TonightAt(asked).Date.PlusDays(-1), n, -1),
            _ => throw new ArgumentOutOfRangeException(nameof(window)),
        };

        Interval Day(LocalDate date) => calendar.DayOf(date);

        bool Exists(LocalDate date) => Day(date).Duration > Duration.Zero;

        LocalDate Following(LocalDate date) => Exists(date.PlusDays(1)) ? date.PlusDays(1) : date.PlusDays(2);

        List<Interval> Nights(LocalDate first, int count, int step)
        {
            var nights = new List<Interval>();
            for (var date = first; nights.Count < count; date = date.PlusDays(step))
            {
                if (Exists(date))
                    nights.Add(calendar.NightOf(date));
            }
            return nights;
        }
    }

    private static Instant SameClock(Instant now, int days, DateTimeZone zone)
    {
        var mapped = zone.MapLocal(now.InZone(zone).LocalDateTime.PlusDays(days));
        var offsets = new[] { mapped.EarlyInterval.WallOffset, mapped.LateInterval.WallOffset };
        var candidates = offsets.Select(offset => mapped.LocalDateTime.WithOffset(offset).ToInstant()).ToArray();
        return days < 0 ? candidates.Min() : candidates.Max();
    }

    /// <summary>Values of each interval, NaN for the missing, stamps beyond the series included as missing.</summary>
    public static List<double[]> Values(List<Interval> intervals, Instant start, double[] hourly, bool bothEnds) =>
        [.. intervals.Select(interval =>
        {
            var values = new List<double>();
            long first = (long)Math.Ceiling((interval.Start - start).TotalHours - 1) ;
            for (long i = first; start + Duration.FromHours(i) <= interval.End; i++)
            {
                var stamp = start + Duration.FromHours(i);
                if (bothEnds ? stamp >= interval.Start : stamp > interval.Start)
                    values.Add(i >= 0 && i < hourly.Length ? hourly[i] : double.NaN);
            }
            return values.ToArray();
        })];
}

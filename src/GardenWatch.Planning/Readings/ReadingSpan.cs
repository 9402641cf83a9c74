using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Readings;

/// <summary>Which hours a reading is of. Gardeners tell the day at most, so the hour at which it was told counts for one of today.</summary>
internal static class ReadingSpan
{
    private static readonly Duration Gauge = Duration.FromHours(24);
    private static readonly Duration MiddleOfDay = Duration.FromHours(4);

    public static Interval Of(ReadingKind kind, LocalDate date, Instant recordedAt, LocalCalendar calendar)
    {
        bool now = date == calendar.DateOf(recordedAt);
        var day = calendar.DayOf(date);
        return kind switch
        {
            ReadingKind.Soil when now => new(recordedAt - Duration.FromMinutes(30), recordedAt + Duration.FromMinutes(30)),
            // By day, when one has time to: from four hours before noon till four hours after.
            ReadingKind.Soil => new(day.Start + Gauge / 2 - MiddleOfDay, day.Start + Gauge / 2 + MiddleOfDay),
            ReadingKind.Rain when now => new(recordedAt - Gauge, recordedAt),
            ReadingKind.Rain => new(day.Start, day.End),
            // The low of a date is that of the night which ended on it, or of the running one.
            _ => new(day.Start - Gauge / 4, now ? recordedAt : day.Start + Gauge / 2),
        };
    }
}

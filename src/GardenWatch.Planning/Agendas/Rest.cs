using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The season in which nothing grows and nothing is asked for, so that a digest a week says all there is.</summary>
internal static class Rest
{
    // Mean air above which the growing season is counted: index GSL of the WMO's expert team on climate indices (ETCCDI).
    private const double GrowthFromC = 5;
    // With less daylight even hardy crops hardly grow. Common practice.
    private static readonly Duration ShortDay = Duration.FromHours(10);
    private const int LeastDaysKnown = 5;

    public static bool IsNow(Agenda agenda, LocalCalendar calendar)
    {
        bool silent = agenda is { Weather.State: WeatherState.Fresh, Notes: [], BeforeLeaving: [] }
            && !agenda.Jobs.Any(job => job.Standing is Standing.Now && !job.Sinks || job.Standing is Standing.Soon or Standing.Missed)
            && !agenda.Sowings.Any(sowing => sowing.Changed);
        return silent && (Sun.Course(calendar.Place, agenda.Date, calendar.Zone).DayLength < ShortDay || IsCold(agenda));
    }

    private static bool IsCold(Agenda agenda)
    {
        double[] means = [.. agenda.Week.Where(day => day is { LowC: not null, HighC: not null }).Select(day => (day.LowC!.Value + day.HighC!.Value) / 2)];
        return means.Length >= LeastDaysKnown && means.Average() < GrowthFromC;
    }
}

using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Calendars;

/// <summary>Which jobs of an agenda stand in the calendar, and when.</summary>
public static class GardenCalendar
{
    private const int Most = 60;
    private const int LongestDescription = 800;
    private static readonly Duration ShortestDeed = Duration.FromMinutes(30);
    private static readonly Duration WayBackTakes = Duration.FromMinutes(15);
    // A window of most of a day would hide all else in the calendar.
    private static readonly Duration WholeDay = Duration.FromHours(20);

    /// <summary>The same agenda gives the same entries, in the order of the agenda.</summary>
    public static ImmutableArray<CalendarEntry> EntriesOf(Agenda agenda, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(agenda);
        var words = new Words(new Speech(units, agenda.Zone, agenda.Tongue), agenda.Date, agenda.AsOf);
        var lines = new JobLines(words);
        return [.. agenda.Jobs.SelectMany(job => Of(job, agenda, words, lines)).DistinctBy(entry => entry.Key).Take(Most)];
    }

    private static IEnumerable<CalendarEntry> Of(Job job, Agenda agenda, Words words, JobLines lines)
    {
        if (TimeOf(job, agenda) is not { } time)
            yield break;
        string bed = Plain.OneLine(job.BedName, Plain.NameLength);
        string named = JobLines.Deed(job) + (bed.Length > 0 ? $" ({bed})" : "");
        bool likely = job.Standing == Standing.Waiting;
        string when = job.ActBy is not null ? $" {lines.When(job)}" : likely ? words.Speech.Say(" (likely)") : "";
        yield return new(job.Id, named + when, Described(job, agenda, words, lines), bed.Length > 0 ? bed : null, time, likely)
        {
            HasBegun = job.ActBy is null && time is CalendarTime.Hours hours && hours.From <= agenda.AsOf,
        };
        if (job is { ActBy: not null, UndoAt: { } undo })
            yield return new(
                job.Id + "/undo", $"{named}: {words.FirstLower(words.WayBack(job.Kind))}", words.Undone(job.Kind, undo), bed.Length > 0 ? bed : null,
                new CalendarTime.Hours(undo, undo + WayBackTakes), Tentative: false);
    }

    private static CalendarTime? TimeOf(Job job, Agenda agenda)
    {
        switch (job)
        {
            case { Standing: not (Standing.Now or Standing.Soon or Standing.Waiting) }:
                return null;
            case { ActBy: { } by }:
                return new CalendarTime.Hours(by - Duration.Max(ShortestDeed, Duration.FromMinutes(job.Minutes ?? 0)), by);
            case { Standing: Standing.Waiting }:
                return job.Likely is { } dates && dates.End >= agenda.Date
                    ? new CalendarTime.Days(LocalDate.Max(dates.Start, agenda.Date), dates.End)
                    : null;
            case { Best: { } best }:
                return Within(best, agenda);
            case { Windows: [var first, ..] }:
                return Within(first, agenda);
            case { Standing: Standing.Now }:
                return new CalendarTime.Days(agenda.Date, agenda.Date);
            default:
                return null;
        }
    }

    private static CalendarTime Within(Window window, Agenda agenda)
    {
        var date = window.From.InZone(agenda.Zone).Date;
        return window.Until - window.From >= WholeDay ? new CalendarTime.Days(date, date) : new CalendarTime.Hours(window.From, window.Until);
    }

    /// <summary>As the digest says it; with the day on which it was said, for "tomorrow" is read on another one.</summary>
    private static string Described(Job job, Agenda agenda, Words words, JobLines lines)
    {
        var row = lines.Whole(job);
        IEnumerable<string> said = row.When is { } when && job.ActBy is null ? [Words.Sentence(when)] : [];
        string text = string.Join('\n', said.Concat(row.Paragraphs.Select(paragraph => paragraph.Text)));
        return $"{Plain.Cut(text, LongestDescription)}\n{words.Speech.Say($"As of {words.Speech.Day(agenda.Date)}.")}".TrimStart('\n');
    }
}

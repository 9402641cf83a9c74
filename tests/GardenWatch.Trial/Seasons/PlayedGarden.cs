using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Trial.Observed;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>One morning of a played season.</summary>
/// <param name="Digest">Null where none was sent: the garden rests, or nobody is there.</param>
/// <param name="Journal">As it was before the morning's jobs were answered.</param>
/// <param name="Answered">What the gardener did of it in the course of the day.</param>
internal sealed record PlayedMorning(LocalDate Date, Plan Plan, Agenda Agenda, Digest? Digest, Journal Journal, ImmutableArray<Job> Answered)
{
    public bool ForSitter { get; init; }
}

/// <summary>A season to play: where, when, by which plan, and who gardens.</summary>
/// <param name="Plan">The plan's text on a date.</param>
/// <param name="Does">Whether the gardener does a job on the day on which a digest asks for it.</param>
internal sealed record SeasonToPlay(string Name, Station Station, LocalDate From, LocalDate Until, Func<LocalDate, string> Plan, Func<LocalDate, Job, bool> Does)
{
    public ulong ForecastSeed { get; init; } = 1;
}

/// <summary>
/// A garden's mornings one after the other, with forecasts that err as forecasts do: an agenda, the digest as the service would send it, and
/// a gardener who answers by what stands in it.
/// </summary>
internal static class PlayedGarden
{
    private const int DaysBetweenAtRest = 7;
    private static readonly LocalTime Morning = new(6, 0), Pulled = new(5, 10), Evening = new(20, 0);
    private static readonly CropShelf Crops = CropShelf.Shipped(ConditionText.Read);

    public static IEnumerable<PlayedMorning> Play(SeasonToPlay season)
    {
        var calendar = season.Station.Calendar;
        var hours = new KnownHours(season.Station, season.From, season.Until, season.ForecastSeed);
        var climate = season.Station.ClimateBefore(season.From.Year);
        var journal = new List<JournalEntry>(LastYear(season, calendar));
        var (said, text, plan, known) = (LastSaid.Nothing, "", (Plan?)null, ImmutableArray<KnownSubject>.Empty);
        LocalDate? lastDigest = null;
        for (var date = season.From; date < season.Until; date = date.PlusDays(1))
        {
            if (season.Plan(date) is var newest && newest != text)
            {
                var reading = PlanFile.Read(newest, "garden.yaml", Crops, known, date, ConditionText.Read);
                plan = reading.Plan ?? throw new InvalidDataException(string.Join("; ", reading.Faults));
                (text, known) = (newest, reading.Subjects);
            }
            var asOf = calendar.At(date, Morning);
            var written = Journal.AsOf(journal, asOf);
            var news = new WeatherNews(calendar.At(date, Pulled), asOf - calendar.At(date, Pulled), WeatherState.Fresh);
            var agenda = Agenda.For(plan!, calendar, written, new(hours.AsOf(asOf), news, [], climate), said, asOf);
            var morning = new PlayedMorning(date, plan!, agenda, null, written, []);
            if (IsSent(plan!, agenda, date, lastDigest))
            {
                morning = Sent(morning, said, lastDigest is { } before ? calendar.At(before, Morning) : null);
                (said, lastDigest) = (said.After(agenda), date);
                foreach (var job in morning.Answered)
                    journal.Add(new(EntryKind.Done, date, calendar.At(date, Evening), job.Id, job.SubjectId, null, null) { BedId = job.BedId, SowingId = job.SowingId, About = job.NameWithBed, Origin = AnswerOrigin.Mail });
            }
            yield return morning;
        }

        PlayedMorning Sent(PlayedMorning morning, LastSaid said, Instant? notedSince)
        {
            var away = plan!.Away.FirstOrDefault(each => each.Holds(morning.Date) && each.Sitter is not null);
            var addressee = away is null ? plan.Digest.To[0] : new Addressee(away.Sitter!, plan.Units);
            var agenda = away is null ? morning.Agenda : morning.Agenda.ForSitter();
            var digest = Digest.Of(agenda, morning.Journal.Entries, addressee, new()
            {
                AnswerAddress = "garden@example.org",
                StagesLastSaid = said.Stages.IsEmpty ? null : said.Stages,
                NotedSince = notedSince ?? agenda.AsOf,
                NextOn = agenda.Rests && !plan.Digest.DailyAtRest ? morning.Date.PlusDays(DaysBetweenAtRest) : null,
                Sitting = away,
            });
            var numbered = digest.Numbers.Select(number => number.JobId).ToHashSet();
            var done = agenda.Jobs.Where(job => job.Standing == Standing.Now && numbered.Contains(job.Id) && (away is not null || season.Does(morning.Date, job)));
            return morning with { Digest = digest, ForSitter = away is not null, Answered = [.. done] };
        }
    }

    /// <summary>As the service decides it: each morning, at rest once a week, and where nobody is there only what would be lost.</summary>
    private static bool IsSent(Plan plan, Agenda agenda, LocalDate date, LocalDate? last)
    {
        if (plan.Away.Any(away => away.Sitter is null && away.From < date && date <= away.To))
            return agenda.Jobs.Any(job => job is { Protects: true, Standing: Standing.Now });
        return !agenda.Rests || plan.Digest.DailyAtRest || last is null || Period.DaysBetween(last.Value, date) >= DaysBetweenAtRest;
    }

    private static IEnumerable<JournalEntry> LastYear(SeasonToPlay season, LocalCalendar calendar)
    {
        (int Days, string Text)[] notes = [(60, "slugs found the squash the first wet night"), (120, "thinned too late, roots were forked"), (200, "sowed kale a fortnight too late")];
        foreach (var (days, text) in notes)
        {
            var date = season.From.PlusYears(-1).PlusDays(days);
            yield return new(EntryKind.Note, date, calendar.At(date, Evening), null, null, null, text);
        }
    }
}

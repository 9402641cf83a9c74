using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>One morning of a played season.</summary>
internal sealed record PlayedDay(LocalDate Date, Agenda Agenda, Journal JournalBefore, ImmutableArray<string> Answered);

/// <summary>
/// Plays a garden day by day: each morning an agenda of what is known, then the gardener answers as the policy has it. The forecast
/// is the weather itself, so what is found wrong is the plan's, not the forecast's.
/// </summary>
internal sealed class SeasonPlayer
{
    private const int PastDays = 60, AheadDays = 10;

    private readonly Plan _plan;
    private readonly PlayedWeather _weather;
    private readonly ClimateSummary? _climate;
    private readonly List<JournalEntry> _journal = [];

    private SeasonPlayer(Plan plan, PlayedWeather weather, ClimateSummary? climate) => (_plan, _weather, _climate) = (plan, weather, climate);

    public Plan Plan => _plan;

    public IReadOnlyList<JournalEntry> Entries => _journal;

    /// <summary>The plan is read once, on its first day, as the service would.</summary>
    public static SeasonPlayer Of(string plan, LocalDate firstRead, PlayedWeather weather, ClimateSummary? climate) =>
        new(Read(plan, firstRead), weather, climate);

    public static Plan Read(string rest, LocalDate firstRead, IEnumerable<(string, string)>? crops = null)
    {
        string text = """
            garden: Long Acre
            id: long-acre
            place: { town: Nowhere, latitude: 50, longitude: 10, elevation: 100 m, zone: Europe/Berlin }
            units: metric
            in the garden: { weekdays: 06:00-08:00 and 17:00-20:30, weekends: 08:00-19:00 }
            digest: { at: "06:00", to: [you@example.org] }

            """ + rest;
        var shelf = crops is null ? CropShelf.Shipped(ConditionText.Read) : CropShelf.Read([.. CropShelf.ShippedFiles(), .. crops], ConditionText.Read).Shelf!;
        var reading = PlanFile.Read(text, "garden.yaml", shelf, [], firstRead, ConditionText.Read);
        Assert.Empty(reading.Faults);
        return reading.Plan!;
    }

    /// <param name="answers">What the gardener does of the jobs whose time has come: given the date and the job, done, skipped or nothing.</param>
    public IEnumerable<PlayedDay> Play(LocalDate from, LocalDate until, Func<LocalDate, Job, EntryKind?> answers)
    {
        var said = LastSaid.Nothing;
        for (var date = from; date < until; date = date.PlusDays(1))
        {
            var asOf = _weather.Calendar.At(date, new LocalTime(6, 0));
            var journal = Journal.AsOf(_journal, asOf);
            var agenda = AgendaAt(asOf, said);
            said = said.After(agenda);
            var answered = new List<string>();
            foreach (var job in agenda.Jobs.Where(job => job.Standing == Standing.Now))
                if (answers(date, job) is { } kind)
                {
                    _journal.Add(new(kind, date, asOf + Duration.FromHours(12), job.Id, job.SubjectId, null, null));
                    answered.Add(job.Id);
                }
            yield return new(date, agenda, journal, [.. answered]);
        }
    }

    public Agenda AgendaAt(Instant asOf, LastSaid said)
    {
        var date = _weather.Calendar.DateOf(asOf);
        var series = _weather.Between(date.PlusDays(-PastDays), date.PlusDays(AheadDays));
        return Agenda.For(
            _plan, _weather.Calendar, Journal.AsOf(_journal, asOf),
            new(series, new(asOf, Duration.Zero, WeatherState.Fresh), [], _climate), said, asOf);
    }

    public void Record(JournalEntry entry) => _journal.Add(entry);
}

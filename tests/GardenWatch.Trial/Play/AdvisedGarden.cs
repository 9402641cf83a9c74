using GardenWatch.Demo;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Trial.Observed;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace GardenWatch.Trial.Play;

/// <summary>
/// The trial's garden in the service's own hands: forecasts come as answers of the weather service through its HTTP
/// client, are packed and stored, and each agenda is made of what the store then holds. Only the clock and the weather
/// line are the trial's.
/// </summary>
internal sealed class AdvisedGarden : IDisposable
{
    private static readonly Duration MessageLife = Duration.FromHours(6);
    private static readonly CropShelf Crops = CropShelf.Shipped(ConditionText.Read);
    private static readonly string PlanFile = Path.Combine(AppContext.BaseDirectory, "Gardens", "achter-de-dijk.yaml");

    private readonly HandClock _clock;
    private readonly InventedWeatherHandler _weather;
    private readonly GardenStore _store;
    private readonly House _house;
    private readonly GardenPlace _place = new("de-bilt", DeBilt.Calendar);
    private readonly GardenOnDuty _onDuty;
    private readonly DigestRound _digests;

    /// <param name="folder">Empty; gets the records.</param>
    public AdvisedGarden(string folder, ForecastFromTruth forecasts, LocalDate from)
    {
        var start = DeBilt.Calendar.StartOf(from);
        _clock = new HandClock { Now = start };
        _weather = new InventedWeatherHandler(forecasts, [], DeBilt.Place, _clock.GetCurrentInstant);
        _store = GardenStore.Open(folder, StoreUse.Run, start) is StoreOutcome.Opened opened
            ? opened.Store
            : throw new IOException($"No records can be made in {folder}.");
        var settings = new Settings
        {
            DataFolder = folder,
            Weather = new() { Retries = 0 },
            WebListen = new(System.Net.IPAddress.Loopback, 0),
            EveningLookAt = new LocalTime(17, 0),
        };
        _house = new House(
            new ConfigFolder(folder), settings, Crops, _store, postbox: null,
            new(_clock, TimeProvider.System, _weather, NullLoggerFactory.Instance) { ClockIsGiven = true });
        var file = GardenFile.Read(PlanFile, File.ReadAllText(PlanFile), Crops, store: null, start);
        Plan = file.Plan ?? throw new InvalidDataException($"The trial's own plan has a fault: {string.Join("; ", file.Faults)}");
        _onDuty = new(Plan, _place, []);
        _digests = new(_store, _house.Mornings, "garden@example.org");
    }

    public Plan Plan { get; }

    /// <summary>Pulls the weather of an instant and looks.</summary>
    public async Task<Agenda> Look(Instant asOf, CancellationToken ct)
    {
        _clock.Now = asOf;
        if (await _house.Pulls.Run(_place, _ => true, ct).ConfigureAwait(false) is { } fault)
            throw new InvalidOperationException($"No weather came at {asOf}: {fault}");
        return _house.Mornings.AgendaOf(Plan, _place, asOf);
    }

    /// <summary>What the day's messages have told by now.</summary>
    public LastSaid LastSaid(Instant asOf) => _house.Mornings.LastSaidOf(Plan, asOf);

    /// <summary>Writes the morning's digest into the outbox.</summary>
    public void Digest(Agenda agenda) => Kept(
        _digests.Digest(_onDuty, agenda.Date, [.. Plan.Digest.To.Select(told => told.Address)], new(agenda.AsOf, agenda.AsOf + MessageLife), DigestTiming.AtItsHour, agenda.AsOf));

    /// <summary>Writes the evening's warning, if there is something to warn of.</summary>
    public void Warning(Agenda agenda)
    {
        if (_digests.Look(_onDuty, agenda.Date, evening: true, agenda.AsOf) is { Count: > 0 })
            throw new IOException("The warning could not be stored.");
    }

    public void Done(Job job, LocalDate date, Instant at) =>
        Kept(_store.Journal.Add(Plan.GardenId, new JournalEntry(EntryKind.Done, date, at, job.Id, job.SubjectId, null, null)));

    /// <summary>Plantings of which something stands in its bed at the end of a day, by what was done until then.</summary>
    public IEnumerable<Planting> StandingOut(LocalDate date)
    {
        var journal = _house.Mornings.JournalOf(Plan, DeBilt.Calendar.DayOf(date).End);
        return Plan.Plantings.Where(planting => Planning.Sowings.Sowings.Of(planting, journal, date).Any(sowing => sowing.StandsInItsBed(date)));
    }

    public void Dispose()
    {
        _house.Dispose();
        _store.Dispose();
        _weather.Dispose();
    }

    private static void Kept(WriteOutcome outcome)
    {
        if (outcome is WriteOutcome.Failed failed)
            throw new IOException(failed.Sentence);
    }

    private sealed class HandClock : IClock
    {
        public Instant Now { get; set; }

        public Instant GetCurrentInstant() => Now;
    }
}

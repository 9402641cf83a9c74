using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>An invented garden lived through a spring: the service itself, with a clock turned by hand and a folder for a mailbox.</summary>
internal sealed class DemoGarden : IDisposable
{
    private const int Members = 30;
    private const string PlanResource = "demo-garden.yaml";

    private readonly string _mailFolder;
    private readonly HandClock _clock;
    private readonly InventedWeatherHandler _weather;
    private readonly GardenStore _store;
    private readonly House _house;
    private readonly Plan _plan;
    private readonly GardenPlace _place;
    private LocalDate? _livedUntil;

    /// <param name="folder">Empty; gets the plan, the records and the mail.</param>
    public DemoGarden(string folder)
    {
        _mailFolder = Path.Combine(folder, "mail");
        string planFile = Path.Combine(folder, "garden.yaml");
        string planText = ReadPlan();
        Directory.CreateDirectory(folder);
        File.WriteAllText(planFile, planText);

        var zone = DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId];
        var start = zone.AtStartOfDay(new LocalDate(NotableMornings.Year, 1, 1)).ToInstant();
        var end = zone.AtStartOfDay(new LocalDate(NotableMornings.Year, 8, 1)).ToInstant();
        var truth = InventedSeason.Between(NotableMornings.Seed, start, end);
        _clock = new HandClock { Now = start };
        var forecasts = Enumerable.Range(0, 1 + Members)
            .Select(run => new ForecastFromTruth(truth, InventedSeason.Place, NotableMornings.ForecastSeed + (ulong)run))
            .ToImmutableArray();
        _weather = new InventedWeatherHandler(forecasts[0], forecasts[1..], InventedSeason.Place, _clock.GetCurrentInstant);

        var crops = CropShelf.Shipped(ConditionText.Read);
        var settings = new Settings
        {
            DataFolder = folder,
            // The pretended outage is over when the clock is turned on, so nothing is waited for.
            Weather = new() { Retries = 0, PastYears = 0 },
            Mail = new MailOptions { Host = "localhost", From = "garden@example.org" },
            WebListen = new(System.Net.IPAddress.Loopback, 0),
            EveningLookAt = new LocalTime(17, 0),
        };
        _store = GardenStore.Open(folder, StoreUse.Run, start) is StoreOutcome.Opened opened
            ? opened.Store
            : throw new IOException($"The demo could not make its records in {folder}.");
        _house = new House(
            new ConfigFolder(folder), settings, crops, _store, new EmlFolder(_mailFolder),
            new(_clock, TimeProvider.System, _weather, NullLoggerFactory.Instance) { ClockIsGiven = true, WeatherIsInvented = true });
        _plan = GardenFile.Read(planFile, planText, crops, store: null, start).Plan
            ?? throw new InvalidDataException("The demo's own plan has a fault.");
        _place = new GardenPlace(
            string.Create(CultureInfo.InvariantCulture, $"{InventedSeason.Place.LatitudeDegrees:0.0000},{InventedSeason.Place.LongitudeDegrees:0.0000}"),
            new(zone, InventedSeason.Place));
        var usual = InventedPast.Of(NotableMornings.Seed, _place.Calendar, NotableMornings.Year);
        _store.Climates.Keep(new(_place.Key, start, usual.Years, ClimatePacking.Pack(usual)));
    }

    /// <summary>The mail of a morning, as it lies in the folder; null when none came.</summary>
    public async Task<(string File, MimeMessage Mail)?> Morning(NotableMorning morning, CancellationToken ct)
    {
        await LiveUntil(morning.Date, ct).ConfigureAwait(false);
        var before = MailFiles();
        _weather.IsDown = morning == NotableMornings.NoWeather;
        await Knock(_place.Calendar.At(morning.Date, new LocalTime(6, 0)), ct).ConfigureAwait(false);
        _weather.IsDown = false;
        string? file = MailFiles().Except(before).FirstOrDefault();
        return file is null ? null : (file, await MimeMessage.LoadAsync(file, ct).ConfigureAwait(false));
    }

    /// <summary>The mornings between the notable ones: weather comes in, and what suits is done. Their mail is left unwritten.</summary>
    private async Task LiveUntil(LocalDate until, CancellationToken ct)
    {
        var outage = NotableMornings.ServiceDown;
        for (var date = _livedUntil ?? until.PlusDays(-1); date < until; date = date.PlusDays(1))
        {
            _clock.Now = _place.Calendar.At(date, new LocalTime(6, 0));
            if (!outage.Contains(_clock.Now))
                await _house.Pulls.Run(_place, _ => true, ct).ConfigureAwait(false);
            AnswerAll(date, but: JobKind.Spread);
        }
        _livedUntil = until.PlusDays(1);
    }

    /// <summary>The gardener does what the morning asked for, and says so in the evening.</summary>
    /// <param name="but">A kind of job that is left for another day.</param>
    public void AnswerAll(LocalDate date, JobKind? but = null)
    {
        var evening = _place.Calendar.At(date, new LocalTime(20, 0));
        _clock.Now = evening;
        var asked = _house.Mornings.AgendaOf(_plan, _place, _place.Calendar.At(date, new LocalTime(6, 0)));
        foreach (var job in asked.Jobs.Where(job => job.Standing == Standing.Now && job.Kind != but))
            _store.Journal.Add(_plan.GardenId, new JournalEntry(EntryKind.Done, date, evening, job.Id, job.SubjectId, null, null) { About = job.NameWithBed });
    }

    public void Dispose()
    {
        _house.Dispose();
        _store.Dispose();
    }

    private async Task Knock(Instant at, CancellationToken ct)
    {
        _clock.Now = at;
        await _house.Round!.Knock(ct).ConfigureAwait(false);
        await _house.Round.SideDone().ConfigureAwait(false);
        await _house.Round.SendingDone().ConfigureAwait(false);
    }

    private HashSet<string> MailFiles() =>
        Directory.Exists(_mailFolder) ? [.. Directory.GetFiles(_mailFolder, "*.eml")] : [];

    private static string ReadPlan()
    {
        using var stream = typeof(DemoGarden).Assembly.GetManifestResourceStream(PlanResource)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    private sealed class HandClock : IClock
    {
        public Instant Now { get; set; }

        public Instant GetCurrentInstant() => Now;
    }
}

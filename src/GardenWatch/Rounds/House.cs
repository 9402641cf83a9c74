using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What differs between the service, a look at the terminal, and the demo: the time, and the ways in and out.</summary>
public sealed record Surroundings(IClock Clock, TimeProvider Time, HttpMessageHandler WeatherLine, ILoggerFactory Loggers)
{
    /// <summary>The time was named on the command line, so no other clock is asked about it.</summary>
    public bool ClockIsGiven { get; init; }

    /// <summary>Messages then credit no weather service.</summary>
    public bool WeatherIsInvented { get; init; }

    /// <summary>When this program was built; no true clock stands before it.</summary>
    public Instant Released { get; init; } = Instant.MinValue;

    /// <summary>What the system says of its clock; null where it says nothing.</summary>
    public Func<bool?> Synchronised { get; init; } = () => null;

    public Func<double> Jitter { get; init; } = () => 0;

    public Watchdog? Watchdog { get; init; }

    public Heartbeat? Heartbeat { get; init; }

    /// <summary>The ways out beside mail.</summary>
    public HouseChannels Channels { get; init; } = HouseChannels.None;
}

/// <summary>All rounds of one data folder, put together once.</summary>
public sealed class House : IDisposable
{
    private readonly List<ServiceLine> _lines = [];

    public House(ConfigFolder folder, Settings settings, CropShelf crops, GardenStore store, IPostbox? postbox, Surroundings around)
    {
        var log = around.Loggers.CreateLogger("GardenWatch");
        var http = new HttpClient(around.WeatherLine) { Timeout = Timeout.InfiniteTimeSpan };
        // A line for each of the service's hosts: on one line the forecast would wait for an ensemble that hangs.
        var forecasts = NewLine(http, settings, around);
        var ensembles = NewLine(http, settings, around);
        Places = new GardenPlaces(
            store.Places, new PlaceClient(forecasts, settings.Weather, DateTimeZoneProviders.Tzdb), DateTimeZoneProviders.Tzdb);
        Pulls = new PullRound(store, new ForecastClient(forecasts, settings.Weather), settings.Weather, around.Clock, log);
        Members = new MemberRound(store, new EnsembleClient(ensembles, settings.Weather), settings.Weather, around.Clock, log);
        Mornings = new Mornings(store, around.WeatherIsInvented);
        if (postbox is null)
            return;
        string from = settings.Mail?.FromAddress ?? NoPostbox.From;
        Sending = new SendRound(
            store.Outbox,
            (row, ct) => ChannelWords.IsOne(row.Key.Addressee)
                ? around.Channels.Send(row, ct)
                : postbox.Send(row.Bytes, from, row.Key.Addressee, ct),
            around.Clock, around.Jitter, log,
            around.Heartbeat is { } heartbeat ? heartbeat.Beat : null,
            (row, at) => PushHours.Soonest(Round?.OnDuty ?? [], row, at));
        var pastYears = new PastYearsRound(
            store, new ArchiveClient(NewLine(http, settings, around), settings.Weather), settings.Weather, around.Clock, log);
        var gardens = new GardensInForce(folder, crops, store, log, around.Channels.Words);
        Plans = new PlanDesk(gardens, around.Clock);
        Round = new HouseRound(
            store, settings, gardens, Places, Pulls,
            new DigestRound(
                store, Mornings, settings.Mail?.From ?? NoPostbox.From, around.Channels, settings.EveningLookAt, settings.Replies?.Address,
                settings.WebAddress is { } page ? new JobLinks(page, store.Secrets) : null),
            new NoticeRound(store, settings.Mail?.From ?? NoPostbox.From, settings.Replies?.Address),
            Members, new SideRounds(Members, pastYears, log),
            Sending, around.ClockIsGiven ? null : new ClockWatch(around.Clock, around.Released, around.Synchronised, around.Time, log),
            around.Clock, around.Time, around.Watchdog, log);
        if (settings.Replies is { } replies)
        {
            var answering = new Answering(store, Mornings);
            Replies = new ReplyRound(
                store, () => new ImapInbox(replies, around.Time), $"{replies.User}@{replies.Host}/{replies.Folder}",
                (reply, garden) => answering.Take(garden.Plan, garden.Place, reply.AsIncoming(), around.Clock.GetCurrentInstant()).NotWritten,
                () => Round.OnDuty, around.Clock, around.Time, log);
        }
    }

    public GardenPlaces Places { get; }

    public PullRound Pulls { get; }

    public MemberRound Members { get; }

    public Mornings Mornings { get; }

    /// <summary>Null where nothing is sent.</summary>
    public SendRound? Sending { get; }

    /// <summary>Null where nothing is sent.</summary>
    public HouseRound? Round { get; }

    /// <summary>Null where nothing is sent.</summary>
    public PlanDesk? Plans { get; }

    /// <summary>Null where no replies are read.</summary>
    public ReplyRound? Replies { get; }

    public void Dispose()
    {
        Round?.Dispose();
        Sending?.Dispose();
        foreach (var line in _lines)
            line.Dispose();
    }

    private ServiceLine NewLine(HttpClient http, Settings settings, Surroundings around)
    {
        var line = new ServiceLine(http, settings.Weather, around.Clock, around.Time);
        _lines.Add(line);
        return line;
    }
}

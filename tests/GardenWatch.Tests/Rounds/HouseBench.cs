using GardenWatch.Demo;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using Microsoft.Extensions.Logging;
using MimeKit;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

/// <summary>The whole house on one clock turned by hand, with invented weather and a postbox that does as it is told.</summary>
internal sealed class HouseBench(TemporaryFolder data) : IDisposable
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId];

    /// <summary>A morning before several frosts.</summary>
    public static readonly LocalDate Sunday = new(NotableMornings.Year, 4, 26);

    public const string PlanText = """
        garden: Mill Bank
        id: mill-bank
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        digest: { at: "06:00", to: [pat@example.org] }
        beds:
          - { bed: low bed }
        plantings:
          - { crop: tomato, bed: low bed, plants: 6 }
        """;

    private readonly List<House> _houses = [];

    public FakeClock Clock { get; } = new(At(Sunday, 6));

    public Postbox Mail { get; } = new();

    /// <summary>What plans call push.</summary>
    public Phone Push { get; } = new(ChannelWords.Push);

    /// <summary>What plans call home hub.</summary>
    public Phone Hub { get; } = new(ChannelWords.HomeHub);

    /// <summary>Whether the settings set mail up.</summary>
    public bool HasMail { get; init; } = true;

    /// <summary>Befalls each call to the weather service; null for none.</summary>
    public Func<HttpRequestMessage, CancellationToken, Task<HttpResponseMessage>?>? WeatherFault { get; set; }

    public static Instant At(LocalDate date, int hour, int minute = 0) => Zone.AtStrictly(date + new LocalTime(hour, minute)).ToInstant();

    /// <summary>An answer that never comes.</summary>
    public static async Task<HttpResponseMessage> Never(CancellationToken ct)
    {
        await Task.Delay(Timeout.InfiniteTimeSpan, ct);
        throw new InvalidOperationException("Never comes to an end.");
    }

    /// <summary>What broke in a round; a knock by hand fails of it.</summary>
    private readonly Breakages _breakages = new();

    public async Task Knock(House house, Instant at)
    {
        Clock.Reset(at);
        await house.Round!.Knock(TestContext.Current.CancellationToken);
        await house.Round.SideDone();
        await house.Round.SendingDone();
        var broke = _breakages.Seen.ToList();
        _breakages.Seen.Clear();
        Assert.Empty(broke);
    }

    public House House(GardenStore store, string plan = PlanText) => House(store, Mail, plan);

    public House House(GardenStore store, IPostbox postbox, string plan) =>
        House(store, postbox, plan, SettingsIn(data.Path) with { Mail = HasMail ? new MailOptions { Host = "localhost", From = "garden@example.org" } : null });

    public static Settings SettingsIn(string folder) => new()
    {
        DataFolder = folder,
        Weather = new() { Retries = 0 },
        Mail = new MailOptions { Host = "localhost", From = "garden@example.org" },
        WebListen = new(System.Net.IPAddress.Loopback, 0),
        EveningLookAt = new LocalTime(17, 0),
    };

    public House House(GardenStore store, IPostbox postbox, string plan, Settings settings)
    {
        data.Write("garden.yaml", plan);
        var truth = InventedSeason.Between(NotableMornings.Seed, At(new(NotableMornings.Year, 1, 1), 0), At(new(NotableMornings.Year, 6, 1), 0));
        var forecasts = new ForecastFromTruth(truth, InventedSeason.Place, seed: 5);
        var house = new House(
            new ConfigFolder(data.Path), settings, CropShelf.Shipped(ConditionText.Read), store, postbox,
            new(
                Clock, new OnlyShortWaitsPass(),
                new Line(this, new InventedWeatherHandler(forecasts, [forecasts], InventedSeason.Place, Clock.GetCurrentInstant)),
                _breakages)
            { ClockIsGiven = true, Channels = new([Push, Hub]) });
        _houses.Add(house);
        return house;
    }

    public void Dispose() => _houses.ForEach(house => house.Dispose());

    /// <summary>A wait of ten seconds is over at once, and a longer one never: what must not be waited for is not.</summary>
    private sealed class OnlyShortWaitsPass : TimeProvider
    {
        private static readonly TimeSpan Short = TimeSpan.FromSeconds(10);

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            new Turned(base.CreateTimer(callback, state, Passed(dueTime), Timeout.InfiniteTimeSpan));

        private static TimeSpan Passed(TimeSpan wait) => wait >= TimeSpan.Zero && wait <= Short ? TimeSpan.Zero : Timeout.InfiniteTimeSpan;

        /// <summary>Timeouts are made without a time and given it afterwards.</summary>
        private sealed class Turned(ITimer timer) : ITimer
        {
            public bool Change(TimeSpan dueTime, TimeSpan period) => timer.Change(Passed(dueTime), Timeout.InfiniteTimeSpan);

            public void Dispose() => timer.Dispose();

            public ValueTask DisposeAsync() => timer.DisposeAsync();
        }
    }

    /// <summary>Keeps the exceptions that rounds catch and log, which nobody would see here.</summary>
    private sealed class Breakages : ILoggerFactory, ILogger
    {
        public System.Collections.Concurrent.ConcurrentQueue<string> Seen { get; } = new();

        public ILogger CreateLogger(string categoryName) => this;

        public void AddProvider(ILoggerProvider provider)
        {
        }

        public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
        {
            if (exception is not null)
                Seen.Enqueue(exception.ToString());
        }

        public void Dispose()
        {
        }
    }

    private sealed class Line(HouseBench bench, HttpMessageHandler inner) : DelegatingHandler(inner)
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken) =>
            bench.WeatherFault?.Invoke(request, cancellationToken) ?? base.SendAsync(request, cancellationToken);
    }

    /// <summary>One mail that was offered.</summary>
    /// <param name="Words">The plain text, its lines run together.</param>
    internal sealed record Offer(Instant At, string To, string MessageId, string Subject, string Words, string Bytes, bool Taken);

    /// <summary>A telephone that takes pushes as it is told.</summary>
    internal sealed class Phone(string word) : IChannel
    {
        private readonly List<(Instant At, string Subject)> _taken = [];
        private readonly TaskCompletionSource _reached = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public string Word => word;

        public Func<CancellationToken, Task<SendOutcome>> Answer { get; set; } = _ => Task.FromResult<SendOutcome>(new SendOutcome.Accepted("200"));

        public Func<Instant> Now { get; set; } = () => default;

        public IReadOnlyList<(Instant At, string Subject)> Taken => _taken;

        /// <summary>When something was offered for the first time.</summary>
        public Task Reached => _reached.Task;

        /// <summary>What goes wrong when a note is written; null for nothing.</summary>
        public Func<Exception?> RenderFault { get; set; } = () => null;

        public byte[] Render(ChannelNote note) => RenderFault() is { } fault ? throw fault : System.Text.Encoding.UTF8.GetBytes(note.Subject);

        public async Task<SendOutcome> Send(ReadOnlyMemory<byte> rendered, string messageId, CancellationToken cancellationToken)
        {
            _reached.TrySetResult();
            var outcome = await Answer(cancellationToken);
            if (outcome is SendOutcome.Accepted)
                _taken.Add((Now(), System.Text.Encoding.UTF8.GetString(rendered.Span)));
            return outcome;
        }
    }

    internal sealed class Postbox : IPostbox
    {
        private readonly List<Offer> _offers = [];
        private readonly TaskCompletionSource _reached = new(TaskCreationOptions.RunContinuationsAsynchronously);

        /// <summary>What is answered.</summary>
        public Func<SendOutcome> Answer { get; set; } = () => new SendOutcome.Accepted("250");

        /// <summary>What one addressee's server answers; null for as the others do.</summary>
        public Func<string, Task<SendOutcome>?> AnswerFor { get; set; } = _ => null;

        public Func<Instant> Now { get; set; } = () => default;

        /// <summary>When something was offered for the first time.</summary>
        public Task Reached => _reached.Task;

        public IReadOnlyList<Offer> Offers => _offers;

        public IReadOnlyList<Offer> Taken => [.. _offers.Where(offer => offer.Taken)];

        public async Task<SendOutcome> Send(ReadOnlyMemory<byte> bytes, string from, string to, CancellationToken ct)
        {
            var outcome = AnswerFor(to) is { } own ? await own.WaitAsync(ct) : Answer();
            using var stream = new MemoryStream(bytes.ToArray());
            using var message = await MimeMessage.LoadAsync(stream, ct);
            string words = string.Join(' ', message.TextBody!.Split((char[])[' ', '\r', '\n', '\u00A0', '\u202F'], StringSplitOptions.RemoveEmptyEntries));
            lock (_offers)
            {
                _offers.Add(new(Now(), to, message.MessageId!, message.Subject!, words, Convert.ToHexString(bytes.Span), outcome is SendOutcome.Accepted));
            }
            _reached.TrySetResult();
            return outcome;
        }
    }
}

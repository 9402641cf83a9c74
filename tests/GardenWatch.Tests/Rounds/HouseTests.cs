using GardenWatch.Demo;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

/// <summary>The whole house on one clock turned by hand: what hangs or fails beside a morning, and what the mail then says.</summary>
public sealed class HouseTests : StoreCase
{
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId];
    private static readonly LocalDate Sunday = new(NotableMornings.Year, 4, 26);

    private const string Plan = """
        garden: Mill Bank
        id: mill-bank
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        digest: { at: "06:00", to: [pat@example.org] }
        beds:
          - { bed: low bed }
        plantings:
          - { crop: tomato, bed: low bed, plants: 6 }
        """;

    private readonly FakeClock _clock = new(At(Sunday, 6));
    private readonly Postbox _postbox = new();

    private static Instant At(LocalDate date, int hour, int minute = 0) => Zone.AtStrictly(date + new LocalTime(hour, minute)).ToInstant();

    [Theory]
    [InlineData("/v1/ensemble")]
    [InlineData("/v1/archive")]
    [InlineData("/data")]
    public async Task A_side_service_that_hangs_for_ever_holds_up_neither_forecast_nor_digest(string hanging)
    {
        using var store = Open();
        using var house = House(store, hanging);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

        await house.Round!.Knock(end.Token);
        await house.Round.SendingDone();

        string words = Assert.Single(_postbox.Sent);
        Assert.Contains("frost tonight", words, StringComparison.Ordinal);
        await end.CancelAsync();
        await house.Round.SideDone();
    }

    [Fact]
    public async Task A_digest_that_was_not_taken_until_noon_is_named_in_the_next_and_in_no_later_one()
    {
        using var store = Open();
        using var house = House(store, hanging: null);
        _postbox.Takes = false;
        await Knock(house, At(Sunday, 6));
        await Knock(house, At(Sunday, 12, 1));
        _postbox.Takes = true;

        await Knock(house, At(Sunday.PlusDays(1), 6));
        await Knock(house, At(Sunday.PlusDays(2), 6));

        Assert.Equal(2, _postbox.Sent.Count);
        Assert.Contains("The last one, of Sun 26 April, was skipped: it could not be sent before noon.", _postbox.Sent[0], StringComparison.Ordinal);
        Assert.DoesNotContain("skipped", _postbox.Sent[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Each_who_is_told_gets_the_digest_at_the_own_hour_in_own_units_and_of_the_own_beds_and_no_less_news()
    {
        using var store = Open();
        Data.Write("garden.yaml", Plan
            .Replace("to: [pat@example.org]", "to: [pat@example.org, { who: sam@example.org, at: \"7:30\", units: us, beds: [far bed] }]", StringComparison.Ordinal)
            .Replace("  - { bed: low bed }", "  - { bed: low bed }\n  - { bed: far bed }", StringComparison.Ordinal)
            + "\n  - { crop: potato, bed: far bed, growing: yes }");
        using var house = HouseOfFile(store, hanging: null);

        await Knock(house, At(Sunday, 6));
        Assert.Equal("pat@example.org", Assert.Single(_postbox.To));
        await Knock(house, At(Sunday, 7, 30));
        await Knock(house, At(Sunday, 8));

        Assert.Equal(["pat@example.org", "sam@example.org"], _postbox.To);
        Assert.Contains("°C", _postbox.Sent[0], StringComparison.Ordinal);
        Assert.DoesNotContain("°F", _postbox.Sent[0], StringComparison.Ordinal);
        Assert.Contains("°F", _postbox.Sent[1], StringComparison.Ordinal);
        Assert.DoesNotContain("°C", _postbox.Sent[1], StringComparison.Ordinal);
        Assert.Contains("All beds: soil", _postbox.Sent[0], StringComparison.Ordinal);
        Assert.Contains("Far bed: soil", _postbox.Sent[1], StringComparison.Ordinal);
        // A sowing seen for the first time is news to the second, too.
        Assert.All(_postbox.Sent, words => Assert.Contains("GROWING Potato", words, StringComparison.Ordinal));
    }

    private async Task Knock(House house, Instant at)
    {
        _clock.Reset(at);
        await house.Round!.Knock(TestContext.Current.CancellationToken);
        await house.Round.SideDone();
        await house.Round.SendingDone();
    }

    private House House(GardenStore store, string? hanging)
    {
        Data.Write("garden.yaml", Plan);
        return HouseOfFile(store, hanging);
    }

    private House HouseOfFile(GardenStore store, string? hanging)
    {
        var truth = InventedSeason.Between(NotableMornings.Seed, At(new(NotableMornings.Year, 1, 1), 0), At(new(NotableMornings.Year, 6, 1), 0));
        var forecasts = new ForecastFromTruth(truth, InventedSeason.Place, seed: 5);
        var settings = new Settings
        {
            DataFolder = Data.Path,
            Weather = new() { Retries = 0 },
            Mail = new MailOptions { Host = "localhost", From = "garden@example.org" },
            WebListen = new(System.Net.IPAddress.Loopback, 0),
            EveningLookAt = new LocalTime(17, 0),
        };
        return new House(
            new ConfigFolder(Data.Path), settings, CropShelf.Shipped(ConditionText.Read), store, _postbox,
            new(
                _clock, new OnlyShortWaitsPass(),
                new Hanging(hanging, new InventedWeatherHandler(forecasts, [forecasts], InventedSeason.Place, _clock.GetCurrentInstant)),
                NullLoggerFactory.Instance)
            { ClockIsGiven = true });
    }

    /// <summary>A wait of ten seconds is over at once, and a longer one never: what must not be waited for is not.</summary>
    private sealed class OnlyShortWaitsPass : TimeProvider
    {
        private static readonly TimeSpan Short = TimeSpan.FromSeconds(10);

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            base.CreateTimer(callback, state, dueTime <= Short ? TimeSpan.Zero : Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    private sealed class Hanging(string? path, HttpMessageHandler inner) : DelegatingHandler(inner)
    {
        protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            if (path is not null && request.RequestUri!.AbsolutePath.StartsWith(path, StringComparison.Ordinal))
                await Task.Delay(Timeout.InfiniteTimeSpan, cancellationToken);
            return await base.SendAsync(request, cancellationToken);
        }
    }

    private sealed class Postbox : IPostbox
    {
        public bool Takes { get; set; } = true;

        /// <summary>The plain texts, their lines run together.</summary>
        public List<string> Sent { get; } = [];

        public List<string> To { get; } = [];

        public async Task<SendOutcome> Send(ReadOnlyMemory<byte> bytes, string from, string to, CancellationToken ct)
        {
            if (!Takes)
                return new SendOutcome.TryLater("451");
            using var stream = new MemoryStream(bytes.ToArray());
            using var message = await MimeMessage.LoadAsync(stream, ct);
            To.Add(to);
            Sent.Add(string.Join(' ', message.TextBody!.Split((char[])[' ', '\r', '\n', '\u00A0', '\u202F'], StringSplitOptions.RemoveEmptyEntries)));
            return new SendOutcome.Accepted("250");
        }
    }
}

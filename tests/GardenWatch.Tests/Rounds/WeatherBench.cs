using GardenWatch.Agronomy.Light;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

/// <summary>Rounds that fetch, a store, a stand-in for the weather service, and a clock that only the test turns.</summary>
internal sealed class WeatherBench : IAsyncDisposable
{
    public static readonly Instant Start = Instant.FromUtc(2027, 4, 21, 5, 10);
    public static readonly GardenPlace Place = new(
        "lexington", new LocalCalendar(DateTimeZoneProviders.Tzdb["America/New_York"], new(38.03, -84.5, 295)));

    private readonly HttpClient _http = new(ServiceLine.Handler()) { Timeout = Timeout.InfiniteTimeSpan };
    private readonly ServiceLine _line;

    private WeatherBench(WeatherStandIn service, GardenStore store)
    {
        Service = service;
        Store = store;
        Options = new() { Forecast = service.Forecast, Ensemble = service.Ensemble, Archive = service.Archive, Retries = 0 };
        _line = new(_http, Options, Clock, TimeProvider.System);
        Members = NewMembers();
        PastYears = new(store, new ArchiveClient(_line, Options), Options, Clock, NullLogger.Instance);
        service.Clock = Clock.GetCurrentInstant;
    }

    public WeatherStandIn Service { get; }
    public GardenStore Store { get; }
    public OpenMeteoOptions Options { get; }
    public FakeClock Clock { get; } = new(Start);
    public MemberRound Members { get; }
    public PastYearsRound PastYears { get; }

    /// <summary>As after a restart: nothing is remembered but what is in the store.</summary>
    public MemberRound NewMembers() => new(Store, new EnsembleClient(_line, Options), Options, Clock, NullLogger.Instance);

    public static async Task<WeatherBench> Open(GardenStore store) => new(
        await WeatherStandIn.Start(Weather, Start, TestContext.Current.CancellationToken), store);

    public void Pass(Duration time)
    {
        Clock.Advance(time);
        Service.Now = Clock.GetCurrentInstant();
    }

    public Task<string?> RunMembers(bool clockTrusted = true) =>
        Members.Run(Place, _ => clockTrusted, TestContext.Current.CancellationToken);

    public Task<string?> RunPastYears(bool clockTrusted = true) =>
        PastYears.Run(Place, _ => clockTrusted, TestContext.Current.CancellationToken);

    public int CallsOf(string path) => Service.Calls.Count(call => call.Path == path);

    /// <summary>A year's course and a day's, by the service's names.</summary>
    public static double? Weather(Instant stamp, string variable)
    {
        double hours = stamp.ToUnixTimeSeconds() / 3600.0;
        double air = 11 - 13 * Math.Cos(2 * Math.PI * (hours / 8766 - 0.05)) + 5 * Math.Sin(2 * Math.PI * (hours - 14) / 24);
        return variable switch
        {
            "temperature_2m" => air,
            "dew_point_2m" => air - 5,
            "precipitation" => hours % 60 == 0 ? 5 : 0,
            "cloud_cover" => 50,
            "wind_speed_10m" => 3,
            "wind_gusts_10m" => 8,
            "shortwave_radiation" => Math.Max(0, 500 * Math.Sin(2 * Math.PI * (hours - 11) / 24)),
            _ => null,
        };
    }

    public async ValueTask DisposeAsync()
    {
        _line.Dispose();
        _http.Dispose();
        await Service.DisposeAsync();
    }
}

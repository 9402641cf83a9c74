using GardenWatch.Agronomy.Quantities;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>A stand-in on loopback and the clients that ask it, in time that only the test turns.</summary>
internal sealed class ServiceBench : IAsyncDisposable
{
    public static readonly Instant Start = Instant.FromUtc(2027, 4, 21, 5, 10);
    public static readonly GeoPosition Garden = new(52.10, 5.18, 2);

    private readonly HttpClient _http = new(ServiceLine.Handler()) { Timeout = Timeout.InfiniteTimeSpan };
    private readonly ServiceLine _line;

    private ServiceBench(WeatherStandIn service, Action<OpenMeteoOptions>? adjust)
    {
        Service = service;
        Options = new()
        {
            Forecast = service.Forecast,
            Geocoding = service.Geocoding,
            Elevation = service.Elevation,
            Ensemble = service.Ensemble,
            Archive = service.Archive,
            UserAgent = "GardenWatch test (pat@example.org)",
        };
        adjust?.Invoke(Options);
        Time = new(Start, Options.AttemptTimeout, Options.TotalTimeout);
        service.Clock = Time.GetCurrentInstant;
        _line = new(_http, Options, Time, Time);
        Forecasts = new(_line, Options);
        Places = new(_line, Options, DateTimeZoneProviders.Tzdb);
        Ensembles = new(_line, Options);
        Archive = new(_line, Options);
    }

    public WeatherStandIn Service { get; }
    public OpenMeteoOptions Options { get; }
    public TurnedTime Time { get; }
    public ForecastClient Forecasts { get; }
    public PlaceClient Places { get; }
    public EnsembleClient Ensembles { get; }
    public ArchiveClient Archive { get; }

    public static async Task<ServiceBench> Open(
        Func<Instant, string, double?>? weather = null, Action<OpenMeteoOptions>? adjust = null) =>
        new(await WeatherStandIn.Start(weather ?? InventedWeather.At, Start, TestContext.Current.CancellationToken), adjust);

    public Task<PullOutcome> Pull(int pastDays = 14) =>
        Forecasts.Pull(Garden, pastDays, TestContext.Current.CancellationToken);

    public async ValueTask DisposeAsync()
    {
        _line.Dispose();
        _http.Dispose();
        await Service.DisposeAsync();
    }
}

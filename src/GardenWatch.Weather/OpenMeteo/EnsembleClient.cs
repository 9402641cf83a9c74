using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>A run of a model: when it was begun, and when all of it was out.</summary>
public sealed record EnsembleRun(Instant BegunAt, Instant AvailableAt)
{
    /// <summary>The service's machines come to agree on a new run only after a while.</summary>
    public static Duration SettlingTime { get; } = Duration.FromMinutes(10);

    /// <summary>When nothing is heard of runs.</summary>
    public static Duration UsualInterval { get; } = Duration.FromHours(6);

    /// <summary>Whether to pull: a run is out that the last pull can't have had, or nothing is heard and six hours have passed.</summary>
    /// <param name="newest">The newest run by the service; null when it was out of reach.</param>
    public static bool IsNew(EnsembleRun? newest, Instant? lastPull, Instant now) =>
        lastPull is not { } pulled
        || (newest is null ? now - pulled >= UsualInterval : pulled < newest.SettledAt && now >= newest.SettledAt);

    public Instant SettledAt => AvailableAt + SettlingTime;
}

/// <summary>Pulls the members of an ensemble, and asks when a new run is out.</summary>
public sealed class EnsembleClient(ServiceLine line, OpenMeteoOptions options)
{
    /// <summary>
    /// Dew point in place of humidity: it goes through the hours more smoothly and is what frost and leaf wetness need.
    /// </summary>
    public static ImmutableArray<WeatherVariable> Variables { get; } =
    [
        WeatherVariable.Air, WeatherVariable.DewPoint, WeatherVariable.Rain, WeatherVariable.CloudCover,
        WeatherVariable.Wind, WeatherVariable.Gust, WeatherVariable.Radiation,
    ];

    private static readonly string AskedFor = string.Join(',', Variables.Select(variable => ServiceVariable.Of(variable).Name));

    public EnsembleModel Model { get; } = EnsembleModel.Named(options.EnsembleModel);

    /// <summary>What one pull costs of the free allowance, in calls.</summary>
    public double Weight => CallWeight.Of(Variables.Length, Model.Members, ForecastDays);

    private int ForecastDays => Math.Min(Model.Days, options.ForecastDays);

    /// <summary>When the newest run was out; refused when the service does not tell of this model's runs. Costs nothing.</summary>
    public async Task<Lookup<EnsembleRun>> NewestRun(CancellationToken cancellation)
    {
        if (Model.MetaName is not { } name)
            return new Lookup<EnsembleRun>.Refused($"When the runs of {Model.Name} are out is not known.", null);
        var address = new UriBuilder(options.Ensemble) { Path = $"/data/{name}/static/meta.json" }.Uri;
        return await line.Ask<EnsembleRun>(address, sound =>
        {
            using var document = JsonDocument.Parse(sound.Body);
            var now = line.Clock.GetCurrentInstant();
            return Stamp(document.RootElement, "last_run_initialisation_time") is { } begun
                && Stamp(document.RootElement, "last_run_availability_time") is { } available
                && begun <= available && available <= now + Duration.FromHours(1)
                ? new Lookup<EnsembleRun>.Found(new(begun, available), sound.ServerDate)
                : new Lookup<EnsembleRun>.Refused($"The service at {address.Host} does not tell when the runs of {Model.Name} are out.", sound.ServerDate);
        }, cancellation).ConfigureAwait(false);
    }

    /// <param name="run">The run that is expected, to be written on the pull; null when not known.</param>
    public Task<Lookup<MemberPull>> Pull(GeoPosition place, EnsembleRun? run, CancellationToken cancellation)
    {
        var address = new ServiceAddress(options.Ensemble)
            .WithHourly(place, AskedFor)
            .With("models", Model.Name)
            .With("forecast_days", ForecastDays.ToString(CultureInfo.InvariantCulture))
            .Whole;
        return line.Ask<MemberPull>(address, sound =>
        {
            var asked = new Asked(place, line.Clock.GetCurrentInstant(), address.Host, sound.ServerDate);
            return EnsembleAnswer.Read(sound.Body.Span, asked, Model.Name, run?.BegunAt, out string? fault) is { } pull
                ? new Lookup<MemberPull>.Found(pull, sound.ServerDate)
                : new Lookup<MemberPull>.Refused($"The members of the weather service at {address.Host} are not used: {fault}.", sound.ServerDate);
        }, cancellation);
    }

    private static Instant? Stamp(JsonElement root, string key) =>
        root.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out long seconds)
        && seconds is > 0 and < 40_000_000_000
            ? Instant.FromUnixTimeSeconds(seconds)
            : null;
}

using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Setup;

/// <summary>A town to choose, and how it is told from its namesakes.</summary>
public sealed record FoundTown(FirstPlace Place, string Label);

/// <summary>What looking a place up gave.</summary>
/// <param name="Trouble">Why nothing could be found, with what to do instead; null when all went well.</param>
public sealed record PlaceFinding(ImmutableArray<FoundTown> Towns, string? Trouble)
{
    /// <summary>The service did not answer: nothing is wrong with what was said.</summary>
    public bool OutOfReach { get; init; }
}

/// <summary>Finds a new garden's place while somebody waits, and says soon when that can't be done.</summary>
public sealed class PlaceSearch : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(15);
    private const string ByHand = "Latitude and longitude do as well, such as `48.1, 11.5`.";

    private readonly ServiceLine _line;
    private readonly PlaceClient _client;
    private readonly TimeProvider _time;

    public PlaceSearch(HttpMessageHandler handler, OpenMeteoOptions options, IClock clock, TimeProvider time)
    {
        _line = new(new HttpClient(handler) { Timeout = Timeout.InfiniteTimeSpan }, options, clock, time);
        _time = time;
        _client = new(_line, options, DateTimeZoneProviders.Tzdb);
    }

    public async Task<PlaceFinding> Find(PlaceSaid said, CancellationToken ct)
    {
        switch (said)
        {
            case PlaceSaid.Position position:
                var place = new FirstPlace(null, null, position.LatitudeDegrees, position.LongitudeDegrees, null, null);
                return new([new(await Completed(place, ct).ConfigureAwait(false), "")], null);
            case PlaceSaid.Town town:
                return await Towns(town, ct).ConfigureAwait(false);
            case PlaceSaid.Fault(var problem, var instead):
                return new([], $"{problem}: write {instead}.");
            default:
                throw new InvalidOperationException("No such place.");
        }
    }

    /// <summary>With height and zone, where the service tells them.</summary>
    public async Task<FirstPlace> Completed(FirstPlace place, CancellationToken ct)
    {
        if (place.ZoneId is null && await Soon(hurry => _client.ZoneAt(place.LatitudeDegrees, place.LongitudeDegrees, hurry), ct).ConfigureAwait(false) is Lookup<DateTimeZone>.Found zone)
            place = place with { ZoneId = zone.Value.Id };
        // A service that did not tell the zone is not waited for a second time.
        if (place is { ElevationMetres: null, ZoneId: not null } && await Soon(hurry => _client.ElevationAt(place.LatitudeDegrees, place.LongitudeDegrees, hurry), ct).ConfigureAwait(false) is Lookup<double>.Found height)
            place = place with { ElevationMetres = height.Value };
        return place;
    }

    public void Dispose() => _line.Dispose();

    private async Task<PlaceFinding> Towns(PlaceSaid.Town town, CancellationToken ct)
    {
        var found = await Soon(hurry => _client.Search(town.Name, countryCode: null, hurry), ct).ConfigureAwait(false);
        if (found is not Lookup<ImmutableArray<PlaceHit>>.Found { Value: var hits })
        {
            string reason = found switch
            {
                Lookup<ImmutableArray<PlaceHit>>.TryLater later => later.Reason,
                Lookup<ImmutableArray<PlaceHit>>.Refused refused => refused.Reason,
                _ => $"The service that knows towns did not answer within {Patience.TotalSeconds:0} seconds.",
            };
            return new([], $"{reason} {ByHand}") { OutOfReach = found is not Lookup<ImmutableArray<PlaceHit>>.Refused };
        }
        if (hits.IsEmpty)
            return new([], $"No town named {town.Name} is known. Try the next larger one. {ByHand}");
        var within = hits.Where(hit => town.IsWithin(hit.Region, hit.Country, hit.CountryCode)).ToImmutableArray();
        return new([.. (within.IsEmpty ? hits : within).Select(hit => new FoundTown(PlaceOf(hit), LabelOf(hit)))], null);
    }

    private static FirstPlace PlaceOf(PlaceHit hit) => new(
        hit.Name, hit.CountryCode, hit.LatitudeDegrees, hit.LongitudeDegrees, double.IsNaN(hit.ElevationMetres) ? null : hit.ElevationMetres,
        hit.ZoneName is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is not null ? zone : null);

    private static string LabelOf(PlaceHit hit)
    {
        var parts = new[] { hit.Name, hit.Region, hit.Country }.OfType<string>().Distinct();
        string people = hit.Population is > 0 and var population ? string.Create(CultureInfo.InvariantCulture, $", {population:#,0} people") : "";
        return string.Join(", ", parts) + people;
    }

    /// <summary>Null when it took too long.</summary>
    private async Task<Lookup<T>?> Soon<T>(Func<CancellationToken, Task<Lookup<T>>> ask, CancellationToken ct)
    {
        using var patience = new CancellationTokenSource(Patience, _time);
        using var hurry = CancellationTokenSource.CreateLinkedTokenSource(ct, patience.Token);
        try
        {
            return await ask(hurry.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return null;
        }
    }
}

using System.Globalization;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Plans;
using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>Where a garden is, as settled: gardens of one place share its weather.</summary>
public sealed record GardenPlace(string Key, LocalCalendar Calendar);

/// <summary>How settling a place went.</summary>
public abstract record PlaceOutcome
{
    private PlaceOutcome() { }

    public sealed record Settled(GardenPlace Place) : PlaceOutcome;

    /// <summary>The plan must say more; what, stands in the sentence.</summary>
    public sealed record Unclear(string Sentence) : PlaceOutcome;

    public sealed record OutOfReach(string Sentence) : PlaceOutcome;
}

/// <summary>Settles where each garden is: from the plan, else from what was found before, else by asking the service.</summary>
public sealed class GardenPlaces(PlaceTable places, PlaceClient client, IDateTimeZoneProvider zones)
{
    /// <summary>As the plan says it or as it was found before; null while that leaves something open.</summary>
    public GardenPlace? Known(PlanPlace place)
    {
        string key = KeyOf(place);
        return OfPlan(place, key, places.Find(key));
    }

    public async Task<PlaceOutcome> Settle(PlanPlace place, Instant now, CancellationToken ct)
    {
        if (Known(place) is { } known)
            return new PlaceOutcome.Settled(known);

        string key = KeyOf(place);
        double latitude, longitude, elevation = place.ElevationMetres ?? double.NaN;
        string? zoneId = place.ZoneId;
        if (place is { LatitudeDegrees: { } north, LongitudeDegrees: { } east })
            (latitude, longitude) = (north, east);
        else
        {
            switch (await client.Search(place.Town ?? "", countryCode: null, ct).ConfigureAwait(false))
            {
                case Lookup<System.Collections.Immutable.ImmutableArray<PlaceHit>>.Found { Value: { IsEmpty: false } hits }:
                    if (Namesakes(hits) is { } choice)
                        return new PlaceOutcome.Unclear(choice);
                    (latitude, longitude) = (hits[0].LatitudeDegrees, hits[0].LongitudeDegrees);
                    elevation = double.IsNaN(elevation) ? hits[0].ElevationMetres : elevation;
                    zoneId ??= hits[0].ZoneName;
                    break;
                case Lookup<System.Collections.Immutable.ImmutableArray<PlaceHit>>.Found:
                    return new PlaceOutcome.Unclear($"No town named {place.Town} was found; write latitude and longitude into `place:`.");
                case Lookup<System.Collections.Immutable.ImmutableArray<PlaceHit>>.Refused refused:
                    return new PlaceOutcome.Unclear(refused.Reason);
                case Lookup<System.Collections.Immutable.ImmutableArray<PlaceHit>>.TryLater later:
                    return new PlaceOutcome.OutOfReach($"{later.Reason} Until then the place of the garden is not known; latitude, longitude and zone in `place:` make it known at once.");
                default:
                    throw new InvalidOperationException("No such lookup.");
            }
        }

        if (zoneId is null || zones.GetZoneOrNull(zoneId) is null)
        {
            switch (await client.ZoneAt(latitude, longitude, ct).ConfigureAwait(false))
            {
                case Lookup<DateTimeZone>.Found found:
                    zoneId = found.Value.Id;
                    break;
                case Lookup<DateTimeZone>.Refused refused:
                    return new PlaceOutcome.Unclear(refused.Reason);
                case Lookup<DateTimeZone>.TryLater later:
                    return new PlaceOutcome.OutOfReach($"{later.Reason} Until then the time zone of the garden is not known; a `zone:` in `place:` makes it known at once.");
                default:
                    throw new InvalidOperationException("No such lookup.");
            }
        }
        // Without a height the service takes its own terrain model's; nothing waits for it.
        if (double.IsNaN(elevation) && await client.ElevationAt(latitude, longitude, ct).ConfigureAwait(false) is Lookup<double>.Found height)
            elevation = height.Value;
        var foundPlace = new FoundPlace(key, latitude, longitude, elevation, zoneId, now);
        if (!double.IsNaN(elevation))
            places.Set(foundPlace);
        return new PlaceOutcome.Settled(Of(foundPlace));
    }

    private GardenPlace? OfPlan(PlanPlace place, string key, FoundPlace? found)
    {
        double? latitude = place.LatitudeDegrees ?? found?.LatitudeDegrees, longitude = place.LongitudeDegrees ?? found?.LongitudeDegrees;
        double? elevation = place.ElevationMetres ?? found?.ElevationMetres;
        string? zone = place.ZoneId ?? found?.ZoneId;
        return latitude is { } north && longitude is { } east && elevation is { } height && zone is not null && zones.GetZoneOrNull(zone) is not null
            ? Of(new(key, north, east, height, zone, default))
            : null;
    }

    private GardenPlace Of(FoundPlace place) =>
        new(place.Key, new LocalCalendar(zones[place.ZoneId], new GeoPosition(place.LatitudeDegrees, place.LongitudeDegrees, place.ElevationMetres)));

    /// <summary>Two towns of a name and of like size can't be told apart; the gardener chooses.</summary>
    private static string? Namesakes(System.Collections.Immutable.ImmutableArray<PlaceHit> hits)
    {
        var first = hits[0];
        var rivals = hits.Skip(1)
            .Where(hit => hit.Name == first.Name && hit.Population * 5 > (first.Population ?? 0) &&
                (Math.Abs(hit.LatitudeDegrees - first.LatitudeDegrees) > 0.5 || Math.Abs(hit.LongitudeDegrees - first.LongitudeDegrees) > 0.5))
            .ToList();
        if (rivals.Count == 0)
            return null;
        var named = new[] { first }.Concat(rivals).Take(4).Select(hit => string.Create(
            CultureInfo.InvariantCulture, $"{hit.Name}, {hit.Region ?? hit.Country}: latitude {hit.LatitudeDegrees:0.##}, longitude {hit.LongitudeDegrees:0.##}"));
        return $"There are several towns named {first.Name}; write latitude and longitude into `place:`. {string.Join("; ", named)}.";
    }

    private static string KeyOf(PlanPlace place) => place is { LatitudeDegrees: { } north, LongitudeDegrees: { } east }
        ? string.Create(CultureInfo.InvariantCulture, $"{north:0.0000},{east:0.0000}")
        : $"town {place.Town?.Trim().ToLowerInvariant()}";
}

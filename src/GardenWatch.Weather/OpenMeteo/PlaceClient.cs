using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>A town of the service's gazetteer.</summary>
/// <param name="Region">State or county, to tell namesakes apart.</param>
/// <param name="ElevationMetres">NaN when not told.</param>
/// <param name="ZoneName">As the service names it; null when not told.</param>
public sealed record PlaceHit(
    string Name, string? Region, string? Country, string? CountryCode,
    double LatitudeDegrees, double LongitudeDegrees, double ElevationMetres, string? ZoneName, long? Population);

/// <summary>Finds what a plan leaves out of its place: where a town lies, how high, in which zone.</summary>
public sealed class PlaceClient(ServiceLine line, OpenMeteoOptions options, IDateTimeZoneProvider zones)
{
    private const int MostHits = 10;

    /// <summary>All towns of a name, best first, for the gardener to choose from; empty when there is none.</summary>
    /// <param name="countryCode">Two letters; null for anywhere.</param>
    public async Task<Lookup<ImmutableArray<PlaceHit>>> Search(string name, string? countryCode, CancellationToken cancellation)
    {
        if (name.Trim() is not { Length: >= 2 and <= 100 } town)
            return new Lookup<ImmutableArray<PlaceHit>>.Refused(
                $"'{AnswerText.Quoted(name)}' is no name of a town: write 2 to 100 letters.", null);
        var address = new ServiceAddress(options.Geocoding)
            .With("name", town).With("count", MostHits.ToString(CultureInfo.InvariantCulture))
            .With("language", "en").With("format", "json");
        if (countryCode is not null)
            address.With("countryCode", countryCode);
        return await Ask<ImmutableArray<PlaceHit>>(address.Whole, Hits, "list of towns", cancellation).ConfigureAwait(false);
    }

    /// <summary>Metres above the sea, from a terrain model of 90 m.</summary>
    public Task<Lookup<double>> ElevationAt(double latitudeDegrees, double longitudeDegrees, CancellationToken cancellation) =>
        Ask<double>(new ServiceAddress(options.Elevation).With("latitude", latitudeDegrees).With("longitude", longitudeDegrees).Whole,
            Elevation, "height", cancellation);

    /// <summary>The zone of a place; refused with a remedy when this program's zone table does not know it.</summary>
    public async Task<Lookup<DateTimeZone>> ZoneAt(double latitudeDegrees, double longitudeDegrees, CancellationToken cancellation)
    {
        var address = new ServiceAddress(options.Forecast)
            .With("latitude", latitudeDegrees).With("longitude", longitudeDegrees)
            .With("hourly", "temperature_2m").With("forecast_days", "1")
            .With("timeformat", "unixtime").With("timezone", "auto").Whole;
        return await Ask<string>(address, ZoneName, "time zone", cancellation).ConfigureAwait(false) switch
        {
            Lookup<string>.Found found when zones.GetZoneOrNull(found.Value) is { } zone =>
                new Lookup<DateTimeZone>.Found(zone, found.ServerDate),
            Lookup<string>.Found found => new Lookup<DateTimeZone>.Refused(
                $"The weather service puts the place in the zone '{found.Value}', which the zone table {zones.VersionId} does not " +
                "know; write the zone into the plan, for example: zone: Europe/Berlin.", found.ServerDate),
            Lookup<string>.TryLater later => new Lookup<DateTimeZone>.TryLater(later.Reason, later.NotBefore, later.ServerDate),
            Lookup<string>.Refused refused => new Lookup<DateTimeZone>.Refused(refused.Reason, refused.ServerDate),
            var other => throw new InvalidOperationException($"No such lookup: {other}"),
        };
    }

    /// <summary>False when the answer has another shape than it should.</summary>
    private delegate bool Reading<T>(JsonElement root, out T value);

    private Task<Lookup<T>> Ask<T>(Uri address, Reading<T> read, string wanted, CancellationToken cancellation) =>
        line.Ask<T>(address, sound =>
        {
            using var document = JsonDocument.Parse(sound.Body);
            return read(document.RootElement, out var value)
                ? new Lookup<T>.Found(value, sound.ServerDate)
                : new Lookup<T>.Refused($"The service at {address.Host} sent no {wanted} that can be read.", sound.ServerDate);
        }, cancellation);

    private static bool Hits(JsonElement root, out ImmutableArray<PlaceHit> hits)
    {
        hits = [];
        // No hit is told by leaving the key out.
        if (!root.TryGetProperty("results", out var results))
            return true;
        if (results.ValueKind != JsonValueKind.Array)
            return false;
        var found = ImmutableArray.CreateBuilder<PlaceHit>();
        foreach (var hit in results.EnumerateArray().Take(MostHits))
        {
            if (hit.ValueKind != JsonValueKind.Object || Text(hit, "name") is not { } name ||
                Number(hit, "latitude") is not (>= -90 and <= 90 and var latitude) ||
                Number(hit, "longitude") is not (>= -180 and <= 180 and var longitude))
                return false;
            found.Add(new(
                name, Text(hit, "admin1"), Text(hit, "country"), Text(hit, "country_code"), latitude, longitude,
                Number(hit, "elevation") ?? double.NaN, Text(hit, "timezone"), (long?)Number(hit, "population")));
        }
        hits = found.ToImmutable();
        return true;
    }

    private static bool Elevation(JsonElement root, out double metres)
    {
        metres = double.NaN;
        return root.TryGetProperty("elevation", out var list) && list.ValueKind == JsonValueKind.Array &&
            list.GetArrayLength() == 1 && list[0].ValueKind == JsonValueKind.Number && list[0].TryGetDouble(out metres) &&
            metres is >= -450 and <= 9000;
    }

    private static bool ZoneName(JsonElement root, out string name)
    {
        name = Text(root, "timezone") ?? "";
        return name.Length > 0;
    }

    private static string? Text(JsonElement parent, string key)
    {
        if (!parent.TryGetProperty(key, out var value) || value.ValueKind != JsonValueKind.String)
            return null;
        try
        {
            return AnswerText.Quoted(value.GetString()!);
        }
        catch (InvalidOperationException)
        {
            // Half of a surrogate pair, escaped: well-formed JSON that is no text.
            return null;
        }
    }

    private static double? Number(JsonElement parent, string key) =>
        parent.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.Number &&
        value.TryGetDouble(out double number) && double.IsFinite(number) ? number : null;
}

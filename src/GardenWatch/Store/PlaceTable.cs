using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What the weather service found for a place that the plan names without position, height or zone.</summary>
public sealed record FoundPlace(
    string Key, double LatitudeDegrees, double LongitudeDegrees, double ElevationMetres, string ZoneId, Instant FoundAt);

public sealed class PlaceTable(StoreConnection connection)
{
    private const string Upsert =
        """
        INSERT INTO place (key, latitude, longitude, elevation, zone, found_at)
        VALUES ($key, $latitude, $longitude, $elevation, $zone, $found)
        ON CONFLICT (key) DO UPDATE SET
            latitude = $latitude, longitude = $longitude, elevation = $elevation, zone = $zone, found_at = $found
        """;

    private const string Select = "SELECT key, latitude, longitude, elevation, zone, found_at FROM place WHERE key = $key";

    public WriteOutcome Set(FoundPlace place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return connection.Write(
            Upsert, ("$key", place.Key), ("$latitude", place.LatitudeDegrees), ("$longitude", place.LongitudeDegrees),
            ("$elevation", place.ElevationMetres), ("$zone", place.ZoneId), ("$found", StoreText.Of(place.FoundAt)));
    }

    public FoundPlace? Find(string key) => connection.Read(Select, Place, ("$key", key)).FirstOrDefault();

    private static FoundPlace Place(SqliteDataReader row) => new(
        row.GetString(0), row.GetDouble(1), row.GetDouble(2), row.GetDouble(3), row.GetString(4),
        StoreText.ToInstant(row.GetString(5)));
}

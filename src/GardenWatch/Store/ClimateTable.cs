using NodaTime;

namespace GardenWatch.Store;

/// <summary>What a place's past years tell, as it was reckoned at an instant.</summary>
public sealed record StoredClimate(string Place, Instant MadeAt, int Years, byte[] Body);

public sealed class ClimateTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO climate (place, made_at, years, body) VALUES ($place, $made, $years, $body)
        ON CONFLICT (place, made_at) DO UPDATE SET years = $years, body = $body
        """;

    private const string Newest =
        """
        SELECT place, made_at, years, body FROM climate
        WHERE place = $place AND made_at <= $asOf ORDER BY made_at DESC LIMIT 1
        """;

    private const string NewestYears =
        "SELECT years FROM climate WHERE place = $place AND made_at <= $asOf ORDER BY made_at DESC LIMIT 1";

    public WriteOutcome Keep(StoredClimate climate)
    {
        ArgumentNullException.ThrowIfNull(climate);
        return connection.Write(
            Insert, ("$place", climate.Place), ("$made", StoreText.Of(climate.MadeAt)), ("$years", climate.Years), ("$body", climate.Body));
    }

    /// <summary>The newest that had been made by an instant; null when there was none.</summary>
    public StoredClimate? AsOf(string place, Instant asOf) =>
        connection.Read(
            Newest,
            row => new StoredClimate(
                row.GetString(0), StoreText.ToInstant(row.GetString(1)), row.GetInt32(2), row.GetFieldValue<byte[]>(3)),
            ("$place", place), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();

    /// <summary>Of how many years the newest was reckoned; 0 when there was none.</summary>
    public int YearsOf(string place, Instant asOf) =>
        connection.Read(NewestYears, row => row.GetInt32(0), ("$place", place), ("$asOf", StoreText.Of(asOf))).FirstOrDefault();
}

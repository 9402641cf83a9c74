using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>How old the newest weather is that was known at an instant; null when there was none.</summary>
public readonly record struct WeatherAge(Instant? FetchedAt, Duration? Age)
{
    /// <summary>Past this age sowing, spreading and setting out are no longer advised.</summary>
    public static Duration StaleAfter { get; } = Duration.FromHours(36);

    public bool IsMissing => FetchedAt is null;

    public bool IsStale => Age > StaleAfter;

    public static WeatherAge Of(IEnumerable<Instant> fetchedAt, Instant asOf)
    {
        Instant? newest = null;
        foreach (var instant in fetchedAt)
            if (instant <= asOf && !(newest >= instant))
                newest = instant;
        return new(newest, asOf - newest);
    }
}

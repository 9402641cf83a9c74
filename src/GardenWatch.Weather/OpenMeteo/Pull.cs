using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>
/// One answer of the weather service, kept whole and never changed. The series at an instant is the fold of the pulls
/// fetched no later than it, so that a look back sees only what was known then.
/// </summary>
/// <param name="FetchedAt">When the answer was in our hands.</param>
/// <param name="Host">Who gave it.</param>
/// <param name="Models">Which models were asked for.</param>
/// <param name="Start">First stamp, a whole UTC hour.</param>
/// <param name="Hours">Number of stamps.</param>
/// <param name="Columns">Only what was given; a variable the service lacks has no column.</param>
/// <param name="GridLatitude">Centre of the grid cell used, degrees north: some km off the garden.</param>
/// <param name="GridElevationMetres">Height to which temperatures were moved; NaN when not told.</param>
/// <param name="ZoneName">Name of the place's zone if the answer tells one; null when GMT was asked for.</param>
/// <param name="ServerDate">The service's own clock when it answered; null when not told.</param>
/// <param name="OutOfRange">Values that could not be true and were made missing.</param>
public sealed record Pull(
    Instant FetchedAt,
    string Host,
    string Models,
    Instant Start,
    int Hours,
    ImmutableSortedDictionary<WeatherVariable, PulledColumn> Columns,
    double GridLatitude,
    double GridLongitude,
    double GridElevationMetres,
    string? ZoneName,
    Instant? ServerDate,
    int OutOfRange)
{
    public const string BestMatch = "best_match";

    /// <summary>Nothing asked of the service goes beyond this: a year of the archive.</summary>
    public const int MostHours = 24 * 366;

    public Instant LastStamp => Start + Duration.FromHours(Hours - 1);

    public Instant StampOf(int hour) => Start + Duration.FromHours(hour);

    /// <summary>NaN when the hour lies outside or was not given.</summary>
    public double ValueAt(WeatherVariable variable, Instant stamp)
    {
        double hour = (stamp - Start).TotalHours;
        return hour >= 0 && hour < Hours && hour == Math.Floor(hour) && Columns.TryGetValue(variable, out var column)
            ? column[(int)hour]
            : double.NaN;
    }
}

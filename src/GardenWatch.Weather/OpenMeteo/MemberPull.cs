using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>One run of an ensemble as it was fetched: equally likely courses of the coming weather. Never changed.</summary>
/// <param name="Model">As asked for, such as ecmwf_ifs025.</param>
/// <param name="RunAt">When the run was begun, by the service; null when it did not say.</param>
/// <param name="Start">First stamp, the first whole hour not before the fetch: what has passed is better known from elsewhere.</param>
/// <param name="Hours">Number of stamps, up to the last of which any member gives anything.</param>
/// <param name="Members">
/// The control first, then the others by their numbers; each has the columns that the model gives.
/// </param>
/// <param name="OutOfRange">Values that could not be true and were made missing.</param>
public sealed record MemberPull(
    Instant FetchedAt, string Host, string Model, Instant? RunAt, Instant Start, int Hours,
    ImmutableArray<ImmutableSortedDictionary<WeatherVariable, PulledColumn>> Members, Instant? ServerDate, int OutOfRange)
{
    /// <summary>More members than any model has.</summary>
    public const int MostMembers = 120;

    public Instant LastStamp => Start + Duration.FromHours(Hours - 1);
}

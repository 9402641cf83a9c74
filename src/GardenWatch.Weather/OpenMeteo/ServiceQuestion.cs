using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What the questions to the service have in common.</summary>
internal static class ServiceQuestion
{
    /// <summary>Asks and reads; an answer that is broken or refused keeps its reason and its wait.</summary>
    public static async Task<Lookup<T>> Ask<T>(
        this ServiceLine line, Uri address, Func<ServiceReply.Sound, Lookup<T>> read, CancellationToken cancellation) =>
        await line.Get(address, cancellation).ConfigureAwait(false) switch
        {
            ServiceReply.Sound sound => read(sound),
            ServiceReply.Broken broken => new Lookup<T>.TryLater(
                broken.Reason, broken.Wait is { } wait ? line.Clock.GetCurrentInstant() + wait : null, broken.ServerDate),
            ServiceReply.Refused refused => new Lookup<T>.Refused(refused.Reason, refused.ServerDate),
            var other => throw new InvalidOperationException($"No such reply: {other}"),
        };

    /// <summary>
    /// Hourly values of a place, metric, in GMT and unix time: with a zone, one offset, today's, would be put on every
    /// stamp, and half-hour zones would be half an hour out.
    /// </summary>
    public static ServiceAddress WithHourly(this ServiceAddress address, GeoPosition place, string variables)
    {
        address.With("latitude", place.LatitudeDegrees).With("longitude", place.LongitudeDegrees);
        if (!double.IsNaN(place.ElevationMetres))
            address.With("elevation", place.ElevationMetres);
        return address
            .With("hourly", variables)
            .With("temperature_unit", "celsius")
            .With("wind_speed_unit", "ms")
            .With("precipitation_unit", "mm")
            .With("timeformat", "unixtime")
            .With("timezone", "GMT");
    }
}

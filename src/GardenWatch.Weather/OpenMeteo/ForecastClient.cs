using System.Globalization;
using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Pulls the forecast of a place, with the days just past.</summary>
public sealed class ForecastClient(ServiceLine line, OpenMeteoOptions options)
{
    /// <summary>One question to the service. Times are asked in GMT.</summary>
    /// <remarks>
    /// In the place's own zone the service shifts only the labels of its model hours, so that the answer would be half
    /// an hour out wherever the offset is no whole hour; <see cref="PlaceClient.ZoneAt"/> finds the zone.
    /// </remarks>
    /// <param name="place">An elevation of NaN leaves the height to the service's terrain model.</param>
    /// <param name="pastDays">0 to 92.</param>
    public async Task<PullOutcome> Pull(GeoPosition place, int pastDays, CancellationToken cancellation)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(pastDays);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(pastDays, OpenMeteoOptions.MostPastDays);
        var address = Address(place, pastDays);
        return await line.Get(address, cancellation).ConfigureAwait(false) switch
        {
            ServiceReply.Sound sound => Outcome(sound, place, address.Host),
            ServiceReply.Broken broken => new PullOutcome.TryLater(
                broken.Reason, broken.Wait is { } wait ? line.Clock.GetCurrentInstant() + wait : null, broken.ServerDate),
            ServiceReply.Refused refused => new PullOutcome.Refused(refused.Reason, refused.ServerDate),
            var other => throw new InvalidOperationException($"No such reply: {other}"),
        };
    }

    private PullOutcome Outcome(ServiceReply.Sound sound, GeoPosition place, string host)
    {
        var asked = new Asked(place, line.Clock.GetCurrentInstant(), host, sound.ServerDate);
        return ForecastAnswer.Read(sound.Body.Span, asked, out string? fault) is { } pull
            ? new PullOutcome.Good(pull)
            : new PullOutcome.Refused($"The answer of the weather service at {host} is not used: {fault}.", sound.ServerDate);
    }

    private Uri Address(GeoPosition place, int pastDays) =>
        new ServiceAddress(options.Forecast)
            .WithHourly(place, ServiceVariable.AskedFor)
            .With("past_days", pastDays.ToString(CultureInfo.InvariantCulture))
            .With("forecast_days", options.ForecastDays.ToString(CultureInfo.InvariantCulture))
            .Whole;
}

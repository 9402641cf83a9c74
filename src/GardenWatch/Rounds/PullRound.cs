using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>Fetches a place's weather and keeps the answer whole, or keeps when to ask again.</summary>
public sealed class PullRound(GardenStore store, ForecastClient client, OpenMeteoOptions options, IClock clock, ILogger logger)
{
    public const string Kind = "forecast";

    // After a failure without a wait named by the service. The service counts errors against the free allowance.
    private static readonly Duration WaitAfterFailure = Duration.FromMinutes(15);

    /// <summary>Null when the weather is fresh in the store; else why not, in a sentence.</summary>
    /// <param name="heardDate">Told the service's own clock; false when ours cannot be trusted by it, and then nothing is kept.</param>
    public async Task<string?> Run(GardenPlace place, Func<Instant, bool> heardDate, CancellationToken ct)
    {
        var known = store.Pulls.NewestByPlace(Kind, clock.GetCurrentInstant());
        int pastDays = known.ContainsKey(place.Key) ? options.PastDays : options.FirstPastDays;
        var outcome = await client.Pull(place.Calendar.Place, pastDays, ct).ConfigureAwait(false);
        if (outcome.ServerDate is { } date && !heardDate(date))
            return "The clock of this machine is not the weather service's; nothing is kept until they agree.";
        switch (outcome)
        {
            case PullOutcome.Good { Pull: var pull }:
                var kept = store.Pulls.Add(
                    place.Key, Kind, pull.FetchedAt, pull.Start, pull.Hours, pull.Host, pull.Models, PullPacking.Pack(pull));
                if (kept is not WriteOutcome.Failed failed)
                    return null;
                logger.NotStored(failed.Sentence);
                return failed.Sentence;
            case PullOutcome.TryLater later:
                return Waits(place, later.NotBefore, later.Reason);
            case PullOutcome.Refused refused:
                return Waits(place, null, refused.Reason);
            default:
                throw new InvalidOperationException($"No such outcome: {outcome}");
        }
    }

    /// <summary>Asks only for the service's own clock; whatever else comes is not kept.</summary>
    public async Task AskTime(GardenPlace place, Action<Instant> heardDate, CancellationToken ct)
    {
        if ((await client.Pull(place.Calendar.Place, pastDays: 1, ct).ConfigureAwait(false)).ServerDate is { } date)
            heardDate(date);
    }

    private string Waits(GardenPlace place, Instant? notBefore, string reason)
    {
        var retryAt = notBefore ?? clock.GetCurrentInstant() + WaitAfterFailure;
        store.Pulls.Wait(place.Key, retryAt, reason);
        logger.PullFailed(reason, retryAt);
        return reason;
    }
}

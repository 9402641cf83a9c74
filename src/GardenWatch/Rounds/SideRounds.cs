using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>
/// What makes a digest better but must never hold it up: the ensemble's members and the past years. One at a time, beside
/// the knocks; a failure is logged and kept as a wait, and the digest goes out without chances.
/// </summary>
public sealed class SideRounds(MemberRound members, PastYearsRound pastYears, ILogger logger)
{
    private Task _members = Task.CompletedTask;
    private Task _pastYears = Task.CompletedTask;

    /// <summary>
    /// Begins what is due and not under way. Not called by two at once. On other threads, as reckoning what is usual from
    /// thirty years takes seconds on a small board, and the knock must not wait for it.
    /// </summary>
    /// <param name="heardDate">Told the services' own clocks; false when ours cannot be trusted by them.</param>
    public void Begin(IReadOnlyCollection<GardenPlace> places, Func<Instant, bool> heardDate, CancellationToken ct)
    {
        if (_members.IsCompleted)
            _members = Task.Run(
                () => Each(places, members.IsDue, (place, token) => members.Run(place, heardDate, token), nameof(MemberRound), ct), CancellationToken.None);
        if (_pastYears.IsCompleted)
            _pastYears = Task.Run(
                () => Each(places, pastYears.IsDue, (place, token) => pastYears.Run(place, heardDate, token), nameof(PastYearsRound), ct), CancellationToken.None);
    }

    /// <summary>Completes when the members are in the store, or can't be had now, or the time is over.</summary>
    public Task MembersSettled(TimeSpan within, TimeProvider time, CancellationToken ct) =>
        _members.IsCompleted ? Task.CompletedTask : Task.WhenAny(_members, Task.Delay(within, time, ct));

    /// <summary>For a clean end, and for those who knock by hand.</summary>
    public Task Done() => Task.WhenAll(_members, _pastYears);

    private async Task Each(
        IReadOnlyCollection<GardenPlace> places, Func<GardenPlace, bool> isDue, Func<GardenPlace, CancellationToken, Task<string?>> run,
        string name, CancellationToken ct)
    {
        foreach (var place in places)
        {
            try
            {
                if (isDue(place))
                    await run(place, ct).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (ct.IsCancellationRequested)
            {
                return;
            }
            // Nobody waits for these tasks to see how they ended, so it is logged here; it is due again at the next knock.
            catch (Exception exception)
            {
                logger.RoundBroke(exception, name);
            }
        }
    }
}

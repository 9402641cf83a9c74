namespace GardenWatch.Rounds;

/// <summary>
/// Calls an address after a digest was accepted. When the calls stop, something elsewhere can tell that this machine, or
/// its mail, is dead, which it cannot tell itself.
/// </summary>
public sealed class Heartbeat(HttpClient http, Uri address, ILogger logger)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    public async Task Beat(CancellationToken ct)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(ct);
        deadline.CancelAfter(Patience);
        try
        {
            using var answer = await http.GetAsync(address, HttpCompletionOption.ResponseHeadersRead, deadline.Token).ConfigureAwait(false);
            if (!answer.IsSuccessStatusCode)
                logger.HeartbeatFailed($"status {(int)answer.StatusCode}");
        }
        catch (HttpRequestException exception)
        {
            logger.HeartbeatFailed(exception.HttpRequestError.ToString());
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            logger.HeartbeatFailed("no answer");
        }
    }
}

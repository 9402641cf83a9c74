using GardenWatch.Setup;

namespace GardenWatch.Web;

/// <summary>Tries the address that goes into mails.</summary>
internal static class PageAddress
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>What is wrong with it as seen from this machine; null when it answers, or none is set.</summary>
    public static async Task<string?> Fault(Settings settings, HttpMessageHandler line, CancellationToken ct)
    {
        if (settings.WebAddress is not { } page)
            return null;
        using var http = new HttpClient(line) { Timeout = Patience, MaxResponseContentBufferSize = 64 * 1024 };
        try
        {
            string answer = await http.GetAsync(new Uri($"{page.ToString().TrimEnd('/')}/healthz"), ct).ConfigureAwait(false) is var got
                ? await got.Content.ReadAsStringAsync(ct).ConfigureAwait(false) : "";
            return answer.StartsWith("{\"ok\":", StringComparison.Ordinal) ? null
                : $"Something else than this service answers at {page}, so the links in mails lead nowhere. {Remedy}";
        }
        catch (Exception exception) when (exception is HttpRequestException || exception is TaskCanceledException && !ct.IsCancellationRequested)
        {
            string reason = exception is TaskCanceledException ? $"no answer within {Patience.TotalSeconds:0} seconds" : exception.Message.TrimEnd('.');
            return $"{page} does not answer from here ({reason}), so the links in mails may lead nowhere. {Remedy}";
        }
    }

    private const string Remedy = "Is the service running, and the proxy before it? The address stands in `web: { address: ... }`.";
}

using System.Diagnostics;
using System.Net;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace GardenWatch.Acceptance.Trials;

/// <summary>One life of <c>gardenwatch run</c>: what it says, how it answers, and ways to end it.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    private const int SigTerm = 15;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);
    private static readonly TimeSpan BetweenQuestions = TimeSpan.FromMilliseconds(50);

    private readonly Process process;
    private readonly HttpClient http;
    private readonly Lock gate = new();
    private readonly List<string> lines = [];
    private TaskCompletionSource changed = New();

    public RunningService(ProcessStartInfo start, int port)
    {
        http = new() { BaseAddress = new($"http://127.0.0.1:{port}") };
        process = new() { StartInfo = start, EnableRaisingEvents = true };
        process.OutputDataReceived += (_, line) => Hear(line.Data);
        process.ErrorDataReceived += (_, line) => Hear(line.Data);
        process.Start();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    public bool HasEnded => process.HasExited;

    public string Said
    {
        get
        {
            lock (gate)
                return string.Join('\n', lines);
        }
    }

    /// <summary>The first line that holds these words, said already or yet to come.</summary>
    public Task<string> Says(string words) => Waited(async patience =>
    {
        while (true)
        {
            Task news;
            lock (gate)
            {
                if (lines.Find(line => line.Contains(words, StringComparison.Ordinal)) is { } line)
                    return line;
                news = changed.Task;
            }
            var ended = process.WaitForExitAsync(patience);
            if (await Task.WhenAny(news.WaitAsync(patience), ended) == ended && !Said.Contains(words, StringComparison.Ordinal))
                throw new InvalidOperationException($"It ended (code {process.ExitCode}) without \"{words}\".");
        }
    }, $"the words \"{words}\"");

    /// <summary>The first knock is over: what was due then is stored, and its sending begun.</summary>
    public Task Knocked() => Ready(answer => answer.TryGetProperty("forecastAgeHours", out _));

    /// <summary>Asks the health page until it answers as hoped for.</summary>
    public Task<JsonElement> Ready(Func<JsonElement, bool> hoped) => Waited(async patience =>
    {
        while (true)
        {
            try
            {
                using var reply = await http.GetAsync(new Uri("/readyz", UriKind.Relative), patience);
                using var json = JsonDocument.Parse(await reply.Content.ReadAsStringAsync(patience));
                if (hoped(json.RootElement))
                    return json.RootElement.Clone();
            }
            catch (HttpRequestException) when (!process.HasExited)
            {
                // It does not listen yet.
            }
            await Task.Delay(BetweenQuestions, patience);
        }
    }, "the health page");

    /// <summary>Looks at something beside it until it is as hoped for. What has ended brings nothing about any more.</summary>
    /// <param name="what">Is waited for, as a failure is to name it.</param>
    public Task Until(Func<bool> hoped, string what) => Waited(async patience =>
    {
        while (!hoped())
        {
            bool ended = process.HasExited;
            if (ended && !hoped())
                throw new InvalidOperationException($"It ended (code {process.ExitCode}) before.");
            await Task.Delay(BetweenQuestions, patience);
        }
        return true;
    }, what);

    public async Task<HttpStatusCode> Status(string path)
    {
        using var reply = await http.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        return reply.StatusCode;
    }

    /// <summary>SIGTERM, as the service manager ends it.</summary>
    public async Task<Ended> Stop()
    {
        _ = SendSignal(process.Id, SigTerm);
        return await End();
    }

    /// <summary>SIGKILL: nothing gets to tidy up.</summary>
    public async Task<Ended> Kill()
    {
        process.Kill();
        return await End();
    }

    /// <summary>Waits until it ends by itself.</summary>
    public Task<Ended> End() => Waited(async patience =>
    {
        await process.WaitForExitAsync(patience);
        return new Ended(process.ExitCode, Said, "");
    }, "its end");

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.Kill();
            await process.WaitForExitAsync(CancellationToken.None);
        }
        process.Dispose();
        http.Dispose();
    }

    private async Task<T> Waited<T>(Func<CancellationToken, Task<T>> wait, string what)
    {
        var cancellation = TestContext.Current.CancellationToken;
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        patience.CancelAfter(Patience);
        try
        {
            return await wait(patience.Token);
        }
        catch (Exception fault) when (!cancellation.IsCancellationRequested && fault is not Xunit.Sdk.IAssertionException)
        {
            throw new InvalidOperationException($"Waited for {what}: {fault.Message} It said:\n{Said}", fault);
        }
    }

    private void Hear(string? line)
    {
        if (line is null)
            return;
        TaskCompletionSource news;
        lock (gate)
        {
            lines.Add(line);
            (news, changed) = (changed, New());
        }
        news.SetResult();
    }

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);

    [DllImport("libc", EntryPoint = "kill")]
    private static extern int SendSignal(int process, int signal);
}

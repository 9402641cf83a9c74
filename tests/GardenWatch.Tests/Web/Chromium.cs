using System.Diagnostics;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json.Nodes;

namespace GardenWatch.Tests.Web;

/// <summary>A browser without a window, told over its own debugging protocol what a person would do. Null where none is installed.</summary>
internal sealed class Chromium : IAsyncDisposable
{
    private readonly Process _process;
    private readonly string _profile;
    private readonly ClientWebSocket _line = new();
    private int _last;

    private Chromium(Process process, string profile) => (_process, _profile) = (process, profile);

    /// <summary>Where it is installed; null where it is not.</summary>
    public static string? Program { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => new[] { "chromium", "chromium-browser" }.Select(name => Path.Combine(folder, name))).FirstOrDefault(File.Exists);

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <param name="width">Of the window in px.</param>
    public static async Task<Chromium> Start(int width, bool dark = false, bool script = true)
    {
        string profile = Directory.CreateTempSubdirectory("gardenwatch-browser-").FullName;
        string[] options =
        [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
            $"--user-data-dir={profile}", "--remote-debugging-port=0", "--remote-allow-origins=*", "about:blank",
        ];
        var process = Process.Start(new ProcessStartInfo(Program!, options) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        var browser = new Chromium(process, profile);
        string port = "";
        while (await process.StandardError.ReadLineAsync(Ct) is { } line)
        {
            if (line.StartsWith("DevTools listening on ws://", StringComparison.Ordinal))
            {
                port = new Uri(line["DevTools listening on ".Length..]).Authority;
                break;
            }
        }
        _ = process.StandardError.ReadToEndAsync(Ct);
        using var http = new HttpClient();
        var pages = JsonNode.Parse(await http.GetStringAsync(new Uri($"http://{port}/json/list"), Ct))!.AsArray();
        await browser._line.ConnectAsync(new(pages.First(page => (string?)page!["type"] == "page")!["webSocketDebuggerUrl"]!.GetValue<string>()), Ct);
        await browser.Do("Page.enable");
        await browser.Do("Emulation.setDeviceMetricsOverride", new() { ["width"] = width, ["height"] = 900, ["deviceScaleFactor"] = 1, ["mobile"] = width < 640 });
        if (dark)
            await browser.Do("Emulation.setEmulatedMedia", new() { ["features"] = new JsonArray(new JsonObject { ["name"] = "prefers-color-scheme", ["value"] = "dark" }) });
        if (!script)
            await browser.Do("Emulation.setScriptExecutionDisabled", new() { ["value"] = true });
        return browser;
    }

    public async Task Open(Uri address)
    {
        await Do("Page.navigate", new() { ["url"] = address.ToString() });
        await Loaded();
    }

    /// <summary>Waits for the page that a step leads to.</summary>
    public async Task Loaded()
    {
        while (true)
        {
            if ((string?)(await Next())["method"] == "Page.loadEventFired")
                return;
        }
    }

    /// <summary>What a question in the page's own terms gives.</summary>
    public async Task<string> Ask(string expression)
    {
        var answer = await Do("Runtime.evaluate", new() { ["expression"] = expression, ["returnByValue"] = true, ["awaitPromise"] = true });
        return answer["result"]?["value"]?.ToString() ?? answer.ToJsonString();
    }

    public async Task Press(string key, string? text = null)
    {
        int code = key switch { "Tab" => 9, "Enter" => 13, _ => 0 };
        var down = new JsonObject { ["type"] = text is null ? "rawKeyDown" : "keyDown", ["key"] = key, ["code"] = key, ["windowsVirtualKeyCode"] = code };
        if (text is not null)
            down["text"] = text;
        await Do("Input.dispatchKeyEvent", down);
        await Do("Input.dispatchKeyEvent", new() { ["type"] = "keyUp", ["key"] = key, ["code"] = key, ["windowsVirtualKeyCode"] = code });
    }

    /// <summary>The whole page as PNG.</summary>
    public async Task<byte[]> Shot()
    {
        var shot = await Do("Page.captureScreenshot", new() { ["captureBeyondViewport"] = true });
        return Convert.FromBase64String(shot["data"]!.GetValue<string>());
    }

    public async Task<JsonNode> Do(string method, JsonObject? arguments = null)
    {
        int id = ++_last;
        var told = new JsonObject { ["id"] = id, ["method"] = method, ["params"] = arguments ?? [] };
        await _line.SendAsync(Encoding.UTF8.GetBytes(told.ToJsonString()), WebSocketMessageType.Text, endOfMessage: true, Ct);
        while (true)
        {
            var heard = await Heard();
            if ((int?)heard["id"] == id)
                return heard["result"] ?? throw new Xunit.Sdk.XunitException($"{method}: {heard.ToJsonString()}");
            _events.Enqueue(heard);
        }
    }

    private readonly Queue<JsonNode> _events = new();

    private async Task<JsonNode> Next() => _events.TryDequeue(out var kept) ? kept : await Heard();

    private async Task<JsonNode> Heard()
    {
        using var whole = new MemoryStream();
        byte[] part = new byte[64 * 1024];
        WebSocketReceiveResult got;
        do
        {
            got = await _line.ReceiveAsync(part, Ct);
            whole.Write(part, 0, got.Count);
        }
        while (!got.EndOfMessage);
        return JsonNode.Parse(whole.ToArray())!;
    }

    public async ValueTask DisposeAsync()
    {
        _line.Dispose();
        _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync(CancellationToken.None);
        _process.Dispose();
        try
        {
            Directory.Delete(_profile, recursive: true);
        }
        catch (IOException)
        {
            // A child of it may still be writing; the folder is a temporary one.
        }
    }
}

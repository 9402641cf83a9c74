using System.Text.Json;
using Microsoft.Playwright;

namespace GardenWatch.Tests.Web;

/// <summary>A browser without a window that does what a person would. Null where none is installed.</summary>
internal sealed class Chromium : IAsyncDisposable
{
    private const int Height = 900, NarrowBelow = 640;

    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;
    private readonly IPage _page;
    private readonly SemaphoreSlim _loads = new(0);

    private Chromium(IPlaywright playwright, IBrowser browser, IPage page)
    {
        (_playwright, _browser, _page) = (playwright, browser, page);
        page.Load += (_, _) => _loads.Release();
    }

    /// <summary>Where it is installed; null where it is not.</summary>
    public static string? Program { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => new[] { "chromium", "chromium-browser" }.Select(name => Path.Combine(folder, name))).FirstOrDefault(File.Exists);

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <param name="width">Of the window in px.</param>
    public static async Task<Chromium> Start(int width, bool dark = false, bool script = true)
    {
        var playwright = await Playwright.CreateAsync();
        var browser = await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Program,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
        var context = await browser.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = Height },
            DeviceScaleFactor = 1,
            IsMobile = width < NarrowBelow,
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            JavaScriptEnabled = script,
            // The rules are brought along, which no page of ours would let in.
            BypassCSP = true,
        });
        return new(playwright, browser, await context.NewPageAsync());
    }

    public async Task Open(Uri address)
    {
        await _page.GotoAsync(address.ToString());
        await Loaded();
    }

    /// <summary>Waits for the page that a step leads to.</summary>
    public Task Loaded() => _loads.WaitAsync(Ct);

    /// <summary>What a question in the page's own terms gives.</summary>
    public async Task<string> Ask(string expression) => await _page.EvaluateAsync<JsonElement?>(expression) switch
    {
        null => "",
        { ValueKind: JsonValueKind.String } words => words.GetString()!,
        { } told => told.GetRawText(),
    };

    public Task Press(string key) => _page.Keyboard.PressAsync(key);

    /// <summary>Into whatever has the focus.</summary>
    public Task Type(string text) => _page.Keyboard.TypeAsync(text);

    /// <summary>From one control to the next, until a question about the focused one gives what is looked for.</summary>
    public async Task TabTo(string question, string wanted)
    {
        string focused = "";
        for (int presses = 0; presses < 80 && focused != wanted; presses++)
        {
            await Press("Tab");
            focused = await Ask(question);
        }
        Assert.Equal(wanted, focused);
        // Who goes by keyboard sees where they are.
        Assert.Equal("3px", await Ask("getComputedStyle(document.activeElement).outlineWidth"));
    }

    /// <summary>As it goes to paper.</summary>
    public Task Print() => _page.EmulateMediaAsync(new() { Media = Media.Print });

    /// <summary>The whole page as PNG.</summary>
    public Task<byte[]> Shot() => _page.ScreenshotAsync(new() { FullPage = true });

    public async ValueTask DisposeAsync()
    {
        await _browser.CloseAsync();
        _playwright.Dispose();
        _loads.Dispose();
    }
}

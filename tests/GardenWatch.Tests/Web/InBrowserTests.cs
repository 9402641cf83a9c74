using System.Globalization;
using System.Text.Json.Nodes;
using GardenWatch.Planning.Journals;

namespace GardenWatch.Tests.Web;

/// <summary>
/// The page in a real browser: narrow and wide, by day and by night, without script, by keyboard alone, and held against the
/// rules of axe-core, whose file <c>GARDENWATCH_AXE</c> names.
/// </summary>
public sealed class InBrowserTests
{
    private const string Garden = "/gardens/mill-bank";

    private static readonly string[] Views = ["", "/beds", "/sowings", "/sowings/radish-kitchen-bed.1", "/journal", "/conditions", "/conditions/tomato-low-bed/cover", "/status"];

    [Theory]
    [InlineData(360, false)]
    [InlineData(360, true)]
    [InlineData(1100, false)]
    [InlineData(1100, true)]
    public async Task Nothing_runs_over_the_edge_and_axe_finds_nothing_serious(int width, bool dark)
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open();
        await using var browser = await Chromium.Start(width, dark);
        string? axe = Environment.GetEnvironmentVariable("GARDENWATCH_AXE") is { Length: > 0 } file ? await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken) : null;
        string? shots = Environment.GetEnvironmentVariable("GARDENWATCH_SHOTS");
        var found = new List<string>();
        foreach (string view in Views)
        {
            await browser.Open(new(bench.Address, Garden + view));
            string over = await browser.Ask("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            Assert.True(over == "0", $"{view} at {width} px runs {over} px over the edge");
            Assert.Equal("1", await browser.Ask("document.querySelectorAll('h1').length"));
            // A control that a thumb misses is none.
            Assert.Equal("0", await browser.Ask("[...document.querySelectorAll('button,select,input:not([type=hidden]),nav a')].filter(e => e.getBoundingClientRect().height < 44).length"));
            if (axe is not null)
            {
                await browser.Ask(axe + ";0");
                string findings = await browser.Ask("axe.run().then(r => r.passes.length < 10 ? 'only ' + r.passes.length + ' rules ran' : JSON.stringify(r.violations.map(v => ({ id: v.id, impact: v.impact, nodes: v.nodes.map(n => n.html.slice(0, 120)).slice(0, 3) }))))");
                found.AddRange(JsonNode.Parse(findings)!.AsArray().Select(finding => $"{view} {finding!.ToJsonString()}"));
            }
            if (shots is not null)
            {
                string name = string.Create(CultureInfo.InvariantCulture, $"{(view.Length == 0 ? "today" : view[1..].Replace('/', '-'))}-{width}{(dark ? "-dark" : "")}.png");
                await File.WriteAllBytesAsync(Path.Combine(shots, name), await browser.Shot(), TestContext.Current.CancellationToken);
            }
        }
        Assert.DoesNotContain(found, finding => finding.Contains("\"serious\"", StringComparison.Ordinal) || finding.Contains("\"critical\"", StringComparison.Ordinal));
        TestContext.Current.SendDiagnosticMessage(string.Join('\n', found));
        Assert.SkipWhen(axe is null, "Layout is checked; axe-core is not at hand (GARDENWATCH_AXE).");
    }

    [Fact]
    public async Task A_job_is_answered_by_keyboard_alone_and_without_script()
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open();
        await using var browser = await Chromium.Start(360, script: false);
        await browser.Open(new(bench.Address, Garden));
        string focused = "";
        for (int presses = 0; presses < 80 && focused != "Done: Turn the compost"; presses++)
        {
            await browser.Press("Tab");
            focused = await browser.Ask("document.activeElement.getAttribute('aria-label') ?? ''");
            if (presses == 0)
                Assert.Equal("To the page", await browser.Ask("document.activeElement.textContent"));
        }
        Assert.Equal("Done: Turn the compost", focused);
        Assert.Equal("3px", await browser.Ask("getComputedStyle(document.activeElement).outlineWidth"));
        await browser.Press("Enter", "\r");
        await browser.Loaded();
        Assert.Equal(EntryKind.Done, Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant())).Kind);
        Assert.Contains("Turn the compost", await browser.Ask("document.querySelector('.settled h3').textContent"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task In_print_stand_the_jobs_with_squares_to_tick_and_lines_to_write_on()
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open();
        await using var browser = await Chromium.Start(1100);
        await browser.Open(new(bench.Address, Garden));
        await browser.Do("Emulation.setEmulatedMedia", new() { ["media"] = "print" });
        Assert.Equal("0", await browser.Ask("[...document.querySelectorAll('nav,button,.screen')].filter(e => e.offsetHeight > 0).length"));
        Assert.Equal("true", await browser.Ask("document.querySelector('.paper-only').offsetHeight > 0 && document.querySelectorAll('.no').length > 0"));
    }
}

using System.Text.Json.Nodes;
using GardenWatch.Planning.Journals;
using GardenWatch.Setup;
using GardenWatch.Web;

namespace GardenWatch.Tests.Web;

/// <summary>
/// The page in a real browser: narrow and wide, by day and by night, without script, by keyboard alone, and held against the
/// rules of axe-core, whose file <c>GARDENWATCH_AXE</c> names, or tests/run has installed.
/// </summary>
public sealed class InBrowserTests
{
    private const string Garden = "/gardens/mill-bank";

    private static readonly string? Axe = Environment.GetEnvironmentVariable("GARDENWATCH_AXE") is { Length: > 0 } file ? file : Installed();

    /// <summary>Where tests/run has put it, for those who start the tests by hand.</summary>
    private static string? Installed() =>
        Path.Combine(FailpointTests.Repository(), "out", "rules", "node_modules", "axe-core", "axe.min.js") is var path && File.Exists(path) ? path : null;

    private static readonly string[] Views = ["", "/beds", "/sowings", "/sowings/radish-kitchen-bed.1", "/journal", "/conditions", "/conditions/tomato-low-bed/cover", "/status",
        "/plan", "/plan/sow", "/plan/planting?id=radish-kitchen-bed", "/plan/bed?id=low-bed", "/plan/chore", "/plan/hour"];

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
        foreach (string view in Views)
            await Held(browser, new(bench.Address, Garden + view), $"{(view.Length == 0 ? "today" : view[1..].Split('?')[0].Replace('/', '-'))}-{width}{(dark ? "-dark" : "")}");
        Assert.SkipWhen(Axe is null, "Layout is checked; axe-core is not at hand (GARDENWATCH_AXE).");
    }

    [Theory]
    [InlineData(360, false)]
    [InlineData(360, true)]
    [InlineData(1100, false)]
    [InlineData(1100, true)]
    public async Task The_door_and_the_page_of_a_link_hold_to_the_same_rules(int width, bool dark)
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open(new WebPerson("pat", PagePassword.Of("four words for pat"), []));
        await using var browser = await Chromium.Start(width, dark);
        string end = $"-{width}{(dark ? "-dark" : "")}";
        await Held(browser, new(bench.Address, "/sign-in"), "sign-in" + end);
        await Sent(browser, "document.querySelector('#name').value = 'pat'; document.querySelector('#password').value = 'three words';");
        await HeldAsItIs(browser, "sign-in-wrong" + end);
        await Held(browser, LinkIn(bench), "job" + end);
        await browser.Ask("setTimeout(() => document.querySelector('main button[value=done]').click(), 0); 0");
        await browser.Loaded();
        await HeldAsItIs(browser, "job-done" + end);
        Assert.Contains("Written down as done", await browser.Ask("document.querySelector('.lead').textContent"), StringComparison.Ordinal);
        await Held(browser, new(bench.Address, "/job/none"), "refused" + end);
        bench.Clock.Advance(JobLink.Lasts + NodaTime.Duration.FromDays(1));
        await Held(browser, LinkIn(bench), "job-expired" + end);
        Assert.Equal("This link is too old", await browser.Ask("document.querySelector('h1').textContent"));
        Assert.SkipWhen(Axe is null, "Layout is checked; axe-core is not at hand (GARDENWATCH_AXE).");
    }

    private static Uri LinkIn(PageBench bench)
    {
        string link = bench.Mail.Taken.First(mail => mail.To == "pat@example.org").Words.Split(' ').First(word => word.Contains("/job/", StringComparison.Ordinal));
        return new(bench.Address, new Uri(link).AbsolutePath);
    }

    [Fact]
    public async Task Through_the_door_and_by_a_link_goes_a_keyboard_alone_and_without_script()
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open(new WebPerson("pat", PagePassword.Of("four words for pat"), []));
        await using var browser = await Chromium.Start(360, script: false);
        await browser.Open(LinkIn(bench));
        await browser.TabTo("document.activeElement.value ?? ''", "done");
        await browser.Press("Enter");
        await browser.Loaded();
        Assert.Equal(EntryKind.Done, Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant())).Kind);

        await browser.Open(new(bench.Address, "/sign-in"));
        await browser.TabTo("document.activeElement.id", "name");
        await browser.Type("pat");
        await browser.TabTo("document.activeElement.id", "password");
        await browser.Type("four words for pat");
        await browser.Press("Enter");
        await browser.Loaded();
        Assert.Equal("0", await browser.Ask("document.querySelectorAll('#password').length"));
    }

    [Theory]
    [InlineData(360, false)]
    [InlineData(1100, true)]
    public async Task A_change_of_the_plan_is_readable_before_and_after_it_is_written(int width, bool dark)
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await PageBench.Open();
        await using var browser = await Chromium.Start(width, dark);
        string end = $"-{width}{(dark ? "-dark" : "")}";
        await browser.Open(new(bench.Address, Garden + "/plan/sow"));
        await Sent(browser, "document.querySelector('#f-crop').value = 'lettice'; document.querySelector('#f-when').value = 'in spring';");
        await HeldAsItIs(browser, "plan-wrong" + end);
        await Sent(browser, "document.querySelector('#f-crop').value = 'lettuce'; document.querySelector('#f-when').value = 'late April';");
        await HeldAsItIs(browser, "plan-preview" + end);
        await Sent(browser, "");
        await HeldAsItIs(browser, "plan-written" + end);
        Assert.Contains("It is written", await browser.Ask("document.querySelector('.lead').textContent"), StringComparison.Ordinal);
        Assert.SkipWhen(Axe is null, "Layout is checked; axe-core is not at hand (GARDENWATCH_AXE).");
    }

    private static async Task Sent(Chromium browser, string filling)
    {
        await browser.Ask(filling + "setTimeout(() => document.querySelector('main button.main').click(), 0); 0");
        await browser.Loaded();
    }

    /// <summary>Nothing over the edge, one heading, controls a thumb can hit, no serious finding of axe-core.</summary>
    internal static async Task Held(Chromium browser, Uri address, string name)
    {
        await browser.Open(address);
        await HeldAsItIs(browser, name);
    }

    /// <summary>The page that the browser has come to.</summary>
    internal static async Task HeldAsItIs(Chromium browser, string name)
    {
        string over = await browser.Ask("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Assert.True(over == "0", $"{name} runs {over} px over the edge");
        Assert.Equal("1", await browser.Ask("document.querySelectorAll('h1').length"));
        // A control that a thumb misses is none.
        Assert.Equal("0", await browser.Ask("[...document.querySelectorAll('button,select,input:not([type=hidden]),nav a')].filter(e => e.offsetParent && e.getBoundingClientRect().height < 44).length"));
        if (Environment.GetEnvironmentVariable("GARDENWATCH_SHOTS") is { Length: > 0 } shots)
            await File.WriteAllBytesAsync(Path.Combine(shots, name + ".png"), await browser.Shot(), TestContext.Current.CancellationToken);
        if (Axe is null)
            return;
        await browser.Ask(await File.ReadAllTextAsync(Axe, TestContext.Current.CancellationToken) + ";0");
        string findings = await browser.Ask("axe.run().then(r => r.passes.length < 10 ? 'only ' + r.passes.length + ' rules ran' : JSON.stringify(r.violations.map(v => ({ id: v.id, impact: v.impact, nodes: v.nodes.map(n => n.html.slice(0, 120)).slice(0, 3) }))))");
        foreach (var finding in JsonNode.Parse(findings)!.AsArray())
        {
            Assert.False((string?)finding!["impact"] is "serious" or "critical", $"{name}: {finding.ToJsonString()}");
            TestContext.Current.SendDiagnosticMessage($"{name}: {finding.ToJsonString()}");
        }
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
        await browser.Press("Enter");
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
        await browser.Print();
        Assert.Equal("0", await browser.Ask("[...document.querySelectorAll('nav,button,.screen')].filter(e => e.offsetHeight > 0).length"));
        Assert.Equal("true", await browser.Ask("document.querySelector('.paper-only').offsetHeight > 0 && document.querySelectorAll('.no').length > 0"));
    }
}

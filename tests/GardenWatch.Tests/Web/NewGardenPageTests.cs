using System.Net;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Web;

/// <summary>The five questions on the page of a service without a plan, served on a free port of this machine.</summary>
internal sealed class NewGardenBench : IAsyncDisposable
{
    private static readonly Instant Now = Instant.FromUtc(2026, 4, 20, 9, 0);

    private readonly TemporaryFolder _folder = new();
    private readonly PlaceSearch _places;
    private readonly WebApplication _app;

    private NewGardenBench(WeatherStandIn service, WebPerson[] people)
    {
        Service = service;
        _folder.Write("gardenwatch.yaml", $"data: records\nweather: {{ geocoding: {service.Geocoding}, forecast: {service.Forecast}, elevation: {service.Elevation} }}\nweb: {{ listen: \"127.0.0.1:8710\" }}\n");
        var household = Household.Open(_folder.Path, null, out _)!;
        household = household with { Settings = household.Settings with { People = [.. people] } };
        var clock = new FakeClock(Now);
        Store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(household.Settings.DataFolder, StoreUse.Run, Now)).Store;
        _places = new(ServiceLine.Handler(), household.Settings.Weather, clock, TimeProvider.System);
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        _app = builder.Build();
        _app.Urls.Add("http://127.0.0.1:0");
        FirstPage.Map(_app, household, Store, clock, _places);
    }

    public WeatherStandIn Service { get; }

    public GardenStore Store { get; }

    public Uri Address => new(_app.Urls.First());

    public string Folder => _folder.Path;

    public static async Task<NewGardenBench> Open(params WebPerson[] people)
    {
        var service = await WeatherStandIn.Start((_, _) => 12, Now, TestContext.Current.CancellationToken);
        service.Towns =
        [
            """{"id":1,"name":"Newfield","latitude":43.70643,"longitude":-79.39864,"elevation":161.0,"country_code":"CA","timezone":"America/Toronto","population":2794356,"country":"Canada","admin1":"Ontario"}""",
            """{"id":2,"name":"Newfield","latitude":40.46423,"longitude":-80.60091,"elevation":214.0,"country_code":"US","timezone":"America/New_York","population":4882,"country":"United States","admin1":"Ohio"}""",
        ];
        var bench = new NewGardenBench(service, people);
        await bench._app.StartAsync(TestContext.Current.CancellationToken);
        return bench;
    }

    public HttpClient Browser() => new(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new() }) { BaseAddress = Address };

    public async ValueTask DisposeAsync()
    {
        await _app.DisposeAsync();
        _places.Dispose();
        Store.Dispose();
        await Service.DisposeAsync();
        _folder.Dispose();
    }
}

/// <summary>A new gardener before a browser without script.</summary>
public sealed class NewGardenPageTests
{
    private const string Secret = "four words nobody guesses";

    private static async Task<string> Sent(HttpClient browser, HttpStatusCode expected, params (string Name, string Value)[] fields)
    {
        using var answer = await PageBench.Send(browser, "/new", fields);
        string text = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.True(expected == answer.StatusCode, $"{answer.StatusCode}: {text}");
        return text;
    }

    private static IEnumerable<string> Known(string page) =>
        page.Split("name=\"known\" value=\"").Skip(1).Select(part => part[..part.IndexOf('"', StringComparison.Ordinal)]);

    /// <summary>The first form sent, and the fields that the second one brings along.</summary>
    private static async Task<(string Page, (string, string)[] Fields)> Second(HttpClient browser, string place)
    {
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/new"));
        string page = await Sent(browser, HttpStatusCode.OK, ("token", token), ("place", place));
        return (page, [("token", PageBench.TokenIn(page)), .. Known(page).Select(known => ("known", known))]);
    }

    [Fact]
    public async Task Two_forms_write_the_plan_the_settings_and_the_secret()
    {
        await using var bench = await NewGardenBench.Open();
        using var browser = bench.Browser();
        using var home = await browser.GetAsync(new Uri("/", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("/new", home.Headers.Location!.OriginalString);
        var (page, fields) = await Second(browser, "Newfield");
        Assert.Contains("Newfield, Ontario, Canada, 2,794,356 people", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);

        string done = await Sent(browser, HttpStatusCode.OK,
        [
            .. fields, ("town", Known(page).ElementAt(1)), ("units", ""), ("beds", "two 4x8, pots"), ("crops", "tomatoes, garlic growing"),
            ("to", "pat@example.org"), ("server", "127.0.0.1:1"), ("user", "garden@example.org"), ("secret", Secret),
        ]);

        Assert.Contains("Your plan is written", done, StringComparison.Ordinal);
        Assert.Contains("Garlic in ", done, StringComparison.Ordinal);
        Assert.DoesNotContain(Secret, done, StringComparison.Ordinal);
        var household = Household.Open(bench.Folder, null, out _)!;
        var file = Assert.Single(GardenFile.ReadAll(household.Folder, household.Crops, null, Instant.FromUtc(2026, 4, 20, 9, 0)));
        Assert.Empty(file.Faults.Concat(file.Remarks));
        Assert.Equal(("America/New_York", "pat@example.org", 1.22), (file.Plan!.Place.ZoneId, file.Plan.Digest.To[0].Address, Math.Round(file.Plan.Beds[0].Size!.Value.Item1, 2)));
        Assert.Equal((Secret, "garden@example.org"), (household.Settings.Mail!.Password, household.Settings.Mail.User));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Path.Combine(bench.Folder, "mail-password")));
        Assert.DoesNotContain(Secret, await File.ReadAllTextAsync(Path.Combine(bench.Folder, "gardenwatch.yaml"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_wrong_is_told_beside_its_field_and_nothing_is_written()
    {
        await using var bench = await NewGardenBench.Open();
        using var browser = bench.Browser();
        var (_, fields) = await Second(browser, "Newfield, Ohio");
        string again = await Sent(browser, HttpStatusCode.BadRequest,
            [.. fields, ("beds", "900 x 900 m"), ("crops", "radishs, <b>dahlias</b> xyz"), ("to", "pat@example.org"), ("server", "smtp.example.org"), ("user", ""), ("secret", "")]);

        Assert.Contains("no bed is of that size", again, StringComparison.Ordinal);
        Assert.Contains("did you mean “radish”?", again, StringComparison.Ordinal);
        Assert.Contains("The user name wants its password", again, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(bench.Folder, "garden.yaml")));

        string done = await Sent(browser, HttpStatusCode.OK, [.. fields, ("beds", ""), ("crops", "radish, <b>dahlias</b> xyz"), ("leave", "yes"), ("to", "")]);
        Assert.Contains("Nobody gets the digest by mail.", done, StringComparison.Ordinal);
        Assert.Contains("dahlias", await File.ReadAllTextAsync(Path.Combine(bench.Folder, "garden.yaml"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Contains("Another garden wants a name of its own", await Sent(browser, HttpStatusCode.BadRequest, [.. fields, ("beds", ""), ("crops", ""), ("to", "")]), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Text_of_a_visitor_is_never_markup()
    {
        await using var bench = await NewGardenBench.Open();
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/new"));
        using var answer = await PageBench.Send(browser, "/new", ("token", token), ("known", "1|2||||<script>x</script>|<script>y</script>"), ("beds", "\"><script>z</script>"), ("crops", "</textarea><script>"), ("to", "no such"));
        string page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("Nowhere", "No town named Nowhere is known")]
    [InlineData("11", "“11” is no town")]
    public async Task A_place_that_is_not_found_is_asked_again(string place, string told)
    {
        await using var bench = await NewGardenBench.Open();
        bench.Service.Towns = [];
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/new"));
        Assert.Contains(told, await Sent(browser, HttpStatusCode.BadRequest, ("token", token), ("place", place)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_the_service_place_and_zone_are_typed()
    {
        await using var bench = await NewGardenBench.Open();
        bench.Service.Always = new StandInFault.BadRequest("nothing today");
        using var browser = bench.Browser();
        var (page, fields) = await Second(browser, "48.1, 11.5");
        Assert.Contains("Its time zone", page, StringComparison.Ordinal);
        Assert.Contains("no time zone", await Sent(browser, HttpStatusCode.BadRequest, [.. fields, ("zone", "Europe/Berlinn"), ("crops", "kale"), ("to", "")]), StringComparison.Ordinal);
        await Sent(browser, HttpStatusCode.OK, [.. fields, ("zone", "Europe/Berlin"), ("crops", "kale"), ("to", "")]);
        Assert.Contains("zone: Europe/Berlin", await File.ReadAllTextAsync(Path.Combine(bench.Folder, "garden.yaml"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_without_its_token_or_from_elsewhere_writes_nothing()
    {
        await using var bench = await NewGardenBench.Open();
        using var browser = bench.Browser();
        var (_, fields) = await Second(browser, "Newfield, Ohio");
        await Sent(browser, HttpStatusCode.Forbidden, [.. fields[1..], ("token", "forged"), ("crops", "kale"), ("to", "")]);
        using var request = new HttpRequestMessage(HttpMethod.Post, "/new")
        {
            Content = new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Item1, field.Item2))),
        };
        request.Headers.Add("Origin", "https://elsewhere.example.org");
        using var elsewhere = await browser.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Forbidden, elsewhere.StatusCode);
        using var rebound = new HttpRequestMessage(HttpMethod.Get, "/new");
        rebound.Headers.Host = "rebound.example.org";
        using var refused = await browser.SendAsync(rebound, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.MisdirectedRequest, refused.StatusCode);
        Assert.Empty(new ConfigFolder(bench.Folder).PlanFiles());
    }

    [Fact]
    public async Task With_people_only_one_who_sees_all_gardens_may_begin()
    {
        await using var bench = await NewGardenBench.Open(
            new WebPerson("pat", PagePassword.Of("four words for pat"), []), new WebPerson("sam", PagePassword.Of("four words for sam"), ["far-row"]));
        using var stranger = bench.Browser();
        await PageBench.Read(stranger, "/new", HttpStatusCode.Redirect);
        string token = PageBench.TokenIn(await PageBench.Read(stranger, "/sign-in"));
        await Sent(stranger, HttpStatusCode.Forbidden, ("token", token), ("place", "Newfield"));
        async Task<HttpClient> SignedIn(string name)
        {
            var browser = bench.Browser();
            string door = PageBench.TokenIn(await PageBench.Read(browser, "/sign-in"));
            using var let = await PageBench.Send(browser, "/sign-in", ("token", door), ("name", name), ("password", "four words for " + name));
            Assert.Equal(HttpStatusCode.Redirect, let.StatusCode);
            return browser;
        }
        using var sam = await SignedIn("sam");
        await PageBench.Read(sam, "/new", HttpStatusCode.Forbidden);
        using var pat = await SignedIn("pat");
        Assert.Contains("Where is it?", await PageBench.Read(pat, "/new"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Beside_gardens_that_are_there_another_is_begun_under_a_name_of_its_own()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        Assert.Contains("<a href=\"/new\">Begin another garden</a>", await PageBench.Read(browser, "/gardens/mill-bank/status"), StringComparison.Ordinal);
        var (page, fields) = await Second(browser, "48.1, 11.5");
        Assert.Contains("What shall messages call it?", page, StringComparison.Ordinal);
        Assert.DoesNotContain("name=\"secret\"", page, StringComparison.Ordinal);
        fields = [.. fields, ("zone", "Europe/Berlin"), ("beds", "2"), ("crops", "kale growing"), ("to", "")];
        Assert.Contains("Another garden wants a name of its own", await Sent(browser, HttpStatusCode.BadRequest, fields), StringComparison.Ordinal);
        Assert.Contains("is there already", await Sent(browser, HttpStatusCode.BadRequest, [.. fields, ("name", "Mill Bank")]), StringComparison.Ordinal);
        await Sent(browser, HttpStatusCode.OK, [.. fields, ("name", "Top Field")]);
        Assert.Contains("id: top-field", await File.ReadAllTextAsync(Path.Combine(bench.Folder, "gardens", "top-field.yaml"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.Equal(PageBench.PlanText, await File.ReadAllTextAsync(Path.Combine(bench.Folder, "garden.yaml"), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_garden_is_begun_by_keyboard_alone_and_without_script()
    {
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await NewGardenBench.Open();
        await using var browser = await Chromium.Start(360, script: false);
        await browser.Open(new(bench.Address, "/new"));
        await browser.TabTo("document.activeElement.id", "place");
        await browser.Type("Newfield");
        await browser.Press("Enter");
        await browser.Loaded();
        await browser.TabTo("document.activeElement.name ?? ''", "town");
        // Of two towns the second.
        await browser.Press("ArrowDown");
        await browser.TabTo("document.activeElement.id", "beds");
        await browser.Type("two 4x8 ft");
        await browser.TabTo("document.activeElement.className", "main");
        await browser.Press("Enter");
        await browser.Loaded();
        Assert.Equal("Your plan is written", await browser.Ask("document.querySelector('h1').textContent"));
        Assert.Contains("America/New_York", await File.ReadAllTextAsync(Path.Combine(bench.Folder, "garden.yaml"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(360, false)]
    [InlineData(360, true)]
    [InlineData(1100, false)]
    [InlineData(1100, true)]
    public async Task Nothing_runs_over_the_edge_and_axe_finds_nothing_serious(int width, bool dark)
    {
        string end = $"{width}{(dark ? "-dark" : "")}";
        Assert.SkipWhen(Chromium.Program is null, "No browser is installed.");
        await using var bench = await NewGardenBench.Open();
        await using var browser = await Chromium.Start(width, dark);
        await InBrowserTests.Held(browser, new(bench.Address, "/new"), $"new-place-{end}");
        await browser.Ask("document.querySelector('#place').value = 'Newfield'; document.querySelector('form').submit(); 0");
        await browser.Loaded();
        await InBrowserTests.HeldAsItIs(browser, $"new-garden-{end}");
        await browser.Ask("document.querySelector('#beds').value = '900 x 900 m'; document.querySelector('#crops').value = 'radishs, dahlias xyz'; document.querySelector('#to').value = 'pat@example.org'; document.querySelector('form').submit(); 0");
        await browser.Loaded();
        await InBrowserTests.HeldAsItIs(browser, $"new-wrong-{end}");
        await browser.Ask("document.querySelector('#beds').value = 'two 4x8 ft, pots'; document.querySelector('#crops').value = 'tomatoes, garlic growing'; document.querySelector('#to').value = ''; document.querySelector('form').submit(); 0");
        await browser.Loaded();
        await InBrowserTests.HeldAsItIs(browser, $"new-done-{end}");
        Assert.Contains("Your plan is written", await browser.Ask("document.querySelector('h1').textContent"), StringComparison.Ordinal);
    }
}

using System.Net;
using System.Text.RegularExpressions;
using GardenWatch.Demo;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Tests.Rounds;
using GardenWatch.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace GardenWatch.Tests.Web;

/// <summary>The page of a whole house on a frosty morning, served on a free port of this machine.</summary>
internal sealed partial class PageBench : IAsyncDisposable
{
    public const string PlanText = """
        garden: Mill Bank
        id: mill-bank
        units: us
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        in the garden: { weekdays: 06:00-08:00 and 17:00-20:30, weekends: 08:00-19:00 }
        digest: { at: "06:00", to: [pat@example.org] }
        beds:
          - { bed: kitchen bed, size: 4 ft x 12 ft, at: 0 ft x 0 ft }
          - { bed: low bed, size: 4 ft x 8 ft, at: 6 ft x 0 ft, cover: light fleece }
          - { bed: sill, over: windowsill }
        plantings:
          - { crop: tomato, bed: low bed, set out: 18 April, plants: 6 }
          - { crop: radish, bed: kitchen bed, sown: 2 April }
          - { crop: winter squash, bed: kitchen bed, start: sill, after: radish }
          - { crop: garlic, bed: kitchen bed, sown: late October last year }
        chores:
          - { chore: Turn the compost }
        """;

    private const string OtherPlan = """
        garden: Far Row
        id: far-row
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        digest: { at: "06:00", to: [sam@example.org] }
        beds:
          - { bed: hidden bed }
        chores:
          - { chore: Oil the far gate, bed: hidden bed }
        """;

    private readonly TemporaryFolder _data = new();
    private readonly HouseBench _bench;
    private WebApplication? _app;
    private PlaceSearch? _places;

    private PageBench() => _bench = new(_data);

    public string Folder => _data.Path;

    public GardenStore Store { get; private set; } = null!;

    public NodaTime.Testing.FakeClock Clock => _bench.Clock;

    public HouseBench.Postbox Mail => _bench.Mail;

    public House House { get; private set; } = null!;

    public Uri Address { get; private set; } = null!;

    public string PlanFile => _data.File("garden.yaml");

    /// <summary>A knock so long after the morning.</summary>
    public Task Knock(Duration after) => _bench.Knock(House, Morning + after);

    public static Instant Morning => HouseBench.At(NotableMornings.LateFrost.Date, 6, 5);

    public static async Task<PageBench> Open(params WebPerson[] people)
    {
        var bench = new PageBench();
        await bench.Serve(people);
        return bench;
    }

    private async Task Serve(WebPerson[] people)
    {
        var ct = TestContext.Current.CancellationToken;
        Store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Path.Combine(_data.Path, "records"), StoreUse.Run, Morning)).Store;
        _data.Write("gardens/far-row.yaml", OtherPlan);
        var settings = HouseBench.SettingsIn(_data.Path) with { People = [.. people], WebAddress = new("https://garden.example.org") };
        var house = _bench.House(Store, Mail, PlanText, settings);
        House = house;
        await _bench.Knock(house, Morning);
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        _app = builder.Build();
        _app.Urls.Add("http://127.0.0.1:0");
        var crops = CropShelf.Shipped(ConditionText.Read);
        new Page(
            settings, Store, house.Mornings, house.Places, Clock, () => house.Round!.OnDuty,
            () => GardenFile.ReadAll(new(_data.Path), crops, Store, Clock.GetCurrentInstant()), house.Plans!,
            (new NewGarden(new(_data.Path), settings, crops, Clock), _places = new PlaceSearch(new Unreachable(), settings.Weather, Clock, TimeProvider.System))).Map(_app);
        await _app.StartAsync(ct);
        Address = new(_app.Urls.First());
    }

    /// <summary>A browser that keeps cookies and follows no redirect.</summary>
    public HttpClient Browser() => new(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new() }) { BaseAddress = Address };

    public static async Task<string> Read(HttpClient browser, string path, HttpStatusCode expected = HttpStatusCode.OK)
    {
        using var answer = await browser.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(expected == answer.StatusCode, $"{path} gave {answer.StatusCode}: {text}");
        return text;
    }

    public static Task<HttpResponseMessage> Send(HttpClient browser, string path, params (string Name, string Value)[] fields) => browser.PostAsync(
        new Uri(path, UriKind.Relative), new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value))), TestContext.Current.CancellationToken);

    public static string TokenIn(string page) => FormToken().Match(page).Groups[1].Value is { Length: > 0 } token ? token : throw new Xunit.Sdk.XunitException("The page has no form.");

    /// <summary>A browser in which a person has signed in.</summary>
    public async Task<HttpClient> SignedIn(string name, string password)
    {
        var browser = Browser();
        string door = await Read(browser, "/sign-in");
        using var answer = await Send(browser, "/sign-in", ("token", TokenIn(door)), ("name", name), ("password", password));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return browser;
    }

    public async ValueTask DisposeAsync()
    {
        if (_app is not null)
            await _app.DisposeAsync();
        _places?.Dispose();
        _bench.Dispose();
        Store.Dispose();
        _data.Dispose();
    }

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex FormToken();

    /// <summary>A service that knows no places today.</summary>
    private sealed class Unreachable : HttpMessageHandler
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken) =>
            Task.FromResult(new HttpResponseMessage(HttpStatusCode.BadRequest));
    }
}

using System.Net;
using System.Text;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using GardenWatch.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Web;

/// <summary>The feed is read with its own address and with no other.</summary>
public sealed class CalendarPageTests : StoreCase
{
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private readonly FakeClock _clock = new(Morning);
    private List<GardenOnDuty> _onDuty = [Garden("mill-bank", "Mill Bank"), Garden("far-row", "Far Row")];

    [Fact]
    public async Task Each_garden_has_its_own_address_and_sees_no_other()
    {
        using var store = Open();
        await using var app = await Serve(store);
        using var http = new HttpClient { BaseAddress = new(app.Urls.First()) };
        string mill = Path(store, "mill-bank"), far = Path(store, "far-row");

        using var reply = await http.GetAsync(new Uri(mill, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, reply.StatusCode);
        Assert.Equal("text/calendar; charset=utf-8", reply.Content.Headers.ContentType!.ToString());
        Assert.True(reply.Headers.CacheControl!.Private);
        Assert.Equal("no-referrer", Assert.Single(reply.Headers.GetValues("Referrer-Policy")));
        string text = await reply.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.StartsWith("BEGIN:VCALENDAR\r\n", text, StringComparison.Ordinal);
        Assert.Contains("SUMMARY:Turn the compost", text, StringComparison.Ordinal);
        Assert.Contains("NAME:Mill Bank", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Far Row", text, StringComparison.Ordinal);

        string tokenOfFar = far[(far.LastIndexOf('/') + 1)..];
        foreach (string wrong in (string[])
            [
                "/calendar/mill-bank/" + tokenOfFar, "/calendar/mill-bank/x.ics", "/calendar/mill-bank/.ics", "/calendar/mill-bank/", "/calendar/", "/calendar/no-such/x.ics",
                mill[..^4], mill.Replace("mill-bank", "Mill-Bank", StringComparison.Ordinal), mill + "x",
            ])
        {
            using var refused = await http.GetAsync(new Uri(wrong, UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.NotFound, refused.StatusCode);
            Assert.Empty(await refused.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        }
        using var posted = await http.PostAsync(new Uri(mill, UriKind.Relative), new StringContent(""), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.MethodNotAllowed, posted.StatusCode);
    }

    [Fact]
    public async Task What_did_not_change_is_not_sent_again()
    {
        using var store = Open();
        await using var app = await Serve(store);
        using var http = new HttpClient { BaseAddress = new(app.Urls.First()) };
        using var first = await http.GetAsync(new Uri(Path(store, "mill-bank"), UriKind.Relative), TestContext.Current.CancellationToken);
        using var question = new HttpRequestMessage(HttpMethod.Get, Path(store, "mill-bank"));
        question.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using var again = await http.SendAsync(question, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
    }

    [Fact]
    public void A_new_key_makes_the_old_address_void()
    {
        using var store = Open();
        var page = Page(store);
        string old = Path(store, "mill-bank");
        string file = old[(old.LastIndexOf('/') + 1)..];
        Assert.Equal(200, page.Find("mill-bank", file).Status);
        store.Secrets.RenewCalendarKey();
        Assert.Equal(404, page.Find("mill-bank", file).Status);
    }

    [Fact]
    public void Before_the_first_knock_a_right_address_is_asked_to_wait_and_a_wrong_one_is_told_nothing()
    {
        using var store = Open();
        _onDuty = [];
        string right = Path(store, "mill-bank");
        Assert.Equal(503, Page(store).Find("mill-bank", right[(right.LastIndexOf('/') + 1)..]).Status);
        Assert.Equal(404, Page(store).Find("mill-bank", "guess.ics").Status);
    }

    [Fact]
    public void The_agenda_is_made_anew_after_ten_minutes_and_for_a_changed_plan()
    {
        using var store = Open();
        var page = Page(store);
        string path = Path(store, "mill-bank");
        string file = path[(path.LastIndexOf('/') + 1)..];
        byte[]? first = page.Find("mill-bank", file).File;
        _clock.AdvanceMinutes(9);
        Assert.Same(first, page.Find("mill-bank", file).File);
        _clock.AdvanceMinutes(2);
        Assert.NotSame(first, page.Find("mill-bank", file).File);
        _onDuty = [Garden("mill-bank", "Mill Bank", chore: "Oil the tools")];
        Assert.Contains("SUMMARY:Oil the tools", Encoding.UTF8.GetString(page.Find("mill-bank", file).File!), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("127.0.0.1:8710", "http://127.0.0.1:8710/calendar/mill-bank/")]
    [InlineData("0.0.0.0:8710", "http://shed:8710/calendar/mill-bank/")]
    [InlineData("[::]:80", "http://shed:80/calendar/mill-bank/")]
    [InlineData("192.0.2.7:8710", "http://192.0.2.7:8710/calendar/mill-bank/")]
    public void The_address_names_a_host_that_can_be_reached(string listen, string begins)
    {
        string address = CalendarAddress.Of(IPEndPoint.Parse(listen), "shed", new byte[32], "mill-bank");
        Assert.StartsWith(begins, address, StringComparison.Ordinal);
        Assert.Matches("/[A-Za-z0-9_-]{43}\\.ics$", address);
    }

    private CalendarPage Page(GardenStore store) => new(store, new Mornings(store), _clock, () => _onDuty);

    private async Task<WebApplication> Serve(GardenStore store)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var app = builder.Build();
        app.Urls.Add("http://127.0.0.1:0");
        Page(store).Map(app);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return app;
    }

    private static string Path(GardenStore store, string gardenId) =>
        new Uri(CalendarAddress.Of(new(IPAddress.Loopback, 1), "", store.Secrets.CalendarKey()!, gardenId)).AbsolutePath;

    private static GardenOnDuty Garden(string id, string name, string chore = "Turn the compost")
    {
        string text = $$"""
            garden: {{name}}
            id: {{id}}
            place: { town: Ahrenfeld, latitude: 52.5, longitude: 9.5, elevation: 60 m, zone: Europe/Berlin }
            beds:
              - { bed: long bed }
            chores:
              - { chore: {{chore}} }
            """;
        var file = GardenFile.Read("garden.yaml", text, CropShelf.Shipped(ConditionText.Read), store: null, Morning);
        return new(file.Plan!, new GardenPlace("ahrenfeld", new LocalCalendar(Zone, new(52.5, 9.5, 60))), []);
    }
}

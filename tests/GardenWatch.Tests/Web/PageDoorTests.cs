using System.Net;
using GardenWatch.Setup;
using GardenWatch.Web;

namespace GardenWatch.Tests.Web;

/// <summary>Who gets in, and that a form counts only from its own page.</summary>
public sealed class PageDoorTests
{
    private const string Pats = "four words for pat", Sams = "four words for sam";

    private static readonly WebPerson Pat = new("pat", PagePassword.Of(Pats), []);
    private static readonly WebPerson Sam = new("sam", PagePassword.Of(Sams), ["far-row"]);

    [Fact]
    public async Task Each_person_sees_only_the_gardens_that_are_theirs()
    {
        await using var bench = await PageBench.Open(Pat, Sam);
        using var pat = await bench.SignedIn("pat", Pats);
        using var sam = await bench.SignedIn("Sam", Sams);

        Assert.Contains("Far Row", await PageBench.Read(pat, "/"), StringComparison.Ordinal);
        Assert.Contains("Cover the tomatoes", await PageBench.Read(pat, "/gardens/mill-bank"), StringComparison.Ordinal);

        Assert.Contains("Oil the far gate", await PageBench.Read(sam, "/gardens/far-row"), StringComparison.Ordinal);
        foreach (string page in (string[])["", "/beds", "/sowings", "/journal", "/conditions", "/status"])
        {
            string refused = await PageBench.Read(sam, "/gardens/mill-bank" + page, HttpStatusCode.NotFound);
            Assert.Equal(await PageBench.Read(sam, "/gardens/no-such" + page, HttpStatusCode.NotFound), refused);
        }
        string theirs = await PageBench.Read(sam, "/gardens/far-row/status") + await PageBench.Read(sam, "/gardens/far-row");
        Assert.DoesNotContain("Mill Bank", theirs, StringComparison.Ordinal);
        Assert.DoesNotContain("pat@example.org", theirs, StringComparison.Ordinal);
        using var written = await PageBench.Send(sam, "/gardens/mill-bank/note", ("token", PageBench.TokenIn(theirs)), ("note", "I was here"));
        Assert.Equal(HttpStatusCode.NotFound, written.StatusCode);
        using var crossed = await PageBench.Send(sam, "/gardens/far-row/answer", ("token", PageBench.TokenIn(theirs)), ("job", "mill-bank/turn-the-compost/other/1"), ("answer", "done"));
        Assert.Equal(HttpStatusCode.BadRequest, crossed.StatusCode);
        Assert.Empty(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Empty(bench.Store.Journal.AsOf("far-row", bench.Clock.GetCurrentInstant()));
    }

    [Fact]
    public async Task A_stranger_is_led_to_the_door_and_back_to_what_was_asked_for()
    {
        await using var bench = await PageBench.Open(Pat);
        using var browser = bench.Browser();
        using var sent = await browser.GetAsync(new Uri("/gardens/mill-bank/beds", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("/sign-in?then=%2Fgardens%2Fmill-bank%2Fbeds", sent.Headers.Location!.OriginalString);
        string door = await PageBench.Read(browser, sent.Headers.Location.OriginalString);
        Assert.DoesNotContain("Mill Bank", door, StringComparison.Ordinal);
        using var let = await PageBench.Send(browser, "/sign-in", ("token", PageBench.TokenIn(door)), ("name", "pat"), ("password", Pats), ("then", "/gardens/mill-bank/beds"));
        Assert.Equal("/gardens/mill-bank/beds", let.Headers.Location!.OriginalString);
        string cookie = let.Headers.GetValues("Set-Cookie").Last();
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("https://evil.example.org/")]
    [InlineData("//evil.example.org/")]
    [InlineData("/\\evil.example.org")]
    [InlineData("/gardens/\\evil")]
    [InlineData("javascript:alert(1)")]
    public async Task The_way_back_never_leads_to_another_site(string then)
    {
        await using var bench = await PageBench.Open(Pat);
        using var browser = bench.Browser();
        string door = await PageBench.Read(browser, "/sign-in?then=" + Uri.EscapeDataString(then));
        using var let = await PageBench.Send(browser, "/sign-in", ("token", PageBench.TokenIn(door)), ("name", "pat"), ("password", Pats), ("then", then));
        Assert.Equal("/", let.Headers.Location!.OriginalString);
    }

    [Fact]
    public async Task A_guesser_is_soon_asked_to_wait_and_the_clock_lets_them_try_again()
    {
        await using var bench = await PageBench.Open(Pat);
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/sign-in"));
        async Task<HttpStatusCode> Try(string password)
        {
            using var answer = await PageBench.Send(browser, "/sign-in", ("token", token), ("name", "pat"), ("password", password));
            return answer.StatusCode;
        }
        for (int i = 0; i < 5; i++)
            Assert.Equal(HttpStatusCode.Forbidden, await Try("wrong wrong " + i));
        Assert.Equal(HttpStatusCode.TooManyRequests, await Try(Pats));
        bench.Clock.AdvanceSeconds(31);
        Assert.Equal(HttpStatusCode.Redirect, await Try(Pats));
    }

    [Fact]
    public async Task Signing_out_ends_the_session_on_every_device()
    {
        await using var bench = await PageBench.Open(Pat);
        using var telephone = await bench.SignedIn("pat", Pats);
        using var desk = await bench.SignedIn("pat", Pats);
        string page = await PageBench.Read(desk, "/gardens/mill-bank");
        using var left = await PageBench.Send(desk, "/sign-out", ("token", PageBench.TokenIn(page)));
        Assert.Equal(HttpStatusCode.Redirect, left.StatusCode);
        foreach (var browser in (HttpClient[])[telephone, desk])
            await PageBench.Read(browser, "/gardens/mill-bank", HttpStatusCode.Redirect);
    }

    [Fact]
    public async Task A_session_ends_with_its_time_and_with_a_forged_cookie()
    {
        await using var bench = await PageBench.Open(Pat);
        using var browser = await bench.SignedIn("pat", Pats);
        bench.Clock.AdvanceDays(61);
        await PageBench.Read(browser, "/gardens/mill-bank", HttpStatusCode.Redirect);

        using var forger = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false }) { BaseAddress = bench.Address };
        foreach (string cookie in (string[])["x", "a.9999999999.cGF0.AAAA", "...", "a.99999999999999999999.cGF0.AAAA", new('a', 600)])
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/gardens/mill-bank");
            request.Headers.Add("Cookie", "gardenwatch=" + cookie);
            using var answer = await forger.SendAsync(request, TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        }
    }

    [Fact]
    public async Task A_form_from_elsewhere_writes_nothing()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/gardens/mill-bank/journal"));
        async Task<HttpStatusCode> Note(string sent, params (string Name, string Value)[] headers)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, "/gardens/mill-bank/note")
            {
                Content = new FormUrlEncodedContent([KeyValuePair.Create("token", sent), KeyValuePair.Create("note", "from elsewhere")]),
            };
            foreach (var (name, value) in headers)
                request.Headers.Add(name, value);
            using var answer = await browser.SendAsync(request, TestContext.Current.CancellationToken);
            return answer.StatusCode;
        }
        using var other = bench.Browser();
        string others = PageBench.TokenIn(await PageBench.Read(other, "/gardens/mill-bank/journal"));
        Assert.Equal(HttpStatusCode.Forbidden, await Note(""));
        Assert.Equal(HttpStatusCode.Forbidden, await Note(others));
        Assert.Equal(HttpStatusCode.Forbidden, await Note(token, ("Origin", "https://evil.example.org")));
        Assert.Equal(HttpStatusCode.Forbidden, await Note(token, ("Origin", "null")));
        Assert.Equal(HttpStatusCode.Forbidden, await Note(token, ("Sec-Fetch-Site", "cross-site")));
        Assert.Empty(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Equal(HttpStatusCode.SeeOther, await Note(token, ("Origin", bench.Address.GetLeftPart(UriPartial.Authority)), ("Sec-Fetch-Site", "same-origin")));
    }

    [Fact]
    public async Task Under_a_foreign_name_an_open_page_shows_nothing()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/gardens/mill-bank");
        request.Headers.Host = "rebound.example.org";
        using var answer = await browser.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.MisdirectedRequest, answer.StatusCode);
        Assert.DoesNotContain("Mill Bank", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_much_and_too_often_is_refused_with_a_plain_page()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, "/gardens/mill-bank/journal"));
        using var large = await PageBench.Send(browser, "/gardens/mill-bank/note", ("token", token), ("note", new string('x', 70_000)));
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, large.StatusCode);
        var answers = new List<HttpStatusCode>();
        for (int i = 0; i < 31; i++)
        {
            using var answer = await PageBench.Send(browser, "/gardens/mill-bank/note", ("token", "none"), ("note", "again"));
            answers.Add(answer.StatusCode);
        }
        Assert.Contains(HttpStatusCode.TooManyRequests, answers);
        await PageBench.Read(browser, "/gardens/mill-bank");
    }
}

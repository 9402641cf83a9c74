using System.Net;
using GardenWatch.Planning.Journals;

namespace GardenWatch.Tests.Web;

/// <summary>What the page shows, and that answers from it are written down.</summary>
public sealed class PageTests
{
    private const string Garden = "/gardens/mill-bank";

    [Fact]
    public async Task Every_view_opens_without_script_and_says_what_it_is()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        foreach (var (path, heading) in ((string, string)[])
            [
                (Garden, "Cover the tomatoes"), (Garden + "/beds", "Beds</h1>"), (Garden + "/sowings", "Sowings</h1>"), (Garden + "/sowings/radish-kitchen-bed.1", "Radish</h1>"),
                (Garden + "/journal", "Journal</h1>"), (Garden + "/conditions", "Conditions</h1>"), (Garden + "/status", "<h1>"),
            ])
        {
            string page = await PageBench.Read(browser, path);
            Assert.Contains(heading, page, StringComparison.Ordinal);
            Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(" style=", page, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("<title>", page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Today_has_the_job_its_reason_its_hour_and_its_three_answers()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string page = await PageBench.Read(browser, Garden);
        Assert.Contains("Before it’s too late", page, StringComparison.Ordinal);
        Assert.Contains("°F", page, StringComparison.Ordinal);
        Assert.Contains("aria-label=\"Done: Cover the tomatoes\"", page, StringComparison.Ordinal);
        Assert.Contains("The week in words", page, StringComparison.Ordinal);
        Assert.Contains("open-meteo.com", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Done_on_the_page_is_in_the_journal_and_the_job_is_settled()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string page = await PageBench.Read(browser, Garden);
        string job = JobOf(page, "Turn the compost");
        using var answer = await PageBench.Send(browser, Garden + "/answer", ("token", PageBench.TokenIn(page)), ("job", job), ("answer", "done"));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Equal(Garden, answer.Headers.Location!.OriginalString);
        var entry = Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Equal((EntryKind.Done, job), (entry.Kind, entry.JobId));
        string after = await PageBench.Read(browser, Garden);
        Assert.Contains("Answered today", after, StringComparison.Ordinal);
        Assert.Contains("<s>Turn the compost</s>", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_note_is_kept_as_it_was_written_and_shown_as_text()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string page = await PageBench.Read(browser, Garden + "/journal");
        using var kept = await PageBench.Send(browser, Garden + "/note", ("token", PageBench.TokenIn(page)), ("note", "slugs <script>alert(1)</script> & \"snails\""));
        Assert.Equal(HttpStatusCode.SeeOther, kept.StatusCode);
        string after = await PageBench.Read(browser, Garden + "/journal");
        Assert.Contains("slugs &lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;snails&quot;", after, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", after, StringComparison.Ordinal);
        foreach (string wrong in (string[])["", "   ", new('x', 501)])
        {
            using var refused = await PageBench.Send(browser, Garden + "/note", ("token", PageBench.TokenIn(page)), ("note", wrong));
            Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        }
    }

    [Fact]
    public async Task Another_number_tells_what_it_would_have_meant_and_changes_nothing()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string list = await PageBench.Read(browser, Garden + "/conditions");
        int at = list.IndexOf("/cover\">", StringComparison.Ordinal);
        string path = list[list.LastIndexOf("\"/", at, StringComparison.Ordinal)..(at + 6)].TrimStart('"');
        string page = await PageBench.Read(browser, path);
        Assert.Contains("In the last 14 days", page, StringComparison.Ordinal);
        Assert.Contains("Day by day", page, StringComparison.Ordinal);
        string field = page.Split("name=\"n-")[1].Split('"')[0];
        string tried = await PageBench.Read(browser, $"{path}?n-{field}=45%20%C2%B0F");
        Assert.Contains("Tried out: ", tried, StringComparison.Ordinal);
        Assert.Contains("tune: { cover: {", tried, StringComparison.Ordinal);
        string faulty = await PageBench.Read(browser, $"{path}?n-{field}=warm%3Cb%3E");
        Assert.Contains("role=\"alert\"", faulty, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", faulty.Split("role=\"alert\"")[1], StringComparison.Ordinal);
        Assert.Equal(page, await PageBench.Read(browser, path));
    }

    [Fact]
    public async Task Pages_are_strict_light_and_forgotten_by_the_browser()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        using var answer = await browser.GetAsync(new Uri(Garden, UriKind.Relative), TestContext.Current.CancellationToken);
        string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("same-origin", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
        Assert.True(answer.Headers.CacheControl!.NoStore);
        string page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.InRange(page.Length, 1000, 100_000);
        string style = page.Split("href=\"/page-")[1].Split('"')[0];
        using var sheet = await browser.GetAsync(new Uri("/page-" + style, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("text/css; charset=utf-8", sheet.Content.Headers.ContentType!.ToString());
        Assert.Contains("immutable", sheet.Headers.GetValues("Cache-Control").Single(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_there_is_a_plain_page()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        foreach (string path in (string[])["/nowhere", "/gardens/none", Garden + "/sowings/none", Garden + "/conditions/none/cover", "/gardens/..%2f..%2fetc/passwd", "/job/none"])
            Assert.Contains("<h1>", await PageBench.Read(browser, path, HttpStatusCode.NotFound), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_answered_last_is_taken_back()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string page = await PageBench.Read(browser, Garden);
        string job = JobOf(page, "Turn the compost"), token = PageBench.TokenIn(page);
        using (await PageBench.Send(browser, Garden + "/answer", ("token", token), ("job", job), ("answer", "later"), ("days", "3")))
            Assert.Contains("Asked again from Thursday", await PageBench.Read(browser, Garden), StringComparison.Ordinal);
        bench.Clock.AdvanceSeconds(20);
        using var undone = await PageBench.Send(browser, Garden + "/undo", ("token", token));
        Assert.Equal(HttpStatusCode.SeeOther, undone.StatusCode);
        string after = await PageBench.Read(browser, Garden);
        Assert.DoesNotContain("Answered today", after, StringComparison.Ordinal);
        Assert.Contains("Done: Turn the compost", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_picture_goes_with_a_note_and_only_this_garden_shows_it()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, Garden + "/journal"));
        async Task<HttpStatusCode> Keep(byte[] picture)
        {
            using var form = new MultipartFormDataContent { { new StringContent(token), "token" }, { new StringContent("well up"), "note" }, { new ByteArrayContent(picture), "picture", "bed.png" } };
            using var answer = await browser.PostAsync(new Uri(Garden + "/picture", UriKind.Relative), form, TestContext.Current.CancellationToken);
            return answer.StatusCode;
        }
        Assert.Equal(HttpStatusCode.SeeOther, await Keep(Picture()));
        string page = await PageBench.Read(browser, Garden + "/journal");
        string source = page.Split("<img src=\"")[1].Split('"')[0];
        using var shown = await browser.GetAsync(new Uri(source, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("image/jpeg", shown.Content.Headers.ContentType!.MediaType);
        await PageBench.Read(browser, source.Replace("mill-bank", "far-row", StringComparison.Ordinal), HttpStatusCode.NotFound);
        await PageBench.Read(browser, Garden + "/pictures/..%2fgardenwatch.db", HttpStatusCode.NotFound);
        Assert.Equal(HttpStatusCode.Conflict, await Keep([1, 2, 3]));
    }

    [Fact]
    public async Task Forty_megabytes_of_picture_are_kept_at_a_sane_size_and_more_is_refused_plainly()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string token = PageBench.TokenIn(await PageBench.Read(browser, Garden + "/journal"));
        async Task<(HttpStatusCode Status, string Said)> Keep(HttpContent picture)
        {
            using var form = new MultipartFormDataContent { { new StringContent(token), "token" }, { new StringContent("well up"), "note" }, { picture, "picture", "bed.jpg" } };
            using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(Garden + "/picture", UriKind.Relative)) { Content = form };
            // Asked before it is sent, as what is refused is not read.
            request.Headers.ExpectContinue = true;
            using var answer = await browser.SendAsync(request, TestContext.Current.CancellationToken);
            return (answer.StatusCode, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        }
        byte[] large = BigPicture();
        Assert.InRange(large.Length, 38 << 20, 48 << 20);
        Assert.Equal(HttpStatusCode.SeeOther, (await Keep(new ByteArrayContent(large))).Status);
        string name = Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant())).Pictures!;
        var kept = new FileInfo(bench.Store.JournalPictures.PathOf(name)!);
        Assert.InRange(kept.Length, 1, 3 << 20);

        var (status, said) = await Keep(new ByteArrayContent(new byte[49 << 20]));
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, status);
        Assert.Contains("A picture may have 48 MB", said, StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(kept.DirectoryName!));
    }

    /// <summary>Noise, of which no encoder can leave anything out: some forty megabytes.</summary>
    internal static byte[] BigPicture()
    {
        using var bitmap = new SkiaSharp.SKBitmap(new SkiaSharp.SKImageInfo(7000, 5250, SkiaSharp.SKColorType.Rgba8888, SkiaSharp.SKAlphaType.Opaque));
        new Random(4).NextBytes(bitmap.GetPixelSpan());
        using var data = bitmap.Encode(SkiaSharp.SKEncodedImageFormat.Jpeg, 97);
        return data.ToArray();
    }

    /// <summary>Eight grey pixels by eight.</summary>
    private static byte[] Picture()
    {
        using var bitmap = new SkiaSharp.SKBitmap(8, 8);
        bitmap.Erase(SkiaSharp.SKColors.Gray);
        using var data = bitmap.Encode(SkiaSharp.SKEncodedImageFormat.Png, 90);
        return data.ToArray();
    }

    private static string JobOf(string page, string deed)
    {
        string form = page.Split($"aria-label=\"Done: {deed}\"")[0];
        return form[(form.LastIndexOf("name=\"job\" value=\"", StringComparison.Ordinal) + 18)..].Split('"')[0];
    }
}

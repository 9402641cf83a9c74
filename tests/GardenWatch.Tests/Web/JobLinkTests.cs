using System.Net;
using GardenWatch.Planning.Journals;
using GardenWatch.Setup;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Tests.Web;

/// <summary>The signed link of a job in a message.</summary>
public sealed class JobLinkTests
{
    private const string Job = "mill-bank/turn-the-compost/other/1";

    [Fact]
    public async Task Opening_a_link_writes_nothing_and_its_form_does()
    {
        await using var bench = await PageBench.Open(new WebPerson("pat", PagePassword.Of("four words for pat"), []));
        string job = OpenJob(bench);
        string path = PathOf(bench, new(job, "digest.1", bench.Clock.GetCurrentInstant() + JobLink.Lasts));
        using var browser = bench.Browser();
        // A program that looks through mail may open it as often as it likes.
        string page = "";
        for (int i = 0; i < 3; i++)
            page = await PageBench.Read(browser, path);
        using (var head = new HttpRequestMessage(HttpMethod.Head, path))
        using (var looked = await browser.SendAsync(head, TestContext.Current.CancellationToken))
            Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.Empty(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Contains("Turn the compost", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Cover the tomatoes", page, StringComparison.Ordinal);
        Assert.DoesNotContain("/gardens/mill-bank", page, StringComparison.Ordinal);

        using var forged = await PageBench.Send(browser, path, ("token", "none"), ("answer", "done"));
        Assert.Equal(HttpStatusCode.Forbidden, forged.StatusCode);
        using var taken = await PageBench.Send(browser, path, ("token", PageBench.TokenIn(page)), ("answer", "done"));
        Assert.Equal(HttpStatusCode.SeeOther, taken.StatusCode);
        var entry = Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Equal((EntryKind.Done, job), (entry.Kind, entry.JobId));
        Assert.Contains("Written down as done", await PageBench.Read(browser, path), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_that_is_forged_changed_or_too_old_opens_nothing()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        var now = bench.Clock.GetCurrentInstant();
        string job = OpenJob(bench);
        string good = PathOf(bench, new(job, "digest.1", now + JobLink.Lasts));
        string foreign = JobLink.Folder + new JobLink(job, "digest.1", now + JobLink.Lasts).Token(new byte[32]);
        char last = good[^1] == 'A' ? 'B' : 'A';
        foreach (string wrong in (string[])[foreign, good[..^1] + last, good[..^4], good + "AAAA", JobLink.Folder + "AAAA", JobLink.Folder + new string('A', 3000)])
            Assert.Contains("This link opens nothing", await PageBench.Read(browser, wrong, HttpStatusCode.NotFound), StringComparison.Ordinal);
        string old = PathOf(bench, new(job, "digest.1", now));
        Assert.Contains("too old", await PageBench.Read(browser, old, HttpStatusCode.Gone), StringComparison.Ordinal);
        string page = await PageBench.Read(browser, good);
        using var late = await PageBench.Send(browser, old, ("token", PageBench.TokenIn(page)), ("answer", "done"));
        Assert.Equal(HttpStatusCode.Gone, late.StatusCode);
        bench.Clock.Advance(JobLink.Lasts);
        await PageBench.Read(browser, good, HttpStatusCode.Gone);
        Assert.Empty(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
    }

    [Fact]
    public async Task A_link_of_one_garden_answers_no_job_of_another()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string job = OpenJob(bench, "far-row", "gate");
        string path = PathOf(bench, new(job, "digest.1", bench.Clock.GetCurrentInstant() + JobLink.Lasts));
        string page = await PageBench.Read(browser, path);
        Assert.DoesNotContain("Mill Bank", page, StringComparison.Ordinal);
        // Whatever the form names, the link decides.
        using var taken = await PageBench.Send(browser, path, ("token", PageBench.TokenIn(page)), ("answer", "done"), ("job", OpenJob(bench)));
        Assert.Equal(HttpStatusCode.SeeOther, taken.StatusCode);
        Assert.Empty(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Equal(job, Assert.Single(bench.Store.Journal.AsOf("far-row", bench.Clock.GetCurrentInstant())).JobId);
    }

    [Fact]
    public async Task Each_job_to_do_has_its_link_in_the_mail_and_the_link_opens_it()
    {
        await using var bench = await PageBench.Open();
        var mail = bench.Mail.Taken.First(taken => taken.To == "pat@example.org");
        string[] links = [.. mail.Words.Split(' ').Where(word => word.StartsWith("https://garden.example.org/job/", StringComparison.Ordinal))];
        Assert.Equal(2, links.Length);
        Assert.Equal(2, links.Distinct().Count());
        Assert.Contains("Answer job 1 on the page: " + links[0], mail.Words, StringComparison.Ordinal);
        using var browser = bench.Browser();
        Assert.Contains("Cover the tomatoes", await PageBench.Read(browser, new Uri(links[0]).AbsolutePath), StringComparison.Ordinal);
        Assert.True(JobLink.TryRead(links[0].Split('/')[^1], bench.Store.Secrets.JobLinkKey()!, out var link));
        Assert.Equal(mail.MessageId.Split('@')[0], link.MessageId);
    }

    [Fact]
    public void A_link_reads_back_and_every_changed_byte_is_seen()
    {
        byte[] key = [.. Enumerable.Range(0, 32).Select(i => (byte)i)];
        var link = new JobLink(Job, "digest.abc", Instant.FromUtc(2026, 5, 5, 6, 0));
        string token = link.Token(key);
        Assert.True(JobLink.TryRead(token, key, out var read));
        Assert.Equal(link, read);
        byte[] bytes = System.Buffers.Text.Base64Url.DecodeFromChars(token);
        for (int i = 0; i < bytes.Length; i++)
        {
            byte[] changed = [.. bytes];
            changed[i] ^= 1;
            Assert.False(JobLink.TryRead(System.Buffers.Text.Base64Url.EncodeToString(changed), key, out _));
        }
    }

    private static string PathOf(PageBench bench, JobLink link) => JobLink.Folder + link.Token(bench.Store.Secrets.JobLinkKey()!);

    /// <summary>The numbers of a message name its jobs.</summary>
    private static string OpenJob(PageBench bench, string garden = "mill-bank", string word = "compost")
    {
        string jobs = string.Join('\n', bench.Store.Outbox.Recent(8, bench.Clock.GetCurrentInstant()).Where(row => row.Key.Garden == garden).Select(row => row.Jobs));
        return jobs.Split('\n').Select(line => line.Split('=', 2)[1].Split('\t')[0]).First(id => id.Contains(word, StringComparison.Ordinal));
    }
}

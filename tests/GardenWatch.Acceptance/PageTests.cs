using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using GardenWatch.Acceptance.Trials;

namespace GardenWatch.Acceptance;

/// <summary>The page of the running program: it shows the garden, takes an answer, and is never open to others without a password.</summary>
public partial class PageTests
{
    private const string Garden = "/gardens/mill-bank";

    [Fact]
    public async Task The_program_shows_the_garden_and_writes_an_answer_down()
    {
        var ct = TestContext.Current.CancellationToken;
        await using var house = await TrialHouse.Open();
        await using var service = house.Run(TrialHouse.Morning(12));
        await service.Knocked();
        using var browser = new HttpClient(new HttpClientHandler { CookieContainer = new() }) { BaseAddress = new($"http://127.0.0.1:{house.Port}") };
        await Measured(browser, ct);
        foreach (string page in (string[])["", "/beds", "/sowings", "/journal", "/conditions", "/status"])
        {
            using var answer = await browser.GetAsync(new Uri(Garden + page, UriKind.Relative), ct);
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            Assert.Contains("default-src 'none'", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
            Assert.Contains("<h1>", await answer.Content.ReadAsStringAsync(ct), StringComparison.Ordinal);
        }
        string today = await browser.GetStringAsync(new Uri(Garden, UriKind.Relative), ct);
        Assert.Contains("Sow radish", today, StringComparison.Ordinal);
        using var form = new FormUrlEncodedContent(
            [KeyValuePair.Create("token", Token().Match(today).Groups[1].Value), KeyValuePair.Create("job", Job().Match(today).Groups[1].Value), KeyValuePair.Create("answer", "done")]);
        using var done = await browser.PostAsync(new Uri(Garden + "/answer", UriKind.Relative), form, ct);
        Assert.Contains("Answered today", await done.Content.ReadAsStringAsync(ct), StringComparison.Ordinal);
        Assert.Equal(0, (await service.Stop()).Code);
        Assert.DoesNotContain("fail:", service.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_plan_it_asks_five_questions_and_goes_on_once_the_plan_is_written()
    {
        var ct = TestContext.Current.CancellationToken;
        await using var house = await TrialHouse.Open();
        File.Delete(house.PlanFile);
        await using var service = house.Run(asOf: null);
        await service.Says("There is no plan in");
        using var browser = new HttpClient(new HttpClientHandler { CookieContainer = new() }) { BaseAddress = new($"http://127.0.0.1:{house.Port}") };
        string first = await browser.GetStringAsync(new Uri("/", UriKind.Relative), ct);
        Assert.Contains("Where is it?", first, StringComparison.Ordinal);
        string second = await Sent(("token", Token().Match(first).Groups[1].Value), ("place", "48.1, 11.5"));
        string done = await Sent(
            ("token", Token().Match(second).Groups[1].Value), ("known", Known().Match(second).Groups[1].Value), ("beds", "two 1.2 x 3 m"), ("crops", "kale growing, carrots"), ("to", "pat@example.org"));
        Assert.Contains("Your plan is written", done, StringComparison.Ordinal);
        await service.Says("home-garden");
        string home = await browser.GetStringAsync(new Uri("/", UriKind.Relative), ct);
        Assert.DoesNotContain("Where is it?", home, StringComparison.Ordinal);
        Assert.Equal(0, (await service.Stop()).Code);
        // By the machine's clock, of which not every system says that it is right; but nothing broke.
        Assert.DoesNotContain("Exception", service.Said, StringComparison.Ordinal);

        async Task<string> Sent(params (string Name, string Value)[] fields)
        {
            using var form = new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value)));
            using var answer = await browser.PostAsync(new Uri("/new", UriKind.Relative), form, ct);
            return await answer.Content.ReadAsStringAsync(ct);
        }
    }

    [GeneratedRegex("name=\"known\" value=\"([^\"]+)\"")]
    private static partial Regex Known();

    [Fact]
    public async Task Beyond_its_machine_it_does_not_listen_without_a_password()
    {
        await using var house = await TrialHouse.Open();
        string settings = Path.Combine(house.Folder, "gardenwatch.yaml");
        string text = await File.ReadAllTextAsync(settings, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(settings, text.Replace("127.0.0.1:" + house.Port, "0.0.0.0:" + house.Port, StringComparison.Ordinal), TestContext.Current.CancellationToken);

        var run = await house.Command(TrialHouse.Morning(12), "run");

        Assert.Equal(2, run.WithoutStackTrace().Code);
        Assert.Contains("gardenwatch password page-password", run.Errors, StringComparison.Ordinal);
        Assert.Contains("people: [ { name: pat, password file: page-password } ]", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_address_that_does_not_answer_is_told_by_status()
    {
        await using var house = await TrialHouse.Open();
        string settings = Path.Combine(house.Folder, "gardenwatch.yaml");
        string text = await File.ReadAllTextAsync(settings, TestContext.Current.CancellationToken);
        int nobody = TrialHouse.FreePort();
        async Task<Ended> StatusWith(int port)
        {
            await File.WriteAllTextAsync(settings, text.Replace($"listen: \"127.0.0.1:{house.Port}\"", $"listen: \"127.0.0.1:{house.Port}\", address: \"http://localhost:{port}\"", StringComparison.Ordinal), TestContext.Current.CancellationToken);
            return await house.Command(TrialHouse.Morning(12, minutesAfter: 30), "status");
        }
        await using var service = house.Run(TrialHouse.Morning(12));
        await service.Says("was accepted");
        Assert.Contains($"http://localhost:{nobody}/ does not answer from here", (await StatusWith(nobody)).WithoutStackTrace().Out, StringComparison.Ordinal);
        Assert.DoesNotContain("does not answer from here", (await StatusWith(house.Port)).Out, StringComparison.Ordinal);
        await service.Stop();
    }

    /// <summary>Told, not judged: a busy machine is slow.</summary>
    private static async Task Measured(HttpClient browser, CancellationToken ct)
    {
        foreach (string page in (string[])["", "", "/beds", "/sowings", "/journal", "/conditions", "/status"])
        {
            var watch = Stopwatch.StartNew();
            using var answer = await browser.GetAsync(new Uri(Garden + page, UriKind.Relative), HttpCompletionOption.ResponseHeadersRead, ct);
            double first = watch.Elapsed.TotalMilliseconds;
            int bytes = (await answer.Content.ReadAsByteArrayAsync(ct)).Length;
            TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{Garden}{page}: {first:0} ms to the first byte, {bytes} bytes"));
        }
    }

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();

    [GeneratedRegex("name=\"job\" value=\"([^\"]+)\"")]
    private static partial Regex Job();
}

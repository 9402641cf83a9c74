using System.Diagnostics;
using System.Text.RegularExpressions;
using GardenWatch.Acceptance.Trials;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>From nothing to the first digest in the mailbox, by the two ways in which a garden begins. How long the machine took is told, not judged.</summary>
public sealed partial class FirstMailTests
{
    private const string Pat = "pat@example.org";
    private const string FirstOfAll = "first digest, sent as soon as it could be; the next ones come at";

    private static readonly string[] Towns =
    [
        """{"id":1,"name":"Newfield","latitude":48.1,"longitude":11.5,"elevation":520.0,"country_code":"DE","timezone":"ZONE","population":53000,"country":"Germany","admin1":"Bavaria"}""",
        """{"id":2,"name":"Newfield","latitude":40.46423,"longitude":-80.60091,"elevation":214.0,"country_code":"US","timezone":"America/New_York","population":4882,"country":"United States","admin1":"Ohio"}""",
    ];

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Five_answers_at_the_terminal_bring_the_first_digest_in_the_afternoon_of_the_same_day()
    {
        await using var house = await Empty();
        var watch = Stopwatch.StartNew();
        using (var asked = Process.Start(TheProgram.Start(house.Folder, new Dictionary<string, string>(), "new", "--config", house.Folder))!)
        {
            foreach (string answer in (string[])["Newfield", "1", "", "two 1.2 x 3 m, a row of pots", "tomatoes, garlic growing, radishes every 10 days", Pat, $"127.0.0.1:{house.Mail.Port}", "-", "yes", "no"])
                await asked.StandardInput.WriteLineAsync(answer.AsMemory(), Ct);
            asked.StandardInput.Close();
            var errors = asked.StandardError.ReadToEndAsync(Ct);
            string told = await asked.StandardOutput.ReadToEndAsync(Ct);
            await asked.WaitForExitAsync(Ct);
            Assert.Equal("", await errors);
            Assert.Equal(0, asked.ExitCode);
        }
        var test = (await house.MailsCome(1))[0];
        double written = watch.Elapsed.TotalSeconds;
        await using var service = house.Run(house.Weather.Now);
        var first = (await house.MailsCome(2))[1];

        TestContext.Current.TestOutputHelper?.WriteLine(first.Words());
        Tell(watch, $"the test message after {written:0.0} s");
        Assert.DoesNotContain(FirstOfAll, test.Words(), StringComparison.Ordinal);
        Assert.Contains(FirstOfAll, first.Words(), StringComparison.Ordinal);
        await TheNextIsThatOfTheNextMorning(house, service);
    }

    [Fact]
    public async Task Five_answers_on_the_page_bring_the_first_digest_in_the_afternoon_of_the_same_day()
    {
        await using var house = await Empty();
        // The page begins gardens by the machine's clock alone.
        await using var service = house.Run(asOf: null);
        await service.Says("There is no plan in");
        var watch = Stopwatch.StartNew();
        using var browser = new HttpClient(new HttpClientHandler { CookieContainer = new() }) { BaseAddress = new($"http://127.0.0.1:{house.Port}") };
        string first = await browser.GetStringAsync(new Uri("/", UriKind.Relative), Ct);
        string second = await Sent(browser, ("token", Token().Match(first).Groups[1].Value), ("place", "Newfield, Bavaria"));
        string done = await Sent(
            browser, ("token", Token().Match(second).Groups[1].Value), ("known", Known().Match(second).Groups[1].Value), ("units", "metric"), ("beds", "two 1.2 x 3 m, a row of pots"),
            ("crops", "tomatoes, garlic growing, radishes every 10 days"), ("to", Pat), ("server", $"127.0.0.1:{house.Mail.Port}"), ("user", ""));
        Assert.Contains("Your plan is written", done, StringComparison.Ordinal);
        var mail = (await house.MailsCome(1))[0];

        Tell(watch, "on the page");
        Assert.Contains(FirstOfAll, mail.Words(), StringComparison.Ordinal);
        Assert.Equal(0, (await service.Stop()).Code);
        Assert.DoesNotContain("Exception", service.Said, StringComparison.Ordinal);
    }

    /// <summary>A machine with nothing but the addresses of the weather service, where it is three in the afternoon.</summary>
    private static async Task<TrialHouse> Empty()
    {
        var house = await TrialHouse.Open();
        File.Delete(house.PlanFile);
        string settings = Path.Combine(house.Folder, "gardenwatch.yaml");
        var lines = await File.ReadAllLinesAsync(settings, Ct);
        await File.WriteAllLinesAsync(settings, lines.Where(line => !line.StartsWith("mail:", StringComparison.Ordinal)), Ct);
        house.Weather.Now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        int hoursEast = 15 - house.Weather.Now.InUtc().Hour;
        // The database counts hours west of Greenwich.
        house.Weather.ZoneName = $"Etc/GMT{-(hoursEast > 12 ? hoursEast - 24 : hoursEast):+0;-0;+0}";
        house.Weather.Towns = [.. Towns.Select(town => town.Replace("ZONE", house.Weather.ZoneName, StringComparison.Ordinal))];
        return house;
    }

    private static async Task TheNextIsThatOfTheNextMorning(TrialHouse house, RunningService running)
    {
        await running.Knocked();
        Assert.Equal(0, (await running.Stop()).Code);
        await house.Live(house.Weather.Now + Duration.FromMinutes(10), mails: 0);
        string next = await house.Live(house.Weather.Now + Duration.FromHours(15), mails: 1);
        Assert.DoesNotContain(FirstOfAll, house.Mail.Kept[^1].Words(), StringComparison.Ordinal);
        Assert.DoesNotContain("left out", next, StringComparison.Ordinal);
    }

    private static void Tell(Stopwatch watch, string how) =>
        TestContext.Current.TestOutputHelper?.WriteLine($"{watch.Elapsed.TotalSeconds:0.0} s from the first question to the first digest ({how})");

    private static async Task<string> Sent(HttpClient browser, params (string Name, string Value)[] fields)
    {
        using var form = new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        using var answer = await browser.PostAsync(new Uri("/new", UriKind.Relative), form, Ct);
        return await answer.Content.ReadAsStringAsync(Ct);
    }

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();

    [GeneratedRegex("name=\"known\" value=\"([^\"]+)\"")]
    private static partial Regex Known();
}

using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using GardenWatch.Acceptance.Mailbox;
using GardenWatch.Acceptance.Trials;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>
/// Killed at random instants while answers come by command, page and mail: what was said to be written is there after the
/// restart, a mail's answer once whatever happened, and nothing by halves. <c>GARDENWATCH_KILLS=1000</c> makes it longer.
/// </summary>
public sealed partial class KilledWhileAnsweringTests(RealMailbox mailbox) : IClassFixture<RealMailbox>
{
    private const string Garden = "/gardens/mill-bank", Account = "garden@example.org";
    private const int UsualKills = 6;
    private const int MailsToALife = 3;
    private const int Seed = 20260521;

    private static readonly Instant Day = TrialHouse.Morning(12, 30);
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("GARDENWATCH_KILLS"), CultureInfo.InvariantCulture, out int asked) ? asked : UsualKills;

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_command_that_said_it_was_written_down_has_written_it()
    {
        await using var house = await TrialHouse.Open();
        var random = new Random(Seed);
        var watch = Stopwatch.StartNew();
        Assert.Equal(0, (await house.Command(Day, "note", "before")).WithoutStackTrace().Code);
        var span = watch.Elapsed;
        int said = 0;
        for (int kill = 0; kill < Kills; kill++)
        {
            string words = $"by command {kill}";
            using var process = Process.Start(TheProgram.Start(house.Folder, new Dictionary<string, string>(), "note", words, "--config", house.Folder, "--as-of", "2026-05-12T04:30:00Z"))!;
            process.StandardInput.Close();
            var output = process.StandardOutput.ReadToEndAsync(Ct);
            await Task.Delay(span * (0.3 + 0.8 * random.NextDouble()), Ct);
            process.Kill();
            await process.WaitForExitAsync(Ct);
            bool told = (await output).Contains(words, StringComparison.Ordinal);
            said += told ? 1 : 0;
            int written = Notes(house).Count(note => note == words);
            Assert.InRange(written, told ? 1 : 0, 1);
        }
        Assert.True(house.Records.IsSound());
        TestContext.Current.TestOutputHelper?.WriteLine($"{Kills} kills, {said} after it was said");
    }

    [Fact]
    public async Task What_the_page_took_is_there_after_the_restart()
    {
        await using var house = await TrialHouse.Open();
        var random = new Random(Seed);
        var said = new List<string>();
        var sent = new List<string>();
        for (int kill = 0; kill < Kills; kill++)
        {
            await using var service = house.Run(Day);
            await service.Knocked();
            using var browser = new HttpClient(new HttpClientHandler { CookieContainer = new(), AllowAutoRedirect = false }) { BaseAddress = new($"http://127.0.0.1:{house.Port}") };
            string token = Token().Match(await browser.GetStringAsync(new Uri(Garden + "/journal", UriKind.Relative), Ct)).Groups[1].Value;
            var end = Task.Delay(TimeSpan.FromMilliseconds(400 * random.NextDouble()), Ct).ContinueWith(_ => service.Kill(), Ct, TaskContinuationOptions.None, TaskScheduler.Default).Unwrap();
            try
            {
                for (int i = 0; i < 20; i++)
                {
                    string words = $"by page {kill} {i}";
                    sent.Add(words);
                    using var form = new FormUrlEncodedContent([KeyValuePair.Create("token", token), KeyValuePair.Create("note", words)]);
                    using var answer = await browser.PostAsync(new Uri(Garden + "/note", UriKind.Relative), form, Ct);
                    Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
                    said.Add(words);
                }
            }
            catch (HttpRequestException)
            {
                // The death it is about.
            }
            await end;
        }
        Assert.Equal(0, await Ended(house));
        var notes = Notes(house);
        Assert.All(said, words => Assert.Single(notes, words));
        Assert.Equal(notes.Count, notes.Distinct().Count());
        Assert.Subset(sent.ToHashSet(), notes.ToHashSet());
        Assert.True(house.Records.IsSound());
        TestContext.Current.TestOutputHelper?.WriteLine($"{Kills} kills, {said.Count} of {sent.Count} notes said to be written, {notes.Count} there");
    }

    [Theory]
    [InlineData("mid-answer")]
    [InlineData("after-answer")]
    public async Task A_death_while_a_mail_is_taken_writes_it_once(string failpoint)
    {
        mailbox.Needed();
        await using var house = await WithReplies();
        string digest = await FirstDigest(house);
        string words = $"by mail, {failpoint}";
        await Put(digest, words, failpoint);
        await using (var dying = house.Run(Day, failpoint))
        {
            Assert.Equal(128 + 9, (await dying.End()).Code);
        }
        await Settled(house, Day + Duration.FromMinutes(2), [words]);
        await Settled(house, Day + Duration.FromMinutes(4), [words]);
        Assert.Single(Notes(house), words);
        Assert.True(house.Records.IsSound());
    }

    [Fact]
    public async Task Each_mail_is_written_down_once_whenever_the_service_died()
    {
        mailbox.Needed();
        await using var house = await WithReplies();
        string digest = await FirstDigest(house);
        var random = new Random(Seed);
        var watch = Stopwatch.StartNew();
        await Put(digest, "by mail first", "first");
        await Settled(house, Day, ["by mail first"]);
        var span = watch.Elapsed;
        var sent = new List<string>();
        for (int kill = 0; kill < Kills; kill++)
        {
            for (int i = 0; i < MailsToALife; i++)
            {
                sent.Add($"by mail {kill} {i}");
                await Put(digest, sent[^1], $"{kill}.{i}");
            }
            await using var service = house.Run(Day + Duration.FromMinutes(2 * (kill + 1)));
            await Task.Delay(span * random.NextDouble(), Ct);
            await service.Kill();
        }
        await Settled(house, Day + Duration.FromMinutes(2 * (Kills + 2)), sent);
        var notes = Notes(house).Where(note => note.StartsWith("by mail ", StringComparison.Ordinal) && note != "by mail first").ToList();
        Assert.Equal(sent.Order(StringComparer.Ordinal), notes.Order(StringComparer.Ordinal));
        Assert.True(house.Records.IsSound());
        TestContext.Current.TestOutputHelper?.WriteLine($"{Kills} kills, {sent.Count} mails, each written once");
    }

    private async Task<TrialHouse> WithReplies()
    {
        var house = await TrialHouse.Open();
        house.WriteSettings(mailbox.Settings(), mailbox.Ports.Submission);
        await File.AppendAllTextAsync(
            Path.Combine(house.Folder, "gardenwatch.yaml"), $"\nreplies: {{ host: localhost, port: {mailbox.Ports.Imap}, security: starttls, folder: INBOX, address: {Account} }}\n", Ct);
        return house;
    }

    /// <summary>The Message-ID of a digest that went out.</summary>
    private static async Task<string> FirstDigest(TrialHouse house)
    {
        await using var service = house.Run(TrialHouse.Morning(12));
        await service.Says("was accepted");
        Assert.Equal(0, (await service.Stop()).Code);
        return Assert.Single(house.Records.States()).Key;
    }

    private Task Put(string digest, string words, string id) => mailbox.Put(
        Account, Encoding.UTF8.GetBytes($"From: pat@example.org\r\nTo: {Account}\r\nMessage-ID: <{Guid.NewGuid():N}.{id.Replace(' ', '-')}@example.org>\r\nIn-Reply-To: <{digest}>\r\nContent-Type: text/plain\r\n\r\n{words}\r\n"), Ct);

    /// <summary>One life until these notes are written down, and a clean end.</summary>
    private static async Task Settled(TrialHouse house, Instant asOf, IReadOnlyList<string> notes)
    {
        await using var service = house.Run(asOf);
        await service.Until(() => notes.Except(NotesNow(house)).FirstOrDefault() is null, "notes by mail");
        await service.Knocked();
        Assert.Equal(0, (await service.Stop()).Code);
    }

    /// <summary>Empty when the file was written to while it was copied.</summary>
    private static List<string> NotesNow(TrialHouse house)
    {
        try
        {
            return Notes(house);
        }
        catch (SqliteException)
        {
            return [];
        }
    }

    private static async Task<int> Ended(TrialHouse house)
    {
        await using var service = house.Run(Day);
        await service.Knocked();
        return (await service.Stop()).Code;
    }

    private static List<string> Notes(TrialHouse house) => [.. house.Records.Read("SELECT text FROM journal WHERE kind = 'note'").Select(row => row[0])];

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}

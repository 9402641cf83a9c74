using System.Globalization;
using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.Smtp;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>Killed at any instant and restarted: no message lost; none doubled beyond what the other side can't tell.</summary>
public class KilledAtAnyInstantTests
{
    private const string KillsVariable = "GARDENWATCH_KILLS";
    private const int UsualKills = 20;
    private const int Seed = 20260512;

    /// <summary>What was being sent at a death is offered again ten minutes after the next start.</summary>
    private const int MinutesBetweenLives = 11;

    /// <param name="deliveries">Two only where the server had taken the mail and nothing was written down yet.</param>
    [Theory]
    [InlineData("before-digest-stored", 1)]
    [InlineData("after-digest-stored", 1)]
    [InlineData("before-claim", 1)]
    [InlineData("after-claim", 1)]
    [InlineData("after-send", 2)]
    [InlineData("after-mark", 1)]
    [InlineData("mid-migration", 1)]
    [InlineData("mid-backup", 1)]
    public async Task A_death_at_a_named_place_loses_nothing(string failpoint, int deliveries)
    {
        await using var house = await TrialHouse.Open();
        await using (var dying = house.Run(TrialHouse.Morning(12), failpoint))
        {
            Assert.Equal(128 + 9, (await dying.End()).Code);
        }
        int taken = house.Mail.Kept.Count;
        bool inDoubt = failpoint is "after-claim" or "after-send";

        await house.Live(TrialHouse.Morning(12, MinutesBetweenLives), mails: inDoubt ? 0 : 1 - taken);
        await house.Live(TrialHouse.Morning(12, 2 * MinutesBetweenLives), mails: inDoubt ? 1 : 0);
        await house.Live(TrialHouse.Morning(12, 3 * MinutesBetweenLives), mails: 0);

        Assert.Equal(deliveries, house.Mail.Kept.Count);
        Assert.Single(house.Mail.Kept.Select(mail => Convert.ToHexString(mail.Bytes.AsSpan())).Distinct());
        Assert.Equal("sent", Assert.Single(house.Records.States()).Value);
        Assert.True(house.Records.IsSound());
        Assert.Empty(Directory.GetFiles(house.Data, "*.partial", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task A_death_at_a_random_instant_loses_nothing_and_doubles_only_what_nobody_could_tell()
    {
        int kills = int.TryParse(Environment.GetEnvironmentVariable(KillsVariable), CultureInfo.InvariantCulture, out int asked) ? asked : UsualKills;
        // A long trial comes into winter, and each of its mornings is to be counted.
        string plan = TrialPlan.For("pat@example.org", "sam@example.org").Replace("digest: { ", "digest: { at rest: daily, ", StringComparison.Ordinal);
        await using var house = await TrialHouse.Open(plan);
        var random = new Random(Seed);
        var tally = new KillTally();
        var started = TimeProvider.System.GetTimestamp();
        await house.Live(TrialHouse.Morning(1), mails: 2);
        // A life from start to mail and a clean end is the span in which deaths are drawn.
        var span = TimeProvider.System.GetElapsedTime(started);

        for (int day = 1; tally.Kills < kills; day++)
        {
            var morning = TrialHouse.MorningAfter(day);
            int lives = random.Next(1, 4);
            for (int life = 0; life < lives; life++)
                await DieAfter(span * random.NextDouble(), house, morning + Duration.FromMinutes(MinutesBetweenLives * life), tally);
            for (int life = lives; life < lives + 2; life++)
                await LiveOn(house, morning + Duration.FromMinutes(MinutesBetweenLives * life), isLast: life == lives + 1);
            tally.Mornings++;
        }

        var morningsMails = house.Mail.Kept.GroupBy(mail => mail.Id()).ToList();
        TestContext.Current.TestOutputHelper?.WriteLine($"{tally} over {morningsMails.Count} digests");
        foreach (var deliveries in morningsMails)
        {
            Assert.Single(deliveries.Select(mail => Convert.ToHexString(mail.Bytes.AsSpan())).Distinct());
            Assert.Equal(1 + tally.DoubtedAfterAcceptance.GetValueOrDefault(deliveries.Key), deliveries.Count());
        }
        Assert.All(house.Records.States().Values, state => Assert.Equal("sent", state));
        Assert.Equal(morningsMails.Count, house.Records.States().Count);
        Assert.Equal(2 * (tally.Mornings + 1), morningsMails.Count);
        Assert.True(house.Records.IsSound());
    }

    /// <summary>Each time the server had taken it, and nobody could know.</summary>
    [Theory]
    [InlineData("after-claim", 1)]
    [InlineData("after-send", 5)]
    public async Task Four_deaths_while_sending_lose_nothing(string failpoint, int deliveries)
    {
        await using var house = await TrialHouse.Open();
        int minute = 0;
        // From the third death on the gap doubles.
        foreach (int gap in (int[])[11, 11, 21, 41])
        {
            await using (var dying = house.Run(TrialHouse.Morning(12, minute), failpoint))
            {
                Assert.Equal(128 + 9, (await dying.End()).Code);
            }
            await house.Live(TrialHouse.Morning(12, minute), mails: 0);
            minute += gap;
        }

        await house.Live(TrialHouse.Morning(12, minute), mails: 1);

        Assert.Equal(deliveries, house.Mail.Kept.Count);
        Assert.Single(house.Mail.Kept.Select(mail => Convert.ToHexString(mail.Bytes.AsSpan())).Distinct());
        Assert.Equal("sent", Assert.Single(house.Records.States()).Value);
    }

    [Fact]
    public async Task A_clean_stop_waits_for_the_answer_of_a_mail_that_is_on_its_way()
    {
        await using var house = await TrialHouse.Open();
        house.Mail.Next(SmtpFault.HangAfterDot);
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await house.MailsCome(1);
            var stopping = service.Stop();
            house.Mail.Release();
            Assert.Equal(0, (await stopping).Code);
        }

        await house.Live(TrialHouse.Morning(12, MinutesBetweenLives), mails: 0);
    }

    private static async Task DieAfter(TimeSpan delay, TrialHouse house, Instant asOf, KillTally tally)
    {
        int before = house.Mail.Kept.Count;
        await using var service = house.Run(asOf);
        // The one wait by the clock: that it is blind to what the program does is its point.
        await Task.Delay(delay, TestContext.Current.CancellationToken);
        await service.Kill();
        await house.Mail.Quiet();
        tally.Kills++;
        var states = File.Exists(house.Records.Database) ? house.Records.States() : new Dictionary<string, string>();
        foreach (var mail in house.Mail.Kept.Skip(before))
        {
            if (states[mail.Id()] == "sent")
                continue;
            tally.Doubted(mail.Id());
        }
        if (house.Mail.Kept.Count == before)
            tally.BeforeAcceptance++;
    }

    private static async Task LiveOn(TrialHouse house, Instant asOf, bool isLast)
    {
        await using var service = house.Run(asOf);
        await service.Knocked();
        if (isLast)
            await service.Ready(answer => answer.GetProperty("mail").GetString() == "nothing waits");
        Assert.Equal(0, (await service.Stop()).Code);
    }

    private sealed class KillTally
    {
        public int Kills { get; set; }
        public int Mornings { get; set; }
        public int BeforeAcceptance { get; set; }
        public Dictionary<string, int> DoubtedAfterAcceptance { get; } = [];

        public void Doubted(string id) => DoubtedAfterAcceptance[id] = DoubtedAfterAcceptance.GetValueOrDefault(id) + 1;

        public override string ToString() => string.Create(CultureInfo.InvariantCulture,
            $"{Kills} kills on {Mornings} mornings, {BeforeAcceptance} before any mail was taken, {DoubtedAfterAcceptance.Values.Sum()} between acceptance and mark (each doubled, same bytes)");
    }
}

using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;
using static GardenWatch.Tests.Rounds.HouseBench;

namespace GardenWatch.Tests.Rounds;

/// <summary>Push beside mail and without it: second ways out, quiet hours, and what hangs. In virtual time, on a day before a frost.</summary>
public sealed class ChannelRoundsTests : StoreCase
{
    private static readonly SendOutcome Taken = new SendOutcome.Accepted("250");
    private static readonly SendOutcome Later = new SendOutcome.TryLater("no connection");

    private HouseBench Bench(bool hasMail = true)
    {
        var bench = new HouseBench(Data) { HasMail = hasMail };
        bench.Mail.Now = bench.Push.Now = bench.Hub.Now = bench.Clock.GetCurrentInstant;
        return bench;
    }

    /// <summary>Begun in the afternoon, so that no digest has told of the frost.</summary>
    /// <summary>Of a garden that had its first digest long ago.</summary>
    private static House Potatoes(HouseBench bench, GardenStore store, string digest)
    {
        store.Ledger.Mark("mill-bank", LedgerTable.DigestRested, Sunday.PlusDays(-1), At(Sunday.PlusDays(-1), 6, 0));
        return bench.House(store,
            PlanText.Replace("digest: { at: \"06:00\", to: [pat@example.org] }", $"digest: {digest}", StringComparison.Ordinal)
            + "\n  - { crop: potato, bed: low bed, growing: yes }");
    }

    private static async Task Evening(HouseBench bench, House house, int until, int everyMinutes = 5)
    {
        for (int minute = 16 * 60 + 50; minute <= until * 60; minute += everyMinutes)
            await bench.Knock(house, At(Sunday, minute / 60, minute % 60));
    }

    [Fact]
    public async Task What_mail_does_not_take_in_twenty_minutes_goes_by_push()
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [pat@example.org], urgent too: [push] }");
        bench.Mail.Answer = () => Later;

        await Evening(bench, house, until: 20);

        var (at, subject) = Assert.Single(bench.Push.Taken);
        Assert.Equal(At(Sunday, 17, 20), at);
        Assert.StartsWith("Frost tonight", subject, StringComparison.Ordinal);
        Assert.True(bench.Mail.Offers.Count > 5, "an urgent mail is tried again every five minutes");
        Assert.Equal(["pending", "sent"], store.Outbox.Recent(9, Instant.MaxValue).Select(row => row.State.ToString().ToLowerInvariant()).Order());
    }

    [Fact]
    public async Task What_mail_takes_in_time_needs_no_push()
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [pat@example.org], urgent too: [push] }");
        bench.Mail.Answer = () => bench.Clock.GetCurrentInstant() < At(Sunday, 17, 15) ? Later : Taken;

        await Evening(bench, house, until: 20);

        Assert.Single(bench.Mail.Taken);
        Assert.Empty(bench.Push.Taken);
        Assert.Contains(store.Outbox.Recent(9, Instant.MaxValue), row => row is { State: OutboxState.Skipped, Key.Addressee: "push" });
    }

    [Fact]
    public async Task A_second_way_ends_with_the_event_as_the_first_does()
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [pat@example.org], urgent too: [push] }");
        bench.Mail.Answer = () => Later;
        bench.Push.Answer = _ => Task.FromResult(Later);

        await Evening(bench, house, until: 23, everyMinutes: 10);

        var rows = store.Outbox.Recent(9, Instant.MaxValue);
        Assert.Equal(2, rows.Count);
        Assert.All(rows, row => Assert.Equal(OutboxState.Expired, row.State));
    }

    [Fact]
    public async Task What_mail_refuses_for_good_goes_by_push_at_once()
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [pat@example.org], urgent too: [push] }");
        bench.Mail.Answer = () => new SendOutcome.Refused("550 no such account");

        await Evening(bench, house, until: 18);

        Assert.Equal(At(Sunday, 17, 5), Assert.Single(bench.Push.Taken).At);
    }

    [Theory]
    [InlineData(true, 5)]
    [InlineData(false, 20)]
    public async Task The_second_way_follows_each_addressee_who_is_not_reached(bool refused, int minute)
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [pat@example.org, sam@example.org], urgent too: [push] }");
        bench.Mail.AnswerFor = to => to == "sam@example.org" ? Task.FromResult(refused ? new SendOutcome.Refused("550 no such account") : Later) : null;

        await Evening(bench, house, until: 18);

        Assert.Equal("pat@example.org", Assert.Single(bench.Mail.Taken).To);
        Assert.Equal(At(Sunday, 17, minute), Assert.Single(bench.Push.Taken).At);
    }

    [Theory]
    [InlineData("[home hub, pat@example.org]", 20)]
    [InlineData("[home hub]", 0)] // there is no first way to wait for
    public async Task What_the_home_hub_took_has_reached_nobody(string to, int minute)
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, $"{{ to: {to}, urgent too: [push] }}");
        bench.Mail.Answer = () => Later;

        await Evening(bench, house, until: 18);

        Assert.Single(bench.Hub.Taken);
        Assert.Equal(At(Sunday, 17, minute), Assert.Single(bench.Push.Taken).At);
    }

    [Fact]
    public async Task A_server_that_asks_for_half_a_day_is_tried_again_while_the_warning_is_of_use()
    {
        using var bench = Bench(hasMail: false);
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [push] }");
        bench.Push.Answer = _ => Task.FromResult(
            bench.Clock.GetCurrentInstant() < At(Sunday, 17, 30) ? new SendOutcome.TryLater("429") { WaitAtLeast = TimeSpan.FromHours(12) } : Taken);

        await Evening(bench, house, until: 20);

        Assert.Equal(At(Sunday, 17, 40), Assert.Single(bench.Push.Taken).At);
    }

    [Theory]
    [InlineData(false, 19, 0)]
    [InlineData(true, 17, 15)]
    public async Task A_push_that_is_tried_again_keeps_the_quiet_hours_too_unless_a_frost_may_wake(bool mayWake, int hour, int minute)
    {
        using var bench = Bench(hasMail: false);
        using var store = Open();
        var house = Potatoes(bench, store, $"{{ to: [push], quiet: 17:12-19:00, frost may wake: {(mayWake ? "yes" : "no")} }}");
        bench.Push.Answer = _ => Task.FromResult(bench.Clock.GetCurrentInstant() < At(Sunday, 17, 12) ? Later : Taken);

        await Evening(bench, house, until: 20);

        Assert.Equal(At(Sunday, hour, minute), Assert.Single(bench.Push.Taken).At);
    }

    [Fact]
    public async Task A_push_in_doubt_is_not_offered_again_in_the_quiet_hours()
    {
        using var bench = Bench(hasMail: false);
        using var store = Open();
        var house = Potatoes(bench, store, "{ to: [push], quiet: 17:05-19:00 }");
        bench.Push.Answer = _ => Task.FromResult(bench.Clock.GetCurrentInstant() < At(Sunday, 17, 5) ? new SendOutcome.InDoubt("no answer") : Taken);

        await Evening(bench, house, until: 20);

        Assert.Equal(At(Sunday, 19, 0), Assert.Single(bench.Push.Taken).At);
    }

    [Theory]
    [InlineData("16:30-18:00", false, 18, 0)] // there is still an hour of light for it
    [InlineData("16:30-18:00", true, 17, 0)]
    [InlineData("16:30-23:00", false, null, null)] // by then nothing can be done
    [InlineData("16:30-23:00", true, 17, 0)]
    [InlineData("22:00-06:00", false, 17, 0)]
    public async Task Quiet_hours_hold_a_push_back_unless_a_frost_may_wake(string quiet, bool mayWake, int? hour, int? minute)
    {
        using var bench = Bench(hasMail: false);
        using var store = Open();
        var house = Potatoes(bench, store, $"{{ to: [push], quiet: {quiet}, frost may wake: {(mayWake ? "yes" : "no")} }}");

        await Evening(bench, house, until: 23, everyMinutes: 10);

        Assert.Equal(hour is { } h ? [At(Sunday, h, minute!.Value)] : [], bench.Push.Taken.Select(taken => taken.At));
    }

    [Fact]
    public async Task A_digest_is_pushed_when_the_quiet_hours_end()
    {
        using var bench = Bench(hasMail: false);
        using var store = Open();
        var house = Potatoes(bench, store, "{ at: \"06:00\", to: [push], quiet: 22:00-07:30 }");

        for (int minute = 5 * 60 + 45; minute <= 8 * 60; minute += 15)
            await bench.Knock(house, At(Sunday, minute / 60, minute % 60));

        Assert.Equal(At(Sunday, 7, 30), Assert.Single(bench.Push.Taken).At);
    }

    [Fact]
    public async Task A_push_server_that_hangs_holds_up_neither_mail_nor_the_knock()
    {
        using var bench = Bench();
        using var store = Open();
        var house = Potatoes(bench, store, "{ at: \"06:00\", to: [push, pat@example.org] }");
        bench.Push.Answer = async ct =>
        {
            await Task.Delay(Timeout.InfiniteTimeSpan, ct);
            return Taken;
        };

        bench.Clock.Reset(At(Sunday, 6));
        await house.Round!.Knock(TestContext.Current.CancellationToken);
        await bench.Push.Reached;
        await bench.Mail.Reached;
        bench.Clock.Reset(At(Sunday, 6, 15));
        await house.Round.Knock(TestContext.Current.CancellationToken);

        Assert.Equal("pat@example.org", Assert.Single(bench.Mail.Taken).To);
        Assert.Empty(bench.Push.Taken);
        await house.Round.EndSending(TimeSpan.Zero);
    }

    [Fact]
    public async Task Addressees_whose_servers_hang_hold_up_no_other_addressee_and_their_own_digests_no_warning()
    {
        using var bench = Bench();
        using var store = Open();
        string[] hanging = ["a@example.org", "b@example.org", "c@example.org", "d@example.org", "e@example.org"];
        var house = Potatoes(bench, store, $"{{ at: \"11:00\", to: [{string.Join(", ", hanging)}, pat@example.org] }}");
        bench.Mail.AnswerFor = to => hanging.Contains(to) ? new TaskCompletionSource<SendOutcome>().Task : null;

        bench.Clock.Reset(At(Sunday, 11));
        await house.Round!.Knock(TestContext.Current.CancellationToken);
        await bench.Mail.Reached.WaitAsync(TestContext.Current.CancellationToken);

        Assert.Equal("pat@example.org", Assert.Single(bench.Mail.Taken).To);

        // The frost is new in the evening; the digests of eleven still hang.
        bench.Mail.AnswerFor = _ => null;
        store.Connection.Run("DELETE FROM last_said");
        bench.Clock.Reset(At(Sunday, 17));
        await house.Round.Knock(TestContext.Current.CancellationToken);
        await house.Round.EndSending(TimeSpan.Zero);
        Assert.Equal([.. hanging, "pat@example.org"], bench.Mail.Taken.Skip(1).Select(mail => mail.To).Order());
    }

    [Fact]
    public async Task Without_mail_a_plan_that_names_an_address_is_seen_to_have_no_way_out()
    {
        using var store = Open();
        using var bench = Bench(hasMail: false);
        var house = bench.House(store, new NoPostbox(), PlanText);

        await bench.Knock(house, At(Sunday, 6));

        var row = Assert.Single(store.Outbox.Recent(9, Instant.MaxValue));
        Assert.Equal(OutboxState.Refused, row.State);
        Assert.Contains("sets no mail server up", row.LastReply, StringComparison.Ordinal);
    }
}

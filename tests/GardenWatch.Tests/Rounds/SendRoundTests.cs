using System.Collections.Concurrent;
using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

public sealed class SendRoundTests : StoreCase
{
    private static readonly SendOutcome Taken = new SendOutcome.Accepted("250 ok");

    private readonly FakeClock clock = new(Morning);
    private readonly ConcurrentQueue<string> offered = new();
    private readonly Heard log = new();

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>A post that answers by addressee and notes what it was offered.</summary>
    private SendRound Round(GardenStore store, Func<OutboxRow, SendOutcome> answer, Func<CancellationToken, Task>? afterDigest = null) =>
        new(store.Outbox, (row, _) =>
        {
            offered.Enqueue($"{row.Key.Addressee} {Convert.ToHexString(row.Bytes)} {row.MessageId}");
            return Task.FromResult(answer(row));
        }, clock, () => 0, log, afterDigest);

    [Fact]
    public async Task What_is_accepted_is_sent_once()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        using var round = Round(store, _ => Taken);

        await round.Run(Ct);
        await round.Run(Ct);

        Assert.Single(offered);
        var row = store.Outbox.Find(Digest().Key)!;
        Assert.Equal((OutboxState.Sent, "250 ok", Morning), (row.State, row.LastReply, row.EndedAt));
    }

    [Fact]
    public async Task One_refused_addressee_does_not_hold_the_others()
    {
        using var store = Open();
        store.Outbox.Add(Digest("a@example.org"), Digest("b@example.org"), Digest("c@example.org"));
        using var round = Round(store, row => row.Key.Addressee[0] switch
        {
            'a' => new SendOutcome.Refused("550 no such user"),
            'b' => throw new InvalidOperationException("a bug in the channel"),
            _ => Taken,
        });

        await round.Run(Ct);

        Assert.Equal(
            [OutboxState.Refused, OutboxState.InDoubt, OutboxState.Sent],
            "abc".Select(name => store.Outbox.Find(Digest($"{name}@example.org").Key)!.State));
        clock.AdvanceDays(1);
        offered.Clear();
        await round.Run(Ct);
        Assert.Empty(offered);
    }

    [Fact]
    public async Task One_that_hangs_does_not_hold_the_others_nor_the_next_round()
    {
        using var store = Open();
        store.Outbox.Add(Digest("a@example.org"), Digest("b@example.org"));
        var hang = new TaskCompletionSource<SendOutcome>();
        var sentToB = new TaskCompletionSource();
        using var round = new SendRound(
            store.Outbox,
            (row, _) =>
            {
                offered.Enqueue(row.Key.Addressee);
                if (row.Key.Addressee == "b@example.org")
                    sentToB.SetResult();
                return row.Key.Addressee == "a@example.org" ? hang.Task : Task.FromResult(Taken);
            },
            clock, () => 0, log);

        var first = round.Run(Ct);
        await sentToB.Task.WaitAsync(Ct);
        await round.Run(Ct);
        Assert.False(first.IsCompleted);
        Assert.Equal(["a@example.org", "b@example.org"], offered);

        hang.SetResult(Taken);
        await first;
        Assert.Equal(OutboxState.Sent, store.Outbox.Find(Digest("a@example.org").Key)!.State);
    }

    [Fact]
    public async Task Gaps_grow_and_a_last_try_is_made_just_before_the_digest_expires()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        var tries = new List<int>();
        using var round = Round(store, _ =>
        {
            tries.Add((int)(clock.GetCurrentInstant() - Morning).TotalMinutes);
            return new SendOutcome.TryLater("451 later");
        });

        for (int minute = 0; minute < 7 * 60; minute++)
        {
            await round.Run(Ct);
            clock.AdvanceMinutes(1);
        }

        // 1, 5, 15, 60 minutes and on by the hour, then half of what is left.
        Assert.Equal([0, 1, 6, 21, 81, 141, 201, 261], tries.Take(8));
        Assert.Equal(359, tries[^1]);
        Assert.InRange(tries.Count, 12, 18);
        Assert.Equal(OutboxState.Expired, store.Outbox.Find(Digest().Key)!.State);
    }

    [Fact]
    public void Jitter_only_lengthens_and_urgent_ones_wait_five_minutes_at_most()
    {
        var left = Duration.FromHours(6);

        Assert.Equal(Duration.FromSeconds(72), Gaps.BeforeSending(1, urgent: false, left, jitter: 1));
        Assert.Equal(Duration.FromMinutes(5), Gaps.BeforeSending(9, urgent: true, left, jitter: 1));
        Assert.Equal(Duration.FromMinutes(1), Gaps.BeforeSending(9, urgent: true, Duration.FromSeconds(20), jitter: 0));
    }

    [Fact]
    public async Task What_may_have_arrived_is_offered_twice_more_with_the_same_bytes()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        using var round = Round(store, _ => new SendOutcome.InDoubt("the line broke after the body"));

        for (int minute = 0; minute < 120; minute++)
        {
            await round.Run(Ct);
            Assert.Equal(1 + Math.Min(2, minute / 10), offered.Count);
            clock.AdvanceMinutes(1);
        }

        Assert.Single(offered.Distinct());
        Assert.Equal(OutboxState.InDoubt, store.Outbox.Find(Digest().Key)!.State);
    }

    [Fact]
    public async Task What_was_being_sent_at_a_death_is_offered_again_after_ten_minutes()
    {
        using (var store = Open())
        {
            store.Outbox.Add(Digest());
            Assert.True(store.Outbox.TryClaim(store.Outbox.Due(Morning)[0].Id, Morning).IsWritten);
        }
        using var restarted = Open();
        using var round = Round(restarted, _ => Taken);

        await round.Run(Ct);
        clock.AdvanceMinutes(9);
        await round.Run(Ct);
        Assert.Empty(offered);
        clock.AdvanceMinutes(1);
        await round.Run(Ct);
        Assert.Single(offered);
        Assert.Contains(114, log.Events);
    }

    [Fact]
    public async Task Stopping_while_sending_leaves_the_message_in_doubt()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Ct);
        var begun = new TaskCompletionSource();
        using var round = new SendRound(
            store.Outbox,
            (_, _) =>
            {
                begun.SetResult();
                return new TaskCompletionSource<SendOutcome>().Task;
            },
            clock, () => 0, log);

        var running = round.Run(stop.Token);
        await begun.Task.WaitAsync(Ct);
        await stop.CancelAsync();
        await running;

        Assert.Equal(OutboxState.InDoubt, store.Outbox.Find(Digest().Key)!.State);
    }

    [Fact]
    public async Task Only_an_accepted_digest_beats_the_heart()
    {
        using var store = Open();
        store.Outbox.Add(Digest("a@example.org"), Digest("b@example.org"), Warning("a@example.org"));
        int beats = 0;
        using var round = Round(
            store, row => row.Key.Addressee == "a@example.org" ? Taken : new SendOutcome.Refused("550"),
            _ =>
            {
                Interlocked.Increment(ref beats);
                return Task.CompletedTask;
            });

        await round.Run(Ct);

        Assert.Equal(1, beats);
    }

    [Fact]
    public async Task On_a_full_disk_urgent_messages_go_out_once_and_digests_wait()
    {
        using var store = Open();
        store.Outbox.Add(Digest(), Warning());
        FillDiskForMarks(store);
        using var round = Round(store, _ => Taken);

        await round.Run(Ct);
        await round.Run(Ct);

        Assert.Equal(Warning().MessageId, Assert.Single(offered).Split(' ')[2]);
        Assert.Equal([115, 116], log.Events.Where(number => number is 115 or 116).Order());

        // There is room again: what was sent is written down, what waited goes out.
        store.Connection.Run("DROP TRIGGER full");
        await round.Run(Ct);
        Assert.Equal(2, offered.Count);
        Assert.Equal(OutboxState.Sent, store.Outbox.Find(Warning().Key)!.State);
        Assert.Equal(OutboxState.Sent, store.Outbox.Find(Digest().Key)!.State);
    }

    [Fact]
    public async Task On_a_full_disk_an_urgent_message_is_tried_again_with_gaps_and_left_when_in_doubt()
    {
        using var store = Open();
        store.Outbox.Add(Warning());
        FillDiskForMarks(store);
        var tries = new List<int>();
        using var round = Round(store, _ =>
        {
            tries.Add((int)(clock.GetCurrentInstant() - Morning).TotalMinutes);
            return tries.Count <= 3 ? new SendOutcome.TryLater("451") : new SendOutcome.InDoubt("dropped");
        });

        for (int minute = 0; minute < 180; minute++)
        {
            await round.Run(Ct);
            clock.AdvanceMinutes(1);
        }

        Assert.Equal([0, 1, 6, 11, 21, 31], tries);
    }

    [Fact]
    public async Task A_digest_whose_mark_found_no_room_is_not_forgotten()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        bool full = true;
        using var round = Round(store, _ =>
        {
            if (!full)
                return Taken;
            FillDiskForMarks(store);
            return new SendOutcome.TryLater("451");
        });

        await round.Run(Ct);
        Assert.Equal(OutboxState.Sending, store.Outbox.Find(Digest().Key)!.State);
        clock.AdvanceMinutes(2);
        await round.Run(Ct);
        Assert.Single(offered);

        store.Connection.Run("DROP TRIGGER full");
        full = false;
        await round.Run(Ct);
        Assert.Equal(OutboxState.Sent, store.Outbox.Find(Digest().Key)!.State);
    }

    /// <summary>A mark changes a row in place and would find room; here it needs some, and there is none.</summary>
    private static void FillDiskForMarks(GardenStore store)
    {
        FillDisk(store);
        store.Connection.Run(
            """
            CREATE TEMP TRIGGER full BEFORE UPDATE ON main.outbox BEGIN
                INSERT INTO pull SELECT NULL, 'x' || random(), 'k', '', '', 1, '', '', zeroblob(50000);
            END
            """);
    }

    [Fact]
    public async Task A_warning_that_cannot_be_stored_goes_out_once()
    {
        using var store = Open();
        FillDisk(store);
        var heavy = Warning() with { Bytes = new byte[50_000] };
        Assert.IsType<WriteOutcome.Failed>(store.Outbox.Add(heavy));
        using var round = Round(store, _ => Taken);

        Assert.Equal(Taken, await round.SendUnstored(heavy, Ct));
        Assert.Null(await round.SendUnstored(heavy, Ct));
        Assert.Single(offered);
        await Assert.ThrowsAsync<ArgumentException>(() => round.SendUnstored(Digest(), Ct));
    }

    [Fact]
    public async Task A_message_stamped_ahead_of_the_clock_is_not_sent()
    {
        using var store = Open();
        store.Outbox.Add(Digest() with { CreatedAt = Morning + Duration.FromHours(1) });
        using var round = Round(store, _ => Taken);

        await round.Run(Ct);

        Assert.Empty(offered);
    }
}

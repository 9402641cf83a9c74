using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Store;

public sealed class OutboxTests : StoreCase
{
    [Fact]
    public void A_key_holds_one_message_whatever_the_case_of_the_address()
    {
        using var store = Open();

        Assert.IsType<WriteOutcome.Written>(store.Outbox.Add(Digest()));
        Assert.IsType<WriteOutcome.Unchanged>(store.Outbox.Add(Digest() with { Subject = "made again" }));
        Assert.IsType<WriteOutcome.Unchanged>(store.Outbox.Add(Digest("Pat@Example.org")));

        Assert.Equal("Wed 21 April", Assert.Single(store.Outbox.Due(Morning)).Subject);
    }

    [Fact]
    public void What_was_stored_is_sent_to_the_byte()
    {
        using (var store = Open())
            store.Outbox.Add(Digest());
        using var reopened = Open();

        var row = Assert.Single(reopened.Outbox.Due(Morning));

        Assert.Equal(Digest().Bytes, row.Bytes);
        Assert.Equal((Digest().Key, Digest().MessageId, Digest().ExpiresAt, Digest().Jobs), (row.Key, row.MessageId, row.ExpiresAt, row.Jobs));
    }

    [Fact]
    public void A_row_is_claimed_once()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        long id = store.Outbox.Due(Morning)[0].Id;

        Assert.IsType<WriteOutcome.Written>(store.Outbox.TryClaim(id, Morning));
        Assert.IsType<WriteOutcome.Unchanged>(store.Outbox.TryClaim(id, Morning));
        Assert.Empty(store.Outbox.Due(Morning));
    }

    [Fact]
    public void What_was_being_sent_when_the_process_died_is_offered_again_twice_and_then_left()
    {
        var now = Morning;
        using (var store = Open())
            store.Outbox.Add(Digest());
        var offered = new List<int>();
        for (int start = 0; start < 5; start++)
        {
            using var store = Open();
            store.Outbox.FindSendingAtStart(now);
            Assert.True(start == 0 || store.Outbox.Due(now + Duration.FromMinutes(9)).Count == 0);
            now += Duration.FromMinutes(10);
            foreach (var row in store.Outbox.Due(now))
            {
                Assert.Equal(Digest().Bytes, row.Bytes);
                Assert.True(store.Outbox.TryClaim(row.Id, now).IsWritten);
                offered.Add(start);
            }
        }

        Assert.Equal([0, 1, 2], offered);
        using var last = Open();
        var left = last.Outbox.Find(Digest().Key)!;
        Assert.Equal((OutboxState.InDoubt, 3, (Instant?)null), (left.State, left.Doubts, left.NextTryAt));
    }

    [Fact]
    public void A_message_is_not_offered_once_it_has_expired()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        var noon = Digest().ExpiresAt;

        Assert.Equal(noon, store.Outbox.NextExpiry());
        Assert.Single(store.Outbox.Due(noon - Duration.FromSeconds(1)));
        Assert.Empty(store.Outbox.Due(noon));
        Assert.True(store.Outbox.EndOverdue(noon).IsWritten);
        Assert.Equal(OutboxState.Expired, store.Outbox.Find(Digest().Key)!.State);
        Assert.Null(store.Outbox.NextExpiry());
    }

    [Fact]
    public void Urgent_messages_come_first()
    {
        using var store = Open();
        store.Outbox.Add(Digest(), Warning());

        Assert.Equal([MessageKind.Warning, MessageKind.Digest], store.Outbox.Due(Morning).Select(row => row.Key.Kind));
    }

    [Fact]
    public void A_second_channel_waits_and_is_skipped_once_the_first_got_through()
    {
        using var store = Open();
        store.Outbox.Add(Warning());
        var mail = store.Outbox.Due(Morning)[0];
        var push = Warning("push:quarry-lane") with { NotBefore = Morning + Duration.FromMinutes(20), FallbackFor = mail.Id };
        store.Outbox.Add(push);

        Assert.Equal([mail.Id], store.Outbox.Due(Morning + Duration.FromMinutes(19)).Select(row => row.Id));
        Assert.Equal(2, store.Outbox.Due(Morning + Duration.FromMinutes(20)).Count);

        store.Outbox.TryClaim(mail.Id, Morning);
        store.Outbox.MarkSent(mail, "250 ok", Morning);
        store.Outbox.EndOverdue(Morning + Duration.FromMinutes(20));
        Assert.Equal(OutboxState.Skipped, store.Outbox.Find(push.Key)!.State);
        Assert.Empty(store.Outbox.Due(Morning + Duration.FromMinutes(20)));
    }

    [Fact]
    public void Old_messages_lose_their_bytes_and_keep_their_keys_and_numbers()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        var row = store.Outbox.Due(Morning)[0];
        store.Outbox.TryClaim(row.Id, Morning);
        store.Outbox.MarkSent(row, "250 ok", Morning);

        Assert.True(store.Outbox.LightenBefore(Morning + Duration.FromDays(30)).IsWritten);

        var light = store.Outbox.LastSent("quarry-lane", MessageKind.Digest, Morning)!;
        Assert.Empty(light.Bytes);
        Assert.Equal(Digest().Jobs, light.Jobs);
        Assert.IsType<WriteOutcome.Unchanged>(store.Outbox.Add(Digest()));
    }

    [Fact]
    public void The_status_tells_of_what_waits_and_of_trouble_until_something_gets_through()
    {
        using var store = Open();
        store.Outbox.Add(Digest("a@example.org"), Digest("b@example.org"));
        Assert.Equal(new(2, Morning, null, null), store.Outbox.Stands());
        var rows = store.Outbox.Due(Morning);

        store.Outbox.TryClaim(rows[0].Id, Morning);
        store.Outbox.MarkRefused(rows[0].Id, "550 no such user", Morning);
        Assert.Equal(new(1, Morning, null, "550 no such user"), store.Outbox.Stands());

        var later = Morning + Duration.FromMinutes(1);
        store.Outbox.TryClaim(rows[1].Id, later);
        store.Outbox.MarkSent(rows[1], "250 ok", later);
        Assert.Equal(new(0, null, later, null), store.Outbox.Stands());
    }

    [Fact]
    public void On_a_full_disk_nothing_is_half_written()
    {
        using var store = Open();
        store.Outbox.Add(Digest());
        FillDisk(store);
        var heavy = Digest(date: "2027-04-22") with { Bytes = new byte[50_000] };

        var failed = Assert.IsType<WriteOutcome.Failed>(store.Outbox.Add(Warning(), heavy));

        Assert.Equal(StoreFault.DiskFull, failed.Fault);
        Assert.Contains(Data.Path, failed.Sentence, StringComparison.Ordinal);
        Assert.Single(store.Outbox.Due(Morning));
        Assert.True(store.Answers());
    }
}

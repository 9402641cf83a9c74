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
    public void What_was_being_sent_at_each_of_many_deaths_is_offered_again_until_it_expires_with_growing_gaps()
    {
        var now = Morning;
        using (var store = Open())
            store.Outbox.Add(Digest());
        var gaps = new List<double>();
        for (var offeredAt = now; now < Digest().ExpiresAt; now += Duration.FromMinutes(1))
        {
            using var store = Open();
            store.Outbox.FindSendingAtStart(now);
            foreach (var row in store.Outbox.Due(now))
            {
                Assert.Equal(Digest().Bytes, row.Bytes);
                Assert.True(store.Outbox.TryClaim(row.Id, now).IsWritten);
                gaps.Add((now - offeredAt).TotalMinutes);
                offeredAt = now;
            }
        }

        // Each death is found a minute after the offer; from six to noon that makes seven.
        Assert.Equal([0, 11, 11, 21, 41, 81, 161], gaps);
        using var last = Open();
        Assert.True(last.Outbox.EndOverdue(now).IsWritten);
        Assert.Equal(OutboxState.Expired, last.Outbox.Find(Digest().Key)!.State);
        // It may have come each time, so nothing is said of it.
        Assert.Empty(last.Outbox.Undelivered(Digest().Key.Garden, Digest().Key.Addressee, new(2027, 4, 1), now));
    }

    [Fact]
    public void A_warning_is_offered_again_ten_minutes_after_each_death()
    {
        using var store = Open();
        store.Outbox.Add(Warning());
        var now = Morning;
        for (int death = 0; death < 5; death++)
        {
            Assert.True(store.Outbox.TryClaim(Assert.Single(store.Outbox.Due(now)).Id, now).IsWritten);
            store.Outbox.FindSendingAtStart(now);
            now += OutboxTable.DoubtGap;
        }
    }

    [Fact]
    public void A_digest_that_expired_or_was_refused_is_undelivered_from_then_on()
    {
        using var store = Open();
        var key = Digest().Key;
        var since = new LocalDate(2027, 4, 1);
        store.Outbox.Add(Digest());
        var noon = Digest().ExpiresAt;
        store.Outbox.EndOverdue(noon);

        Assert.Equal([StoreText.ToDate(key.Occasion)], store.Outbox.Undelivered(key.Garden, key.Addressee, since, noon));
        Assert.Empty(store.Outbox.Undelivered(key.Garden, key.Addressee, since, noon - Duration.FromSeconds(1)));
        Assert.Empty(store.Outbox.Undelivered(key.Garden, "sam@example.org", since, noon));
        Assert.Empty(store.Outbox.Undelivered(key.Garden, key.Addressee, StoreText.ToDate(key.Occasion).PlusDays(1), noon));
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

using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

public sealed class StoredLedgerTests : StoreCase
{
    private static readonly GardenRounds Garden = new(
        "quarry-lane", DateTimeZoneProviders.Tzdb["America/New_York"], new(6, 0), new(17, 0), ["Pat@example.org"], "lexington");

    private static readonly LocalDate Today = new(2027, 4, 21);

    [Fact]
    public void What_was_done_before_a_restart_is_not_done_again()
    {
        var evening = Morning + Duration.FromHours(11.5);
        using (var store = Open())
        {
            // 10:00 UTC is 6:00 in New York.
            Assert.Contains(Rounds(store, Morning), round => round is DueRound.Digest { Late: false });
            store.Outbox.Add(Digest());
            store.Pulls.Add("lexington", "forecast", Morning, Morning, 24, "example.org", "best_match", [1]);
            store.Ledger.Mark(LedgerTable.WholeHouse, LedgerTable.BackupMade, Today, Morning);
            Assert.Contains(Rounds(store, evening), round => round is DueRound.EveningLook);
            store.Ledger.Mark("quarry-lane", LedgerTable.EveningLook, Today, evening);
        }
        using var restarted = Open();

        // Only the forecast is looked at once more, which tells nothing that was told.
        Assert.Equal([new DueRound.NewForecastLook("quarry-lane", Today, Evening: false)], Rounds(restarted, Morning + Duration.FromMinutes(1)));
        var later = Rounds(restarted, evening).Where(round => round is not DueRound.NewForecastLook);
        Assert.Equal([new DueRound.Expire(), new DueRound.Pull("lexington")], later);
    }

    [Fact]
    public void A_skipped_digest_is_known_the_next_day()
    {
        using var store = Open();
        var afternoon = Morning + Duration.FromHours(8);
        store.Ledger.Mark("quarry-lane", LedgerTable.DigestRested, Today.PlusDays(-1), Morning - Duration.FromDays(1));
        Assert.Contains(new DueRound.DigestSkipped("quarry-lane", Today), Rounds(store, afternoon));

        store.Ledger.Mark("quarry-lane", LedgerTable.DigestSkipped, Today, afternoon);

        Assert.DoesNotContain(Rounds(store, afternoon), round => round is DueRound.DigestSkipped);
        Assert.Equal(Today, store.Ledger.Last("quarry-lane", LedgerTable.DigestSkipped, Morning + Duration.FromDays(1)));
    }

    [Fact]
    public void A_digest_made_by_a_clock_that_ran_ahead_does_not_stand_for_the_right_one()
    {
        using var store = Open();
        store.Outbox.Add(Digest() with { CreatedAt = Morning + Duration.FromHours(30) });

        Assert.Contains(Rounds(store, Morning), round => round is DueRound.Digest);
    }

    private static IReadOnlyList<DueRound> Rounds(GardenStore store, Instant now) =>
        Due.Rounds(StoredLedger.Of(store, "forecast", now), [Garden], Duration.FromHours(1), now);
}

using System.Collections.Immutable;
using GardenWatch.Rounds;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

public sealed class DueTests
{
    private static readonly Duration PullEvery = Duration.FromHours(1);
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly LocalDate Today = new(2027, 4, 21);

    private static GardenRounds Garden(DateTimeZone? zone = null, params string[] to) => new(
        "quarry-lane", zone ?? Berlin, new(6, 0), new(17, 0), to.Length > 0 ? [.. to] : ["pat@example.org"], "place");

    private static Instant At(int hour, int minute = 0) => Today.At(new(hour, minute)).InZoneStrictly(Berlin).ToInstant();

    private static RoundsLedger Ledger(params Kept[] kept) => new()
    {
        Kept = kept.ToHashSet(),
        NewestPull = ImmutableDictionary<string, Instant>.Empty.Add("place", Instant.MaxValue),
        LookedAt = ImmutableDictionary<string, Instant>.Empty.Add("quarry-lane", Instant.MaxValue),
        Begun = ImmutableHashSet.Create("quarry-lane"),
        LastBackup = LocalDate.MaxIsoValue,
    };

    private static IReadOnlyList<DueRound> RoundsAt(Instant now, RoundsLedger? ledger = null, params GardenRounds[] gardens) =>
        Due.Rounds(ledger ?? Ledger(), gardens.Length > 0 ? gardens : [Garden()], PullEvery, now);

    [Theory]
    [InlineData(5, 59, null)]
    [InlineData(6, 0, false)]
    [InlineData(6, 15, false)]
    [InlineData(6, 16, true)]
    [InlineData(11, 59, true)]
    public void A_digest_is_due_from_its_hour_until_noon_and_late_after_a_quarter(int hour, int minute, bool? late)
    {
        var digest = RoundsAt(At(hour, minute)).OfType<DueRound.Digest>().SingleOrDefault();

        Assert.Equal(late, digest?.Late);
    }

    [Fact]
    public void Off_until_after_noon_skips_the_digest_once()
    {
        Assert.Equal([new DueRound.DigestSkipped("quarry-lane", Today)], RoundsAt(At(12)));
        Assert.Empty(RoundsAt(At(12, 1), Ledger(Kept.DigestSkipped("quarry-lane", Today))));
        Assert.Empty(RoundsAt(At(12), Ledger(Kept.Digest("quarry-lane", "pat@example.org", Today))));
    }

    [Fact]
    public void On_a_date_at_rest_no_digest_is_due_none_is_skipped_and_new_forecasts_are_looked_at_all_the_same()
    {
        var rested = Ledger(Kept.DigestRested("quarry-lane", Today)) with { LookedAt = ImmutableDictionary<string, Instant>.Empty };

        Assert.Equal([new DueRound.NewForecastLook("quarry-lane", Today, Evening: false)], RoundsAt(At(7), rested));
        Assert.Equal([new DueRound.NewForecastLook("quarry-lane", Today, Evening: false)], RoundsAt(At(13), rested));
        Assert.Single(RoundsAt(At(6) + Duration.FromDays(1), rested).OfType<DueRound.Digest>());
    }

    [Fact]
    public void A_garden_first_seen_in_the_afternoon_missed_nothing()
    {
        Assert.Empty(RoundsAt(At(15), null, Garden() with { KnownSince = At(14) }));
        Assert.Single(RoundsAt(At(15), null, Garden() with { KnownSince = At(11) }));
    }

    [Theory]
    [InlineData(0, 30, true)]
    [InlineData(5, 49, true)]
    [InlineData(5, 50, false)]
    [InlineData(11, 59, false)]
    [InlineData(12, 0, true)]
    [InlineData(23, 59, true)]
    public void The_first_digest_of_a_garden_is_due_at_once_but_not_shortly_before_its_hour(int hour, int minute, bool first)
    {
        var at = At(hour, minute);

        var digests = RoundsAt(at, Ledger() with { Begun = ImmutableHashSet<string>.Empty }, Garden() with { KnownSince = at }).OfType<DueRound.Digest>();

        Assert.Equal(first, digests.Any(digest => digest.First));
        Assert.All(digests.Where(digest => digest.First), digest => Assert.InRange(digest.Window.End - at, Duration.FromHours(1), Duration.FromHours(24)));
    }

    [Fact]
    public void The_first_digest_waits_a_few_minutes_for_weather_and_the_evenings_look_waits_with_it()
    {
        var nothing = Ledger() with { Begun = ImmutableHashSet<string>.Empty, NewestPull = ImmutableDictionary<string, Instant>.Empty };
        var garden = Garden() with { KnownSince = At(18) };

        Assert.Equal([new DueRound.Pull("place")], RoundsAt(At(18, 4), nothing, garden));
        Assert.Single(RoundsAt(At(18, 5), nothing, garden).OfType<DueRound.Digest>());
        var rounds = RoundsAt(At(18, 1), nothing with { NewestPull = Ledger().NewestPull }, garden);
        Assert.True(Assert.IsType<DueRound.Digest>(rounds[0]).First);
        // After it the look finds nothing new; where it could not be stored, what would be lost is told all the same.
        Assert.Equal(new DueRound.EveningLook("quarry-lane", Today), Assert.Single(rounds.Skip(1)));
    }

    [Fact]
    public void In_quiet_hours_no_first_digest_is_made_that_would_keep_a_warning_back()
    {
        var nothing = Ledger() with { Begun = ImmutableHashSet<string>.Empty };

        Assert.Equal([new DueRound.EveningLook("quarry-lane", Today)], RoundsAt(At(17), nothing, Garden() with { KnownSince = At(16), IsQuiet = true }));
    }

    [Fact]
    public void Whoever_had_a_digest_of_these_days_has_no_first_one_any_more()
    {
        var nothing = Ledger(Kept.Digest("quarry-lane", "pat@example.org", Today)) with { Begun = ImmutableHashSet<string>.Empty };

        Assert.DoesNotContain(RoundsAt(At(15), nothing, Garden(null, "pat@example.org", "sam@example.org")), round => round is DueRound.Digest);
    }

    [Fact]
    public void A_garden_that_tells_nobody_has_its_first_digest_when_it_tells_somebody()
    {
        var nothing = Ledger() with { Begun = ImmutableHashSet<string>.Empty };

        Assert.Empty(RoundsAt(At(15), nothing, Garden() with { Addressees = [], KnownSince = At(14) }));
        Assert.Single(RoundsAt(At(15), nothing, Garden() with { KnownSince = At(14) - Duration.FromDays(30) }).OfType<DueRound.Digest>());
    }

    [Fact]
    public void Only_those_without_todays_digest_get_one()
    {
        var ledger = Ledger(Kept.Digest("quarry-lane", "Pat@Example.org", Today));

        var digest = Assert.IsType<DueRound.Digest>(Assert.Single(RoundsAt(At(6), ledger, Garden(null, "pat@example.org", "sam@example.org"))));

        Assert.Equal(["sam@example.org"], digest.Addressees);
    }

    [Fact]
    public void Each_gets_the_digest_at_an_hour_of_ones_own()
    {
        var garden = Garden(null, "pat@example.org", "sam@example.org", "kim@example.org") with
        {
            OwnHours = ImmutableDictionary<string, LocalTime>.Empty.Add("sam@example.org", new(8, 30)),
        };
        var early = Kept.Digest("quarry-lane", "pat@example.org", Today);
        var other = Kept.Digest("quarry-lane", "kim@example.org", Today);

        var first = Assert.IsType<DueRound.Digest>(Assert.Single(RoundsAt(At(8, 29), null, garden)));
        var second = Assert.IsType<DueRound.Digest>(Assert.Single(RoundsAt(At(8, 30), Ledger(early, other), garden)));

        Assert.Equal(["pat@example.org", "kim@example.org"], first.Addressees);
        Assert.Equal(["sam@example.org"], second.Addressees);
        Assert.Equal(new Interval(At(8, 30), At(12)), second.Window);
        Assert.False(second.Late);
        Assert.Equal([true, false], RoundsAt(At(8, 31), null, garden).Cast<DueRound.Digest>().Select(digest => digest.Late));
        Assert.Equal([new DueRound.DigestSkipped("quarry-lane", Today)], RoundsAt(At(12), null, garden));
    }

    [Fact]
    public void An_addressee_added_in_the_afternoon_missed_nothing()
    {
        var ledger = Ledger(Kept.Digest("quarry-lane", "pat@example.org", Today));

        Assert.Empty(RoundsAt(At(15), ledger, Garden(null, "pat@example.org", "sam@example.org")));
    }

    [Fact]
    public void A_digest_wanted_in_the_afternoon_has_the_rest_of_the_day()
    {
        var garden = Garden() with { DigestAt = new(18, 30) };

        Assert.DoesNotContain(RoundsAt(At(12), null, garden), round => round is DueRound.DigestSkipped);
        Assert.Contains(RoundsAt(At(23, 59), null, garden), round => round is DueRound.Digest { Late: true });
    }

    [Fact]
    public void The_evening_look_is_due_once_from_its_hour_until_midnight()
    {
        var ledger = Ledger(Kept.Digest("quarry-lane", "pat@example.org", Today));
        var look = new DueRound.EveningLook("quarry-lane", Today);

        Assert.Empty(RoundsAt(At(16, 59), ledger));
        Assert.Equal([look], RoundsAt(At(17), ledger));
        Assert.Equal([look], RoundsAt(At(23, 59), ledger));
        Assert.Empty(RoundsAt(At(18), Ledger(Kept.Digest("quarry-lane", "pat@example.org", Today), Kept.EveningLook("quarry-lane", Today))));
    }

    [Fact]
    public void Each_new_forecast_is_looked_at_once_from_the_digest_on()
    {
        var pulled = At(14, 20);
        RoundsLedger Pulled(params Kept[] kept) => Ledger(kept) with
        {
            NewestPull = ImmutableDictionary<string, Instant>.Empty.Add("place", pulled),
            LookedAt = ImmutableDictionary<string, Instant>.Empty,
        };
        var digest = Kept.Digest("quarry-lane", "pat@example.org", Today);
        var evening = Kept.EveningLook("quarry-lane", Today);
        static IEnumerable<DueRound> Looks(IEnumerable<DueRound> rounds) => rounds.Where(round => round is DueRound.NewForecastLook or DueRound.EveningLook);

        Assert.Empty(Looks(RoundsAt(At(14, 25), Pulled())));
        Assert.Equal([new DueRound.NewForecastLook("quarry-lane", Today, Evening: false)], Looks(RoundsAt(At(14, 25), Pulled(digest))));
        Assert.Equal([new DueRound.EveningLook("quarry-lane", Today)], Looks(RoundsAt(At(18), Pulled(digest))));
        Assert.Equal([new DueRound.NewForecastLook("quarry-lane", Today, Evening: true)], Looks(RoundsAt(At(18), Pulled(digest, evening))));
        Assert.Empty(Looks(RoundsAt(At(18), Pulled(digest, evening) with { LookedAt = ImmutableDictionary<string, Instant>.Empty.Add("quarry-lane", pulled) })));
    }

    [Fact]
    public void Weather_is_asked_for_once_a_slot_and_once_a_place()
    {
        var slot = Due.PullSlot("place", PullEvery, At(6));
        RoundsLedger Pulled(Instant at) => Ledger() with { NewestPull = ImmutableDictionary<string, Instant>.Empty.Add("place", at) };
        var gardens = new[] { Garden(), Garden() with { GardenId = "second" } };

        Assert.Single(Due.Rounds(Pulled(slot - Duration.FromSeconds(1)), gardens, PullEvery, slot).OfType<DueRound.Pull>());
        Assert.Empty(Due.Rounds(Pulled(slot), gardens, PullEvery, slot + PullEvery - Duration.FromSeconds(1)).OfType<DueRound.Pull>());
        Assert.Single(Due.Rounds(Pulled(slot), gardens, PullEvery, slot + PullEvery).OfType<DueRound.Pull>());
    }

    [Fact]
    public void Places_are_spread_over_the_hour()
    {
        var minutes = Enumerable.Range(0, 600)
            .Select(place => Due.PullSlot($"{place % 60},{place}", PullEvery, At(6)).InUtc().Minute)
            .GroupBy(minute => minute / 10)
            .Select(sixth => sixth.Count());

        // 100 to a sixth of an hour if even; three standard deviations of chance are 27.
        Assert.All(minutes, count => Assert.InRange(count, 60, 140));
    }

    [Fact]
    public void A_place_that_must_wait_is_left_alone_until_then_but_never_longer_than_a_day()
    {
        RoundsLedger Waits(Instant until) => Ledger() with
        {
            NewestPull = ImmutableDictionary<string, Instant>.Empty,
            PullNotBefore = ImmutableDictionary<string, Instant>.Empty.Add("place", until),
        };

        Assert.Empty(RoundsAt(At(5), Waits(At(5, 1))));
        Assert.Single(RoundsAt(At(5), Waits(At(5))));
        // Written by a clock that was a year ahead.
        Assert.Single(RoundsAt(At(5), Waits(At(5) + Duration.FromDays(365))));
    }

    [Fact]
    public void A_backup_is_made_once_a_night_or_when_the_machine_is_back()
    {
        RoundsLedger Made(LocalDate date) => Ledger() with { LastBackup = date };

        Assert.Empty(RoundsAt(At(2, 59), Made(Today.PlusDays(-1))));
        Assert.Equal([new DueRound.Backup(Today)], RoundsAt(At(3), Made(Today.PlusDays(-1))));
        Assert.Empty(RoundsAt(At(4), Made(Today)));
    }

    [Fact]
    public void What_has_run_out_is_ended_before_anything_else()
    {
        var ledger = Ledger() with { NextExpiry = At(6), NewestPull = ImmutableDictionary<string, Instant>.Empty };

        Assert.Equal([new DueRound.Expire(), new DueRound.Pull("place")], RoundsAt(At(6), ledger).Take(2));
        Assert.DoesNotContain(new DueRound.Expire(), RoundsAt(At(5, 59), ledger));
    }
}

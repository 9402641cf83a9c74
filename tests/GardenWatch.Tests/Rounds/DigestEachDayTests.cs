using GardenWatch.Rounds;
using NodaTime;
using NodaTime.TimeZones;

namespace GardenWatch.Tests.Rounds;

/// <summary>Exactly one digest to an addressee and local date, whatever clocks and zones do. In virtual time.</summary>
public sealed class DigestEachDayTests
{
    private static readonly Duration PullEvery = Duration.FromHours(1);

    /// <summary>A service that ticks, and notes what it made.</summary>
    private sealed class Ticker(GardenRounds garden)
    {
        private readonly HashSet<Kept> kept = [];

        public List<LocalDate> Digests { get; } = [];
        public List<LocalDate> Skipped { get; } = [];
        public List<LocalDate> Looks { get; } = [];
        public GardenRounds Garden { get; set; } = garden;

        public void Tick(Instant now)
        {
            var ledger = new RoundsLedger { Kept = kept, LastBackup = LocalDate.MaxIsoValue };
            foreach (var round in Due.Rounds(ledger, [Garden], PullEvery, now))
            {
                switch (round)
                {
                    case DueRound.Digest digest:
                        Digests.Add(digest.Date);
                        foreach (string addressee in digest.Addressees)
                            kept.Add(Kept.Digest(digest.GardenId, addressee, digest.Date));
                        break;
                    case DueRound.DigestSkipped skipped:
                        Skipped.Add(skipped.Date);
                        kept.Add(Kept.DigestSkipped(skipped.GardenId, skipped.Date));
                        break;
                    case DueRound.EveningLook look:
                        Looks.Add(look.Date);
                        kept.Add(Kept.EveningLook(look.GardenId, look.Date));
                        break;
                }
            }
        }

        public Ticker Run(Instant from, Instant until, Duration step)
        {
            for (var now = from; now < until; now += step)
                Tick(now);
            return this;
        }
    }

    private static GardenRounds Garden(DateTimeZone zone, LocalTime at) => new("g", zone, at, new(17, 0), ["a@example.org"], "p");

    private static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb[id];

    /// <summary>Each date that the zone had in the stretch, by walking through it.</summary>
    private static List<LocalDate> DatesOf(DateTimeZone zone, Instant from, Instant until)
    {
        var dates = new List<LocalDate>();
        for (var now = from; now < until; now += Duration.FromMinutes(30))
        {
            if (dates.Count == 0 || now.InZone(zone).Date > dates[^1])
                dates.Add(now.InZone(zone).Date);
        }
        return dates;
    }

    [Fact]
    public void Every_zone_gives_one_digest_to_each_date_around_every_change_of_its_clocks()
    {
        var from = Instant.FromUtc(2005, 1, 1, 0, 0);
        var until = Instant.FromUtc(2036, 1, 1, 0, 0);
        int changes = 0;
        foreach (string id in TzdbDateTimeZoneSource.Default.CanonicalIdMap.Values.Distinct())
        {
            var zone = Zone(id);
            foreach (var interval in zone.GetZoneIntervals(from, until).Where(interval => interval.HasEnd && interval.End < until))
            {
                // From local midnight to local midnight, so that the whole of each date is walked through.
                var date = interval.End.InZone(zone).Date;
                var begin = zone.AtStartOfDay(date.PlusDays(-2)).ToInstant();
                var end = zone.AtStartOfDay(date.PlusDays(2)).ToInstant();
                var hour = (changes++ % 4) switch { 0 => new LocalTime(6, 0), 1 => new(0, 0), 2 => new(2, 30), _ => new(23, 30) };

                var ticker = new Ticker(Garden(zone, hour)).Run(begin, end, Duration.FromMinutes(15));

                var dates = DatesOf(zone, begin, end);
                Assert.True(dates.SequenceEqual(ticker.Digests),
                    $"{id}, {hour}: {string.Join(' ', ticker.Digests)} instead of {string.Join(' ', dates)}");
                Assert.Empty(ticker.Skipped);
            }
        }
        Assert.True(changes > 3000, $"only {changes} changes of clocks were tried");
    }

    [Theory]
    [InlineData("Europe/Berlin")]
    [InlineData("America/Santiago")]
    [InlineData("Australia/Lord_Howe")]
    [InlineData("America/New_York")]
    [InlineData("America/St_Johns")]
    [InlineData("Africa/Casablanca")]
    [InlineData("Pacific/Chatham")]
    [InlineData("Asia/Kathmandu")]
    public void Ten_years_of_ticks_give_each_date_one_digest_and_one_evening_look(string id)
    {
        var zone = Zone(id);
        var first = new LocalDate(2026, 1, 1);
        var last = new LocalDate(2036, 1, 1);

        var ticker = new Ticker(Garden(zone, new(6, 0))).Run(
            zone.AtStartOfDay(first).ToInstant(), zone.AtStartOfDay(last).ToInstant(), Duration.FromMinutes(20));

        var dates = Enumerable.Range(0, Period.DaysBetween(first, last)).Select(first.PlusDays).ToList();
        Assert.Equal(dates, ticker.Digests);
        Assert.Equal(dates, ticker.Looks);
        Assert.Empty(ticker.Skipped);
    }

    [Fact]
    public void A_date_that_did_not_exist_has_no_digest()
    {
        // Samoa went from 29 to 31 December 2011 at midnight.
        var apia = Zone("Pacific/Apia");
        var ticker = new Ticker(Garden(apia, new(6, 0))).Run(
            apia.AtStartOfDay(new(2011, 12, 28)).ToInstant(), apia.AtStartOfDay(new(2012, 1, 2)).ToInstant(), Duration.FromMinutes(1));

        Assert.Equal([new(2011, 12, 28), new(2011, 12, 29), new(2011, 12, 31), new(2012, 1, 1)], ticker.Digests);
    }

    [Theory]
    // The hour that is left out moves on by the gap.
    [InlineData("Europe/Berlin", 2027, 3, 28, 2, 30, "2027-03-28T01:30:00Z")]
    // An hour that comes twice means the first.
    [InlineData("Europe/Berlin", 2027, 10, 31, 2, 30, "2027-10-31T00:30:00Z")]
    // Midnight is left out.
    [InlineData("America/Santiago", 2027, 9, 5, 0, 0, "2027-09-05T04:00:00Z")]
    // Half an hour is left out, at two.
    [InlineData("Australia/Lord_Howe", 2027, 10, 3, 2, 15, "2027-10-02T15:45:00Z")]
    // The last hour of the day is left out, and with it half past eleven: the last quarter before.
    [InlineData("America/Scoresbysund", 2026, 3, 28, 23, 30, "2026-03-29T00:45:00Z")]
    public void The_digests_hour_is_found_on_odd_days(string id, int year, int month, int day, int hour, int minute, string begins)
    {
        var window = Due.DigestWindow(Zone(id), new(hour, minute), new(year, month, day));

        Assert.Equal(begins, window.Start.ToString());
    }

    [Fact]
    public void A_zone_changed_in_the_plan_gives_no_second_digest_of_a_date()
    {
        var ticker = new Ticker(Garden(Zone("Pacific/Auckland"), new(6, 0)));
        var now = Instant.FromUtc(2027, 4, 20, 18, 30);
        ticker.Tick(now);
        for (int hour = 0; hour < 96; hour++)
        {
            now += Duration.FromHours(1);
            ticker.Garden = Garden(Zone(hour % 5 < 2 ? "Pacific/Honolulu" : hour % 5 < 4 ? "Pacific/Auckland" : "Europe/Berlin"), new(6, 0));
            ticker.Tick(now);
        }

        Assert.Equal(new(2027, 4, 21), ticker.Digests[0]);
        Assert.True(ticker.Digests.Count > 3);
        Assert.Equal(ticker.Digests.Distinct(), ticker.Digests);
    }

    [Fact]
    public void A_clock_that_leaps_about_gives_no_second_digest_of_a_date()
    {
        var random = new Random(20270421);
        var ticker = new Ticker(Garden(Zone("Europe/Berlin"), new(6, 0)));
        var now = Instant.FromUtc(2027, 4, 20, 0, 0);
        for (int tick = 0; tick < 20_000; tick++)
        {
            now += random.Next(50) == 0 ? Duration.FromMinutes(random.Next(-2000, 3000)) : Duration.FromMinutes(random.Next(1, 20));
            ticker.Tick(now);
        }

        Assert.True(ticker.Digests.Count > 50);
        Assert.Equal(ticker.Digests.Distinct().Count(), ticker.Digests.Count);
    }
}

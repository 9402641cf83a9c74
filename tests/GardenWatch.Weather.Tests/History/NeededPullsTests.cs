using CsCheck;
using GardenWatch.Weather.History;
using NodaTime;
using Stored = (long Id, NodaTime.Instant FetchedAt, NodaTime.Instant Start, NodaTime.Instant End);

namespace GardenWatch.Weather.Tests.History;

public class NeededPullsTests
{
    private static readonly Instant First = Instant.FromUtc(2027, 1, 10, 5, 10);

    [Fact]
    public void A_season_of_hourly_pulls_is_covered_by_few()
    {
        Stored[] stored = [.. Enumerable.Range(0, 24 * 180).Select(i => Of(i, First + Duration.FromHours(i), i == 0 ? 92 : 14))];

        var needed = PullFold.Needed(stored, stored[^1].FetchedAt);

        Assert.Equal(stored[^1].Id, needed[0]);
        Assert.Equal(stored[^2].Id, needed[1]);
        Assert.Contains(0, needed);
        Assert.InRange(needed.Length, 12, 16);
        Assert.Equal(stored[0].Start, needed.Min(id => stored[id].Start));
    }

    [Fact]
    public void Only_what_was_fetched_by_then_is_needed()
    {
        Stored[] stored = [Of(0, First, 14), Of(1, First + Duration.FromHours(1), 14)];

        Assert.Equal([0], PullFold.Needed(stored, First));
        Assert.Equal([1, 0], PullFold.Needed(stored, First + Duration.FromHours(1)));
        Assert.Empty(PullFold.Needed(stored, First - Duration.Epsilon));
    }

    [Fact]
    public void After_a_long_silence_the_hours_before_it_are_still_found()
    {
        Stored[] stored = [Of(0, First, 14), Of(1, First + Duration.FromDays(60), 14)];

        Assert.Equal([1, 0], PullFold.Needed(stored, First + Duration.FromDays(61)));
    }

    [Fact]
    public void Hours_gone_by_come_from_pulls_that_had_seen_them_pass_where_there_is_one()
    {
        // The pull of day 3 reaches into day 20's past as a forecast only; that of day 7 had seen it pass.
        Stored[] stored =
        [
            Of(0, First + Duration.FromDays(3), 14), Of(1, First + Duration.FromDays(7), 14), Of(2, First + Duration.FromDays(20), 14),
        ];

        Assert.Equal([2, 1, 0], PullFold.Needed(stored, First + Duration.FromDays(20)));
    }

    [Fact]
    public void What_is_needed_covers_every_hour_that_all_pulls_cover() =>
        Gen.Select(Gen.Int[0, 2000], Gen.Int[0, 20]).Array[1, 30].Sample(made =>
        {
            Stored[] stored = [.. made.Select((m, i) => Of(i, First + Duration.FromHours(m.Item1), m.Item2))];
            var asOf = First + Duration.FromHours(1500);

            var needed = PullFold.Needed(stored, asOf).ToHashSet();

            var newest = stored.Where(s => s.FetchedAt <= asOf).Select(s => s.FetchedAt).DefaultIfEmpty().Max();
            var all = HoursOf(stored.Where(s => s.FetchedAt <= asOf), newest);
            Assert.Equal(all, HoursOf(stored.Where(s => needed.Contains(s.Id)), newest));
        });

    private static HashSet<Instant> HoursOf(IEnumerable<Stored> pulls, Instant until)
    {
        var hours = new HashSet<Instant>();
        foreach (var pull in pulls)
            for (var stamp = pull.Start; stamp <= pull.End && stamp <= until; stamp += Duration.FromHours(1))
                hours.Add(stamp);
        return hours;
    }

    private static Stored Of(long id, Instant fetchedAt, int pastDays)
    {
        var midnight = fetchedAt.InUtc().Date.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
        return (id, fetchedAt, midnight - Duration.FromDays(pastDays), midnight + Duration.FromHours(16 * 24 - 1));
    }
}

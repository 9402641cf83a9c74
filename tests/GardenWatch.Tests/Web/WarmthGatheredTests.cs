using GardenWatch.Planning.Agendas;

namespace GardenWatch.Tests.Web;

/// <summary>The warmth that a sowing's page draws is the warmth that the digest tells.</summary>
public sealed class WarmthGatheredTests
{
    [Fact]
    public async Task The_course_ends_today_where_the_agenda_stands_and_never_falls()
    {
        await using var bench = await PageBench.Open();
        var garden = bench.House.Round!.OnDuty.First(each => each.Plan.GardenId == "mill-bank");
        var (plan, place, now) = (garden.Plan, garden.Place, PageBench.Morning);
        var agenda = bench.House.Mornings.AgendaOf(plan, place, now);
        var told = agenda.Sowings.First(sowing => sowing.Crop == "radish");
        var course = WarmthGathered.Of(plan, told.Id, place.Calendar, bench.House.Mornings.JournalOf(plan, now), bench.House.Mornings.KnownOf(place, now), now)!;

        Assert.Equal(agenda.Date, course.Today);
        Assert.Equal(told.GatheredCd!.Value, course.Days.Last(day => day.Date < course.Today).GatheredCd, tolerance: 1e-9);
        Assert.Equal(course.Since, course.Days[0].Date);
        Assert.Contains(course.Days, day => day.Date > course.Today);
        Assert.Equal(course.Days.Select(day => day.GatheredCd).Order(), course.Days.Select(day => day.GatheredCd));
        Assert.Null(WarmthGathered.Of(plan, "no-such.1", place.Calendar, bench.House.Mornings.JournalOf(plan, now), bench.House.Mornings.KnownOf(place, now), now));
    }
}

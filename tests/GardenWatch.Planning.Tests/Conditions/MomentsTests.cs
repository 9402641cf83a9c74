using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class MomentsTests
{
    private static readonly LocalCalendar Calendar = new(Scenes.Zone("Europe/Berlin"), Scenes.Lexington);

    private static int? DaysUntil(Moments moments, Milestone milestone, LocalDate today) =>
        moments.DateOf(new Moment.Of(milestone), ahead: true, today, Calendar) is { } date ? Period.DaysBetween(today, date) : null;

    [Theory]
    // North: last frost 1 May, first frost 15 October.
    [InlineData("2026-02-01", 5, 1, 10, 15, 89, 256)]
    [InlineData("2026-05-11", 5, 1, 10, 15, -10, 157)]
    [InlineData("2026-10-14", 5, 1, 10, 15, -166, 1)]
    [InlineData("2026-10-16", 5, 1, 10, 15, 197, -1)] // after the autumn frost the spring frost is the next one
    [InlineData("2026-12-31", 5, 1, 10, 15, 121, -77)] // the autumn frost stays the past one until halfway through winter
    [InlineData("2027-02-01", 5, 1, 10, 15, 89, 256)]
    // South: last frost 25 October, first frost 20 April.
    [InlineData("2026-10-20", 10, 25, 4, 20, 5, 182)]
    [InlineData("2026-12-01", 10, 25, 4, 20, -37, 140)]
    [InlineData("2027-04-21", 10, 25, 4, 20, 187, -1)]
    [InlineData("2027-08-01", 10, 25, 4, 20, 85, 263)]
    public void The_usual_frosts_meant_follow_the_growing_year(
        string today, int springMonth, int springDay, int autumnMonth, int autumnDay, int untilSpring, int untilAutumn)
    {
        var date = NodaTime.Text.LocalDatePattern.Iso.Parse(today).Value;
        var moments = Moments.None.WithUsualFrosts(new(springMonth, springDay), new(autumnMonth, autumnDay));
        Assert.Equal(untilSpring, DaysUntil(moments, Milestone.LastSpringFrost, date));
        Assert.Equal(untilAutumn, DaysUntil(moments, Milestone.FirstAutumnFrost, date));
    }

    [Fact]
    public void Where_there_is_no_frost_its_date_is_unknown()
    {
        Assert.Null(DaysUntil(Moments.None.WithUsualFrosts(null, null), Milestone.LastSpringFrost, new(2026, 5, 1)));
        Assert.Null(DaysUntil(Moments.None, Milestone.FirstAutumnFrost, new(2026, 5, 1)));
        Assert.Equal(10, DaysUntil(Moments.None.WithUsualFrosts(new(2, 10), null), Milestone.LastSpringFrost, new(2026, 1, 31)));
    }

    [Theory]
    [InlineData("2026-03-01", 0, 0)]
    [InlineData("2026-02-28", 364, -1)]
    [InlineData("2026-12-31", 305, -60)]
    [InlineData("2028-03-02", 1, -364)]
    public void A_date_of_every_year_is_the_last_one_for_since_and_the_next_one_for_until(string today, int since, int until)
    {
        var date = NodaTime.Text.LocalDatePattern.Iso.Parse(today).Value;
        var first = new Moment.EachYear(new AnnualDate(3, 1));
        Assert.Equal(since, Period.DaysBetween(Moments.None.DateOf(first, false, date, Calendar)!.Value, date));
        Assert.Equal(until, -Period.DaysBetween(date, Moments.None.DateOf(first, true, date, Calendar)!.Value));
    }

    [Fact]
    public void Rain_since_it_was_done_counts_from_the_hour_if_that_is_known_and_else_from_the_start_of_the_day()
    {
        var start = Scenes.At(2026, 6, 1);
        double[] rain = Scenes.Hours(240, _ => 1);
        var now = Scenes.At(2026, 6, 4, 12);
        // Berlin is two hours ahead: its 3 June began at 22:00 UTC.
        var byDay = Scenes.Of(start, rain, "Europe/Berlin", moments: Moments.None.With(Milestone.LastDone, new LocalDate(2026, 6, 3)));
        Assert.Equal(38, byDay.Ask("rain since last done at least 25 mm", now).Value);
        var byHour = Scenes.Of(start, rain, "Europe/Berlin", moments: Moments.None.With(Milestone.LastDone, Scenes.At(2026, 6, 3, 16)));
        Assert.Equal(20, byHour.Ask("rain since last done at least 25 mm", now).Value);
        Assert.Equal(1, byHour.Ask("days since last done at least 1 days", now).Value);
        Assert.Equal(Truth.Unknown, Scenes.Of(start, rain, "Europe/Berlin").Ask("rain since last done at least 25 mm", now).Holds);
        // Before the series began nothing is known, so only what is there can decide.
        var longAgo = Scenes.Of(start, rain, "Europe/Berlin", moments: Moments.None.With(Milestone.LastDone, new LocalDate(2026, 5, 3)));
        Assert.Equal(Truth.Yes, longAgo.Ask("rain since last done at least 25 mm", now).Holds);
        Assert.Equal(Truth.Unknown, longAgo.Ask("rain since last done at least 250 mm", now).Holds);
    }
}

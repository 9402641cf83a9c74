using CsCheck;
using GardenWatch.Planning.Plans;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class DateTextTests
{
    private static LocalDate Date(string iso) => LocalDatePattern.Iso.Parse(iso).Value;

    [Theory]
    [InlineData("12 July", "2026-05-01", "2026-07-12", "2026-07-12")]
    [InlineData("July 12", "2026-05-01", "2026-07-12", "2026-07-12")]
    [InlineData("July 12th, 2025", "2026-05-01", "2025-07-12", "2025-07-12")]
    [InlineData("the 12th of July", "2026-05-01", "2026-07-12", "2026-07-12")]
    [InlineData("12.7.", "2026-05-01", "2026-07-12", "2026-07-12")]
    [InlineData("12. 7. 2027", "2026-05-01", "2027-07-12", "2027-07-12")]
    [InlineData("25/4", "2026-05-01", "2026-04-25", "2026-04-25")]
    [InlineData("4/25/2026", "2020-05-01", "2026-04-25", "2026-04-25")]
    [InlineData("2026-04-30", "2020-01-01", "2026-04-30", "2026-04-30")]
    [InlineData("mid April", "2026-05-01", "2026-04-11", "2026-04-20")]
    [InlineData("mid-April", "2026-05-01", "2026-04-11", "2026-04-20")]
    [InlineData("early April", "2026-05-01", "2026-04-01", "2026-04-10")]
    [InlineData("late February", "2028-03-01", "2028-02-21", "2028-02-29")]
    [InlineData("late February", "2026-03-01", "2026-02-21", "2026-02-28")]
    [InlineData("end of May", "2026-05-01", "2026-05-25", "2026-05-31")]
    [InlineData("beginning of Sept.", "2026-05-01", "2026-09-01", "2026-09-07")]
    [InlineData("last week of April", "2026-05-01", "2026-04-24", "2026-04-30")]
    [InlineData("April", "2026-05-01", "2026-04-01", "2026-04-30")]
    [InlineData("late October last year", "2026-05-01", "2025-10-21", "2025-10-31")]
    [InlineData("late October", "2026-03-01", "2025-10-21", "2025-10-31")]
    [InlineData("yesterday", "2026-01-01", "2025-12-31", "2025-12-31")]
    [InlineData("two weeks ago", "2026-01-01", "2025-12-18", "2025-12-18")]
    [InlineData("in 10 days", "2026-12-25", "2027-01-04", "2027-01-04")]
    [InlineData("29 February", "2027-06-01", "2028-02-29", "2028-02-29")]
    [InlineData("early January", "2026-12-20", "2027-01-01", "2027-01-10")]
    public void A_date_is_read_as_people_write_it(string text, string anchor, string from, string to)
    {
        var ok = Assert.IsType<DateReading.Ok>(DateText.Read(text));
        Assert.Equal(new DateRange(Date(from), Date(to)), ok.Date.Resolve(Date(anchor)));
    }

    [Theory]
    [InlineData("12 July", Looking.Back, "2025-07-12")]
    [InlineData("12 July", Looking.Ahead, "2026-07-12")]
    [InlineData("1 May", Looking.Back, "2026-05-01")]
    [InlineData("1 May", Looking.Ahead, "2026-05-01")]
    [InlineData("30 April", Looking.Ahead, "2027-04-30")]
    public void Without_a_year_one_can_look_back_or_ahead(string text, Looking looking, string day)
    {
        var ok = Assert.IsType<DateReading.Ok>(DateText.Read(text));
        Assert.Equal(Date(day), ok.Date.Resolve(Date("2026-05-01"), looking).From);
    }

    [Theory]
    [InlineData("4/5", "4 May", "5 April")]
    [InlineData("4/5/2026", "4 May 2026", "5 April 2026")]
    [InlineData("last autumn", "month", "late October last year")]
    [InlineData("31 April", "no day 31", "1 to 30")]
    [InlineData("29 February 2026", "no day 29 in 2026", "1 to 28")]
    [InlineData("mid Arpil", "no month", "April")]
    [InlineData("2026-13-01", "no month 13", "")]
    [InlineData("soon", "no month", "12 July")]
    [InlineData("12 July 3026", "year 3026", "1900 to 2200")]
    [InlineData("", "not a date", "12 July")]
    public void What_is_no_date_is_told_with_one_that_is(string text, string problem, string instead)
    {
        var fault = Assert.IsType<DateReading.Fault>(DateText.Read(text));
        string said = fault.Problem + "; " + fault.Instead;
        Assert.Contains(problem, said, StringComparison.Ordinal);
        Assert.Contains(instead, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("every 6 weeks", 42)]
    [InlineData("6 weeks", 42)]
    [InlineData("every 10 days", 10)]
    [InlineData("a fortnight", 14)]
    [InlineData("every fortnight", 14)]
    [InlineData("every other week", 14)]
    [InlineData("monthly", 30)]
    [InlineData("every two weeks", 14)]
    public void An_interval_is_read_as_people_write_it(string text, int days) =>
        Assert.Equal(new IntervalReading.Ok(days), IntervalText.Read(text));

    [Theory]
    [InlineData("36 hours")]
    [InlineData("0 days")]
    [InlineData("often")]
    [InlineData("100 years")]
    public void What_is_no_interval_is_told(string text) => Assert.IsType<IntervalReading.Fault>(IntervalText.Read(text));

    [Fact]
    public void Looking_back_never_lands_ahead_and_nearest_is_within_half_a_year() =>
        Gen.Select(Gen.Int[1, 12], Gen.Int[1, 28], Gen.Int[0, 20000]).Sample((month, day, offset) =>
        {
            var anchor = new LocalDate(1990, 1, 1).PlusDays(offset);
            var date = new WrittenDate.OfMonth(month, day, day);
            Assert.True(date.Resolve(anchor, Looking.Back).From <= anchor);
            Assert.True(date.Resolve(anchor, Looking.Ahead).From >= anchor);
            Assert.InRange(Math.Abs(Period.DaysBetween(anchor, date.Resolve(anchor).From)), 0, 183);
        });

    [Fact]
    public void No_text_makes_it_throw() =>
        Gen.String[Gen.Char["0123456789 ./-,maymidlatelastyearin"], 0, 24].Sample(text =>
        {
            Assert.NotNull(IntervalText.Read(text));
            if (DateText.Read(text) is DateReading.Ok ok)
                Assert.True(ok.Date.Resolve(new(2026, 5, 1)) is var range && range.From <= range.To);
        }, iter: 5000);
}

using System.Globalization;
using GardenWatch.Agronomy.Climate;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Climate;

public class UsualDateTests
{
    private static readonly AnnualDate NewYear = new(1, 1);

    [Fact]
    public void A_record_of_last_frosts_has_the_published_days()
    {
        int?[] record =
        [
            .. PublishedTable.Case("frost-dates.csv", "id", "PROB-mean").InputText("inputs", "last_frost_doy").Split('|')
                .Select(day => (int?)int.Parse(day, CultureInfo.InvariantCulture)),
        ];
        var usual = UsualDate.OfLast(NewYear, record);

        double later = PublishedTable.Case("frost-dates.csv", "id", "PROB-type7-10pct-later").Number("expected");
        double earlier = PublishedTable.Case("frost-dates.csv", "id", "PROB-type7-90pct-later").Number("expected");
        Assert.Equal((int)Math.Round(later), usual.LateDay); // 126.2: a tenth of the years have frost after it
        Assert.Equal((int)Math.Round(earlier), usual.EarlyDay); // 100.8
        Assert.Equal((30, 30), (usual.YearsWith, usual.Years));
    }

    [Fact]
    public void The_late_day_is_the_one_that_a_tenth_of_the_years_pass()
    {
        // Eleven years, days 100 to 200 by tens: one of them lies after the late day, one before the early.
        var usual = UsualDate.OfLast(NewYear, [.. Enumerable.Range(10, 11).Select(ten => (int?)(10 * ten))]);

        Assert.Equal((110, 150, 190), (usual.EarlyDay, usual.MiddleDay, usual.LateDay));
        Assert.Equal(new LocalDate(2027, 7, 9), usual.DateIn(2027, usual.LateDay));
        Assert.Null(usual.DateIn(2027, null));
    }

    [Fact]
    public void Years_without_are_counted_as_later_of_a_first_date_and_as_earlier_of_a_last_date()
    {
        int?[] half = [null, 60, null, 80];
        var first = UsualDate.OfFirst(NewYear, half);
        var last = UsualDate.OfLast(NewYear, half);

        Assert.Equal((2, 4, 2), (first.YearsWith, first.Years, first.YearsWithout));
        Assert.Null(first.LateDay);
        Assert.NotNull(first.EarlyDay);
        Assert.Null(last.EarlyDay);
        Assert.NotNull(last.LateDay);
        Assert.Null(UsualDate.OfFirst(NewYear, [null, null]).EarlyDay);
        Assert.Equal(new(NewYear, null, null, null, 0, 0), UsualDate.OfFirst(NewYear, []));
    }

    [Theory]
    [InlineData("2027-06-30", 2026)]
    [InlineData("2027-07-01", 2027)]
    [InlineData("2028-02-29", 2027)]
    public void A_southern_season_is_named_by_the_year_in_which_it_begins(string date, int year)
    {
        var usual = UsualDate.OfFirst(new(7, 1), [200]);
        var day = NodaTime.Text.LocalDatePattern.Iso.Parse(date).Value;

        Assert.Equal(year, usual.SeasonOf(day));
        Assert.Equal(new LocalDate(year + 1, 1, 16), usual.DateIn(year, 200));
    }
}

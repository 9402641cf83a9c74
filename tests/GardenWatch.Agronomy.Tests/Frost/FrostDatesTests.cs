using System.Globalization;
using CsCheck;
using GardenWatch.Agronomy.Frost;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class FrostDatesTests
{
    private const string File = "frost-dates.csv";

    [Theory]
    [InlineData("PROB-type7-10pct-later", 0.10)]
    [InlineData("PROB-type7-90pct-later", 0.90)]
    public void A_record_of_last_frosts_has_the_published_days(string id, double chance)
    {
        var row = PublishedTable.Case(File, "id", id);
        var record = PublishedTable.Case(File, "id", "PROB-mean").InputText("inputs", "last_frost_doy").Split('|')
            .Select(day => new FrostOfYear(new(2001, 1, 1), int.Parse(day, CultureInfo.InvariantCulture))).ToList();
        Assert.Equal(row.Number("expected"), Assert.NotNull(FrostDates.DayWithLaterFrost(record, chance)), row.Number("tolerance"));
    }

    // Computed from the same files apart from this code, quantile type 7 of the day of the year.
    [Theory]
    [InlineData("debilt_daily_1980_2019.csv", 0, "04-04 04-20 05-07", "10-16 11-02 11-25")]
    [InlineData("milwaukee_daily_1981_2020.csv", 0, "04-09 04-22 05-07", "10-06 10-22 11-08")]
    [InlineData("milwaukee_daily_1981_2020.csv", -2.2, "03-27 04-07 04-21", "10-25 11-06 11-20")]
    [InlineData("debilt_daily_1980_2019.csv", -2.2, "03-11 03-29 04-23", null)]
    public void Forty_years_have_the_frost_dates_found_independently(string file, double threshold, string spring, string? autumn)
    {
        var rows = PublishedTable.StationRows(file);
        double[] lows = [.. rows.Select(row => row.Number("tmin_c"))];
        var last = FrostDates.LastOfSpring(lows, Stations.DateOf(rows[0]), threshold, southern: false);
        Assert.Equal(40, last.Count);
        Assert.Equal(spring, Dates(chance => FrostDates.DayWithLaterFrost(last, 1 - chance)));
        var first = FrostDates.FirstOfAutumn(lows, Stations.DateOf(rows[0]), threshold, southern: false);
        Assert.Equal(40, first.Count);
        if (autumn is not null)
            Assert.Equal(autumn, Dates(chance => FrostDates.DayWithEarlierFrost(first, chance)));
        else
            Assert.Equal(2, first.Count(year => year.DayOfSeason is null)); // two years had none by 31 December
    }

    [Fact]
    public void The_south_has_the_same_frosts_half_a_year_on()
    {
        var first = new LocalDate(2000, 7, 1);
        double[] lows = [.. Enumerable.Range(0, 365).Select(day => day is 100 or 300 ? -1.0 : 5.0)];
        var last = Assert.Single(FrostDates.LastOfSpring(lows, first, 0, southern: true));
        Assert.Equal(101, last.DayOfSeason);
        Assert.Equal(new LocalDate(2000, 10, 9), last.Date);
        Assert.Equal(new LocalDate(2001, 4, 27), Assert.Single(FrostDates.FirstOfAutumn(lows, first, 0, southern: true)).Date);
    }

    [Fact]
    public void Years_without_frost_count_and_a_place_without_frost_has_no_date()
    {
        FrostOfYear Year(int? day) => new(new(2001, 1, 1), day);
        Assert.Null(FrostDates.DayWithLaterFrost([Year(null), Year(null), Year(null)], 0.1));
        Assert.Null(FrostDates.DayWithLaterFrost([], 0.1));
        // Two years in four have none: half of the chance is already spent.
        var half = new[] { Year(null), Year(60), Year(null), Year(80) };
        Assert.NotNull(FrostDates.DayWithLaterFrost(half, 0.1));
        Assert.Null(FrostDates.DayWithLaterFrost(half, 0.9));
        Assert.Null(FrostDates.DayWithEarlierFrost(half, 0.9));
        Assert.NotNull(FrostDates.DayWithEarlierFrost(half, 0.1));
    }

    [Fact]
    public void A_half_year_with_too_many_missing_days_is_left_out()
    {
        double[] lows = [.. Enumerable.Range(0, 365).Select(day => day is > 20 and < 60 ? double.NaN : 5.0)];
        Assert.Empty(FrostDates.LastOfSpring(lows, new(2001, 1, 1), 0, southern: false));
        Assert.Single(FrostDates.FirstOfAutumn(lows, new(2001, 1, 1), 0, southern: false));
        Assert.Empty(FrostDates.LastOfSpring([], new(2001, 1, 1), 0, southern: false));
    }

    [Fact]
    public void A_quantile_of_what_is_not_known_is_not_known_and_a_share_is_of_one()
    {
        Assert.True(double.IsNaN(FrostDates.Quantile([1, double.NaN, 3], 0.5)));
        Assert.True(double.IsNaN(FrostDates.Quantile([], 0.5)));
        Assert.Throws<ArgumentOutOfRangeException>(() => FrostDates.Quantile([1, 2], 1.5));
    }

    [Fact]
    public void A_later_frost_is_less_likely_on_a_later_day() =>
        Gen.Int[1, 200].Array[2, 40].Sample(days =>
        {
            List<FrostOfYear> record = [.. days.Select(day => new FrostOfYear(new(2001, 1, 1), day))];
            Assert.True(FrostDates.DayWithLaterFrost(record, 0.1) >= FrostDates.DayWithLaterFrost(record, 0.5));
            Assert.True(FrostDates.DayWithLaterFrost(record, 0.5) >= FrostDates.DayWithLaterFrost(record, 0.9));
        });

    private static string Dates(Func<double, double?> dayOfYear) => string.Join(' ', new[] { 0.1, 0.5, 0.9 }.Select(chance =>
        new LocalDate(2019, 1, 1).PlusDays((int)Math.Round(Assert.NotNull(dayOfYear(chance)), MidpointRounding.AwayFromZero) - 1)
            .ToString("MM-dd", CultureInfo.InvariantCulture)));
}

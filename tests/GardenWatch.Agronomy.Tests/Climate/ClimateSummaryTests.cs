using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Climate;

public class ClimateSummaryTests
{
    private const int Temperate = 52;

    // Computed from the same files apart from this code. De Bilt at -2.2 °C: there, two autumns without were left out; here
    // they count, so the late day moves on.
    [Theory]
    [InlineData("debilt_daily_1980_2019.csv", 0, "04-04 04-20 05-07", "10-16 11-02 11-25")]
    [InlineData("milwaukee_daily_1981_2020.csv", 0, "04-09 04-22 05-07", "10-06 10-22 11-08")]
    [InlineData("milwaukee_daily_1981_2020.csv", 1, "03-27 04-07 04-21", "10-25 11-06 11-20")]
    [InlineData("debilt_daily_1980_2019.csv", 1, "03-11 03-29 04-23", null)]
    public void Forty_years_have_the_frost_dates_found_independently(string file, int frost, string spring, string? autumn)
    {
        var season = ClimateSummary.Of(StationDays(file), southern: false).Frosts[frost];

        Assert.Equal(spring, Dates(season.LastOfSpring));
        Assert.Equal(40, season.FirstOfAutumn.Years);
        if (autumn is not null)
            Assert.Equal(autumn, Dates(season.FirstOfAutumn));
        else
            Assert.Equal(2, season.FirstOfAutumn.YearsWithout);
    }

    // Base 10 °C, mean of low and high, from 1 January 2018, computed from the same files apart from this code.
    [Theory]
    [InlineData("debilt_daily_1980_2019.csv", 493.3, 1196.8)]
    [InlineData("milwaukee_daily_1981_2020.csv", 500.2, 1591.4)]
    public void Warmth_sums_of_the_stations_are_those_found_independently(string file, double throughJune, double throughSeptember)
    {
        var days = StationDays(file);
        double Sum(LocalDate through) => Enumerable.Range(days.IndexOf(new(2018, 1, 1)), Period.DaysBetween(new(2018, 1, 1), through) + 1)
            .Sum(day => DegreeDays.Average(days[DayFigure.AirLow][day], days[DayFigure.AirHigh][day], 10));

        Assert.Equal(throughJune, Sum(new(2018, 6, 30)), 0.05);
        Assert.Equal(throughSeptember, Sum(new(2018, 9, 30)), 0.05);
    }

    [Fact]
    public void Forty_years_of_hours_give_the_frosts_of_their_days_within_two_days()
    {
        var (weather, first, _, lows) = Stations.DeBiltDays();
        var summary = ClimateSummary.Of(PastDays.Of(weather, new LocalCalendar(DateTimeZone.Utc, Stations.DeBilt)), southern: false);
        var measured = ClimateSummary.Of(new(
            new DateInterval(first, first.PlusDays(lows.Length - 1)),
            ImmutableDictionary<DayFigure, double[]>.Empty.Add(DayFigure.AirLow, lows)), southern: false);

        // An hour's low misses the day's own by a little, so the frosts of hours lie a little nearer to winter.
        Assert.InRange(Assert.NotNull(measured.Frosts[0].LastOfSpring.MiddleDay) - Assert.NotNull(summary.Frosts[0].LastOfSpring.MiddleDay), 0, 2);
        Assert.InRange(Assert.NotNull(summary.Frosts[0].FirstOfAutumn.MiddleDay) - Assert.NotNull(measured.Frosts[0].FirstOfAutumn.MiddleDay), 0, 2);
        // Leaves freeze when the air does not.
        Assert.True(summary.Frosts[2].LastOfSpring.MiddleDay > summary.Frosts[0].LastOfSpring.MiddleDay);
        // The station's own daily means, which these hours do not hold, of the same fortnights.
        var rows = PublishedTable.StationRows("debilt_daily_1980_2019.csv");
        foreach (int month in new[] { 1, 7 })
            Assert.Equal(
                rows.Where(row => Stations.DateOf(row) is { Day: >= 9 and <= 23 } date && date.Month == month).Average(row => row.Number("tmean_c")),
                summary.AirOn(new(2001, month, 16)).MeanC, 0.5);
        Assert.Equal(40, summary.Years);
    }

    [Fact]
    public void Warmer_soil_comes_later_and_a_low_later_than_a_mean()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 12, 10, southern: false), Temperate);

        foreach (var sort in summary.Soils.GroupBy(soil => (soil.DepthCm, soil.OfLow)))
        {
            int[] days = [.. sort.OrderBy(soil => soil.ThresholdC).Select(soil => soil.First.MiddleDay ?? int.MaxValue)];
            Assert.Equal(days.Order(), days);
        }
        Assert.Equal(28, summary.Soils.Length);
        foreach (var mean in summary.Soils.Where(soil => !soil.OfLow))
        {
            var low = summary.Soils.Single(soil => soil.OfLow && soil.DepthCm == mean.DepthCm && soil.ThresholdC == mean.ThresholdC);
            Assert.True((low.First.MiddleDay ?? int.MaxValue) >= (mean.First.MiddleDay ?? int.MaxValue));
        }
        var ten = summary.Soils.Single(soil => soil is { DepthCm: 10, OfLow: false, ThresholdC: 10 }).First;
        Assert.InRange(Assert.NotNull(ten.MiddleDay), 60, 150);
        Assert.True(ten.EarlyDay <= ten.MiddleDay && ten.MiddleDay <= ten.LateDay);
    }

    [Fact]
    public void The_south_has_the_same_dates_half_a_year_on_and_its_season_crosses_the_new_year()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 12, 10, southern: true), -38);

        Assert.Equal(new AnnualDate(7, 1), summary.SeasonStart);
        var last = summary.Frosts[0].LastOfSpring;
        Assert.InRange(Assert.NotNull(last.DateIn(2010, last.MiddleDay)), new LocalDate(2010, 8, 15), new LocalDate(2010, 11, 30));
        var first = summary.Frosts[0].FirstOfAutumn;
        Assert.InRange(Assert.NotNull(first.DateIn(2010, first.MiddleDay)), new LocalDate(2011, 3, 1), new LocalDate(2011, 6, 30));
        var hot = summary.HotWeeks[0];
        Assert.InRange(Assert.NotNull(hot.First.DateIn(2010, hot.First.MiddleDay)), new LocalDate(2010, 11, 15), new LocalDate(2011, 2, 15));
        Assert.True(hot.Last.MiddleDay > hot.First.MiddleDay);
        Assert.True(summary.AirOn(new(2010, 1, 20)).MeanC > summary.AirOn(new(2010, 7, 20)).MeanC + 15);
    }

    [Fact]
    public void A_place_without_frost_has_no_frost_dates_and_says_in_how_many_years()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 6, 26, southern: false, yearSwing: 2), 5);

        Assert.All(summary.Frosts, frost =>
        {
            Assert.Equal((0, 6), (frost.LastOfSpring.YearsWith, frost.LastOfSpring.Years));
            Assert.Null(frost.LastOfSpring.LateDay);
            Assert.Null(frost.FirstOfAutumn.EarlyDay);
        });
        // Warm from the first days on.
        Assert.All(summary.Nights, mild => Assert.True(mild.First.LateDay <= 8));
    }

    [Fact]
    public void Polar_days_and_nights_leave_no_holes()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 6, -4, southern: false), 78);

        Assert.Equal(6, summary.Frosts[0].LastOfSpring.YearsWith);
        Assert.All(summary.DailyAir, air => Assert.True(air.LowC < air.MeanC && air.MeanC < air.HighC));
        Assert.All(summary.WeeklyEvapotranspirationMm, mm => Assert.InRange(mm, 0, 60));
        Assert.Equal(0, summary.HotWeeks[1].First.YearsWith);
    }

    [Fact]
    public void A_missing_year_and_missing_months_are_left_out_and_change_little()
    {
        var whole = InventedYears.Summary(InventedYears.Hours(2001, 12, 10, southern: false), Temperate);
        var gaps = InventedYears.Summary(
            InventedYears.Hours(2001, 12, 10, southern: false, stamp => stamp.InUtc().Year != 2006 && stamp.InUtc() is not { Year: 2009, Month: 3 or 4 or 5 }),
            Temperate);

        Assert.Equal(12, whole.Frosts[0].LastOfSpring.Years);
        Assert.Equal(10, gaps.Frosts[0].LastOfSpring.Years);
        Assert.Equal(11, gaps.Frosts[0].FirstOfAutumn.Years);
        Assert.Equal(Assert.NotNull(whole.Frosts[0].LastOfSpring.MiddleDay), Assert.NotNull(gaps.Frosts[0].LastOfSpring.MiddleDay), 6.0);
        for (int week = 0; week < 52; week++)
            Assert.Equal(whole.WeeklyRainMm[week], gaps.WeeklyRainMm[week], 4.0);
    }

    [Fact]
    public void Mild_nights_and_warm_ground_and_hot_weeks_count_from_the_day_on_which_they_have_all_passed()
    {
        // From 1 May on: nights of 9.5 °C, ground of 12 °C, days of 22 °C; before, colder; from 1 September on, colder again.
        var dates = new DateInterval(new(2001, 1, 1), new(2003, 12, 31));
        double[] Summer(double warm) => [.. dates.Select(date => date is { Month: >= 5 and < 9 } ? warm : 2)];
        var summary = ClimateSummary.Of(
            new(dates, ImmutableDictionary<DayFigure, double[]>.Empty
                .Add(DayFigure.NightLow, Summer(9.5)).Add(DayFigure.Soil5CmMean, Summer(12)).Add(DayFigure.AirMean, Summer(22))),
            southern: false);

        var mild = summary.Nights.Single(nights => nights.ThresholdC == 9).First;
        Assert.Equal(new LocalDate(2003, 5, 8), mild.DateIn(2003, mild.MiddleDay)); // the seventh mild night began on the 7th
        Assert.Equal(0, summary.Nights.Single(nights => nights.ThresholdC == 10).First.YearsWith);
        var ground = summary.Soils.Single(soil => soil is { DepthCm: 5, OfLow: false, ThresholdC: 12 }).First;
        Assert.Equal(new LocalDate(2003, 5, 3), ground.DateIn(2003, ground.MiddleDay));
        // Seven days' mean is above 21 °C only when all seven are hot: six of 22 and one of 2 °C make 19.1.
        var hot = summary.HotWeeks.Single(week => week.ThresholdC == 21);
        Assert.Equal(new LocalDate(2003, 5, 7), hot.First.DateIn(2003, hot.First.MiddleDay));
        Assert.Equal(new LocalDate(2003, 8, 31), hot.Last.DateIn(2003, hot.Last.MiddleDay));
    }

    [Fact]
    public void Rain_and_use_of_water_are_those_of_the_year()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 12, 10, southern: false), Temperate);

        Assert.Equal(6 * 365 / 3.0, summary.WeeklyRainMm.Sum(), 15.0); // 6 mm every third day
        Assert.All(summary.WeeklyRainMm, mm => Assert.InRange(mm, 5, 23));
        Assert.True(summary.WeeklyEvapotranspirationMm[28] > 2 * summary.WeeklyEvapotranspirationMm[1]);
    }

    [Fact]
    public void A_summary_comes_back_from_a_few_kilobytes()
    {
        var summary = InventedYears.Summary(InventedYears.Hours(2001, 12, 10, southern: true), -38);
        byte[] packed = ClimatePacking.Pack(summary);
        var back = Assert.IsType<ClimateSummary>(ClimatePacking.Unpack(packed));

        Assert.InRange(packed.Length, 1, 4096);
        Assert.Equal((summary.SeasonStart, summary.FirstYear, summary.LastYear, summary.Years), (back.SeasonStart, back.FirstYear, back.LastYear, back.Years));
        Assert.Equal(summary.Frosts.AsEnumerable(), back.Frosts);
        Assert.Equal(summary.Soils.AsEnumerable(), back.Soils);
        Assert.Equal(summary.HotWeeks.AsEnumerable(), back.HotWeeks);
        Assert.Equal(summary.Nights.AsEnumerable(), back.Nights);
        for (int day = 0; day < 365; day++)
            Assert.Equal(summary.DailyAir[day].MeanC, back.DailyAir[day].MeanC, 0.051);
        for (int week = 0; week < 52; week++)
            Assert.Equal(summary.WeeklyEvapotranspirationMm[week], back.WeeklyEvapotranspirationMm[week], 0.051);
        Assert.Null(ClimatePacking.Unpack([]));
        Assert.Null(ClimatePacking.Unpack([2, .. packed.Skip(1)]));
        for (int length = 1; length < packed.Length; length += 7)
            Assert.Null(ClimatePacking.Unpack(packed[..length]));
        Assert.Null(ClimatePacking.Unpack([.. packed, 0]));
    }

    [Fact]
    public void Nothing_known_gives_nothing_and_does_not_fail()
    {
        var dates = new DateInterval(new(2001, 1, 1), new(2003, 12, 31));
        var summary = ClimateSummary.Of(new(dates, ImmutableDictionary<DayFigure, double[]>.Empty), southern: false);

        Assert.Equal(0, summary.Years);
        Assert.All(summary.Soils, soil => Assert.Equal(0, soil.First.Years));
        Assert.True(double.IsNaN(summary.AirOn(new(2004, 2, 29)).MeanC));
        Assert.NotNull(ClimatePacking.Unpack(ClimatePacking.Pack(summary)));
    }

    private static PastDays StationDays(string file)
    {
        var rows = PublishedTable.StationRows(file);
        double[] Column(string name) => [.. rows.Select(row => row.Number(name))];
        return new(
            new DateInterval(Stations.DateOf(rows[0]), Stations.DateOf(rows[^1])),
            ImmutableDictionary<DayFigure, double[]>.Empty.Add(DayFigure.AirLow, Column("tmin_c")).Add(DayFigure.AirHigh, Column("tmax_c")));
    }

    private static string Dates(UsualDate usual) => string.Join(' ', new[] { usual.EarlyDay, usual.MiddleDay, usual.LateDay }.Select(day =>
        Assert.NotNull(usual.DateIn(2019, day)).ToString("MM-dd", CultureInfo.InvariantCulture)));
}

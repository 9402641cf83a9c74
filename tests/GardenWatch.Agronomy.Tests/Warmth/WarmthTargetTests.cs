using CsCheck;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Warmth;

public class WarmthTargetTests
{
    private static readonly LocalDate First = new(2026, 5, 1);

    [Fact]
    public void Warmth_is_reached_on_the_day_that_makes_it_enough()
    {
        Assert.Equal(new WarmthOutcome.Reached(First.PlusDays(2)), WarmthTarget.On([4, 5, 6, 7], First, 15));
        Assert.Equal(new WarmthOutcome.Reached(First), WarmthTarget.On([4, 5, 6, 7], First, 0.1));
        Assert.Equal(new WarmthOutcome.NotYet(22, 8), WarmthTarget.On([4, 5, 6, 7], First, 30));
        Assert.Equal(new WarmthOutcome.NotYet(0, 30), WarmthTarget.On([], First, 30));
    }

    [Fact]
    public void One_unknown_day_in_ten_counts_as_the_mean_of_the_others()
    {
        double[] days = [.. Enumerable.Repeat(5.0, 9), double.NaN, 5, 5];
        Assert.Equal(new WarmthOutcome.Reached(First.PlusDays(9)), WarmthTarget.On(days, First, 50));
    }

    [Fact]
    public void With_too_much_unknown_it_is_unknown_unless_the_known_days_suffice()
    {
        Assert.Equal(new WarmthOutcome.Unknown(2, 4), WarmthTarget.On([5, double.NaN, double.NaN, 5], First, 12));
        Assert.Equal(new WarmthOutcome.Reached(First.PlusDays(3)), WarmthTarget.On([5, double.NaN, double.NaN, 5], First, 10));
        Assert.Equal(new WarmthOutcome.Unknown(1, 1), WarmthTarget.On([double.NaN], First, 10));
    }

    [Fact]
    public void More_is_needed_never_sooner() =>
        Gen.Select(Gen.Double[0, 20].Array[1, 60], Gen.Double[1, 300], Gen.Double[0, 100]).Sample((days, need, more) =>
        {
            if (WarmthTarget.On(days, First, need + more) is WarmthOutcome.Reached later)
                Assert.True(Assert.IsType<WarmthOutcome.Reached>(WarmthTarget.On(days, First, need)).Date <= later.Date);
        });

    [Fact]
    public void What_is_gathered_and_what_is_still_needed_make_up_the_need() =>
        Gen.Select(Gen.Double[0, 20].Array[1, 20], Gen.Double[500, 900]).Sample((days, need) =>
        {
            var notYet = Assert.IsType<WarmthOutcome.NotYet>(WarmthTarget.On(days, First, need));
            Assert.Equal(need, notYet.GatheredCd + notYet.StillNeededCd, 1e-9);
        });

    [Fact]
    public void Past_years_give_an_early_a_middle_and_a_late_day()
    {
        // Eleven years, each day of a year as warm as any other: from 5 to 15 °C days.
        var record = new DateInterval(new(2001, 1, 1), new(2011, 12, 31));
        double[] days = [.. Enumerable.Range(0, record.Length).Select(i => record.Start.PlusDays(i).Year - 2001 + 5.0)];

        var reached = WarmthTarget.InPastYears(record, days, new(4, 10), 300, 100);

        // 300 at 5 a day on the 60th day, at 10 on the 30th, at 15 on the 20th; one year in ten lies inside them.
        Assert.Equal((11, 11), (reached.YearsWith, reached.Years));
        Assert.Equal(30, reached.MiddleDay);
        Assert.Equal(22, reached.EarlyDay); // at 14 a day
        Assert.Equal(50, reached.LateDay); // at 6 a day
        Assert.Equal(new LocalDate(2026, 5, 9), reached.DateIn(2026, reached.MiddleDay));
    }

    [Fact]
    public void Years_that_were_too_cold_are_counted_as_later_than_any_day()
    {
        var record = new DateInterval(new(2001, 1, 1), new(2004, 12, 31));
        double[] days = [.. Enumerable.Range(0, record.Length).Select(i => record.Start.PlusDays(i).Year == 2003 ? 0.0 : 10)];
        var reached = WarmthTarget.InPastYears(record, days, new(5, 1), 500, 120);
        Assert.Equal((3, 4), (reached.YearsWith, reached.Years));
        Assert.Null(reached.LateDay);
        Assert.Equal(50, reached.EarlyDay);
    }

    [Fact]
    public void A_season_of_the_south_crosses_the_new_year()
    {
        var record = new DateInterval(new(2001, 7, 1), new(2004, 6, 30));
        double[] days = new double[record.Length];
        Array.Fill(days, 10);
        var reached = WarmthTarget.InPastYears(record, days, new(11, 20), 600);
        Assert.Equal((60, 3), (reached.MiddleDay, reached.YearsWith));
        Assert.Equal(new LocalDate(2027, 1, 18), reached.DateIn(2026, reached.MiddleDay));
    }

    [Fact]
    public void A_year_with_too_many_gaps_is_left_out()
    {
        var record = new DateInterval(new(2001, 1, 1), new(2004, 12, 31));
        double[] days = [.. Enumerable.Range(0, record.Length).Select(i => record.Start.PlusDays(i).Year == 2002 && i % 2 == 0 ? double.NaN : 10.0)];
        var reached = WarmthTarget.InPastYears(record, days, new(5, 1), 500, 60);
        Assert.Equal((3, 3), (reached.YearsWith, reached.Years));
    }

    [Fact]
    public void After_the_forecast_past_years_go_on_with_what_is_still_needed()
    {
        var record = new DateInterval(new(2001, 1, 1), new(2011, 12, 31));
        double[] past = [.. Enumerable.Range(0, record.Length).Select(i => record.Start.PlusDays(i).Year - 2001 + 5.0)];

        // Ten days bring 100 of 400; the rest as in the test above, from 11 May on.
        var dates = WarmthTarget.Expected([.. Enumerable.Repeat(10.0, 10)], First, 400, record, past);
        Assert.Equal(
            (new LocalDate(2026, 6, 1), new LocalDate(2026, 6, 9), new LocalDate(2026, 6, 29)),
            (dates.Early!.Value, dates.Middle!.Value, dates.Late!.Value));

        var sure = WarmthTarget.Expected([.. Enumerable.Repeat(10.0, 10)], First, 95, record, past);
        Assert.Equal((new LocalDate(2026, 5, 10), new LocalDate(2026, 5, 10)), (sure.Early!.Value, sure.Late!.Value));
        Assert.Null(sure.Past);

        var unknown = WarmthTarget.Expected([10, double.NaN], First, 95, record, past);
        Assert.Equal(new WarmthDates(new WarmthOutcome.Unknown(1, 2), null, null, null, null), unknown);
    }

    [Fact]
    public void A_need_over_the_new_year_is_dated_in_the_new_year()
    {
        var record = new DateInterval(new(2001, 1, 1), new(2004, 12, 31));
        double[] past = new double[record.Length];
        Array.Fill(past, 10);
        var dates = WarmthTarget.Expected([10, 10], new(2026, 12, 30), 70, record, past);
        Assert.Equal(new LocalDate(2027, 1, 5), dates.Middle);
        // The morrow of 28 February in a leap year is its last day, which other years lack.
        Assert.Equal(new LocalDate(2028, 3, 4), WarmthTarget.Expected([10], new(2028, 2, 28), 60, record, past).Middle);
    }

    [Fact]
    public void A_usual_year_gathers_by_its_normals()
    {
        NormalAir[] level = [.. Enumerable.Repeat(new NormalAir(12, 16, 20), 365)];
        Assert.Equal(new LocalDate(2026, 5, 10), WarmthTarget.InUsualYear(level, First, 60, 10)!.Value);
        Assert.Equal(new LocalDate(2024, 3, 1), WarmthTarget.InUsualYear(level, new(2024, 2, 28), 18, 10)!.Value);
        Assert.Null(WarmthTarget.InUsualYear(level, First, 60, 25));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_need_that_is_none_is_an_error(double need) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => WarmthTarget.On([1], First, need));
}

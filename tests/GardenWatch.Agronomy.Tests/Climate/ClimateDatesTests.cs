using CsCheck;
using GardenWatch.Agronomy.Climate;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Climate;

public class ClimateDatesTests
{
    private static readonly DateInterval FourYears = new(new(2021, 1, 1), new(2024, 12, 31));

    [Fact]
    public void A_condition_is_dated_from_any_day_of_the_year_on()
    {
        // Holds on the 10th, 20th and 30th of May and on 1 March.
        bool? Holds(int day) => FourYears.Start.PlusDays(day) is { Month: 5, Day: 10 or 20 or 30 } or { Month: 3, Day: 1 };

        var fromNewYear = ClimateDates.DateReached(FourYears, new(1, 1), 365, Holds);
        var fromMay = ClimateDates.DateReached(FourYears, new(5, 11), 60, Holds);
        var last = ClimateDates.DateLeft(FourYears, new(1, 1), 365, Holds);

        Assert.Equal((new LocalDate(2023, 3, 1), 4, 4), (fromNewYear.DateIn(2023, fromNewYear.MiddleDay), fromNewYear.YearsWith, fromNewYear.Years));
        Assert.Equal(new LocalDate(2027, 5, 20), fromMay.DateIn(2027, fromMay.LateDay));
        Assert.Equal(new LocalDate(2023, 5, 30), last.DateIn(2023, last.MiddleDay));
    }

    [Fact]
    public void A_search_may_cross_the_new_year_and_ends_with_the_record()
    {
        bool? Holds(int day) => FourYears.Start.PlusDays(day) is { Month: 2, Day: 3 };

        var reached = ClimateDates.DateReached(FourYears, new(11, 1), 120, Holds);

        // From 1 November of 2021, 2022, 2023; of 2024 the record ends too soon, of 2020 it begins too late.
        Assert.Equal((3, 3), (reached.YearsWith, reached.Years));
        Assert.Equal(new LocalDate(2027, 2, 3), reached.DateIn(2026, reached.MiddleDay));
    }

    [Fact]
    public void Unknown_is_not_no()
    {
        // Of 2022 nothing is known from February to August; in 2023 it never holds.
        bool? Holds(int day)
        {
            var date = FourYears.Start.PlusDays(day);
            return date is { Year: 2022, Month: > 1 and < 9 } ? null : date.Year != 2023 && date.Month >= 5;
        }

        var reached = ClimateDates.DateReached(FourYears, new(1, 1), 365, Holds);

        Assert.Equal((2, 3), (reached.YearsWith, reached.Years));
        Assert.Equal(121, reached.EarlyDay);
        Assert.Null(reached.LateDay);
        Assert.Equal(0, ClimateDates.DateReached(FourYears, new(1, 1), 365, _ => null).Years);
    }

    [Fact]
    public void A_leap_day_as_the_start_is_the_last_of_February_in_other_years()
    {
        var reached = ClimateDates.DateReached(FourYears, new(2, 29), 30, _ => true);
        Assert.Equal((1, 4), (reached.MiddleDay, reached.Years));
    }

    [Fact]
    public void A_harder_condition_is_never_reached_sooner() =>
        Gen.Select(Gen.Double[0, 30].Array[FourYears.Length], Gen.Double[5, 20], Gen.Double[0, 5]).Sample((values, threshold, more) =>
        {
            var easy = ClimateDates.DateReached(FourYears, new(4, 1), 200, day => values[day] >= threshold);
            var hard = ClimateDates.DateReached(FourYears, new(4, 1), 200, day => values[day] >= threshold + more);
            Assert.True(hard.YearsWith <= easy.YearsWith);
            Assert.True((hard.MiddleDay ?? int.MaxValue) >= (easy.MiddleDay ?? int.MaxValue));
        }, iter: 50);

    // First three days whose mean is 10, 15, 18 °C, computed from the same files apart from this code.
    [Theory]
    [InlineData("IL Champaign 9 SW", "04-04 05-16 05-24")]
    [InlineData("NE Lincoln 8 ENE", "04-01 04-29 05-24")]
    [InlineData("OR Corvallis 10 SSW", "03-23 04-29 06-22")]
    [InlineData("TX Palestine 6 WNW", "01-03 01-16 03-13")]
    public void Measured_soil_first_keeps_a_warmth_on_the_days_found_independently(string station, string dates)
    {
        var rows = PublishedTable.StationRows("uscrn_daily_2020.csv").Where(row => row["station"] == station).ToList();
        var record = new DateInterval(Stations.DateOf(rows[0]), Stations.DateOf(rows[^1]));
        var days = new PastDays(record, System.Collections.Immutable.ImmutableDictionary<DayFigure, double[]>.Empty
            .Add(DayFigure.Soil10CmMean, [.. rows.Select(row => row.Number("soil_temp_10cm_c"))]));

        var found = new[] { 10.0, 15, 18 }.Select(threshold => ClimateDates.DateReached(
            record, new(1, 1), 365,
            day => days.MeanOver(DayFigure.Soil10CmMean, day, 3) is var mean && double.IsNaN(mean) ? null : mean >= threshold));

        Assert.Equal(dates, string.Join(' ', found.Select(usual =>
            Assert.NotNull(usual.DateIn(2020, usual.MiddleDay)).ToString("MM-dd", System.Globalization.CultureInfo.InvariantCulture))));
    }
}

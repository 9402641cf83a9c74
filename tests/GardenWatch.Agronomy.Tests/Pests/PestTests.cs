using CsCheck;
using GardenWatch.Agronomy.Pests;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Pests;

public class PestTests
{
    private const string File = "pest-degree-days.csv";

    // P004 is a base without totals, P073 to P077 have no published total (a sign starts the looking), P078 is arithmetic.
    private static readonly string[] WithoutEvent = ["P004", "P073", "P074", "P075", "P076", "P077", "P078"];

    private static readonly PestEvent[] WithoutCeiling =
        [.. PestEvent.All.Where(pest => double.IsPositiveInfinity(pest.UpperC) && !pest.IsStage)];

    public static TheoryData<string> Published => PublishedTable.Ids(File, "row_id", row => !WithoutEvent.Contains(row["row_id"]));

    [Theory]
    [MemberData(nameof(Published))]
    public void Limits_and_totals_are_the_printed_ones_in_both_units(string id)
    {
        var row = PublishedTable.Case(File, "row_id", id);
        var pest = PestEvent.All.Single(each => each.Id == id);
        bool fahrenheit = row["printed_unit"] == "degF days";
        // The unit that is not printed was rounded: degrees to hundredths, sums to tenths.
        Assert.Equal(row.Number("lower_C"), pest.LowerC, 0.006);
        Assert.Equal(row.Number("lower_F"), pest.LowerC * 1.8 + 32, fahrenheit ? 1e-9 : 0.06);
        double upper = row.Number("upper_C");
        Assert.Equal(double.IsNaN(upper) ? double.PositiveInfinity : upper, pest.UpperC, 0.006);
        Assert.Equal(row.Number("dd_C"), pest.FromDegreeDays, 0.06);
        Assert.Equal(row.Number("dd_F"), pest.FromDegreeDays * 1.8, fahrenheit ? 1e-9 : 0.06);
        double until = row.Number("dd_C_max");
        Assert.Equal(double.IsNaN(until) ? row.Number("dd_C") : until, pest.UntilDegreeDays, 0.06);
    }

    [Theory]
    [MemberData(nameof(Published))]
    public void An_event_comes_on_the_day_that_brings_its_sum(string id)
    {
        var row = PublishedTable.Case(File, "row_id", id);
        var pest = PestEvent.All.Single(each => each.Id == id);
        // Days inside the limits, for which every method is the mean over the base.
        double low = row.Number("lower_C") + 2, high = low + 4, aDay = low + 2 - pest.LowerC;
        int expected = (int)Math.Ceiling(row.Number("dd_C") / aDay) - 1;
        int days = expected + 60;
        double[] lows = [.. Enumerable.Repeat(low, days)], highs = [.. Enumerable.Repeat(high, days)];
        var course = PestCourse.Of(pest, lows, highs);
        Assert.InRange(Assert.NotNull(course.Begins), expected - 1, expected + 1);
        Assert.Equal(days * aDay, course.Gathered, 1e-6 * days * aDay);
    }

    [Fact] // P078, University of Nebraska: (50 + 85) / 2 - 38 = 29.5 °F days, the ceiling on the mean
    public void The_daily_formula_gives_the_printed_sum_of_a_day() =>
        Assert.Equal(29.5, DegreeDays.Average((50 - 32) / 1.8, (85 - 32) / 1.8, (38 - 32) / 1.8, (75 - 32) / 1.8) * 1.8, 1e-9);

    [Fact]
    public void Every_pest_has_signs_and_those_without_degree_days_say_what_starts_the_looking()
    {
        Assert.All(PestEvent.All, pest => Assert.NotNull(PestSigns.Of(pest.Pest)));
        string[] seen = [.. PestSigns.All.Where(signs => signs.Starts.Length > 0).Select(signs => signs.Pest)];
        Assert.Equal(["squash bug", "striped cucumber beetle", "Mexican bean beetle", "tomato hornworm"], seen);
        Assert.All(PestSigns.All, signs => Assert.NotEmpty(signs.LookFor + signs.Where + signs.Do));
        Assert.Contains("product label", PestEvent.Caution, StringComparison.Ordinal);
        Assert.All(PestEvent.All, pest => Assert.True(pest.Biofix.Date is null != (pest.Biofix.Seen.Length == 0), pest.Id));
    }

    [Fact]
    public void A_biofix_by_date_is_half_a_year_later_in_the_south()
    {
        var march = PestEvent.All.Single(pest => pest.Id == "P056").Biofix;
        Assert.Equal(new LocalDate(2026, 3, 1), march.In(2026, southern: false));
        Assert.Equal(new LocalDate(2026, 9, 1), march.In(2026, southern: true));
        Assert.Null(PestEvent.All.Single(pest => pest.Id == "P019").Biofix.In(2026, false));
        Assert.True(PestEvent.All.Single(pest => pest.Id == "P010").Biofix.Assumed);
    }

    [Fact]
    public void Few_unknown_days_are_taken_as_usual_and_many_leave_it_unknown()
    {
        var pest = PestEvent.All.Single(each => each.Id == "P061");
        double[] lows = [.. Enumerable.Repeat(10.0, 40)], highs = [.. Enumerable.Repeat(20.0, 40)];
        lows[5] = double.NaN;
        Assert.Equal(23, PestCourse.Of(pest, lows, highs).Begins); // 236 at 10 a day
        for (int i = 10; i < 15; i++)
            lows[i] = double.NaN;
        Assert.Equal(new PestCourse(double.NaN, null, null), PestCourse.Of(pest, lows, highs));
        Assert.Throws<ArgumentException>(() => PestCourse.Of(pest, [20], [10]));
        Assert.Throws<ArgumentException>(() => PestCourse.Of(pest, [20], []));
    }

    [Fact]
    public void A_warmer_year_is_never_later_where_there_is_no_ceiling() =>
        Gen.Select(Gen.Int[0, WithoutCeiling.Length - 1], Gen.Double[-5, 25].Array[200], Gen.Double[0, 5])
            .Sample((at, lows, warmer) =>
            {
                var pest = WithoutCeiling[at];
                double[] highs = [.. lows.Select(low => low + 9)];
                var plain = PestCourse.Of(pest, lows, highs);
                var warm = PestCourse.Of(pest, [.. lows.Select(c => c + warmer)], [.. highs.Select(c => c + warmer)]);
                Assert.True(warm.Gathered >= plain.Gathered - 1e-9);
                Assert.True(plain.Begins is null || warm.Begins <= plain.Begins);
            });
}

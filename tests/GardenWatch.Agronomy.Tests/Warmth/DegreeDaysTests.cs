using CsCheck;
using GardenWatch.Agronomy.Warmth;

namespace GardenWatch.Agronomy.Tests.Warmth;

public class DegreeDaysTests
{
    private const string File = "degree-days.csv";

    // The misprint stays in the table, beside its correction, so that nobody "fixes" the formula to it.
    public static TheoryData<string> Published =>
        PublishedTable.Ids(File, "id", row => !row["id"].EndsWith("AS-PRINTED", StringComparison.Ordinal));

    [Theory]
    [MemberData(nameof(Published))]
    public void A_day_gives_the_published_degree_days(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        Assert.Equal(row.Number("expected_dd_c"), Evaluate(row), row.Number("tolerance_c"));
    }

    [Theory]
    [InlineData("sngsine")]
    [InlineData("sngtri")]
    [InlineData("dblsine")]
    [InlineData("dbltri")]
    public void A_year_at_Esparto_agrees_with_the_published_daily_values(string column)
    {
        var days = PublishedTable.StationRows("degreeday_esparto_2020_ucipm.csv");
        int compared = 0;
        foreach (var (suffix, cutoff) in new[]
        {
            ("horiz", UpperCutoff.Horizontal), ("intrmd", UpperCutoff.Intermediate), ("vert", UpperCutoff.Vertical),
        })
        {
            // The double methods want the next day's minimum, which the last day lacks.
            for (int i = 0; i < days.Count - 1; i++)
            {
                double min = Celsius(days[i].Number("tmin_f")), max = Celsius(days[i].Number("tmax_f"));
                double next = Celsius(days[i + 1].Number("tmin_f"));
                double lower = Celsius(50), upper = Celsius(70);
                double ours = column switch
                {
                    "sngsine" => AsPublished(cut => DegreeDays.SingleSine(min, max, lower, upper, cut), cutoff),
                    "sngtri" => DegreeDays.SingleTriangle(min, max, lower, upper, cutoff),
                    "dblsine" => AsPublished(cut => DegreeDays.DoubleSine(min, max, next, lower, upper, cut), cutoff),
                    _ => DegreeDays.DoubleTriangle(min, max, next, lower, upper, cutoff),
                };
                Assert.Equal(days[i].Number($"dd_f_{column}_{suffix}"), ours * 1.8, 0.0051);
                compared++;
            }
        }
        Assert.Equal(3 * 365, compared);
    }

    // The published sine values never let the intermediate cut-off fall below the vertical one: on two days (11 July and
    // 15 August 2020, highs of 103 and 107 °F) the column repeats the vertical value where the formula gives less.
    private static double AsPublished(Func<UpperCutoff, double> degreeDays, UpperCutoff cutoff) =>
        cutoff == UpperCutoff.Intermediate
            ? Math.Max(degreeDays(cutoff), degreeDays(UpperCutoff.Vertical))
            : degreeDays(cutoff);

    [Fact]
    public void The_year_at_Esparto_adds_up_to_the_published_sum()
    {
        var days = PublishedTable.StationRows("degreeday_esparto_2020_ucipm.csv");
        double sum = days.Sum(day => 1.8 * DegreeDays.SingleSine(
            Celsius(day.Number("tmin_f")), Celsius(day.Number("tmax_f")), Celsius(50), Celsius(70)));
        Assert.Equal(4011.14, sum, 0.5);
    }

    [Fact]
    public void More_warmth_never_lowers_the_horizontal_degree_days() =>
        Gen.Select(Temperatures, Gen.Double[0, 10], Gen.Double[0, 10]).Sample((day, lowRise, highRise) =>
        {
            var (min, max, lower, upper) = day;
            double warmerMax = Math.Max(min + lowRise, max + highRise);
            Assert.True(DegreeDays.SingleSine(min + lowRise, warmerMax, lower, upper) >= DegreeDays.SingleSine(min, max, lower, upper) - 1e-9);
            Assert.True(DegreeDays.SingleTriangle(min + lowRise, warmerMax, lower, upper) >= DegreeDays.SingleTriangle(min, max, lower, upper) - 1e-9);
            Assert.True(DegreeDays.Average(min + lowRise, warmerMax, lower, upper) >= DegreeDays.Average(min, max, lower, upper) - 1e-9);
            Assert.True(DegreeDays.AverageOfClipped(min + lowRise, warmerMax, lower, upper) >= DegreeDays.AverageOfClipped(min, max, lower, upper) - 1e-9);
        });

    [Fact]
    public void Horizontal_degree_days_lie_between_nothing_and_the_whole_span() =>
        Temperatures.Sample((min, max, lower, upper) =>
        {
            Assert.InRange(DegreeDays.SingleSine(min, max, lower, upper), -1e-9, upper - lower + 1e-9);
            Assert.InRange(DegreeDays.SingleTriangle(min, max, lower, upper), -1e-9, upper - lower + 1e-9);
        });

    [Theory]
    [InlineData(double.NaN, 20)]
    [InlineData(10, double.NaN)]
    public void An_unknown_day_is_unknown(double min, double max)
    {
        foreach (var method in AllMethods)
            Assert.Equal(double.NaN, method(min, max, 10, 30));
    }

    [Fact]
    public void A_lowest_above_the_highest_is_an_error_that_names_both()
    {
        foreach (var method in AllMethods)
        {
            var error = Assert.Throws<ArgumentException>(() => method(20.5, 10, 5, 30));
            Assert.Contains("20.5 °C, is above its highest, 10 °C", error.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(10, 10)]
    [InlineData(30, 10)]
    [InlineData(double.NaN, 30)]
    [InlineData(10, double.NaN)]
    public void A_ceiling_that_is_not_above_the_base_is_an_error(double lower, double upper)
    {
        foreach (var method in AllMethods)
            Assert.Throws<ArgumentException>(() => method(10, 20, lower, upper));
        Assert.Throws<ArgumentException>(() => DegreeDays.HighestWithReducingCeiling(20, lower, upper));
    }

    // A low that is missing is told apart from one that is wrong in every method.
    private static Func<double, double, double, double, double>[] AllMethods =>
    [
        DegreeDays.Average, DegreeDays.AverageOfClipped,
        (min, max, lower, upper) => DegreeDays.SingleTriangle(min, max, lower, upper),
        (min, max, lower, upper) => DegreeDays.SingleSine(min, max, lower, upper),
        (min, max, lower, upper) => DegreeDays.DoubleTriangle(min, max, 9, lower, upper),
        (min, max, lower, upper) => DegreeDays.DoubleSine(min, max, 9, lower, upper),
    ];

    [Fact]
    public void A_higher_base_or_a_lower_ceiling_never_brings_more() =>
        Gen.Select(Temperatures, Gen.Double[0, 4]).Sample((day, step) =>
        {
            var (min, max, lower, upper) = day;
            foreach (var method in AllMethods)
            {
                if (max < 9)
                    continue;
                double warmth = method(min, max, lower, upper);
                Assert.True(method(min, max, lower + step, upper) <= warmth + 1e-9);
                Assert.True(method(min, max, lower, upper + step) >= warmth - 1e-9);
            }
        });

    [Fact]
    public void Of_the_cut_offs_the_horizontal_brings_most() =>
        Temperatures.Sample((min, max, lower, upper) =>
        {
            double Of(UpperCutoff cutoff) => DegreeDays.SingleSine(min, max, lower, upper, cutoff);
            Assert.True(Of(UpperCutoff.Vertical) <= Of(UpperCutoff.Horizontal) + 1e-9);
            Assert.True(Of(UpperCutoff.Intermediate) <= Of(UpperCutoff.Horizontal) + 1e-9);
            if (max <= upper)
                Assert.Equal(Of(UpperCutoff.Horizontal), Of(UpperCutoff.Vertical));
        });

    [Fact]
    public void A_little_warmer_is_worth_little_where_the_method_has_no_step() =>
        // The vertical cut-off has one: a level day just above the ceiling brings nothing.
        Temperatures.Sample((min, max, lower, upper) =>
        {
            foreach (var cutoff in new[] { UpperCutoff.Horizontal, UpperCutoff.Intermediate })
            {
                Assert.Equal(
                    DegreeDays.SingleSine(min, max, lower, upper, cutoff), DegreeDays.SingleSine(min, max + 1e-6, lower, upper, cutoff), 1e-5);
                Assert.Equal(
                    DegreeDays.SingleTriangle(min, max, lower, upper, cutoff), DegreeDays.SingleTriangle(min, max + 1e-6, lower, upper, cutoff), 1e-5);
            }
        });

    [Fact]
    public void A_next_night_warmer_than_the_day_leaves_the_curve_level_after_its_peak() =>
        Assert.Equal((DegreeDays.SingleSine(2, 8, 4) + 4) / 2, DegreeDays.DoubleSine(2, 8, 11, 4), 1e-12);

    [Fact]
    public void A_double_method_without_the_next_minimum_is_unknown()
    {
        Assert.Equal(double.NaN, DegreeDays.DoubleSine(5, 20, double.NaN, 10));
        Assert.Equal(double.NaN, DegreeDays.HighestWithReducingCeiling(double.NaN, 10, 30));
    }

    private static Gen<(double Min, double Max, double Lower, double Upper)> Temperatures { get; } =
        from min in Gen.Double[-20, 40]
        from range in Gen.Double[0, 25]
        from lower in Gen.Double[0, 15]
        from span in Gen.Double[5, 25]
        select (min, min + range, lower, lower + span);

    private static double Celsius(double fahrenheit) => (fahrenheit - 32) / 1.8;

    private static double Evaluate(PublishedTable.Row row)
    {
        double min = row.Number("tmin_c"), max = row.Number("tmax_c"), next = row.Number("tmin_next_c");
        double lower = row.Number("lower_c"), upper = row.Number("upper_c");
        if (double.IsNaN(upper))
            upper = double.PositiveInfinity;
        var cutoff = row["cutoff"] switch
        {
            "intermediate" => UpperCutoff.Intermediate,
            "vertical" => UpperCutoff.Vertical,
            _ => UpperCutoff.Horizontal,
        };
        return row["method"] switch
        {
            "average_method1" => DegreeDays.Average(min, max, lower, upper),
            "average_method2" => DegreeDays.AverageOfClipped(min, max, lower, upper),
            "single_triangle" => DegreeDays.SingleTriangle(min, max, lower, upper, cutoff),
            "single_sine" => DegreeDays.SingleSine(min, max, lower, upper, cutoff),
            "double_triangle" => DegreeDays.DoubleTriangle(min, max, next, lower, upper, cutoff),
            "double_sine" => DegreeDays.DoubleSine(min, max, next, lower, upper, cutoff),
            "max_only_reducing_ceiling" => DegreeDays.HighestWithReducingCeiling(max, lower, upper),
            var other => throw new ArgumentException($"No function for {other}."),
        };
    }
}

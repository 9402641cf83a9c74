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

    [Fact]
    public void The_sine_agrees_with_adding_up_the_day_in_small_steps() =>
        Temperatures.Sample((min, max, lower, upper) =>
        {
            const int steps = 4000;
            double mean = (min + max) / 2, amplitude = (max - min) / 2;
            double horizontal = 0, intermediate = 0, vertical = 0;
            for (int i = 0; i < steps; i++)
            {
                double t = mean + amplitude * Math.Sin(2 * Math.PI * (i + 0.5) / steps);
                horizontal += Math.Clamp(t, lower, upper) - lower;
                intermediate += Math.Clamp(t, lower, upper) - lower - Math.Max(0, t - upper);
                vertical += t > upper ? 0 : Math.Max(0, t - lower);
            }
            Assert.Equal(horizontal / steps, DegreeDays.SingleSine(min, max, lower, upper), 0.001);
            Assert.Equal(intermediate / steps, DegreeDays.SingleSine(min, max, lower, upper, UpperCutoff.Intermediate), 0.001);
            // One step more or less above the threshold is worth a 4000th of the span.
            Assert.Equal(vertical / steps, DegreeDays.SingleSine(min, max, lower, upper, UpperCutoff.Vertical), 0.03);
        }, iter: 300);

    [Theory]
    [InlineData(double.NaN, 20)]
    [InlineData(10, double.NaN)]
    [InlineData(20, 10)] // a lowest above the highest is a fault of the data
    public void An_unknown_or_impossible_day_is_unknown(double min, double max)
    {
        Assert.Equal(double.NaN, DegreeDays.Average(min, max, 10, 30));
        Assert.Equal(double.NaN, DegreeDays.AverageOfClipped(min, max, 10, 30));
        Assert.Equal(double.NaN, DegreeDays.SingleSine(min, max, 10, 30));
        Assert.Equal(double.NaN, DegreeDays.SingleTriangle(min, max, 10, 30));
        Assert.Equal(double.NaN, DegreeDays.DoubleSine(min, max, 12, 10, 30));
        Assert.Equal(double.NaN, DegreeDays.DoubleTriangle(min, max, 12, 10, 30));
    }

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

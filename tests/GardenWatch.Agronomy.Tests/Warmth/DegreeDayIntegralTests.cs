using CsCheck;
using GardenWatch.Agronomy.Warmth;
using MathNet.Numerics;

namespace GardenWatch.Agronomy.Tests.Warmth;

/// <summary>The closed forms against the day itself, added up by a general quadrature.</summary>
public class DegreeDayIntegralTests
{
    private static readonly UpperCutoff[] Cutoffs = Enum.GetValues<UpperCutoff>();

    [Fact]
    public void The_sine_is_the_integral_of_its_day() =>
        Days.Sample((min, max, next, lower, upper) =>
        {
            foreach (var cutoff in Cutoffs)
                Assert.Equal(
                    Integral(SineAt(min, max), lower, upper, cutoff), DegreeDays.SingleSine(min, max, lower, upper, cutoff), 1e-4);
        }, iter: 200);

    [Fact]
    public void The_triangle_is_the_integral_of_its_day() =>
        Days.Sample((min, max, next, lower, upper) =>
        {
            foreach (var cutoff in Cutoffs)
                Assert.Equal(
                    Integral(TriangleAt(min, max), lower, upper, cutoff), DegreeDays.SingleTriangle(min, max, lower, upper, cutoff), 1e-4);
        }, iter: 200);

    [Fact]
    public void The_double_methods_are_the_integrals_of_their_two_halves() =>
        Days.Sample((min, max, next, lower, upper) =>
        {
            foreach (var cutoff in Cutoffs)
            {
                Assert.Equal(
                    (Integral(SineAt(min, max), lower, upper, cutoff) + Integral(SineAt(next, max), lower, upper, cutoff)) / 2,
                    DegreeDays.DoubleSine(min, max, next, lower, upper, cutoff), 1e-4);
                Assert.Equal(
                    (Integral(TriangleAt(min, max), lower, upper, cutoff) + Integral(TriangleAt(next, max), lower, upper, cutoff)) / 2,
                    DegreeDays.DoubleTriangle(min, max, next, lower, upper, cutoff), 1e-4);
            }
        }, iter: 100);

    [Fact]
    public void The_corrected_row_of_Zalom_is_what_the_integral_gives_and_the_printed_one_is_not()
    {
        var corrected = PublishedTable.Case("degree-days.csv", "id", "ZAL83-double_triangle-09-CORRECTED");
        var printed = PublishedTable.Case("degree-days.csv", "id", "ZAL83-double_triangle-09-AS-PRINTED");
        double min = corrected.Number("tmin_c"), max = corrected.Number("tmax_c"), next = corrected.Number("tmin_next_c");
        double lower = corrected.Number("lower_c"), upper = corrected.Number("upper_c");
        double integral = (Integral(TriangleAt(min, max), lower, upper, UpperCutoff.Horizontal)
            + Integral(TriangleAt(next, max), lower, upper, UpperCutoff.Horizontal)) / 2;
        Assert.Equal(corrected.Number("expected_dd_c"), integral, corrected.Number("tolerance_c"));
        Assert.True(Math.Abs(printed.Number("expected_dd_c") - integral) > 1);
    }

    // From the lowest at 0 to the highest at 1: the other half of a day is its mirror image.
    private static Func<double, double> SineAt(double min, double max) =>
        t => (min + max) / 2 - (max - min) / 2 * Math.Cos(Math.PI * t);

    private static Func<double, double> TriangleAt(double min, double max) => t => min + (max - min) * t;

    // Piece by piece between the thresholds, where what is added up is smooth; the pieces found by halving, not by the formula.
    private static double Integral(Func<double, double> airAt, double lower, double upper, UpperCutoff cutoff)
    {
        double atLower = Crossing(airAt, lower), atUpper = Crossing(airAt, upper);
        double between = Integrate.GaussLegendre(t => airAt(t) - lower, atLower, atUpper, 64);
        double over = cutoff switch
        {
            UpperCutoff.Horizontal => (upper - lower) * (1 - atUpper),
            UpperCutoff.Intermediate => Integrate.GaussLegendre(t => 2 * upper - airAt(t) - lower, atUpper, 1, 64),
            _ => 0,
        };
        return between + over;
    }

    private static double Crossing(Func<double, double> airAt, double threshold)
    {
        if (airAt(0) >= threshold)
            return 0;
        if (airAt(1) <= threshold)
            return 1;
        return FindRoots.OfFunction(t => airAt(t) - threshold, 0, 1, 1e-12);
    }

    private static Gen<(double Min, double Max, double Next, double Lower, double Upper)> Days { get; } =
        from min in Gen.Double[-20, 35]
        from range in Gen.Double[0.1, 25]
        from nextShare in Gen.Double[-1, 1]
        from lower in Gen.Double[0, 15]
        from span in Gen.Double[5, 25]
        select (min, min + range, min + range * (nextShare < 0 ? nextShare : nextShare * 0.99), lower, lower + span);
}

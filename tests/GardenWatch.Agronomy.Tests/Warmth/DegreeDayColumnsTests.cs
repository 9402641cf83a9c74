using CsCheck;
using GardenWatch.Agronomy.Warmth;

namespace GardenWatch.Agronomy.Tests.Warmth;

public class DegreeDayColumnsTests
{
    private delegate void Column(ReadOnlySpan<double> minC, ReadOnlySpan<double> maxC, Span<double> degreeDays);

    [Fact]
    public void A_column_gives_what_its_days_give_one_by_one() =>
        Year.Sample(days =>
        {
            double[] min = [.. days.Select(day => day.Min)], max = [.. days.Select(day => day.Min + day.Range)];
            double Next(int i) => min[Math.Min(i + 1, min.Length - 1)];
            Same((lows, highs, into) => DegreeDays.Average(lows, highs, into, 8, 28), i => DegreeDays.Average(min[i], max[i], 8, 28));
            Same((lows, highs, into) => DegreeDays.AverageOfClipped(lows, highs, into, 8, 28), i => DegreeDays.AverageOfClipped(min[i], max[i], 8, 28));
            foreach (var cutoff in Enum.GetValues<UpperCutoff>())
            {
                Same((lows, highs, into) => DegreeDays.SingleTriangle(lows, highs, into, 8, 28, cutoff), i => DegreeDays.SingleTriangle(min[i], max[i], 8, 28, cutoff));
                Same((lows, highs, into) => DegreeDays.SingleSine(lows, highs, into, 8, 28, cutoff), i => DegreeDays.SingleSine(min[i], max[i], 8, 28, cutoff));
                Same((lows, highs, into) => DegreeDays.DoubleTriangle(lows, highs, into, 8, 28, cutoff), i => DegreeDays.DoubleTriangle(min[i], max[i], Next(i), 8, 28, cutoff));
                Same((lows, highs, into) => DegreeDays.DoubleSine(lows, highs, into, 8, 28, cutoff), i => DegreeDays.DoubleSine(min[i], max[i], Next(i), 8, 28, cutoff));
            }

            void Same(Column column, Func<int, double> ofDay)
            {
                var warmth = new double[min.Length];
                column(min, max, warmth);
                Assert.Equal([.. Enumerable.Range(0, min.Length).Select(ofDay)], warmth);
            }
        }, iter: 100);

    [Fact]
    public void A_column_names_the_day_that_cannot_be()
    {
        var error = Assert.Throws<ArgumentException>(() => DegreeDays.SingleSine([5, 20], [15, 10], new double[2], 10));
        Assert.Contains("day 1, 20 °C", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Columns_of_different_length_are_an_error() =>
        Assert.Throws<ArgumentException>(() => DegreeDays.Average([5, 6], [15], new double[2], 10));

    // One low in twenty is missing.
    private static Gen<(double Min, double Range)[]> Year { get; } =
        (from min in Gen.Frequency((19, Gen.Double[-15, 30]), (1, Gen.Const(double.NaN)))
         from range in Gen.Double[0, 20]
         select (min, range)).Array[1, 60];
}

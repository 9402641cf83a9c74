using CsCheck;
using GardenWatch.Agronomy.Water;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Water;

public class RainGaugeTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 5, 20, 7, 0);

    [Fact]
    public void Without_readings_that_can_be_compared_the_service_is_taken_at_its_word()
    {
        Assert.Equal(1, RainGauge.Factor([], Now));
        Assert.Equal(1, RainGauge.Factor([new(Now, 1, 10), new(Now, 10, 1), new(Now, 10, double.NaN), new(Now + Duration.FromDays(1), 20, 10)], Now));
    }

    [Fact]
    public void Steady_readings_are_believed_in_the_end() =>
        Gen.Double[0.7, 1.45].Sample(ratio => Assert.Equal(ratio, RainGauge.Factor(Falls(80, ratio), Now), 0.1));

    [Fact]
    public void One_wild_reading_moves_little() =>
        Gen.Double[0.3, 500].Sample(ratio =>
        {
            var steady = Falls(5, 1.1);
            double factor = RainGauge.Factor(steady, Now);
            Assert.InRange(RainGauge.Factor([.. steady, new(Now, 10 * ratio, 10)], Now) / factor, 1 / 1.12, 1.12);
        });

    [Fact]
    public void It_stays_between_two_thirds_and_one_and_a_half() =>
        Gen.Select(Gen.Double[0, 200], Gen.Double[0, 200], Gen.Double[0, 400]).Array[0, 40].Sample(falls => Assert.InRange(
            RainGauge.Factor(falls.Select(fall => new GaugeReading(Now - Duration.FromDays(fall.Item3), fall.Item1, fall.Item2)), Now), 1 / 1.5 - 1e-9, 1.5 + 1e-9));

    [Fact]
    public void Hours_are_brought_to_the_sum_in_their_own_shape()
    {
        Assert.Equal([0, 3, 6, 3], Brought([0, 1, 2, 1], 12));
        Assert.Equal([0, 0, 0, 0], Brought([0, 1, 2, 1], 0));
        // Where the series had nothing, or nothing was known, nobody knows the hour.
        Assert.Equal([3, 3, 3, 3], Brought([0, 0, 0, 0], 12));
        Assert.Equal([3, 3, 3, 3], Brought([double.NaN, double.NaN, double.NaN, double.NaN], 12));
        Assert.Equal([0, 12], Brought([double.NaN, 4], 12));
    }

    [Fact]
    public void The_sum_is_what_was_read() =>
        Gen.Select(Gen.Double[0, 20].Array[1, 48], Gen.Double[0, 100]).Sample((hours, sum) => Assert.Equal(sum, Brought(hours, sum).Sum(), 1e-6));

    private static double[] Brought(double[] hours, double sum)
    {
        double[] copy = [.. hours];
        RainGauge.BringTo(copy, sum);
        return copy;
    }

    private static GaugeReading[] Falls(int count, double ratio) =>
        [.. Enumerable.Range(0, count).Select(day => new GaugeReading(Now - Duration.FromDays(day), 10 * ratio, 10))];
}

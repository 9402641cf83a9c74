using CsCheck;
using GardenWatch.Agronomy.Frost;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class LearnedPocketTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 5, 20, 7, 0);

    [Fact]
    public void It_is_the_plans_word_until_a_thermometer_says_otherwise()
    {
        Assert.Equal(1.1, Learned(1.1), 1e-9);
        Assert.Equal(0, Learned(0, new LowReading(Now, double.NaN, 3, 1), new LowReading(Now, 3, double.NaN, 1), new LowReading(Now, 3, 3, double.NaN)), 1e-9);
        // A first clear night of 2 K moves it by a quarter of the way.
        Assert.Equal(0.5, Learned(0, Night(0, 2)), 1e-9);
    }

    [Fact]
    public void Steady_readings_are_believed_in_the_end() =>
        Gen.Double[-0.9, 3.9].Sample(colder => Assert.Equal(colder, Learned(0, [.. Enumerable.Range(0, 60).Select(day => Night(day, colder))]), 0.3));

    [Fact]
    public void One_wild_reading_moves_little() =>
        Gen.Double[-40, 40].Sample(colder =>
        {
            LowReading[] steady = [.. Enumerable.Range(1, 5).Select(day => Night(day, 1))];
            Assert.InRange(Math.Abs(Learned(0, [.. steady, Night(0, colder)]) - Learned(0, steady)), 0, 0.7);
        });

    [Fact]
    public void It_stays_within_its_bounds_and_is_warier_of_warm_than_of_cold() =>
        Gen.Select(Gen.Double[-8, 8], Gen.Double[0, 1], Gen.Double[0, 300]).Array[0, 30].Sample(nights =>
        {
            double learned = Learned(1, [.. nights.Select(night => new LowReading(Now - Duration.FromDays(night.Item3), 5 - night.Item1, 5, night.Item2))]);
            Assert.InRange(learned, 0, 5);
        });

    [Fact]
    public void A_cloudy_night_teaches_little()
    {
        double cloudy = Learned(0, [.. Enumerable.Range(0, 10).Select(day => new LowReading(Now - Duration.FromDays(day), 3, 5, 0.1))]);
        double clear = Learned(0, [.. Enumerable.Range(0, 10).Select(day => Night(day, 2))]);
        Assert.InRange(cloudy, 0, clear / 2);
    }

    private static double Learned(double asPlanned, params LowReading[] readings) => LearnedPocket.Of(readings, new(asPlanned), Now).Kelvins;

    private static LowReading Night(int daysAgo, double colder) => new(Now - Duration.FromDays(daysAgo), 5 - colder, 5, 1);
}

using CsCheck;
using GardenWatch.Agronomy.Soil;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Soil;

public class ProbeOffsetTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 5, 20, 7, 0);

    [Fact]
    public void An_offset_is_learned_slowly()
    {
        Assert.Equal(2.0 / 3, Learned(Day(0, 2)), 1e-9); // a first reading moves it by a third
        Assert.Equal(2 * 10 / 12.0, Learned([.. Enumerable.Range(0, 10).SelectMany(day => Day(day, 2))]), 0.05);
        // Ten readings of one morning are one day's.
        Assert.Equal(2.0 / 3, Learned([.. Enumerable.Range(0, 10).SelectMany(_ => Day(0, 2))]), 1e-9);
    }

    [Fact]
    public void It_forgets_slowly_and_follows_what_is_new()
    {
        double old = Learned([.. Enumerable.Range(60, 10).SelectMany(day => Day(day, 3))]);
        Assert.InRange(old, 1.0, 1.8);
        double turned = Learned([.. Enumerable.Range(60, 10).SelectMany(day => Day(day, 3)), .. Enumerable.Range(0, 10).SelectMany(day => Day(day, -1))]);
        Assert.InRange(turned, -0.6, 0.2);
    }

    [Fact]
    public void Readings_before_a_reset_or_after_the_instant_do_not_count()
    {
        ProbeReading[] readings = [.. Day(20, 3), .. Day(2, -1), .. Day(-3, 4)];
        Assert.Equal(Learned(Day(2, -1)), Assert.NotNull(ProbeOffset.Learned(readings, Now, Now - Duration.FromDays(10))).Kelvins, 1e-9);
        Assert.Null(ProbeOffset.Learned(readings, Now, Now));
        Assert.Null(ProbeOffset.Learned([], Now));
    }

    [Fact]
    public void A_probe_in_the_sun_an_unknown_reading_and_an_unknown_model_are_left_out()
    {
        Assert.Null(ProbeOffset.Learned(Day(1, 15), Now));
        Assert.Null(ProbeOffset.Learned([new(Now, double.NaN, 10), new(Now, 10, double.NaN)], Now));
        Assert.Equal(Learned(Day(1, 2)), Learned([.. Day(1, 2), .. Day(1, 15)]), 1e-9);
    }

    [Fact]
    public void It_lies_between_nothing_and_what_was_read_whatever_the_order() =>
        Gen.Select(Gen.Double[-8, 8], Gen.Double[0, 90]).Array[1, 20].Sample(days =>
        {
            ProbeReading[] readings = [.. days.Select(day => new ProbeReading(Now - Duration.FromDays(day.Item2), 10 + day.Item1, 10))];
            double offset = Learned(readings);
            Assert.InRange(offset, Math.Max(-4, Math.Min(0, days.Min(day => day.Item1))) - 1e-9, Math.Min(4, Math.Max(0, days.Max(day => day.Item1))) + 1e-9);
            Assert.Equal(offset, Learned([.. readings.Reverse()]), 1e-9);
        });

    [Fact]
    public void One_wild_reading_moves_little() =>
        Gen.Double[-30, 30].Sample(wild =>
        {
            ProbeReading[] steady = [.. Enumerable.Range(1, 5).SelectMany(day => Day(day, 1))];
            Assert.InRange(Math.Abs(Learned([.. steady, .. Day(0, wild)]) - Learned(steady)), 0, 0.7);
            Assert.InRange(Math.Abs(ProbeOffset.Learned(Day(0, wild), Now)?.Kelvins ?? 0), 0, 4 / 3.0 + 1e-9);
        });

    [Fact]
    public void Steady_readings_are_believed_in_the_end() =>
        Gen.Double[-3.9, 3.9].Sample(steady => Assert.Equal(steady, Learned([.. Enumerable.Range(0, 60).SelectMany(day => Day(day, steady))]), 0.3));

    private static double Learned(ProbeReading[] readings) => Assert.NotNull(ProbeOffset.Learned(readings, Now)).Kelvins;

    private static ProbeReading[] Day(int daysAgo, double kelvins) => [new(Now - Duration.FromDays(daysAgo), 12 + kelvins, 12)];
}

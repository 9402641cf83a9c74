using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Warmth;

public class WarmthSumTests
{
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly LocalCalendar Calendar = new(Berlin, new GeoPosition(52.5, 13.4, 40));

    [Fact]
    public void A_day_at_fifteen_degrees_over_ten_gathers_five() =>
        Assert.Equal(5, WarmthSum.OfHours(Enumerable.Repeat(15.0, 24).ToArray(), 10), 1e-9);

    [Fact]
    public void Air_above_the_ceiling_counts_as_the_ceiling() =>
        Assert.Equal(20, WarmthSum.OfHours(Enumerable.Repeat(35.0, 24).ToArray(), 10, 30), 1e-9);

    [Fact]
    public void Hours_below_the_base_take_nothing_away() =>
        Assert.Equal(2.5, WarmthSum.OfHours(Enumerable.Range(0, 24).Select(h => h < 12 ? 0.0 : 15.0).ToArray(), 10), 1e-9);

    [Theory]
    [InlineData(2, false)]
    [InlineData(3, true)]
    public void A_day_with_fewer_than_nine_hours_in_ten_is_unknown(int missing, bool unknown)
    {
        double warmth = WarmthSum.OfHours(Enumerable.Range(0, 24).Select(h => h < missing ? double.NaN : 15.0).ToArray(), 10);
        if (unknown)
            Assert.Equal(double.NaN, warmth);
        else
            Assert.Equal(5, warmth, 1e-9);
    }

    [Fact]
    public void No_hours_are_an_unknown_day() => Assert.Equal(double.NaN, WarmthSum.OfHours([], 10));

    [Theory]
    [InlineData(3, 29, 23)]
    [InlineData(10, 25, 25)]
    [InlineData(6, 1, 24)]
    public void A_short_or_long_day_gathers_its_own_hours(int month, int day, int hours)
    {
        var date = new LocalDate(2026, month, day);
        var weather = TestSeries.Of(Instant.FromUtc(2026, 1, 1, 0, 0), 365 * 24, (WeatherVariable.Air, _ => 22));
        double[] warmth = WarmthSum.Daily(weather, Calendar, date, date, 10);
        Assert.Equal(12.0 * hours / 24, Assert.Single(warmth), 1e-9);
    }

    [Fact]
    public void Days_outside_the_series_are_unknown_and_days_cut_short_by_its_end_too()
    {
        // Starts at 00:00 in Berlin on 2 June, ends in the afternoon of 4 June.
        var weather = TestSeries.Of(Instant.FromUtc(2026, 6, 1, 22, 0), 63, (WeatherVariable.Air, _ => 20));
        double[] warmth = WarmthSum.Daily(weather, Calendar, new(2026, 6, 1), new(2026, 6, 5), 10);
        Assert.Equal([double.NaN, 10, 10, double.NaN, double.NaN], warmth);
    }

    [Fact]
    public void A_sum_with_an_unknown_day_is_unknown_but_says_what_it_knows()
    {
        var gathered = WarmthSum.Gather([5, double.NaN, 7]);
        Assert.Equal(12, gathered.KnownDegreeDays);
        Assert.Equal(1, gathered.UnknownDays);
        Assert.Equal(double.NaN, gathered.DegreeDays);
        Assert.Equal(double.NaN, gathered.EstimatedDegreeDays);
    }

    [Fact]
    public void One_unknown_day_in_ten_is_estimated_from_the_others()
    {
        var gathered = WarmthSum.Gather([4, 4, 4, 4, double.NaN, 4, 4, 4, 4, 4]);
        Assert.Equal(40, gathered.EstimatedDegreeDays, 1e-9);
        Assert.Equal(0, WarmthSum.Gather([]).EstimatedDegreeDays);
    }

    [Fact]
    public void Hours_of_a_sine_agree_with_the_sine_method()
    {
        var hours = Enumerable.Range(0, 24).Select(h => 15 + 8 * Math.Sin(2 * Math.PI * (h + 0.5) / 24)).ToArray();
        Assert.Equal(DegreeDays.SingleSine(7, 23, 10, 20), WarmthSum.OfHours(hours, 10, 20), 0.03);
    }

    [Theory]
    [InlineData(UpperCutoff.Horizontal, 15)]
    [InlineData(UpperCutoff.Intermediate, 10)] // five above the ceiling, taken off twice
    [InlineData(UpperCutoff.Vertical, 0)]
    public void Hours_have_the_three_cut_offs(UpperCutoff cutoff, double warmth) =>
        Assert.Equal(warmth, WarmthSum.OfHours(Enumerable.Repeat(30.0, 24).ToArray(), 10, 25, cutoff), 1e-9);

    [Fact]
    public void Many_steps_of_a_sine_agree_with_the_sine_method_for_each_cut_off()
    {
        double[] steps = [.. Enumerable.Range(0, 24_000).Select(i => 20 + 10 * Math.Sin(2 * Math.PI * (i + 0.5) / 24_000))];
        foreach (var cutoff in Enum.GetValues<UpperCutoff>())
            Assert.Equal(DegreeDays.SingleSine(10, 30, 12, 25, cutoff), WarmthSum.OfHours(steps, 12, 25, cutoff) / 1000, 0.001);
    }

    [Fact]
    public void A_ceiling_below_the_base_is_an_error() =>
        Assert.Throws<ArgumentException>(() => WarmthSum.OfHours([20], 10, 5));
}

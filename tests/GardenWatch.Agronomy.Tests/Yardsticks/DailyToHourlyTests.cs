using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Series;

public class DailyToHourlyTests
{
    private static readonly LocalDate First = new(2026, 3, 27);
    private static readonly LocalCalendar Calendar = new(DateTimeZoneProviders.Tzdb["Europe/Berlin"], new(52.5, 13.4, 40));

    [Fact]
    public void Hours_run_through_every_low_and_high_and_never_beyond()
    {
        double[] low = [2, -1, 5, 3, 4], high = [12, 9, 15, 14, 10];
        var (start, air) = DailyToHourly.Air(low, high, First, Calendar);
        Assert.Equal(Calendar.DayOf(First).Start, start);
        Assert.Equal(5 * 24 - 1, air.Length); // the clock goes forward on 29 March
        for (int day = 0; day < low.Length; day++)
        {
            var hours = HoursOf(start, air, First.PlusDays(day));
            Assert.InRange(hours.Max(), high[day] - 0.3, high[day] + 1e-9);
        }
        // Between stamps the low itself may be missed by part of an hour's warming.
        Assert.InRange(HoursOf(start, air, First.PlusDays(1)).Min(), -1, -0.2);
        Assert.All(air, t => Assert.InRange(t, -1, 15));
    }

    [Fact]
    public void A_missing_low_leaves_only_the_hours_that_hang_on_it_unknown()
    {
        var (start, air) = DailyToHourly.Air([2, double.NaN, 5, 3], [12, 9, 15, 14], First, Calendar);
        Assert.All(HoursOf(start, air, First).Take(18), t => Assert.False(double.IsNaN(t)));
        Assert.All(HoursOf(start, air, First.PlusDays(1)), t => Assert.True(double.IsNaN(t)));
        Assert.All(HoursOf(start, air, First.PlusDays(3)), t => Assert.False(double.IsNaN(t)));
    }

    [Fact]
    public void Radiation_keeps_the_sum_of_the_day_and_the_dark_of_the_night()
    {
        var (start, watts) = DailyToHourly.Radiation([10, 0, double.NaN, 20], First, Calendar);
        Assert.Equal(10, HoursOf(start, watts, First).Sum() * 3600 / 1e6, 1e-9);
        Assert.Equal(0, HoursOf(start, watts, First.PlusDays(1)).Sum());
        Assert.All(HoursOf(start, watts, First.PlusDays(2)), w => Assert.True(double.IsNaN(w)));
        Assert.Equal(0, HoursOf(start, watts, First)[2]);
        Assert.InRange(Array.IndexOf(watts, HoursOf(start, watts, First).Max()), 11, 14);
    }

    [Fact]
    public void Polar_day_and_night_have_hours_too()
    {
        var svalbard = new LocalCalendar(DateTimeZoneProviders.Tzdb["Arctic/Longyearbyen"], new GeoPosition(78.22, 15.65, 10));
        foreach (var date in new[] { new LocalDate(2026, 6, 20), new LocalDate(2026, 12, 20) })
        {
            var (_, air) = DailyToHourly.Air([-4, -5], [1, 2], date, svalbard);
            Assert.All(air, t => Assert.InRange(t, -5, 2));
        }
        var (_, dark) = DailyToHourly.Radiation([0, 0], new(2026, 12, 20), svalbard);
        Assert.All(dark, w => Assert.Equal(0, w));
    }

    private static double[] HoursOf(Instant start, double[] values, LocalDate date)
    {
        var day = Calendar.DayOf(date);
        return values[(int)(day.Start - start).TotalHours..(int)(day.End - start).TotalHours];
    }
}

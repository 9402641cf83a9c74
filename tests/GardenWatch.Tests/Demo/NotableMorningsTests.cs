using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using static GardenWatch.Tests.Demo.InventedYear;
using static GardenWatch.Agronomy.Series.WeatherVariable;

namespace GardenWatch.Tests.Demo;

/// <summary>The pinned days are what their stories say.</summary>
public class NotableMorningsTests
{
    [Fact]
    public void The_late_frost_is_clear_calm_and_the_last_of_the_spring()
    {
        var night = NotableMornings.LateFrost.Date;

        Assert.InRange(OfNight(Air, night).Min(), 1, 3.5);
        Assert.True(OfNight(CloudCover, night).Average() < 15);
        Assert.True(OfNight(Wind, night).Max() < 2);
        Assert.True(OfNight(Air, night.PlusDays(-1)).Min() > 1.5, "the night before must not freeze first");
        Assert.All(
            Dates.Where(date => date > night && date.Month < 9),
            date => Assert.True(OfNight(Air, date).Min() > 1, $"a frost in the night of {date}"));
    }

    [Fact]
    public void Soil_is_warm_for_the_first_time_about_the_warm_morning()
    {
        // 15.6 °C is 60 °F, the usual wish of beans, squash and cucumbers.
        var first = Dates.First(date => SoilAt12Cm(date) >= 15.6);
        var warm = NotableMornings.WarmSoil.Date;

        Assert.InRange(Period.DaysBetween(first, warm), -1, 2);
        Assert.All(Enumerable.Range(0, 7).Select(warm.PlusDays), date => Assert.True(OfNight(Air, date).Min() >= 10));
    }

    [Fact]
    public void Rain_for_granules_is_enough_soft_and_after_a_dry_morning()
    {
        var date = NotableMornings.RainForGranules.Date;
        double[] hours = OfDay(Rain, date);

        Assert.Equal(0, hours[..13].Sum());
        Assert.InRange(hours.Sum(), 8, 10);
        Assert.InRange(hours.Max(), 1, 3);
        Assert.Equal(0, OfDay(Rain, date.PlusDays(-1)).Sum());
    }

    [Fact]
    public void The_quiet_morning_has_no_rain_no_frost_no_gale_and_no_heat()
    {
        var date = NotableMornings.Quiet.Date;

        Assert.Equal(0, OfDay(Rain, date).Sum() + OfDay(Rain, date.PlusDays(-1)).Sum());
        Assert.InRange(OfDay(Air, date).Min(), 8, 20);
        Assert.InRange(OfDay(Air, date).Max(), 20, 31);
        Assert.True(OfDay(Gust, date).Max() < 10);
    }

    [Fact]
    public void The_washout_pours()
    {
        double[] hours = OfDay(Rain, NotableMornings.Washout.Date);

        Assert.InRange(hours.Max(), 12, 25);
        Assert.InRange(hours.Sum(), 22, 26);
    }

    [Fact]
    public void The_service_is_gone_over_the_morning_without_weather_and_no_longer() =>
        Assert.All(NotableMornings.All, morning => Assert.Equal(
            morning == NotableMornings.NoWeather,
            NotableMornings.ServiceDown.Contains(Calendar.At(morning.Date, new(6, 0)))));

    [Fact]
    public void The_forecast_of_each_morning_tells_its_story_too()
    {
        var forecasts = new ForecastFromTruth(Invented, InventedSeason.Place, NotableMornings.ForecastSeed);
        double[] Said(NotableMorning morning, WeatherVariable variable, Interval hours) =>
            Within(forecasts.IssuedAt(Calendar.At(morning.Date, new(6, 0)), pastDays: 1, forecastDays: 3), variable, hours);
        double[] SaidOfDay(NotableMorning morning, WeatherVariable variable)
        {
            var six = Calendar.At(morning.Date, new(6, 30));
            return Said(morning, variable, new(six, six + Duration.FromHours(24)));
        }

        var frost = NotableMornings.LateFrost;
        Assert.InRange(Said(frost, Air, Calendar.NightOf(frost.Date)).Min(), 1, 3.5);
        Assert.True(Said(frost, CloudCover, Calendar.NightOf(frost.Date)).Average() < 25);
        Assert.InRange(SaidOfDay(NotableMornings.RainForGranules, Rain).Sum(), 7, 11);
        Assert.InRange(SaidOfDay(NotableMornings.RainForGranules, Rain).Max(), 0.5, 4);
        Assert.True(SaidOfDay(NotableMornings.Quiet, Rain).Sum() < 1.5);
        Assert.InRange(SaidOfDay(NotableMornings.Washout, Rain).Max(), 9, 30);
    }
}

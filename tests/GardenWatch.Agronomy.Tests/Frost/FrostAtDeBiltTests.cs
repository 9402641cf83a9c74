using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Tests.Frost;

/// <summary>The leaf against De Bilt's lowest at 10 cm over grass. No constant of the model is fitted to it.</summary>
public class FrostAtDeBiltTests(ITestOutputHelper output)
{
    private static readonly TemperatureDifference NoPocket = new(0);

    [Fact]
    public void Hourly_weather_gives_the_ground_low_of_cold_nights()
    {
        var nights = HourlyNights().Where(n => n.AirLow < 6).ToList();
        var (bias, rmse, spread) = Errors(nights);
        double offset = nights.Average(n => n.GroundLow - n.AirLow);
        double plain = Math.Sqrt(nights.Average(n => Math.Pow(n.AirLow + offset - n.GroundLow, 2)));
        output.WriteLine($"{nights.Count} nights, bias {bias:F2}, rmse {rmse:F2}, spread {spread:F2}; air less {-offset:F2} K has {plain:F2}");
        output.WriteLine("leaf " + Curve(HourlyNights(), n => n.LeafLow) + "\nair  " + Curve(HourlyNights(), n => n.AirLow));
        Assert.InRange(bias, -0.5, 0.5);
        Assert.True(rmse < 1.15);
        Assert.True(rmse < plain - 0.3);
    }

    [Fact]
    public void The_leaf_finds_ground_frosts_with_fewer_false_alarms_than_the_air()
    {
        var nights = HourlyNights();
        int frosts = nights.Count(n => n.GroundLow <= 0);
        Assert.Equal(62, frosts);
        // Alarms needed to catch 60 of the 62 nights whose low at 10 cm was 0 °C or less.
        int Alarms(Func<Night, double> rule)
        {
            double limit = nights.Where(n => n.GroundLow <= 0).Select(rule).Order().ElementAt(59);
            return nights.Count(n => rule(n) <= limit);
        }
        Assert.InRange(Alarms(n => n.LeafLow), 60, 78);
        Assert.True(Alarms(n => n.AirLow) > Alarms(n => n.LeafLow) + 10);
    }

    [Fact]
    public void Weather_made_of_daily_means_still_gives_it_roughly()
    {
        var nights = DailyNights();
        var cold = nights.Where(n => n.AirLow < 6).ToList();
        var (bias, rmse, spread) = Errors(cold);
        output.WriteLine($"{cold.Count} nights, bias {bias:F2}, rmse {rmse:F2}, spread {spread:F2}");
        var season = nights.Where(n => n.MonthDay is >= 415 and <= 1031).ToList();
        output.WriteLine("leaf " + Curve(season, n => n.LeafLow) + "\nair  " + Curve(season, n => n.AirLow));
        Assert.InRange(bias, -0.5, 0.5);
        // A day's mean of wind and cloud hides the calm, clear hours; all winters with their snow are in it.
        Assert.True(rmse < 1.5);
    }

    private sealed record Night(double AirLow, double GroundLow, double LeafLow, int MonthDay);

    private static List<Night> HourlyNights()
    {
        var (weather, ground) = Stations.DeBiltHours();
        double[] leaf = LeafTemperature.Hourly(weather, Stations.DeBilt, NoPocket);
        var air = weather[WeatherVariable.Air];
        List<Night> nights = [];
        // Stamp 0 is 01:00 UTC; nights run from 18:00 to noon, the minima of 00:00, 06:00 and 12:00 cover them.
        for (int noon = 35; noon < weather.Hours; noon += 24)
        {
            double groundLow = Math.Min(ground[noon], Math.Min(ground[noon - 6], ground[noon - 12]));
            var date = weather.StampOf(noon).InUtc().Date;
            nights.Add(new(
                Lowest(air[(noon - 17)..(noon + 1)]), groundLow,
                Lowest(leaf.AsSpan(noon - 17, 18)), date.Month * 100 + date.Day));
        }
        return nights;
    }

    private static List<Night> DailyNights()
    {
        var (weather, first, ground, low) = Stations.DeBiltDays();
        double[] leaf = LeafTemperature.Hourly(weather, Stations.DeBilt, NoPocket);
        List<Night> nights = [];
        for (int day = 0; day < ground.Length; day++)
        {
            var date = first.PlusDays(day);
            if (!double.IsNaN(ground[day]))
                nights.Add(new(low[day], ground[day], Lowest(leaf.AsSpan(24 * day, 24)), date.Month * 100 + date.Day));
        }
        return nights;
    }

    private static double Lowest(ReadOnlySpan<double> hours)
    {
        double low = double.PositiveInfinity;
        foreach (double celsius in hours)
            low = Math.Min(low, double.IsNaN(celsius) ? low : celsius);
        return low;
    }

    private static (double Bias, double Rmse, double Spread) Errors(List<Night> nights)
    {
        double bias = nights.Average(n => n.LeafLow - n.GroundLow);
        double rmse = Math.Sqrt(nights.Average(n => Math.Pow(n.LeafLow - n.GroundLow, 2)));
        return (bias, rmse, Math.Sqrt(rmse * rmse - bias * bias));
    }

    private static string Curve(List<Night> nights, Func<Night, double> rule) =>
        $"({nights.Count(n => n.GroundLow <= 0)} ground frosts) " + string.Join(", ",
            new[] { -1, 0, 0.5, 1, 1.5, 2, 3, 4, 5 }.Select(limit =>
                $"{limit}: {nights.Count(n => n.GroundLow <= 0 && rule(n) <= limit)} of {nights.Count(n => rule(n) <= limit)}"));
}

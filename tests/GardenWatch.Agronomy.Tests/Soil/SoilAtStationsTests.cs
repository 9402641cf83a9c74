using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;

namespace GardenWatch.Agronomy.Tests.Soil;

/// <summary>The soil model against measured stations: one set of constants for all.</summary>
public class SoilAtStationsTests(ITestOutputHelper output)
{
    private static readonly SoilSurface Grass = new(SoilCover.Grass);

    [Theory]
    [InlineData("NE Lincoln 8 ENE", 1.9)]
    [InlineData("OR Corvallis 10 SSW", 1.5)]
    [InlineData("IL Champaign 9 SW", 1.2)]
    [InlineData("TX Palestine 6 WNW", 1.2)]
    [InlineData("KS Manhattan 6 SSW", 1.8)]
    public void Daily_soil_under_grass_beats_smoothed_air(string name, double rmseAtMost)
    {
        var station = Stations.Grassland(name);
        AssertBeatsSmoothedAir(name, station, Grass, 0.05, station.Soil5Cm, rmseAtMost);
        AssertBeatsSmoothedAir(name, station, Grass, 0.10, station.Soil10Cm, rmseAtMost);
    }

    [Theory]
    [InlineData("NE Lincoln 8 ENE")]
    [InlineData("OR Corvallis 10 SSW")]
    [InlineData("IL Champaign 9 SW")]
    [InlineData("TX Palestine 6 WNW")]
    [InlineData("KS Manhattan 6 SSW")]
    public void Without_sun_or_without_all_but_air_the_soil_still_beats_smoothed_air(string name)
    {
        var station = Stations.Grassland(name);
        var all = station.Weather;
        foreach (WeatherVariable[] kept in new WeatherVariable[][]
            { [WeatherVariable.Air, WeatherVariable.CloudCover, WeatherVariable.DewPoint], [WeatherVariable.Air] })
        {
            var weather = TestSeries.Of(all.Start, all.Hours,
                [.. kept.Select(variable => (variable, (Func<int, double>)(hour => all[variable][hour])))]);
            AssertBeatsSmoothedAir(name, station with { Weather = weather }, Grass, 0.05, station.Soil5Cm, 2.1);
        }
    }

    [Fact]
    public void Daily_soil_of_a_bare_desert_beats_smoothed_air()
    {
        var (station, _, _) = Stations.Desert();
        AssertBeatsSmoothedAir("CA Ford Dry Lake", station, SoilSurface.BareGround, 0.05, station.Soil5Cm, 1.8);
        AssertBeatsSmoothedAir("CA Ford Dry Lake", station, SoilSurface.BareGround, 0.10, station.Soil10Cm, 1.8);
    }

    [Fact]
    public void Hourly_soil_of_a_bare_desert_follows_the_day()
    {
        var (station, five, ten) = Stations.Desert();
        foreach (var (depth, measured) in new[] { (0.05, five), (0.10, ten) })
        {
            double[] model = SoilTemperature.Hourly(station.Weather, station.Place, depth, SoilSurface.BareGround);
            var (bias, rmse) = Errors(model, measured, 0);
            output.WriteLine($"hourly {depth * 100:F0} cm: bias {bias:F2}, rmse {rmse:F2}");
            Assert.True(rmse < 3.3, $"{rmse:F2} K at {depth} m");
        }
    }

    private void AssertBeatsSmoothedAir(
        string name, SoilStation station, SoilSurface surface, double depth, double[] measured, double rmseAtMost)
    {
        double[] model = Stations.DailyMeans(SoilTemperature.Hourly(station.Weather, station.Place, depth, surface), 24);
        const int firstDay = 10;
        var (bias, rmse) = Errors(model, measured, firstDay);
        var (_, week) = Errors(WeekMeans(station.MeanAir), measured, firstDay);
        var (_, smooth) = Errors(Smoothed(station.MeanAir), measured, firstDay);
        bool[] season = [.. Enumerable.Range(0, measured.Length).Select(i => station.First.PlusDays(i).Month is >= 4 and <= 10)];
        var (seasonBias, seasonRmse) = Errors(model, [.. measured.Select((m, i) => season[i] ? m : double.NaN)], firstDay);
        output.WriteLine(
            $"{name,-20} {depth * 100,2:F0} cm: bias {bias,5:F2}, rmse {rmse:F2}; April to October {seasonBias,5:F2}, {seasonRmse:F2}; week's mean {week:F2}, smoothed {smooth:F2}");
        Assert.True(rmse < Math.Min(week, smooth), $"{name} at {depth} m: {rmse:F2} K, smoothed air {Math.Min(week, smooth):F2} K");
        Assert.True(rmse < rmseAtMost, $"{name} at {depth} m: {rmse:F2} K");
    }

    private static (double Bias, double Rmse) Errors(double[] model, double[] measured, int from)
    {
        var errors = Enumerable.Range(from, measured.Length - from)
            .Where(i => i < model.Length && !double.IsNaN(model[i]) && !double.IsNaN(measured[i]))
            .Select(i => model[i] - measured[i]).ToList();
        Assert.True(errors.Count > 100);
        return (errors.Average(), Math.Sqrt(errors.Average(e => e * e)));
    }

    private static double[] WeekMeans(double[] air) =>
        [.. air.Select((_, i) => air[Math.Max(0, i - 6)..(i + 1)].Where(t => !double.IsNaN(t)).DefaultIfEmpty(double.NaN).Average())];

    private static double[] Smoothed(double[] air)
    {
        double state = air.Take(7).Where(t => !double.IsNaN(t)).Average();
        return [.. air.Select(t => state += double.IsNaN(t) ? 0 : 0.15 * (t - state))];
    }
}

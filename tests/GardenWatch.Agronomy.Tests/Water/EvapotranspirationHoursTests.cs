using System.Collections.Immutable;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Water;

public class EvapotranspirationHoursTests
{
    private static readonly GeoPosition Place = new(45, 0, 100);
    private static readonly Instant Start = Instant.FromUtc(2026, 6, 20, 0, 0);
    private const int Days = 5;

    [Fact]
    public void The_hours_of_clear_days_add_up_to_about_what_the_day_formula_gives()
    {
        var weather = Weather();
        double[] hours = new double[weather.Hours];
        var guessed = EvapotranspirationHours.Fill(weather, Place, hours);
        Assert.Equal(new HoursGuessed(0, 0, 0), guessed);
        double aDay = hours[48..72].Sum();
        double sun = weather[WeatherVariable.Radiation][48..72].ToArray().Sum() * 0.0036;
        double daily = ReferenceEvapotranspiration.Daily(
            12, 26, VapourPressure.Saturation(10), sun, ReferenceEvapotranspiration.WindAtTwoMetres(3, 10), 45, 100, 173);
        // The two forms of the paper differ by some per cent (Allen et al. 2006, Agric. Water Manage. 81:1-22).
        Assert.InRange(aDay / daily, 0.93, 1.07);
        Assert.All(hours[48..52], mm => Assert.InRange(mm, -0.05, 0.1));
    }

    [Fact]
    public void What_is_missing_is_guessed_counted_and_costs_little()
    {
        double[] known = new double[24 * Days], guessed = new double[24 * Days];
        EvapotranspirationHours.Fill(Weather(), Place, known);
        var counts = EvapotranspirationHours.Fill(Weather(WeatherVariable.Wind, WeatherVariable.RelativeHumidity, WeatherVariable.DewPoint, WeatherVariable.Radiation), Place, guessed);
        Assert.Equal(new HoursGuessed(24 * Days, 24 * Days, 24 * Days), counts);
        Assert.InRange(guessed[24..96].Sum() / known[24..96].Sum(), 0.75, 1.25);
        Assert.Equal(new HoursGuessed(0, 0, 0), EvapotranspirationHours.Fill(Weather(WeatherVariable.RelativeHumidity), Place, guessed)); // the dew point stands in
        Assert.Equal(known.Sum(), guessed.Sum(), 0.05);
    }

    [Fact]
    public void An_hour_without_air_is_unknown()
    {
        double[] hours = new double[24 * Days];
        EvapotranspirationHours.Fill(Weather(WeatherVariable.Air), Place, hours);
        Assert.All(hours, mm => Assert.Equal(double.NaN, mm));
        Assert.Throws<ArgumentException>(() => EvapotranspirationHours.Fill(Weather(), Place, new double[3]));
    }

    private static WeatherSeries Weather(params WeatherVariable[] without)
    {
        double[] Column(Func<int, double> of) => [.. Enumerable.Range(0, 24 * Days).Select(of)];
        double AirAt(int hour) => 19 - 7 * Math.Cos((hour % 24 - 3) * Math.PI / 12);
        var columns = new Dictionary<WeatherVariable, double[]>
        {
            [WeatherVariable.Air] = Column(AirAt),
            [WeatherVariable.DewPoint] = Column(_ => 10),
            [WeatherVariable.RelativeHumidity] = Column(hour => DewPoint.HumidityFrom(AirAt(hour), 10)),
            [WeatherVariable.Wind] = Column(_ => 3),
            [WeatherVariable.Radiation] = Column(hour =>
                0.76 * SolarRadiation.ExtraterrestrialOfHour(45, 0, 171 + hour / 24, (hour + 23.5) % 24) / 0.0036),
        };
        return new(Start, 24 * Days, columns.Where(c => !without.Contains(c.Key)).ToImmutableDictionary(c => c.Key, c => c.Value.ToImmutableArray()),
            [], [.. Enumerable.Repeat((short)-1, 24 * Days)]);
    }
}

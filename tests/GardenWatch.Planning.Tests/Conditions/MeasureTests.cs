using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class MeasureTests
{
    private static readonly Instant Start = Scenes.At(2026, 6, 1);
    private static readonly Instant Now = Start + Duration.FromHours(48);

    /// <summary>Each variable has one value of its own, so that no column can be taken for another.</summary>
    private static double Value(WeatherVariable variable) => 11 + (int)variable;

    private static readonly Scene Scene = Scenes.Of(Start, 120, v => Scenes.Hours(120, _ => Value(v)));

    [Theory]
    [InlineData("air high today above 0 °C", WeatherVariable.Air, 1)]
    [InlineData("soil high today above 0 °C", WeatherVariable.SoilAt6Cm, 1)]
    [InlineData("rain peak today above 0 mm/h", WeatherVariable.Rain, 1)]
    [InlineData("gust high today above 0 m/s", WeatherVariable.Gust, 1)]
    [InlineData("wind mean today above 0 m/s", WeatherVariable.Wind, 1)]
    [InlineData("snow total next 1 hour above 0 cm", WeatherVariable.Snowfall, 0.01)]
    [InlineData("humidity low today above 0 %", WeatherVariable.RelativeHumidity, 0.01)]
    [InlineData("dew point low today above 0 °C", WeatherVariable.DewPoint, 1)]
    [InlineData("cloud mean today above 0 %", WeatherVariable.CloudCover, 0.01)]
    [InlineData("sun mean today above 0 W/m²", WeatherVariable.Radiation, 1)]
    [InlineData("water use total next 1 hour above 0 mm", WeatherVariable.ReferenceEvapotranspiration, 1)]
    public void Each_measure_is_of_its_own_column_in_the_unit_of_its_dimension(string phrase, WeatherVariable variable, double unit) =>
        Assert.Equal(Value(variable) * unit, Scene.Ask(phrase, Now).Value!.Value, 1e-9);

    [Theory]
    [InlineData(10, "warmth base 5 °C total past 1 day above 0 °C days", 5)]
    [InlineData(10, "warmth base 50 °F total past 2 days at least 0 °C days", 0)]
    [InlineData(35, "warmth base 10 °C ceiling 30 °C total past 1 day above 0 °C days", 20)]
    [InlineData(-4, "warmth base 5 °C total past 1 day at least 0 °C days", 0)]
    public void A_day_of_one_temperature_gives_its_distance_from_the_base_in_degree_days(double air, string phrase, double degreeDays) =>
        Assert.Equal(degreeDays, Scenes.Of(Start, Scenes.Hours(120, _ => air)).Ask(phrase, Now).Value!.Value, 1e-9);

    [Fact]
    public void A_day_that_crosses_the_base_counts_only_its_hours_above()
    {
        // Twelve hours at 4 °C and twelve at 16 °C: base 10 °C gives 6 x 12 / 24.
        var scene = Scenes.Of(Start, Scenes.Hours(120, i => i % 24 < 12 ? 4 : 16));
        Assert.Equal(3, scene.Ask("warmth base 10 °C total past 1 day above 0 °C days", Now).Value!.Value, 1e-9);
    }

    [Fact]
    public void Daylight_needs_no_weather()
    {
        var scene = Scenes.Of(Start, [], "America/New_York");
        double expected = Sun.Course(Scenes.Lexington, new(2026, 6, 21), Scenes.Zone("America/New_York")).DayLength.TotalHours;
        Assert.Equal(expected, scene.Ask("daylight today at least 14 hours", Scenes.At(2026, 6, 21, 16)).Value);
        Assert.Equal(expected, scene.Ask("daylight tomorrow at least 14 hours", Scenes.At(2026, 6, 20, 16)).Value);
        Assert.InRange(expected, 14.7, 14.9); // 38° north at the summer solstice
    }

    [Fact]
    public void Beds_of_one_place_share_its_rain_and_keep_their_own_air()
    {
        int airAsked = 0;
        var columns = System.Collections.Immutable.ImmutableDictionary<WeatherVariable, System.Collections.Immutable.ImmutableArray<double>>.Empty
            .Add(WeatherVariable.Rain, [.. Scenes.Hours(48, _ => 1)]);
        var series = new WeatherSeries(Start, 48, columns, [], [.. Enumerable.Repeat((short)-1, 48)]);
        BedModels Models(double air) => new(() => { airAsked++; return Scenes.Hours(48, _ => air); }, () => [], _ => []);
        var open = new BedWeather(series, new LocalCalendar(DateTimeZone.Utc, Scenes.Lexington), Models(5));
        var low = open.Beside(Models(3));
        Assert.Equal(5, open.Column(new(Measure.Air)).High(0, 47));
        Assert.Equal(3, low.Column(new(Measure.Air)).High(0, 47));
        Assert.Same(open.Column(new(Measure.Rain)), low.Column(new(Measure.Rain)));
        Assert.Same(low.Column(new(Measure.Air)), low.Column(new(Measure.Air)));
        Assert.Equal(2, airAsked);
    }

    [Fact]
    public void A_model_that_gives_another_number_of_hours_is_refused()
    {
        var bed = new BedWeather(WeatherSeries.Empty, new LocalCalendar(DateTimeZone.Utc, Scenes.Lexington), new(() => [1], () => [], _ => []));
        Assert.Throws<InvalidOperationException>(() => bed.Column(new(Measure.Air)));
    }
}

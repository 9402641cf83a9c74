using GardenWatch.Agronomy.Series;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.OpenMeteo;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>Whole, well-formed answers that must not be believed, or only in part.</summary>
public class DoubtfulAnswerTests
{
    [Theory]
    [InlineData("temperature_2m", "°F", "'temperature_2m' in '°F', and '°C' was asked for")]
    [InlineData("wind_speed_10m", "km/h", "'wind_speed_10m' in 'km/h', and 'm/s' was asked for")]
    [InlineData("precipitation", "inch", "'precipitation' in 'inch', and 'mm' was asked for")]
    public async Task A_wrong_unit_is_refused_by_name(string variable, string unit, string said)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.WrongUnit(variable, unit);

        Assert.Contains(said, await Refusal(bench), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_column_that_is_too_short_is_refused_by_name()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.WrongLength("precipitation");

        Assert.Contains("719 values of 'precipitation' for 720 hours", await Refusal(bench), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Weather_of_another_continent_is_refused_with_both_places()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.WrongContinent();

        string reason = await Refusal(bench);

        Assert.Contains("-52.10, -114.82", reason, StringComparison.Ordinal);
        Assert.Contains("52.10, 5.18", reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_the_air_of_the_coming_two_days_an_answer_is_of_no_use()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Next(new StandInFault.NullsFrom(36));
        Assert.IsType<PullOutcome.Good>(await bench.Pull());

        bench.Service.Next(new StandInFault.NullsFrom(35));
        Assert.Contains("for only 35 of the next 48 hours", await Refusal(bench), StringComparison.Ordinal);

        bench.Service.Next(new StandInFault.Undefined("temperature_2m"));
        Assert.Contains("for only 0 of the next 48 hours", await Refusal(bench), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Yesterdays_answer_served_again_for_days_is_refused()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Now = ServiceBench.Start - NodaTime.Duration.FromDays(20);

        Assert.Contains("for only 0 of the next 48 hours", await Refusal(bench), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Null_stays_missing_and_never_becomes_nought()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.NullsIn("precipitation");

        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull;

        Assert.All(Enumerable.Range(0, pull.Hours), hour => Assert.True(double.IsNaN(pull.Columns[WeatherVariable.Rain][hour])));
        Assert.False(double.IsNaN(pull.Columns[WeatherVariable.Air][0]));
    }

    [Fact]
    public async Task A_variable_the_service_lacks_has_no_column()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Undefined("soil_temperature_6cm");

        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull;

        Assert.Equal(12, pull.Columns.Count);
        Assert.False(pull.Columns.ContainsKey(WeatherVariable.SoilAt6Cm));
    }

    [Fact]
    public async Task A_few_impossible_values_are_made_missing_and_counted()
    {
        await using var bench = await ServiceBench.Open((stamp, name) =>
            name == "temperature_2m" && stamp.ToUnixTimeSeconds() / 3600 % 72 == 0 ? 300 : InventedWeather.At(stamp, name));

        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull;

        Assert.Equal(10, pull.OutOfRange);
        Assert.Equal(10, Enumerable.Range(0, pull.Hours).Count(h => double.IsNaN(pull.Columns[WeatherVariable.Air][h])));
    }

    [Theory]
    [InlineData("temperature_2m", 5)] // a fifth of the air
    [InlineData("soil_temperature_18cm", 1)] // one column of thirteen throughout
    public async Task With_more_than_a_few_impossible_values_nothing_is_believed(string variable, int every)
    {
        await using var bench = await ServiceBench.Open((stamp, name) =>
            name == variable && stamp.ToUnixTimeSeconds() / 3600 % every == 0 ? 300 : InventedWeather.At(stamp, name));

        Assert.Contains("can't be true", await Refusal(bench), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_small_overshoot_of_interpolation_is_put_back_on_the_bound()
    {
        await using var bench = await ServiceBench.Open((stamp, name) => name switch
        {
            "relative_humidity_2m" => 102,
            "shortwave_radiation" => -0.4,
            _ => InventedWeather.At(stamp, name),
        });

        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull;

        Assert.Equal(0, pull.OutOfRange);
        Assert.Equal(100, pull.Columns[WeatherVariable.RelativeHumidity][5]);
        Assert.Equal(0, pull.Columns[WeatherVariable.Radiation][5]);
    }

    private static async Task<string> Refusal(ServiceBench bench) =>
        Assert.IsType<PullOutcome.Refused>(await bench.Pull()).Reason;
}

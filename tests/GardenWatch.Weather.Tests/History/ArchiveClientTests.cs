using GardenWatch.Agronomy.Series;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Weather.Tests.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.History;

public class ArchiveClientTests
{
    [Theory]
    [InlineData(2023, 8760)]
    [InlineData(2024, 8784)]
    public async Task A_year_comes_whole_hour_by_hour_and_outlives_packing(int year, int hours)
    {
        await using var bench = await ServiceBench.Open();
        var pull = Assert.IsType<Lookup<Pull>.Found>(await Year(bench, year)).Value;
        pull = Assert.IsType<UnpackOutcome.Good>(PullPacking.Unpack(PullPacking.Pack(pull))).Pull;

        Assert.Equal(Instant.FromUtc(year, 1, 1, 0, 0), pull.Start);
        Assert.Equal(hours, pull.Hours);
        Assert.Equal(ArchiveClient.Variables.Order(), pull.Columns.Keys);
        for (int hour = 0; hour < hours; hour += 13)
            Assert.Equal(InventedWeather.At(pull.StampOf(hour), "temperature_2m")!.Value, pull.Columns[WeatherVariable.Air][hour]);
    }

    [Fact]
    public async Task The_question_is_for_one_reanalysis_in_GMT_and_its_weight_is_known()
    {
        await using var bench = await ServiceBench.Open();
        await Year(bench, 2024);

        var call = Assert.Single(bench.Service.Calls);
        Assert.Equal(("/v1/archive", "2024-01-01", "2024-12-31"), (call.Path, call.Query["start_date"], call.Query["end_date"]));
        Assert.Equal(("GMT", "unixtime", "era5_seamless"), (call.Query["timezone"], call.Query["timeformat"], call.Query["models"]));
        Assert.Equal("temperature_2m,dew_point_2m,precipitation,cloud_cover,wind_speed_10m,shortwave_radiation", call.Query["hourly"]);
        Assert.Equal(15.7, ArchiveClient.Weight, 0.05); // six variables, 366 days
    }

    [Theory]
    [InlineData("null", "air temperature for only 0 of 8760 hours")]
    [InlineData("unit", "'°F', and '°C' was asked for")]
    public async Task A_year_that_is_not_there_is_refused(string trouble, string said)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = trouble == "null" ? new StandInFault.NullsIn("temperature_2m") : new StandInFault.WrongUnit("temperature_2m", "°F");
        Assert.Contains(said, Assert.IsType<Lookup<Pull>.Refused>(await Year(bench, 2023)).Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2027, 1, 10, 2025)]
    [InlineData(2027, 1, 11, 2026)]
    [InlineData(2027, 12, 31, 2026)]
    public void A_year_is_asked_for_when_the_archive_has_caught_up(int year, int month, int day, int last) =>
        Assert.Equal(last, ArchiveClient.LastWholeYear(Instant.FromUtc(year, month, day, 0, 0)));

    [Fact]
    public void Years_are_fetched_newest_first_until_enough_are_there()
    {
        var now = Instant.FromUtc(2027, 4, 21, 0, 0);
        Assert.Equal(2026, ArchiveYears.Next(new HashSet<int>(), 30, now));
        Assert.Equal(2024, ArchiveYears.Next(new HashSet<int> { 2026, 2025, 2023 }, 30, now));
        Assert.Null(ArchiveYears.Next(Enumerable.Range(1997, 30).ToHashSet(), 30, now));
        Assert.Equal(1997, ArchiveYears.Next(Enumerable.Range(1998, 29).ToHashSet(), 30, now));
        Assert.Null(ArchiveYears.Next(Enumerable.Range(1940, 10).ToHashSet(), 60, Instant.FromUtc(1950, 6, 1, 0, 0)));
    }

    [Fact]
    public async Task Years_join_and_a_year_that_is_missing_is_a_gap()
    {
        await using var bench = await ServiceBench.Open();
        var first = Assert.IsType<Lookup<Pull>.Found>(await Year(bench, 2020)).Value;
        var third = Assert.IsType<Lookup<Pull>.Found>(await Year(bench, 2022)).Value;

        var joined = ArchiveYears.Join([third, first]);

        Assert.Equal(first.Start, joined.Start);
        Assert.Equal(third.LastStamp, joined.LastStamp);
        Assert.Equal(SourceKind.PastYears, joined.SourceOf(0)!.Kind);
        int gap = joined.FirstAtOrAfter(Instant.FromUtc(2021, 1, 1, 0, 0));
        Assert.Null(joined.SourceOf(gap));
        Assert.True(double.IsNaN(joined[WeatherVariable.Rain][gap + 4000]));
        Assert.Equal(first.Columns[WeatherVariable.Wind][8783], joined[WeatherVariable.Wind][gap - 1]);
        Assert.Equal(third.Columns[WeatherVariable.Wind][0], joined[WeatherVariable.Wind][gap + 8760]);
        Assert.Equal(0, ArchiveYears.Join([]).Hours);
    }

    private static Task<Lookup<Pull>> Year(ServiceBench bench, int year) =>
        bench.Archive.Year(ServiceBench.Garden, year, TestContext.Current.CancellationToken);
}

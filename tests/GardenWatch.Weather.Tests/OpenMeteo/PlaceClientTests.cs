using System.Collections.Immutable;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class PlaceClientTests
{
    private const string Inland =
        """{"id":1,"name":"Newfield","latitude":43.7,"longitude":-79.4,"elevation":161.0,"country_code":"CA","timezone":"America/Toronto","population":2794356,"country":"Canada","admin1":"Ontario"}""";
    private const string Bare = """{"id":2,"name":"Newfield","latitude":40.5,"longitude":-80.6}""";

    [Fact]
    public async Task Namesakes_are_all_given_for_choice()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Towns = [Inland, Bare];

        var found = Assert.IsType<Lookup<ImmutableArray<PlaceHit>>.Found>(
            await bench.Places.Search(" New field & Co ", "CA", TestContext.Current.CancellationToken));

        Assert.Equal(
            new("Newfield", "Ontario", "Canada", "CA", 43.7, -79.4, 161, "America/Toronto", 2794356), found.Value[0]);
        Assert.Equal(new("Newfield", null, null, null, 40.5, -80.6, double.NaN, null, null), found.Value[1]);
        var call = Assert.Single(bench.Service.Calls);
        Assert.Equal("New field & Co", call.Query["name"]);
        Assert.Equal("CA", call.Query["countryCode"]);
    }

    [Fact]
    public async Task A_town_that_is_not_found_is_an_empty_list_and_no_failure()
    {
        await using var bench = await ServiceBench.Open();

        Assert.Empty(Assert.IsType<Lookup<ImmutableArray<PlaceHit>>.Found>(
            await bench.Places.Search("Nowhere", null, TestContext.Current.CancellationToken)).Value);
    }

    [Fact]
    public async Task A_name_of_one_letter_is_not_asked()
    {
        await using var bench = await ServiceBench.Open();

        Assert.IsType<Lookup<ImmutableArray<PlaceHit>>.Refused>(
            await bench.Places.Search(" A ", null, TestContext.Current.CancellationToken));
        Assert.Empty(bench.Service.Calls);
    }

    [Theory]
    [InlineData("""{"results":{}}""")]
    [InlineData("""{"results":[7]}""")]
    [InlineData("""{"results":[{"name":"X","latitude":"north","longitude":3}]}""")]
    [InlineData("""{"results":[{"name":"X","latitude":91,"longitude":3}]}""")]
    [InlineData("""{"results":[{"name":"\ud800","latitude":9,"longitude":3}]}""")]
    public async Task A_list_of_another_shape_is_refused(string body)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Says(200, "application/json", body);

        Assert.IsType<Lookup<ImmutableArray<PlaceHit>>.Refused>(
            await bench.Places.Search("Newfield", null, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task The_height_of_a_place_is_found()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.ElevationMetres = 295;

        Assert.Equal(295, Assert.IsType<Lookup<double>.Found>(
            await bench.Places.ElevationAt(38.03, -84.5, TestContext.Current.CancellationToken)).Value);
    }

    [Theory]
    [InlineData("""{"elevation":[]}""")]
    [InlineData("""{"elevation":[null]}""")]
    [InlineData("""{"elevation":[12000]}""")]
    public async Task A_height_that_can_not_be_is_refused(string body)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Says(200, "application/json", body);

        Assert.IsType<Lookup<double>.Refused>(
            await bench.Places.ElevationAt(38.03, -84.5, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task The_zone_of_a_place_is_asked_with_timezone_auto()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.ZoneName = "Australia/Adelaide";

        Assert.Equal("Australia/Adelaide", Assert.IsType<Lookup<DateTimeZone>.Found>(
            await bench.Places.ZoneAt(-34.9, 138.6, TestContext.Current.CancellationToken)).Value.Id);
        Assert.Equal("auto", Assert.Single(bench.Service.Calls).Query["timezone"]);
    }

    [Fact]
    public async Task A_zone_that_is_not_in_the_zone_table_is_reported_with_a_remedy()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Says(200, "application/json", """{"timezone":"Atlantis/Deep"}""");

        string reason = Assert.IsType<Lookup<DateTimeZone>.Refused>(
            await bench.Places.ZoneAt(0, 0, TestContext.Current.CancellationToken)).Reason;

        Assert.Contains("'Atlantis/Deep'", reason, StringComparison.Ordinal);
        Assert.Contains("write the zone into the plan", reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Places_too_are_looked_up_later_when_the_service_is_down()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.TooMany(StandInFault.TooMany.Minutely);

        Assert.Equal(
            ServiceBench.Start + Duration.FromMinutes(1),
            Assert.IsType<Lookup<DateTimeZone>.TryLater>(
                await bench.Places.ZoneAt(0, 0, TestContext.Current.CancellationToken)).NotBefore);
    }
}

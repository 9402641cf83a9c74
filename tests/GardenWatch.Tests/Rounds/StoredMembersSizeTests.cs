using System.Globalization;
using GardenWatch.Demo;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

/// <summary>What the members of one place take on the disk, reckoned from one pull of runs that waver as forecasts do.</summary>
public class StoredMembersSizeTests
{
    private const int Members = 51;
    private const int RunsADay = 4;
    private const int DaysWhole = 14;

    // As README has it.
    private const double WholeMegabytes = 8;
    private const double YearOfSpreadsMegabytes = 2;

    [Fact]
    public async Task A_fortnight_of_whole_members_and_a_year_of_spreads_take_what_the_readme_says()
    {
        var begin = Instant.FromUtc(NotableMornings.Year, 3, 1, 0, 0);
        var truth = InventedSeason.Between(NotableMornings.Seed, begin, begin + Duration.FromDays(40));
        var clock = new FakeClock(begin + Duration.FromDays(20));
        var runs = Enumerable.Range(0, Members).Select(run => new ForecastFromTruth(truth, InventedSeason.Place, seed: 900 + (ulong)run)).ToArray();
        using var http = new HttpClient(new InventedWeatherHandler(runs[0], [.. runs], InventedSeason.Place, clock.GetCurrentInstant));
        var options = new OpenMeteoOptions { Retries = 0 };
        using var line = new ServiceLine(http, options, clock, TimeProvider.System);
        var client = new EnsembleClient(line, options);
        var answer = await client.Pull(InventedSeason.Place, null, TestContext.Current.CancellationToken);
        var pull = Assert.IsType<Lookup<MemberPull>.Found>(answer).Value;
        Assert.Equal(Members, pull.Members.Length);

        double whole = MemberPacking.Pack(pull).Length / 1e6;
        var calendar = new Agronomy.Light.LocalCalendar(DateTimeZoneProviders.Tzdb[InventedSeason.ZoneId], InventedSeason.Place);
        double spreads = SpreadPacking.Pack(MemberSpread.Of(pull, calendar)).Length / 1e6;

        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{pull.Hours} hours: whole {whole:0.000} MB, a fortnight {whole * RunsADay * DaysWhole:0.0} MB; spreads {spreads * 1000:0.00} kB, a year {spreads * RunsADay * 365:0.0} MB"));
        Assert.InRange(whole * RunsADay * DaysWhole, WholeMegabytes / 3, WholeMegabytes);
        Assert.InRange(spreads * RunsADay * 365, YearOfSpreadsMegabytes / 3, YearOfSpreadsMegabytes);
    }
}

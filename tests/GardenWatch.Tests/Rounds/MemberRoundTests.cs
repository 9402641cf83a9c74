using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using GardenWatch.Weather.History;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

public sealed class MemberRoundTests : StoreCase
{
    private const string Path = "/v1/ensemble";

    [Fact]
    public async Task Members_are_fetched_once_a_run_and_known_from_then_on()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        var begun = Instant.FromUtc(2027, 4, 20, 18, 0);
        bench.Service.Run = (begun, begun + Duration.FromHours(8));

        Assert.True(bench.Members.IsDue(WeatherBench.Place));
        Assert.Null(await bench.RunMembers());
        Assert.Equal(1, bench.CallsOf(Path));
        // The same run all morning; the next is out at 8:00 and has settled by 8:10.
        bench.Service.Run = (begun + Duration.FromHours(6), begun + Duration.FromHours(14));
        for (int knock = 0; knock < 4 * 60; knock++)
        {
            bench.Pass(Duration.FromMinutes(1));
            if (bench.Members.IsDue(WeatherBench.Place))
                Assert.Null(await bench.RunMembers());
            if (bench.Clock.GetCurrentInstant() < begun + Duration.FromMinutes(14 * 60 + 10))
                Assert.Equal(1, bench.CallsOf(Path));
        }
        Assert.Equal(2, bench.CallsOf(Path));
        Assert.InRange(bench.Service.Calls.Count, 3, 8); // the runs are asked after every half an hour at most

        var main = MainSeries();
        var members = MemberRound.Known(store, WeatherBench.Place, main, bench.Clock.GetCurrentInstant()).Members;
        Assert.Equal(51, members.Length);
        int tomorrow = main.FirstAtOrAfter(WeatherBench.Start + Duration.FromHours(30));
        Assert.Equal(5.0, members[50][WeatherVariable.Air][tomorrow] - members[0][WeatherVariable.Air][tomorrow], 0.15);
        Assert.Empty(MemberRound.Known(store, WeatherBench.Place, main, WeatherBench.Start - Duration.FromMinutes(1)).Members);
        Assert.Empty(MemberRound.Known(store, WeatherBench.Place, main, WeatherBench.Start + Duration.FromHours(41)).Members);
    }

    [Fact]
    public async Task Without_word_of_runs_members_come_every_six_hours()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store); // tells nothing of runs

        for (int knock = 0; knock < 24 * 12; knock++)
        {
            if (bench.Members.IsDue(WeatherBench.Place))
                Assert.Null(await bench.RunMembers());
            bench.Pass(Duration.FromMinutes(5));
        }

        Assert.Equal(4, bench.CallsOf(Path));
    }

    [Fact]
    public async Task A_wait_that_the_service_names_is_kept_over_a_restart_and_apart_from_the_forecasts()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Service.Run = (WeatherBench.Start - Duration.FromHours(8), WeatherBench.Start - Duration.FromHours(1));
        bench.Service.Next(new StandInFault.None(), new StandInFault.TooMany(StandInFault.TooMany.Hourly));

        Assert.Contains("asks to be left alone", await bench.RunMembers(), StringComparison.Ordinal);

        Assert.Equal(WeatherBench.Start + Duration.FromHours(1), store.SideWaits.Find("lexington", MemberTable.Kind)!.NotBefore);
        Assert.Empty(store.Pulls.WaitsByPlace());
        bench.Pass(Duration.FromMinutes(59));
        var restarted = bench.NewMembers();
        Assert.False(restarted.IsDue(WeatherBench.Place));
        bench.Pass(Duration.FromMinutes(2));
        Assert.True(restarted.IsDue(WeatherBench.Place));
    }

    [Fact]
    public async Task Failures_without_a_named_wait_wait_longer_each_time()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Service.Always = new StandInFault.FrontPage(502);
        var waits = new List<double>();
        for (int i = 0; i < 20; i++)
        {
            Assert.Contains("out of order", await bench.RunMembers(), StringComparison.Ordinal);
            var wait = store.SideWaits.Find("lexington", MemberTable.Kind)!.NotBefore - bench.Clock.GetCurrentInstant();
            waits.Add(wait.TotalMinutes);
            Assert.False(bench.Members.IsDue(WeatherBench.Place));
            bench.Pass(wait);
            Assert.True(bench.Members.IsDue(WeatherBench.Place));
        }
        Assert.Equal([15, 30, 45, 60], waits.Take(4));
        Assert.Equal(180, waits[^1]);
    }

    [Fact]
    public async Task Nothing_is_kept_on_a_clock_that_the_service_contradicts()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);

        Assert.Contains("clock of this machine", await bench.RunMembers(clockTrusted: false), StringComparison.Ordinal);

        Assert.Null(store.Members.NewestFetchedAt("lexington", WeatherBench.Start + Duration.FromDays(1)));
        Assert.Null(store.SideWaits.Find("lexington", MemberTable.Kind));
    }

    [Fact]
    public async Task The_days_allowance_is_for_all_places_and_new_after_midnight_UTC()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Options.EnsembleCallsPerDay = 80; // two pulls of 38
        store.Members.Add("elsewhere", "ecmwf_ifs025", WeatherBench.Start, WeatherBench.Start, 1, "example.org", [1]);
        Assert.Null(await bench.RunMembers());

        bench.Pass(Duration.FromHours(12));
        Assert.False(bench.Members.IsDue(WeatherBench.Place));
        Assert.Contains("after midnight UTC", await bench.RunMembers(), StringComparison.Ordinal);
        bench.Pass(Duration.FromHours(7));
        Assert.True(bench.Members.IsDue(WeatherBench.Place));
    }

    [Fact]
    public async Task Old_members_become_spreads_and_damaged_ones_go()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        Assert.Null(await bench.RunMembers());
        store.Members.Add("lexington", "ecmwf_ifs025", WeatherBench.Start + Duration.FromHours(1), WeatherBench.Start, 1, "example.org", [1, 2, 3]);
        Assert.IsType<WriteOutcome.Unchanged>(bench.Members.Reduce(WeatherBench.Place));

        bench.Pass(Duration.FromDays(15));
        Assert.True(bench.Members.Reduce(WeatherBench.Place).IsWritten);

        Assert.Null(store.Members.NewestOf("lexington", bench.Clock.GetCurrentInstant()));
        var (_, fetchedAt, body) = Assert.Single(store.Members.SpreadsOf("lexington", bench.Clock.GetCurrentInstant()));
        Assert.Equal(WeatherBench.Start, fetchedAt);
        var spreads = SpreadPacking.Unpack(body, out _)!.Value;
        // It was still 21 April, one in the morning, in the garden: fourteen whole days, and the nights between them.
        Assert.Contains(spreads, spread => spread is { Part: SpreadPart.Night, LeadDays: 0 });
        Assert.Contains(spreads, spread => spread is { Part: SpreadPart.Day, LeadDays: 13 });
        Assert.All(spreads, spread => Assert.InRange(spread.HighC.P90 - spread.HighC.P10, 3.9, 4.1)); // 51 members, a tenth apart
        Assert.True(body.Length < 1500);
    }

    [Fact]
    public async Task A_full_disk_is_said_in_a_sentence()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        FillDisk(store);

        Assert.Contains("full", await bench.RunMembers(), StringComparison.Ordinal);
        Assert.False(bench.Members.IsDue(WeatherBench.Place)); // not asked again with every knock
    }

    private static WeatherSeries MainSeries()
    {
        int hours = 24 * 20;
        return new(
            WeatherBench.Start - Duration.FromMinutes(10 + 60 * 48), hours,
            ImmutableDictionary<WeatherVariable, ImmutableArray<double>>.Empty.Add(
                WeatherVariable.Air, [.. Enumerable.Repeat(9.0, hours)]),
            [new(SourceKind.Forecast, "Open-Meteo", WeatherBench.Start)], [.. new short[hours]]);
    }
}

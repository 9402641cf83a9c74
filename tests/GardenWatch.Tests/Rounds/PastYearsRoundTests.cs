using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

public sealed class PastYearsRoundTests : StoreCase
{
    private static readonly Duration Minute = Duration.FromMinutes(1);

    [Fact]
    public async Task Years_come_one_at_a_time_and_few_a_day_and_the_climate_when_a_day_is_done()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Options.PastYears = 8;
        bench.Options.PastYearsPerDay = 6;

        await Knock(bench, 60);

        Assert.Equal([2021, 2022, 2023, 2024, 2025, 2026], store.PastYears.KeptOf("lexington"));
        var calls = bench.Service.Calls;
        Assert.All(calls.Zip(calls.Skip(1)), pair => Assert.True(pair.Second.At - pair.First.At >= Duration.FromMinutes(2)));
        Assert.Equal("2026-01-01", calls[0].Query["start_date"]);
        var first = store.Climates.AsOf("lexington", bench.Clock.GetCurrentInstant());
        Assert.Equal(6, first!.Years);

        bench.Pass(Duration.FromHours(20));
        await Knock(bench, 60);

        Assert.Equal(Enumerable.Range(2019, 8), store.PastYears.KeptOf("lexington"));
        Assert.Equal(8, bench.Service.Calls.Count);
        Assert.Equal(8, store.Climates.AsOf("lexington", bench.Clock.GetCurrentInstant())!.Years);
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));

        var summary = PastYearsRound.Known(store, WeatherBench.Place, bench.Clock.GetCurrentInstant())!;
        Assert.Equal((2018, 2026, 8), (summary.FirstYear, summary.LastYear, summary.Years)); // midnight UTC is the evening before here
        Assert.Equal(8, summary.Frosts[0].LastOfSpring.YearsWith);
        Assert.Null(PastYearsRound.Known(store, WeatherBench.Place, WeatherBench.Start));
    }

    [Fact]
    public async Task A_year_that_the_archive_lacks_is_passed_over_and_asked_for_again_after_a_week()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Options.PastYears = 2;
        bench.Service.Next(new StandInFault.NullsIn("temperature_2m"));

        Assert.Contains("The year 2026 of the weather archive", await bench.RunPastYears(), StringComparison.Ordinal);
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));
        bench.Pass(Duration.FromHours(1));
        Assert.Null(await bench.RunPastYears());
        Assert.Equal([2025], store.PastYears.KeptOf("lexington"));
        bench.Pass(Duration.FromDays(6));
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));

        bench.Pass(Duration.FromDays(1));
        Assert.Null(await bench.RunPastYears());
        Assert.Equal([2025, 2026], store.PastYears.KeptOf("lexington"));
        // Two years tell nothing of what is usual.
        Assert.Null(store.Climates.AsOf("lexington", bench.Clock.GetCurrentInstant()));
    }

    [Fact]
    public async Task A_service_that_is_down_is_asked_after_a_wait_and_what_is_there_is_used()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        await Knock(bench, 12); // six years, two minutes apart
        Assert.Equal(6, store.PastYears.KeptOf("lexington").Count);
        bench.Service.Always = new StandInFault.Overloaded(TimeSpan.FromHours(5));

        Assert.Contains("out of order", await bench.RunPastYears(), StringComparison.Ordinal);

        Assert.Equal(bench.Clock.GetCurrentInstant() + Duration.FromHours(5), store.SideWaits.Find("lexington", PastYearTable.Kind)!.NotBefore);
        Assert.True(bench.PastYears.IsDue(WeatherBench.Place));
        Assert.Null(await bench.RunPastYears());
        Assert.Equal(7, bench.Service.Calls.Count);
        Assert.Equal(6, store.Climates.AsOf("lexington", bench.Clock.GetCurrentInstant())!.Years);
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));
    }

    [Fact]
    public async Task A_climate_of_another_version_is_reckoned_anew()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Options.PastYears = 5;
        await Knock(bench, 20);
        store.Climates.Keep(new("lexington", bench.Clock.GetCurrentInstant(), 5, [99]));
        Assert.Null(PastYearsRound.Known(store, WeatherBench.Place, bench.Clock.GetCurrentInstant()));

        bench.Pass(Minute);
        Assert.True(bench.PastYears.IsDue(WeatherBench.Place));
        Assert.Null(await bench.RunPastYears());

        Assert.NotNull(PastYearsRound.Known(store, WeatherBench.Place, bench.Clock.GetCurrentInstant()));
        Assert.Equal(5, bench.Service.Calls.Count);
    }

    [Fact]
    public async Task Nothing_is_kept_on_a_clock_that_the_service_contradicts()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);

        Assert.Contains("clock of this machine", await bench.RunPastYears(clockTrusted: false), StringComparison.Ordinal);
        Assert.Empty(store.PastYears.KeptOf("lexington"));
        Assert.Equal(0, store.PastYears.AskedSince(Instant.MinValue + Duration.FromDays(400_000)).Count);
    }

    [Fact]
    public async Task A_full_disk_is_said_in_a_sentence_and_the_archive_left_alone()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        // The table's own first page must be full too.
        store.PastYears.Keep("elsewhere", 2020, WeatherBench.Start - Duration.FromDays(1), "example.org", new byte[3900]);
        FillDisk(store);

        Assert.Contains("full", await bench.RunPastYears(), StringComparison.Ordinal);

        bench.Pass(Minute * 30);
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));
    }

    [Fact]
    public async Task No_past_years_are_asked_for_when_none_are_wanted()
    {
        using var store = Open();
        await using var bench = await WeatherBench.Open(store);
        bench.Options.PastYears = 0;
        Assert.False(bench.PastYears.IsDue(WeatherBench.Place));
    }

    private static async Task Knock(WeatherBench bench, int minutes)
    {
        for (int minute = 0; minute < minutes; minute++)
        {
            if (bench.PastYears.IsDue(WeatherBench.Place))
                Assert.Null(await bench.RunPastYears());
            bench.Pass(Minute);
        }
    }
}

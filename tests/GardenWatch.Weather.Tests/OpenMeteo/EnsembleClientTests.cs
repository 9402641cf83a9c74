using GardenWatch.Agronomy.Series;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class EnsembleClientTests
{
    [Theory]
    [InlineData(null)]
    [InlineData("ecmwf_ifs025_ensemble")] // the service's own name of the model behind each column
    public async Task A_pull_brings_every_member_from_now_on_as_the_service_printed_it(string? suffix)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.MemberSuffix = suffix;
        var pull = Assert.IsType<Lookup<MemberPull>.Found>(await Pull(bench)).Value;

        Assert.Equal(51, pull.Members.Length);
        Assert.Equal(Instant.FromUtc(2027, 4, 21, 6, 0), pull.Start); // fetched at 5:10
        Assert.Equal(Instant.FromUtc(2027, 5, 5, 23, 0), pull.LastStamp);
        for (int member = 0; member < 51; member++)
            for (int hour = 0; hour < pull.Hours; hour += 7)
            {
                var stamp = pull.Start + Duration.FromHours(hour);
                Assert.Equal(
                    InventedWeather.At(stamp, "temperature_2m")!.Value + member / 10.0, pull.Members[member][WeatherVariable.Air][hour], 1e-9);
                Assert.Equal(InventedWeather.At(stamp, "wind_gusts_10m")!.Value, pull.Members[member][WeatherVariable.Gust][hour]);
            }
    }

    [Fact]
    public async Task The_question_names_the_model_and_its_weight_is_known_beforehand()
    {
        await using var bench = await ServiceBench.Open();
        await Pull(bench);

        var call = Assert.Single(bench.Service.Calls);
        Assert.Equal("/v1/ensemble", call.Path);
        Assert.Equal("ecmwf_ifs025", call.Query["models"]);
        Assert.Equal("15", call.Query["forecast_days"]);
        Assert.Equal("GMT", call.Query["timezone"]);
        Assert.Equal("ms", call.Query["wind_speed_unit"]);
        Assert.Equal(
            "temperature_2m,dew_point_2m,precipitation,cloud_cover,wind_speed_10m,wind_gusts_10m,shortwave_radiation", call.Query["hourly"]);
        // 7 variables, 51 members: 35.7 for two weeks; fifteen days weigh a fourteenth more.
        Assert.Equal(38.25, bench.Ensembles.Weight, 1e-9);
        Assert.Equal(9.3, CallWeight.Of(3, 31, 7), 1e-9);
        Assert.Equal(1, CallWeight.Of(2, 1, 3));
    }

    [Fact]
    public async Task A_variable_that_the_model_lacks_is_no_column_and_no_fault()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Next(new StandInFault.Undefined("wind_gusts_10m"));
        var pull = Assert.IsType<Lookup<MemberPull>.Found>(await Pull(bench)).Value;

        Assert.All(pull.Members, member => Assert.False(member.ContainsKey(WeatherVariable.Gust)));
        Assert.All(pull.Members, member => Assert.Equal(6, member.Count));
    }

    [Theory]
    [InlineData("few", "gives 3 members")]
    [InlineData("no air", "gives 0 members")]
    [InlineData("unit", "'°F', and '°C' was asked for")]
    [InlineData("length", "values of 'precipitation_member07'")]
    public async Task Members_that_cannot_be_believed_are_refused(string trouble, string said)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Members = trouble == "few" ? 3 : 20;
        bench.Service.Always = trouble switch
        {
            "no air" => new StandInFault.NullsIn("temperature_2m"),
            "unit" => new StandInFault.WrongUnit("temperature_2m", "°F"),
            "length" => new StandInFault.WrongLength("precipitation_member07"),
            _ => new StandInFault.None(),
        };

        Assert.Contains(said, Assert.IsType<Lookup<MemberPull>.Refused>(await Pull(bench)).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_null_tail_ends_the_pull_where_the_run_ends()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.NullsFrom(180);
        var pull = Assert.IsType<Lookup<MemberPull>.Found>(await Pull(bench)).Value;

        Assert.Equal(Instant.FromUtc(2027, 4, 28, 17, 0), pull.LastStamp); // 180 hours from 5:10
    }

    [Fact]
    public async Task A_wait_that_the_service_names_comes_back_with_the_reason()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.TooMany(StandInFault.TooMany.Hourly);
        var later = Assert.IsType<Lookup<MemberPull>.TryLater>(await Pull(bench));

        Assert.Equal(ServiceBench.Start + Duration.FromHours(1), later.NotBefore);
    }

    [Fact]
    public async Task When_the_newest_run_is_out_is_asked_of_the_same_host()
    {
        await using var bench = await ServiceBench.Open();
        Assert.IsType<Lookup<EnsembleRun>.Refused>(await bench.Ensembles.NewestRun(TestContext.Current.CancellationToken));

        var begun = Instant.FromUtc(2027, 4, 20, 18, 0);
        bench.Service.Run = (begun, begun + Duration.FromHours(8));
        var run = Assert.IsType<Lookup<EnsembleRun>.Found>(await bench.Ensembles.NewestRun(TestContext.Current.CancellationToken)).Value;

        Assert.Equal(new(begun, begun + Duration.FromHours(8)), run);
        Assert.Equal("/data/ecmwf_ifs025_ensemble/static/meta.json", bench.Service.Calls[^1].Path);
    }

    [Fact]
    public async Task A_run_that_is_out_only_next_week_is_not_believed()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Run = (ServiceBench.Start, ServiceBench.Start + Duration.FromDays(7));

        Assert.IsType<Lookup<EnsembleRun>.Refused>(await bench.Ensembles.NewestRun(TestContext.Current.CancellationToken));
    }

    [Theory]
    // Minutes from when a run was out to the last pull, and to now.
    [InlineData(null, 0, true)] // nothing yet: at once
    [InlineData(-300, 9, false)] // the service's machines may not agree yet
    [InlineData(-300, 10, true)]
    [InlineData(5, 60, true)] // pulled before they agreed
    [InlineData(10, 600, false)] // had already
    public void Members_are_pulled_when_a_new_run_has_been_out_for_ten_minutes(int? lastPull, int now, bool due)
    {
        var run = new EnsembleRun(ServiceBench.Start - Duration.FromHours(8), ServiceBench.Start);
        Assert.Equal(due, EnsembleRun.IsNew(run, ServiceBench.Start + Minutes(lastPull), ServiceBench.Start + Duration.FromMinutes(now)));
    }

    [Theory]
    [InlineData(359, false)]
    [InlineData(360, true)]
    public void Members_are_pulled_every_six_hours_when_nothing_is_heard_of_runs(int minutesSince, bool due) =>
        Assert.Equal(due, EnsembleRun.IsNew(null, ServiceBench.Start, ServiceBench.Start + Duration.FromMinutes(minutesSince)));

    [Theory]
    [InlineData("temperature_2m", 0)]
    [InlineData("temperature_2m_member01", 1)]
    [InlineData("temperature_2m_member39_icon_seamless_eps", 39)]
    [InlineData("temperature_2m_icon_seamless_eps", 0)]
    [InlineData("temperature_2m_member00", null)]
    [InlineData("temperature_2m_member1", null)]
    [InlineData("temperature_2m_member01x", null)]
    [InlineData("temperature_850hPa_member01", null)]
    [InlineData("precipitation_probability", null)]
    [InlineData("cloud_cover_low", null)]
    public void Columns_are_told_apart_by_their_names(string name, int? member) =>
        Assert.Equal(member, ColumnKey.OfMember(name)?.Member);

    private static Duration? Minutes(int? minutes) => minutes is { } m ? Duration.FromMinutes(m) : null;

    private static Task<Lookup<MemberPull>> Pull(ServiceBench bench) =>
        bench.Ensembles.Pull(ServiceBench.Garden, null, TestContext.Current.CancellationToken);
}

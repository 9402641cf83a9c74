using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class BrokenServiceTests
{
    public static TheoryData<string, StandInFault> PassingFaults => new()
    {
        { "502 page", new StandInFault.FrontPage(502) },
        { "504 page", new StandInFault.FrontPage(504) },
        { "503", new StandInFault.Overloaded() },
        { "cut off", new StandInFault.CutOff() },
        { "half the JSON", new StandInFault.Malformed() },
        { "fault text behind JSON", new StandInFault.StreamedError() },
        { "nothing but fault text", new StandInFault.OnlyErrorText() },
        { "page with status 200", new StandInFault.Says(200, "text/html", "<html>welcome to the hotel network</html>") },
        { "error with status 200", new StandInFault.Says(200, "application/json", """{"reason":"model gone","error":true}""") },
        { "nothing", new StandInFault.Says(200, "application/json", " \n") },
        { "busy", new StandInFault.TooMany(StandInFault.TooMany.Concurrent) },
    };

    [Theory, MemberData(nameof(PassingFaults), DisableDiscoveryEnumeration = true)]
    public async Task A_fault_that_passes_is_tried_three_times_with_growing_waits(string name, StandInFault fault)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = fault;

        var later = Assert.IsType<PullOutcome.TryLater>(await bench.Pull());

        Assert.Null(later.NotBefore);
        Assert.StartsWith("The weather service at 127.0.0.1 ", later.Reason, StringComparison.Ordinal);
        Assert.Equal(3, bench.Service.Calls.Count);
        Assert.Collection(
            bench.Time.Waits,
            first => Assert.InRange(first, TimeSpan.FromSeconds(2), TimeSpan.FromSeconds(4)),
            second => Assert.InRange(second, TimeSpan.FromSeconds(4), TimeSpan.FromSeconds(8)));
        var at = bench.Service.Calls.Select(c => c.At).ToArray();
        Assert.True(at[1] - at[0] >= Duration.FromSeconds(2), name);
        Assert.True(at[2] - at[1] >= Duration.FromSeconds(4), name);
    }

    [Theory, MemberData(nameof(PassingFaults), DisableDiscoveryEnumeration = true)]
    public async Task A_fault_that_has_passed_leaves_no_trace(string name, StandInFault fault)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Next(fault, fault);

        Assert.True(await bench.Pull() is PullOutcome.Good, name);
        Assert.Equal(3, bench.Service.Calls.Count);
    }

    [Fact]
    public async Task A_service_that_is_not_there_is_said_to_be_out_of_reach()
    {
        await using var bench = await ServiceBench.Open();
        await bench.Service.DisposeAsync();

        var later = Assert.IsType<PullOutcome.TryLater>(await bench.Pull());

        Assert.Contains("could not be reached", later.Reason, StringComparison.Ordinal);
        Assert.Null(later.ServerDate);
        Assert.Equal(2, bench.Time.Waits.Count);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_service_that_does_not_answer_is_left_after_its_time_and_tried_again(bool afterHalfTheBody)
    {
        await using var bench = await ServiceBench.Open();
        var release = new TaskCompletionSource();
        bench.Service.Always = afterHalfTheBody
            ? new StandInFault.SlowBody(release.Task)
            : new StandInFault.Slow(release.Task);

        var pulling = bench.Pull();
        for (int attempt = 1; attempt <= 3; attempt++)
        {
            await bench.Service.Received(attempt).WaitAsync(TestContext.Current.CancellationToken);
            Assert.False(pulling.IsCompleted);
            bench.Time.Turn(TimeSpan.FromSeconds(15));
        }
        var later = Assert.IsType<PullOutcome.TryLater>(await pulling);

        Assert.Contains("did not answer within 15 seconds", later.Reason, StringComparison.Ordinal);
        Assert.Equal(3, bench.Service.Calls.Count);
        Assert.Equal(2, bench.Time.Waits.Count);
    }

    [Fact]
    public async Task A_slow_answer_that_comes_in_time_is_good()
    {
        await using var bench = await ServiceBench.Open();
        var release = new TaskCompletionSource();
        bench.Service.Next(new StandInFault.SlowBody(release.Task));

        var pulling = bench.Pull();
        await bench.Service.Received(1).WaitAsync(TestContext.Current.CancellationToken);
        bench.Time.Turn(TimeSpan.FromSeconds(14));
        release.SetResult();

        Assert.IsType<PullOutcome.Good>(await pulling);
        Assert.Single(bench.Service.Calls);
    }

    [Fact]
    public async Task The_total_time_ends_even_the_first_try()
    {
        await using var bench = await ServiceBench.Open(adjust: o => o.AttemptTimeout = TimeSpan.FromSeconds(59));
        var release = new TaskCompletionSource();
        bench.Service.Next(new StandInFault.Slow(release.Task));

        var pulling = bench.Pull();
        await bench.Service.Received(1).WaitAsync(TestContext.Current.CancellationToken);
        bench.Time.Turn(TimeSpan.FromSeconds(60));

        Assert.IsType<PullOutcome.TryLater>(await pulling);
        Assert.Single(bench.Service.Calls);
    }

    [Fact]
    public async Task Stopping_is_no_outcome_but_a_cancellation()
    {
        await using var bench = await ServiceBench.Open();
        var release = new TaskCompletionSource();
        bench.Service.Next(new StandInFault.Slow(release.Task));
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

        var pulling = bench.Forecasts.Pull(ServiceBench.Garden, 1, stop.Token);
        await bench.Service.Received(1).WaitAsync(TestContext.Current.CancellationToken);
        await stop.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => pulling);
        // The line is free again.
        Assert.IsType<PullOutcome.Good>(await bench.Pull());
    }

    [Fact]
    public async Task Two_gardens_ask_one_after_the_other()
    {
        await using var bench = await ServiceBench.Open();
        var release = new TaskCompletionSource();
        bench.Service.Next(new StandInFault.Slow(release.Task));

        var first = bench.Pull();
        await bench.Service.Received(1).WaitAsync(TestContext.Current.CancellationToken);
        var second = bench.Pull();
        Assert.Single(bench.Service.Calls);
        release.SetResult();

        Assert.IsType<PullOutcome.Good>(await first);
        Assert.IsType<PullOutcome.Good>(await second);
        Assert.Equal(2, bench.Service.Calls.Count);
    }

    [Theory]
    [InlineData(StandInFault.TooMany.Minutely, 60)]
    [InlineData(StandInFault.TooMany.Hourly, 3600)]
    [InlineData(StandInFault.TooMany.Daily, 18 * 3600 + 55 * 60)] // from 05:10 UTC to five past midnight
    [InlineData("Slow down", 60)]
    public async Task Too_many_calls_are_answered_by_waiting_out_the_window_that_is_named(string words, int seconds)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.TooMany(words);

        var later = Assert.IsType<PullOutcome.TryLater>(await bench.Pull());

        Assert.Equal(ServiceBench.Start + Duration.FromSeconds(seconds), later.NotBefore);
        Assert.Single(bench.Service.Calls);
        Assert.Contains(words.TrimEnd('.'), later.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wait_that_fits_is_waited_out()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Next(new StandInFault.TooMany(StandInFault.TooMany.Minutely, TimeSpan.FromSeconds(20)));

        Assert.IsType<PullOutcome.Good>(await bench.Pull());
        Assert.Equal([TimeSpan.FromSeconds(20)], bench.Time.Waits);
    }

    [Theory]
    [InlineData(46)] // 46 and a try of 15 are over 60
    [InlineData(600)]
    public async Task A_wait_that_does_not_fit_is_given_to_the_caller(int seconds)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Overloaded(TimeSpan.FromSeconds(seconds));

        var later = Assert.IsType<PullOutcome.TryLater>(await bench.Pull());

        Assert.Equal(ServiceBench.Start + Duration.FromSeconds(seconds), later.NotBefore);
        Assert.Single(bench.Service.Calls);
        Assert.Empty(bench.Time.Waits);
    }

    [Fact]
    public async Task A_wait_of_years_is_cut_to_a_day()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Overloaded(TimeSpan.FromDays(4000));

        Assert.Equal(
            ServiceBench.Start + Duration.FromDays(1), Assert.IsType<PullOutcome.TryLater>(await bench.Pull()).NotBefore);
    }

    [Theory]
    [InlineData(400, "Latitude must be in range of -90 to 90°. Given: 522.52.")]
    [InlineData(401, "API key required.")]
    [InlineData(403, "plan")]
    [InlineData(404, "Not Found")]
    public async Task A_question_the_service_refuses_is_asked_once(int status, string reason)
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Says(status, "application/json", $$"""{"error":true,"reason":"{{reason}}"}""");

        var refused = Assert.IsType<PullOutcome.Refused>(await bench.Pull());

        Assert.Contains(reason, refused.Reason, StringComparison.Ordinal);
        Assert.Single(bench.Service.Calls);
    }

    [Fact]
    public async Task A_flood_is_cut_and_not_asked_for_again()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Huge(50);

        var refused = Assert.IsType<PullOutcome.Refused>(await bench.Pull());

        Assert.Contains("more than 8 MB", refused.Reason, StringComparison.Ordinal);
        Assert.Single(bench.Service.Calls);
    }

    [Fact]
    public async Task Words_of_the_service_are_quoted_short_and_on_one_line()
    {
        await using var bench = await ServiceBench.Open();
        bench.Service.Always = new StandInFault.Says(
            400, "application/json", $$"""{"error":true,"reason":"one\r\nSubject: two\u001b[2J{{new string('x', 5000)}}"}""");

        string reason = Assert.IsType<PullOutcome.Refused>(await bench.Pull()).Reason;

        Assert.DoesNotContain(reason, char.IsControl);
        Assert.InRange(reason.Length, 10, 300);
    }
}

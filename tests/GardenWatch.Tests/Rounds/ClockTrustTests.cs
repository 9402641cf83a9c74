using GardenWatch.Rounds;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

public sealed class ClockTrustTests
{
    private static readonly Instant Released = Instant.FromUtc(2026, 11, 1, 0, 0);
    private static readonly Instant Now = Instant.FromUtc(2027, 4, 21, 6, 0);

    /// <param name="fact">Newest fact, in minutes from now.</param>
    /// <param name="ahead">How far the server is ahead, in minutes.</param>
    [Theory]
    // Nothing speaks against it.
    [InlineData(null, null, null, null)]
    [InlineData(-60.0, null, null, null)]
    [InlineData(-60.0, 0.0, true, null)]
    // Its own time service or the weather service speaks against it.
    [InlineData(-60.0, null, false, ClockDoubt.Unsynchronised)]
    [InlineData(-60.0, 10.1, true, ClockDoubt.OffTheServer)]
    [InlineData(-60.0, -10.1, null, ClockDoubt.OffTheServer)]
    [InlineData(-60.0, 9.9, null, null)]
    // The weather service clears it, whatever the system thinks.
    [InlineData(-60.0, 1.0, false, null)]
    // Behind what is stored: which of the two is wrong, only another witness can tell.
    [InlineData(11.0, null, null, ClockDoubt.BehindTheStore)]
    [InlineData(9.0, null, null, null)]
    [InlineData(11.0, 0.0, null, null)]
    [InlineData(11.0, null, true, null)]
    // Two days of silence: off for long, or a leap.
    [InlineData(-2881.0, null, null, ClockDoubt.LongSilence)]
    [InlineData(-2879.0, null, null, null)]
    [InlineData(-2881.0, 0.0, null, null)]
    [InlineData(-2881.0, null, true, null)]
    public void The_witnesses_decide_in_their_order(double? fact, double? ahead, bool? synchronised, ClockDoubt? doubt)
    {
        Instant? newest = fact is { } factMinutes ? Now + Duration.FromMinutes(factMinutes) : null;
        Duration? server = ahead is { } aheadMinutes ? Duration.FromMinutes(aheadMinutes) : null;

        var verdict = ClockTrust.Of(new(Now, Released, newest, server, synchronised));

        Assert.Equal(doubt, (verdict as ClockVerdict.Untrusted)?.Doubt);
        if (verdict is ClockVerdict.Trusted trusted)
            Assert.Equal(fact > 10, trusted.FactsAhead);
        else
            Assert.True(((ClockVerdict.Untrusted)verdict).AskWeatherService);
    }

    [Fact]
    public void No_witness_clears_a_clock_that_is_before_the_release()
    {
        var verdict = ClockTrust.Of(new(Released - Duration.FromSeconds(1), Released, null, Duration.Zero, true));

        Assert.Equal(ClockDoubt.BeforeRelease, Assert.IsType<ClockVerdict.Untrusted>(verdict).Doubt);
    }

    [Fact]
    public void What_the_server_said_no_longer_counts_after_a_leap()
    {
        var clock = new FakeClock(Now);
        var timer = new HandTimer();
        var watch = new ClockWatch(clock, Released, () => false, timer, new Heard());
        watch.HeardDate(Now);
        Assert.IsType<ClockVerdict.Trusted>(watch.Verdict(null));

        Pass(Duration.FromHours(3));
        Assert.IsType<ClockVerdict.Trusted>(watch.Verdict(null));

        clock.Advance(Duration.FromMinutes(5));
        Assert.IsType<ClockVerdict.Untrusted>(watch.Verdict(null));

        watch.HeardDate(clock.GetCurrentInstant());
        Assert.IsType<ClockVerdict.Trusted>(watch.Verdict(null));
        Pass(Duration.FromHours(25));
        Assert.IsType<ClockVerdict.Untrusted>(watch.Verdict(null));

        void Pass(Duration time)
        {
            clock.Advance(time);
            timer.Advance(time);
        }
    }

    [Fact]
    public void A_wrong_clock_is_told_once_then_daily_and_when_it_is_right_again()
    {
        var clock = new FakeClock(Now, Duration.Zero);
        var timer = new HandTimer();
        var log = new Heard();
        bool? synchronised = false;
        var watch = new ClockWatch(clock, Released, () => synchronised, timer, log);
        for (int minute = 0; minute < 1440 + 2; minute++)
        {
            watch.Verdict(null);
            timer.Advance(Duration.FromMinutes(1));
        }
        Assert.Equal([120, 120], log.Events);

        watch.HeardDate(Now + Duration.FromHours(2));
        watch.Verdict(null);
        Assert.Equal([120, 120, 120], log.Events);

        watch.HeardDate(Now);
        watch.Verdict(null);
        watch.Verdict(null);
        Assert.Equal([120, 120, 120, 121], log.Events);
    }

    [Fact]
    public void The_system_answers_the_same_when_asked_twice() =>
        Assert.Equal(ClockWatch.ReportedBySystem(), ClockWatch.ReportedBySystem());

    private sealed class HandTimer : TimeProvider
    {
        private long ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => ticks;

        public void Advance(Duration time) => ticks += time.BclCompatibleTicks;
    }
}

/// <summary>The numbers of the events that were logged.</summary>
internal sealed class Heard : ILogger
{
    private readonly Lock gate = new();

    public List<int> Events { get; } = [];

    public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => true;

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
    {
        lock (gate)
            Events.Add(eventId.Id);
    }
}

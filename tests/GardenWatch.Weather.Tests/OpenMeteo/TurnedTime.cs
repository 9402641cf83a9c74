using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>
/// Time that only the test turns, except for waits between tries: those pass at once, are counted as passed, and are
/// written down. Timeouts stand until the test turns time beyond them.
/// </summary>
internal sealed class TurnedTime(Instant start, params TimeSpan[] timeouts) : TimeProvider, IClock
{
    private readonly Lock _lock = new();
    private readonly List<Timer> _pending = [];
    private readonly List<TimeSpan> _waits = [];
    private TimeSpan _passed;

    public IReadOnlyList<TimeSpan> Waits
    {
        get
        {
            lock (_lock)
                return [.. _waits];
        }
    }

    public Instant GetCurrentInstant()
    {
        lock (_lock)
            return start + Duration.FromTimeSpan(_passed);
    }

    public override DateTimeOffset GetUtcNow() => GetCurrentInstant().ToDateTimeOffset();

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp()
    {
        lock (_lock)
            return _passed.Ticks;
    }

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new Timer(this, callback, state);
        timer.Change(dueTime, period);
        return timer;
    }

    public void Turn(TimeSpan by)
    {
        List<Timer> due;
        lock (_lock)
        {
            _passed += by;
            due = _pending.Where(t => t.DueAt <= _passed).ToList();
            _pending.RemoveAll(due.Contains);
        }
        foreach (var timer in due)
            timer.Fire();
    }

    private void Set(Timer timer, TimeSpan dueIn)
    {
        lock (_lock)
        {
            _pending.Remove(timer);
            if (dueIn == Timeout.InfiniteTimeSpan)
                return;
            timer.DueAt = _passed + dueIn;
            if (timeouts.Contains(dueIn))
            {
                _pending.Add(timer);
                return;
            }
            _waits.Add(dueIn);
        }
        // Not on the caller's stack: it has not yet got the timer it made.
        ThreadPool.QueueUserWorkItem(_ =>
        {
            Turn(dueIn);
            timer.Fire();
        });
    }

    private void Remove(Timer timer)
    {
        lock (_lock)
            _pending.Remove(timer);
    }

    private sealed class Timer(TurnedTime time, TimerCallback callback, object? state) : ITimer
    {
        public TimeSpan DueAt { get; set; }

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            time.Set(this, dueTime);
            return true;
        }

        public void Fire() => callback(state);

        public void Dispose() => time.Remove(this);

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}

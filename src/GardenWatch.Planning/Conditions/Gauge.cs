using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>What a gauge shows at an instant.</summary>
/// <param name="Value">NaN when nothing of it is known.</param>
/// <param name="Known">Hours of the window that are known.</param>
/// <param name="Asked">Hours of the window.</param>
internal readonly record struct Shown(double Value, int Known, int Asked)
{
    public static Shown Nothing { get; } = new(double.NaN, 0, 0);

    public int Missing => Asked - Known;
}

/// <summary>
/// Measure, statistic and window of a phrase, made ready for one scene. Not for use by two threads: it remembers the last
/// answer, since most windows stay the same for all hours of a day.
/// </summary>
internal abstract class Gauge
{
    private const int NotYet = int.MinValue;
    private int _shownFor = NotYet;
    private Shown _shown;

    protected Gauge(BedWeather weather) => Days = weather.Days;

    protected LocalDays Days { get; }

    /// <summary>Why it shows nothing at all, when that is not for want of weather.</summary>
    public virtual Moment? Unknowable(long second) => null;

    public abstract Shown At(long second);

    /// <summary>Until when it shows the same as at an instant.</summary>
    public abstract long SteadyUntil(long second);

    /// <summary>The truth at an instant and at each hour that follows.</summary>
    public virtual void Fill(long from, Span<Truth> course, PreparedPhrase phrase)
    {
        for (int i = 0; i < course.Length;)
        {
            long second = from + (long)i * LocalDays.SecondsAnHour;
            long hours = (SteadyUntil(second) - second + LocalDays.SecondsAnHour - 1) / LocalDays.SecondsAnHour;
            int steady = (int)Math.Clamp(hours, 1, course.Length - i);
            course.Slice(i, steady).Fill(phrase.Judge(At(second)));
            i += steady;
        }
    }

    /// <summary>When the window that is open at an instant ends; of windows of so many hours or days only.</summary>
    public virtual long EndAt(long second) => second;

    /// <summary>One answer for each value of a key.</summary>
    protected Shown Once(int key, Func<int, Shown> find)
    {
        if (key != _shownFor)
            (_shown, _shownFor) = (find(key), key);
        return _shown;
    }

    public static Gauge For(Condition.Phrase phrase, double? level, Scene scene) => phrase.Of.Measure switch
    {
        Measure.Days => new DaysGauge(phrase.Window, scene),
        Measure.Daylight => new DaylightGauge(phrase.Window.Kind, scene.Weather),
        _ when phrase.Statistic is Statistic.MorningsAbove or Statistic.MorningsBelow =>
            new MorningsGauge(phrase, level ?? double.NaN, scene.Weather),
        _ => new HoursGauge(phrase, level, scene),
    };

    protected static int FloorHour(long second, long start)
    {
        long hours = Math.DivRem(second - start, LocalDays.SecondsAnHour, out long rest);
        return (int)Math.Clamp(rest < 0 ? hours - 1 : hours, int.MinValue / 2, int.MaxValue / 2);
    }
}

/// <summary>Days since or until a moment.</summary>
internal sealed class DaysGauge : Gauge
{
    private readonly TimeWindow _window;
    private readonly Moments _moments;
    private readonly Func<int, Shown> _count;

    public DaysGauge(TimeWindow window, Scene scene) : base(scene.Weather)
    {
        _window = window;
        _moments = scene.Moments;
        _count = Count;
    }

    public override Shown At(long second) => Once(Days.DayAt(second), _count);

    public override long SteadyUntil(long second) => Days.StartOf(Days.DayAt(second) + 1);

    public override Moment? Unknowable(long second) =>
        double.IsNaN(At(second).Value) ? _window.Moment : null;

    private Shown Count(int today)
    {
        bool ahead = _window.Kind == WindowKind.Until;
        if (_moments.IsFrostless && _window.Moment is Moment.Of(Milestone.LastSpringFrost or Milestone.FirstAutumnFrost))
            return new(ahead == _window.Moment is Moment.Of(Milestone.FirstAutumnFrost) ? double.PositiveInfinity : double.NegativeInfinity, 1, 1);
        if (_moments.DateOf(_window.Moment!, ahead, LocalDays.DateOf(today), Days.Calendar) is not { } date)
            return Shown.Nothing;
        int days = LocalDays.NumberOf(date) - today;
        return new(ahead ? days : -days, 1, 1);
    }
}

/// <summary>Hours from sunrise to sunset, which need no weather.</summary>
internal sealed class DaylightGauge : Gauge
{
    private readonly int _daysAhead;
    private readonly Func<int, Shown> _length;

    public DaylightGauge(WindowKind window, BedWeather weather) : base(weather)
    {
        _daysAhead = window == WindowKind.Tomorrow ? 1 : 0;
        _length = Length;
    }

    public override Shown At(long second) => Once(Days.DayAt(second) + _daysAhead, _length);

    public override long SteadyUntil(long second) => Days.StartOf(Days.DayAt(second) + 1);

    private Shown Length(int day)
    {
        var course = Agronomy.Light.Sun.Course(Days.Calendar.Place, LocalDays.DateOf(day), Days.Calendar.Zone);
        return new(course.DayLength.TotalHours, 1, 1);
    }
}

/// <summary>How many mornings on end, counted back from the latest, were above or below a level.</summary>
internal sealed class MorningsGauge : Gauge
{
    private static readonly LocalTime Morning = new(8, 0);

    private readonly WindowedColumn _column;
    private readonly long _start;
    private readonly int _mornings;
    private readonly double _level;
    private readonly bool _above;
    private readonly Func<int, Shown> _run;

    public MorningsGauge(Condition.Phrase phrase, double level, BedWeather weather) : base(weather)
    {
        _column = weather.Column(phrase.Of);
        _start = LocalDays.Seconds(weather.Series.Start);
        _mornings = phrase.Window.Count;
        _level = level;
        _above = phrase.Statistic == Statistic.MorningsAbove;
        _run = Run;
    }

    public override Shown At(long second)
    {
        int today = Days.DayAt(second);
        return Once(second >= MorningOf(today) ? today : today - 1, _run);
    }

    public override long SteadyUntil(long second)
    {
        long morning = MorningOf(Days.DayAt(second));
        return second < morning ? morning : Days.StartOf(Days.DayAt(second) + 1);
    }

    private long MorningOf(int day) => LocalDays.Seconds(Days.Calendar.At(LocalDays.DateOf(day), Morning));

    private Shown Run(int latest)
    {
        int run = 0;
        for (int day = latest; run < _mornings; day--)
        {
            if (!Days.Exists(day))
                continue;
            double value = _column[FloorHour(MorningOf(day), _start)];
            if (double.IsNaN(value))
                return new(run, run, _mornings);
            if (_above ? value <= _level : value >= _level)
                break;
            run++;
        }
        return new(run, _mornings, _mornings);
    }
}

internal static class MomentWords
{
    public static string WhyUnknown(Moment moment, Speech speech) => moment switch
    {
        Moment.Of(Milestone.LastSpringFrost or Milestone.FirstAutumnFrost) => speech.Say($"{Clause(moment, speech)} is not known here"),
        _ => speech.Say($"it is not known when {Clause(moment, speech)}"),
    };

    /// <summary>"it was set out", "1 March".</summary>
    public static string Clause(Moment moment, Speech speech) => moment switch
    {
        Moment.Of(var milestone) => speech.Word(ConditionLanguage.Row(milestone).Clause),
        Moment.OnDate(var date) => speech.Date(date),
        Moment.EachYear(var date) => speech.Date(date.InYear(2000)),
        _ => "",
    };
}

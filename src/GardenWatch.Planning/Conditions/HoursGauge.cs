using System.Buffers;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// A statistic of hourly weather over a window. Which stamps a window has:
/// <list type="bullet">
/// <item>Windows of so many hours or days begin or end at the current whole hour.</item>
/// <item>A value of the hour that ends at its stamp belongs to the window in which that hour ends.</item>
/// <item>Of values at an instant, low and high take both ends of the window in; mean and hour counts let each stamp
/// stand for the hour before it, so that 72 hours have 72 stamps.</item>
/// </list>
/// </summary>
internal sealed class HoursGauge : Gauge
{
    /// <summary>Between 0 and 1, which columns of what is or is not in an hour hold.</summary>
    private const double IsSo = 0.5;

    private readonly WindowedColumn _column;
    private readonly SpellColumn? _spells;
    private readonly Statistic _statistic;
    private readonly TimeWindow _window;
    private readonly Moments _moments;
    private readonly long _start;
    private readonly bool _stampAtStart;
    private readonly double _shareOfPiece;
    private readonly Func<int, Shown> _wholeDay;
    private readonly Func<int, Shown> _nights;
    private readonly DayPieces? _pieces;
    private int _sinceDay = int.MinValue;
    private long? _since;

    public HoursGauge(Condition.Phrase phrase, double? level, Scene scene) : base(scene.Weather)
    {
        var row = ConditionLanguage.Row(phrase.Of.Measure);
        var statistic = ConditionLanguage.Row(phrase.Statistic);
        _column = scene.Weather.Column(phrase.Of);
        if (level is { } limit)
        {
            _spells = scene.Weather.Spells(phrase.Of, limit, phrase.Statistic is Statistic.HoursAbove or Statistic.RunAbove);
            if (phrase.Statistic is Statistic.HoursAbove or Statistic.HoursBelow)
                _column = _spells.Met;
        }
        if (phrase.Statistic == Statistic.Run)
            _spells = scene.Weather.Spells(phrase.Of, IsSo, above: true);
        _statistic = phrase.Statistic;
        _window = phrase.Window;
        _moments = scene.Moments;
        _start = LocalDays.Seconds(scene.Weather.Series.Start);
        _stampAtStart = statistic.StampAtStart && !row.OfTheHour;
        _shareOfPiece = statistic.ShareNeeded;
        _wholeDay = day => Over(Days.StartOf(day), Days.StartOf(day + 1));
        _nights = Nights;
        if (IsByPiece)
            _pieces = new(Days, _start, LocalDays.Seconds(scene.Weather.Series.LastStamp), _window, _shareOfPiece, Over);
    }

    public override Moment? Unknowable(long second) =>
        _window.Kind == WindowKind.Since && Since(second) is null ? _window.Moment : null;

    public override long EndAt(long second) =>
        _window.Kind is WindowKind.NextHours or WindowKind.NextDays ? Moving(WholeHour(second)).End : second;

    public override Shown At(long second)
    {
        long now = WholeHour(second);
        switch (_window.Kind)
        {
            case WindowKind.PastDays or WindowKind.NextDays when _pieces is { } pieces:
                return Pieces(pieces, now);
            case WindowKind.PastHours or WindowKind.NextHours or WindowKind.PastDays or WindowKind.NextDays:
                var (start, end, _) = Moving(now);
                return Over(start, end);
            case WindowKind.Today:
                return Once(Days.DayAt(second), _wholeDay);
            case WindowKind.Tomorrow:
                return Once(DayAfter(Days.DayAt(second)), _wholeDay);
            case WindowKind.Since:
                return Since(second) is { } since ? Over(Math.Min(since, now), now) : Shown.Nothing;
            default:
                return Once(Days.TonightAt(second), _nights);
        }
    }

    public override long SteadyUntil(long second) => _window.Kind switch
    {
        WindowKind.Today or WindowKind.Tomorrow => Days.StartOf(Days.DayAt(second) + 1),
        WindowKind.Tonight or WindowKind.PastNights or WindowKind.NextNights => Days.NightOf(Days.TonightAt(second)).Dawn,
        _ => second,
    };

    public override void Fill(long from, Span<Truth> course, PreparedPhrase phrase)
    {
        if (_window.Kind == WindowKind.Since)
        {
            FillSince(from, course, phrase);
            return;
        }
        bool moves = !IsByPiece && _window.Kind is WindowKind.PastHours or WindowKind.NextHours or WindowKind.PastDays or WindowKind.NextDays;
        if (!moves)
        {
            base.Fill(from, course, phrase);
            return;
        }
        // The window moves on by an hour with each hour; only a change of the clock makes it longer or shorter.
        for (int i = 0; i < course.Length;)
        {
            long now = WholeHour(from + (long)i * LocalDays.SecondsAnHour);
            var (start, end, steadyUntil) = Moving(now);
            var (first, last) = Stamps(start, end);
            int steady = (int)Math.Clamp((steadyUntil - now) / LocalDays.SecondsAnHour, 1, course.Length - i);
            if ((IsLow || IsHigh) && last >= first && steady > _column.Hours / 2)
                FillMoving(first, last, course.Slice(i, steady), phrase);
            else
                for (int k = 0; k < steady; k++)
                    course[i + k] = phrase.Judge(Over(first + k, last + k));
            i += steady;
        }
    }

    /// <summary>The moment is asked for once a day; its window grows by an hour with each hour.</summary>
    private void FillSince(long from, Span<Truth> course, PreparedPhrase phrase)
    {
        for (int i = 0; i < course.Length;)
        {
            long second = from + (long)i * LocalDays.SecondsAnHour;
            long left = Days.StartOf(Days.DayAt(second) + 1) - second;
            int today = (int)Math.Clamp((left + LocalDays.SecondsAnHour - 1) / LocalDays.SecondsAnHour, 1, course.Length - i);
            long now = WholeHour(second);
            if (Since(second) is not { } since)
                course.Slice(i, today).Fill(phrase.Judge(Shown.Nothing));
            else if (since > now)
                for (int k = 0; k < today; k++)
                    course[i + k] = phrase.Judge(At(second + (long)k * LocalDays.SecondsAnHour));
            else
            {
                var (first, last) = Stamps(since, now);
                for (int k = 0; k < today; k++)
                    course[i + k] = phrase.Judge(Over(first, last + k));
            }
            i += today;
        }
    }

    private (long Start, long End, long SteadyUntil) Moving(long now)
    {
        long always = long.MaxValue / 2, hours = (long)_window.Count * LocalDays.SecondsAnHour;
        switch (_window.Kind)
        {
            case WindowKind.PastHours:
                return (now - hours, now, always);
            case WindowKind.NextHours:
                return (now, now + hours, always);
            case WindowKind.PastDays:
                return (Days.SameClockTime(now, -_window.Count, out long pastUntil), now, pastUntil);
            default:
                return (now, Days.SameClockTime(now, _window.Count, out long nextUntil), nextUntil);
        }
    }

    private bool IsByPiece => _statistic is Statistic.MeanOfLows or Statistic.MeanOfHighs;

    private long WholeHour(long second) => _start + (long)FloorHour(second, _start) * LocalDays.SecondsAnHour;

    private int DayAfter(int day) => Days.Exists(day + 1) ? day + 1 : day + 2;

    private long? Since(long second)
    {
        int today = Days.DayAt(second);
        if (today != _sinceDay)
        {
            _since = _moments.StartOf(_window.Moment!, LocalDays.DateOf(today), Days.Calendar) is { } begun ? LocalDays.Seconds(begun) : null;
            _sinceDay = today;
        }
        return _since;
    }

    private Shown Nights(int tonight)
    {
        bool past = _window.Kind == WindowKind.PastNights;
        int step = past ? -1 : 1;
        int day = past ? tonight - 1 : tonight;
        var gathered = new Gathered(this);
        for (int left = Math.Max(_window.Count, 1); left > 0; day += step)
        {
            if (!Days.Exists(day))
                continue;
            var (dusk, dawn) = Days.NightOf(day);
            gathered.Add(dusk, dawn);
            left--;
        }
        return gathered.Shown;
    }

    /// <summary>The day at the instant's end is found for itself: the instant may be the other reading of its clock time.</summary>
    private Shown Pieces(DayPieces pieces, long now)
    {
        bool past = _window.Kind == WindowKind.PastDays;
        long next = Days.SameClockTime(now, past ? -1 : 1);
        var nearest = pieces.Of(Over(Math.Min(now, next), Math.Max(now, next)));
        var others = pieces.Between(now, past ? -_window.Count : 1, _window.Count - 1);
        return nearest.With(others ?? Farther(pieces, now, next, past)).Mean;
    }

    /// <summary>Far from the series, one by one.</summary>
    private DayPieces.Sums Farther(DayPieces pieces, long now, long edge, bool past)
    {
        var sums = default(DayPieces.Sums);
        for (int i = 2; i <= _window.Count; i++)
        {
            long next = Days.SameClockTime(now, past ? -i : i);
            sums = sums.With(pieces.Of(Over(Math.Min(edge, next), Math.Max(edge, next))));
            edge = next;
        }
        return sums;
    }

    private Shown Over(long from, long until)
    {
        var (first, last) = Stamps(from, until);
        return Over(first, last);
    }

    private (int First, int Last) Stamps(long from, long until)
    {
        int first = FloorHour(from, _start) + 1;
        // The stamp at the very start counts when ends are included; one before it never does.
        if (_stampAtStart && (from - _start) % LocalDays.SecondsAnHour == 0)
            first--;
        return (first, FloorHour(until, _start));
    }

    private Shown Over(int first, int last)
    {
        int asked = Math.Max(last - first + 1, 0);
        if (IsLow || IsHigh || _statistic is Statistic.RunAbove or Statistic.RunBelow or Statistic.Run)
        {
            int hours = _column.Known(first, last);
            return hours == 0 ? new(double.NaN, 0, asked)
                : new(IsLow ? _column.Low(first, last) : IsHigh ? _column.High(first, last) : _spells!.LongestRun(first, last), hours, asked);
        }
        double total = _column.Total(first, last, out int known);
        return known == 0 ? new(double.NaN, 0, asked) : new(_statistic == Statistic.Mean ? total / known : total, known, asked);
    }

    private bool IsLow => _statistic is Statistic.Low or Statistic.MeanOfLows;

    private bool IsHigh => _statistic is Statistic.High or Statistic.Peak or Statistic.MeanOfHighs;

    /// <summary>The same for stretches that move on by an hour each, worth it for so many that the whole column is asked.</summary>
    private void FillMoving(int first, int last, Span<Truth> course, PreparedPhrase phrase)
    {
        double[] ends = ArrayPool<double>.Shared.Rent(_column.Hours);
        var values = ends.AsSpan(0, _column.Hours);
        if (IsLow)
            _column.MovingLows(last - first + 1, values);
        else
            _column.MovingHighs(last - first + 1, values);
        int asked = last - first + 1;
        for (int k = 0; k < course.Length; k++)
            course[k] = phrase.Judge(last + k < values.Length && first + k >= 0
                ? new(values[last + k], _column.Known(first + k, last + k), asked)
                : Over(first + k, last + k));
        ArrayPool<double>.Shared.Return(ends);
    }

    /// <summary>Several stretches taken together: the lowest of the lows, the sum of the totals, the mean of all hours.</summary>
    private struct Gathered(HoursGauge gauge)
    {
        private double _value = double.NaN;
        private double _sum;
        private int _pieces;
        private bool _pieceUnknown;
        private int _known;
        private int _asked;

        public void Add(long from, long until)
        {
            var (first, last) = gauge.Stamps(from, until);
            var piece = gauge.Over(first, last);
            _known += piece.Known;
            _asked += piece.Asked;
            _pieces++;
            _pieceUnknown |= piece.Asked == 0 || piece.Known < gauge._shareOfPiece * piece.Asked;
            if (piece.Known == 0)
                return;
            _sum += gauge._statistic == Statistic.Mean ? gauge._column.Total(first, last) : piece.Value;
            _value = double.IsNaN(_value) ? piece.Value : gauge._statistic switch
            {
                Statistic.Low => Math.Min(_value, piece.Value),
                _ => Math.Max(_value, piece.Value),
            };
        }

        public readonly Shown Shown => new(
            _known == 0 ? double.NaN : gauge._statistic switch
            {
                Statistic.Mean => _sum / _known,
                Statistic.Total or Statistic.Hours or Statistic.HoursAbove or Statistic.HoursBelow => _sum,
                Statistic.MeanOfLows or Statistic.MeanOfHighs => _pieceUnknown ? double.NaN : _sum / _pieces,
                _ => _value,
            },
            _known,
            _asked);
    }
}

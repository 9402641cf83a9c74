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
        _statistic = phrase.Statistic;
        _window = phrase.Window;
        _moments = scene.Moments;
        _start = LocalDays.Seconds(scene.Weather.Series.Start);
        _stampAtStart = statistic.StampAtStart && !row.OfTheHour;
        _shareOfPiece = statistic.ShareNeeded;
        _wholeDay = day => Over(Days.StartOf(day), Days.StartOf(day + 1));
        _nights = Nights;
    }

    public override string? Unknowable(long second) =>
        _window.Kind == WindowKind.Since && Since(second) is null ? MomentWords.WhyUnknown(_window.Moment!) : null;

    public override long EndAt(long second) => _window.Kind switch
    {
        WindowKind.NextHours => WholeHour(second) + (long)_window.Count * LocalDays.SecondsAnHour,
        WindowKind.NextDays => Days.SameClockTime(WholeHour(second), _window.Count),
        _ => second,
    };

    public override Shown At(long second)
    {
        long now = WholeHour(second);
        switch (_window.Kind)
        {
            case WindowKind.PastHours:
                return Over(now - (long)_window.Count * LocalDays.SecondsAnHour, now);
            case WindowKind.NextHours:
                return Over(now, EndAt(second));
            case WindowKind.PastDays or WindowKind.NextDays when IsByPiece:
                return Pieces(now);
            case WindowKind.PastDays:
                return Over(Days.SameClockTime(now, -_window.Count), now);
            case WindowKind.NextDays:
                return Over(now, EndAt(second));
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

    private Shown Pieces(long now)
    {
        bool past = _window.Kind == WindowKind.PastDays;
        var gathered = new Gathered(this);
        long edge = now;
        for (int i = 1; i <= _window.Count; i++)
        {
            long next = Days.SameClockTime(now, past ? -i : i);
            gathered.Add(Math.Min(edge, next), Math.Max(edge, next));
            edge = next;
        }
        return gathered.Shown;
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
        int known = _column.Known(first, last);
        if (known == 0)
            return new(double.NaN, 0, asked);
        double value = _statistic switch
        {
            Statistic.Low or Statistic.MeanOfLows => _column.Low(first, last),
            Statistic.High or Statistic.Peak or Statistic.MeanOfHighs => _column.High(first, last),
            Statistic.Mean => _column.Mean(first, last),
            Statistic.RunAbove or Statistic.RunBelow => _spells!.LongestRun(first, last),
            _ => _column.Total(first, last),
        };
        return new(value, known, asked);
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
                Statistic.Total or Statistic.HoursAbove or Statistic.HoursBelow => _sum,
                Statistic.MeanOfLows or Statistic.MeanOfHighs => _pieceUnknown ? double.NaN : _sum / _pieces,
                _ => _value,
            },
            _known,
            _asked);
    }
}

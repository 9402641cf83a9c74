namespace GardenWatch.Agronomy.Series;

/// <summary>
/// One hourly column, built once so that total, mean, low, high and the number of known hours of any stretch cost the
/// same whatever its length. NaN is missing; hours outside the column are missing too.
/// </summary>
/// <remarks>
/// Sums are kept as whole numbers of a power of two, the finest that the column's own size allows, so that the total of
/// thirty years of rain is exact to far below 0.001 mm and the same stretch gives the same total wherever it lies.
/// Lows and highs: minima from both ends of blocks of sixteen hours and a doubling table over whole blocks; built when
/// first asked for, about three numbers an hour.
/// </remarks>
public sealed class WindowedColumn
{
    private readonly double[] _values;
    private readonly long[] _sumBefore;
    private readonly int[] _knownBefore;
    private readonly double _unit;
    private readonly WindowedColumn? _before;
    private readonly int _from;
    private Extremes? _lows;
    private Extremes? _highs;

    public WindowedColumn(ReadOnlySpan<double> hourly) : this(hourly, before: null, from: 0)
    {
    }

    private WindowedColumn(ReadOnlySpan<double> hourly, WindowedColumn? before, int from)
    {
        (_before, _from) = (before, from);
        _values = hourly.ToArray();
        double largest = 0;
        for (int i = 0; i < _values.Length; i++)
        {
            if (!double.IsFinite(_values[i]))
                _values[i] = double.NaN;
            else
                largest = Math.Max(largest, Math.Abs(_values[i]));
        }
        // All of them at their largest still fit 62 bits.
        double scale = largest == 0 ? 1 : Math.ScaleB(1, Math.Clamp(60 - Math.ILogB(largest * Math.Max(_values.Length, 1)), -60, 60));
        _unit = 1 / scale;
        _sumBefore = new long[_values.Length + 1];
        _knownBefore = new int[_values.Length + 1];
        for (int i = 0; i < _values.Length; i++)
        {
            bool known = !double.IsNaN(_values[i]);
            _sumBefore[i + 1] = _sumBefore[i] + (known ? (long)Math.Round(_values[i] * scale) : 0);
            _knownBefore[i + 1] = _knownBefore[i] + (known ? 1 : 0);
        }
    }

    /// <summary>A column with other hours from one on; those before it are shared with this one.</summary>
    /// <param name="hourly">The hours from <paramref name="from"/> on.</param>
    public WindowedColumn GoingOn(int from, ReadOnlySpan<double> hourly) =>
        from == 0 || _before is not null ? throw new ArgumentOutOfRangeException(nameof(from), from, "Nothing stands before it, or it goes on itself.")
        : new(hourly, this, Math.Min(from, Hours));

    public int Hours => _from + _values.Length;

    /// <summary>The value of an hour; NaN where missing or outside.</summary>
    public double this[int hour] =>
        (uint)(hour - _from) < (uint)_values.Length ? _values[hour - _from]
        : _before is not null && hour < _from ? _before[hour]
        : double.NaN;

    /// <summary>How many hours of a stretch, both ends included, are known.</summary>
    public int Known(int first, int last) =>
        (Earlier(first, last) is { } earlier ? _before!.Known(first, earlier) : 0)
        + (Clip(ref first, ref last) ? _knownBefore[last + 1] - _knownBefore[first] : 0);

    /// <summary>Sum of the known hours; NaN when none is known.</summary>
    public double Total(int first, int last) => Total(first, last, out _);

    /// <summary>Sum of the known hours, and how many they are; NaN when none is known.</summary>
    public double Total(int first, int last, out int known)
    {
        known = 0;
        double total = Earlier(first, last) is { } earlier && _before!.Total(first, earlier, out known) is var before && known > 0 ? before : 0;
        if (Clip(ref first, ref last))
        {
            known += _knownBefore[last + 1] - _knownBefore[first];
            total += (_sumBefore[last + 1] - _sumBefore[first]) * _unit;
        }
        return known > 0 ? total : double.NaN;
    }

    /// <summary>Mean of the known hours; NaN when none is known.</summary>
    public double Mean(int first, int last) => Total(first, last, out int known) / known;

    /// <summary>Lowest of the known hours; NaN when none is known.</summary>
    public double Low(int first, int last)
    {
        double earlier = Earlier(first, last) is { } end ? _before!.Low(first, end) : double.NaN;
        double low = Clip(ref first, ref last) ? (_lows ??= new Extremes(_values, 1)).Least(first, last) : double.PositiveInfinity;
        return double.IsPositiveInfinity(low) ? earlier : double.MinNumber(low, earlier);
    }

    /// <summary>Highest of the known hours, which of rain is its hourly peak; NaN when none is known.</summary>
    public double High(int first, int last)
    {
        double earlier = Earlier(first, last) is { } end ? _before!.High(first, end) : double.NaN;
        double high = Clip(ref first, ref last) ? (_highs ??= new Extremes(_values, -1)).Least(first, last) : double.PositiveInfinity;
        return double.IsPositiveInfinity(high) ? earlier : double.MaxNumber(-high, earlier);
    }

    /// <summary>The last hour of a stretch that lies before this column's own; null when it has none.</summary>
    private int? Earlier(int first, int last) => _before is not null && first < _from ? Math.Min(last, _from - 1) : null;

    /// <summary>Cuts a stretch to this column's own hours, counted from its first.</summary>
    private bool Clip(ref int first, ref int last)
    {
        first = Math.Max(first - _from, 0);
        last = Math.Min(last - _from, _values.Length - 1);
        return first <= last;
    }

    /// <summary>Least of signed values over any stretch; missing counts as plus infinity.</summary>
    private sealed class Extremes
    {
        private const int BlockBits = 4;
        private const int InBlock = (1 << BlockBits) - 1;

        private readonly double[] _values;
        private readonly double _sign;
        private readonly double[] _fromBlockStart;
        private readonly double[] _toBlockEnd;
        private readonly double[][] _overBlocks;

        public Extremes(double[] values, double sign)
        {
            _values = values;
            _sign = sign;
            _fromBlockStart = new double[values.Length];
            _toBlockEnd = new double[values.Length];
            int blocks = (values.Length + InBlock) >> BlockBits;
            double[] ofBlock = new double[blocks];
            for (int i = 0; i < values.Length; i++)
                _fromBlockStart[i] = (i & InBlock) == 0 ? Signed(i) : Math.Min(_fromBlockStart[i - 1], Signed(i));
            for (int i = values.Length - 1; i >= 0; i--)
            {
                bool ends = (i & InBlock) == InBlock || i == values.Length - 1;
                _toBlockEnd[i] = ends ? Signed(i) : Math.Min(_toBlockEnd[i + 1], Signed(i));
                ofBlock[i >> BlockBits] = _toBlockEnd[i];
            }
            int levels = blocks == 0 ? 0 : 1 + int.Log2(blocks);
            _overBlocks = new double[levels][];
            for (int level = 0; level < levels; level++)
            {
                _overBlocks[level] = level == 0 ? ofBlock : new double[blocks - (1 << level) + 1];
                for (int b = 0; level > 0 && b < _overBlocks[level].Length; b++)
                    _overBlocks[level][b] = Math.Min(_overBlocks[level - 1][b], _overBlocks[level - 1][b + (1 << (level - 1))]);
            }
        }

        public double Least(int first, int last)
        {
            int firstBlock = first >> BlockBits, lastBlock = last >> BlockBits;
            if (firstBlock == lastBlock)
            {
                double least = double.PositiveInfinity;
                for (int i = first; i <= last; i++)
                    least = Math.Min(least, Signed(i));
                return least;
            }
            double ends = Math.Min(_toBlockEnd[first], _fromBlockStart[last]);
            int between = lastBlock - firstBlock - 1;
            if (between == 0)
                return ends;
            int level = int.Log2(between);
            double[] row = _overBlocks[level];
            return Math.Min(ends, Math.Min(row[firstBlock + 1], row[lastBlock - (1 << level)]));
        }

        private double Signed(int hour)
        {
            double value = _values[hour];
            return double.IsNaN(value) ? double.PositiveInfinity : _sign * value;
        }
    }
}

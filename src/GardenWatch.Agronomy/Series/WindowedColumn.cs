using System.Numerics;
using System.Runtime.Intrinsics;

namespace GardenWatch.Agronomy.Series;

/// <summary>
/// One hourly column, built once so that total, mean, low, high and the number of known hours of any stretch cost the
/// same whatever its length. NaN is missing; hours outside the column are missing too.
/// </summary>
/// <remarks>
/// Sums are kept as whole numbers of a power of two, the finest that the column's own size allows, so that the total of
/// thirty years of rain is exact to far below 0.001 mm and the same stretch gives the same total wherever it lies.
/// Lows and highs are made when first asked for (<see cref="BlockExtremes"/>). Safe for readers on many threads.
/// </remarks>
public sealed partial class WindowedColumn
{
    private readonly double[] _values;
    private readonly KnownHours _known;
    private readonly long[] _sumBefore;
    private readonly double _unit;
    private readonly WindowedColumn? _before;
    private readonly int _from;
    private BlockExtremes? _lows;
    private BlockExtremes? _highs;

    public WindowedColumn(ReadOnlySpan<double> hourly) : this(hourly.ToArray())
    {
    }

    /// <param name="hourly">Kept, not copied: who gives it no longer changes it.</param>
    public WindowedColumn(double[] hourly) : this(hourly, before: null, from: 0)
    {
    }

    private WindowedColumn(double[] hourly, WindowedColumn? before, int from)
    {
        ArgumentNullException.ThrowIfNull(hourly);
        (_before, _from) = (before, from);
        _known = new(KnownBits(hourly, out double largest, out bool infinite), hourly.Length);
        _values = infinite ? WithoutInfinity(hourly) : hourly;
        // All of them at their largest still fit 62 bits.
        double scale = largest == 0 ? 1 : Math.ScaleB(1, Math.Clamp(60 - Math.ILogB(largest * Math.Max(_values.Length, 1)), -60, 60));
        _unit = 1 / scale;
        _sumBefore = SumsBefore(_values, scale);
    }

    /// <summary>A column with other hours from one on; those before it are shared with this one.</summary>
    /// <param name="hourly">The hours from <paramref name="from"/> on.</param>
    public WindowedColumn GoingOn(int from, ReadOnlySpan<double> hourly) =>
        from == 0 || _before is not null ? throw new ArgumentOutOfRangeException(nameof(from), from, "Nothing stands before it, or it goes on itself.")
        : new(hourly.ToArray(), this, Math.Min(from, Hours));

    public int Hours => _from + _values.Length;

    /// <summary>The value of an hour; NaN where missing or outside.</summary>
    public double this[int hour] =>
        (uint)(hour - _from) < (uint)_values.Length ? _values[hour - _from]
        : _before is not null && hour < _from ? _before[hour]
        : double.NaN;

    /// <summary>How many hours of a stretch, both ends included, are known.</summary>
    public int Known(int first, int last) =>
        (Earlier(first, last) is { } earlier ? _before!.Known(first, earlier) : 0)
        + (Clip(ref first, ref last) ? _known.Of(first, last) : 0);

    /// <summary>Sum of the known hours; NaN when none is known.</summary>
    public double Total(int first, int last) => Total(first, last, out _);

    /// <summary>Sum of the known hours, and how many they are; NaN when none is known.</summary>
    public double Total(int first, int last, out int known)
    {
        known = 0;
        double total = Earlier(first, last) is { } earlier && _before!.Total(first, earlier, out known) is var before && known > 0 ? before : 0;
        if (Clip(ref first, ref last))
        {
            known += _known.Of(first, last);
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
        double low = Clip(ref first, ref last) ? (_lows ??= new(_values, 1)).Least(first, last) : double.PositiveInfinity;
        return double.IsPositiveInfinity(low) ? earlier : double.MinNumber(low, earlier);
    }

    /// <summary>Highest of the known hours, which of rain is its hourly peak; NaN when none is known.</summary>
    public double High(int first, int last)
    {
        double earlier = Earlier(first, last) is { } end ? _before!.High(first, end) : double.NaN;
        double high = Clip(ref first, ref last) ? (_highs ??= new(_values, -1)).Least(first, last) : double.PositiveInfinity;
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

    private static ulong[]? KnownBits(double[] hourly, out double largest, out bool infinite)
    {
        ulong[] bits = new ulong[(hourly.Length + 63) >> 6];
        var largestOfLanes = Vector256<double>.Zero;
        ulong infinities = 0;
        largest = 0;
        int whole = hourly.Length & ~63, known = 0;
        for (int start = 0; start < whole; start += 64)
        {
            ulong ofWord = 0;
            var values = hourly.AsSpan(start, 64);
            for (int i = 0; i < 64; i += 4)
            {
                var size = Vector256.Abs(Vector256.Create<double>(values.Slice(i, 4)));
                var finite = Vector256.LessThanOrEqual(size, Vector256.Create(double.MaxValue));
                ofWord |= (ulong)finite.ExtractMostSignificantBits() << i;
                infinities |= Vector256.Equals(size, Vector256.Create(double.PositiveInfinity)).ExtractMostSignificantBits();
                largestOfLanes = Vector256.Max(largestOfLanes, Vector256.ConditionalSelect(finite, size, Vector256<double>.Zero));
            }
            bits[start >> 6] = ofWord;
            known += BitOperations.PopCount(ofWord);
        }
        for (int lane = 0; lane < 4; lane++)
            largest = Math.Max(largest, largestOfLanes[lane]);
        for (int i = whole; i < hourly.Length; i++)
        {
            double size = Math.Abs(hourly[i]);
            infinities |= double.IsPositiveInfinity(size) ? 1UL : 0;
            if (!(size <= double.MaxValue))
                continue;
            bits[i >> 6] |= 1UL << i;
            largest = Math.Max(largest, size);
            known++;
        }
        infinite = infinities != 0;
        return known == hourly.Length ? null : bits;
    }

    private static double[] WithoutInfinity(double[] hourly) => Array.ConvertAll(hourly, value => double.IsFinite(value) ? value : double.NaN);

    private static long[] SumsBefore(double[] values, double scale)
    {
        long[] sums = GC.AllocateUninitializedArray<long>(values.Length + 1);
        long sum = 0;
        sums[0] = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double value = values[i];
            // Rounded and never missing, so the plain conversion of the machine is the same on every one.
            sum += double.ConvertToIntegerNative<long>(Math.Round(double.IsNaN(value) ? 0 : value * scale));
            sums[i + 1] = sum;
        }
        return sums;
    }
}

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
    private BlockExtremes? _lows;
    private BlockExtremes? _highs;

    public WindowedColumn(ReadOnlySpan<double> hourly) : this(hourly.ToArray())
    {
    }

    /// <param name="hourly">Kept, not copied: who gives it no longer changes it.</param>
    public WindowedColumn(double[] hourly)
    {
        ArgumentNullException.ThrowIfNull(hourly);
        _known = new(KnownBits(hourly, out double largest, out bool infinite), hourly.Length);
        _values = infinite ? WithoutInfinity(hourly) : hourly;
        // All of them at their largest still fit 62 bits.
        double scale = largest == 0 ? 1 : Math.ScaleB(1, Math.Clamp(60 - Math.ILogB(largest * Math.Max(_values.Length, 1)), -60, 60));
        _unit = 1 / scale;
        _sumBefore = SumsBefore(_values, scale);
    }

    public int Hours => _values.Length;

    /// <summary>The value of an hour; NaN where missing or outside.</summary>
    public double this[int hour] => (uint)hour < (uint)_values.Length ? _values[hour] : double.NaN;

    /// <summary>How many hours of a stretch, both ends included, are known.</summary>
    public int Known(int first, int last) => Clip(ref first, ref last) ? _known.Of(first, last) : 0;

    /// <summary>Sum of the known hours; NaN when none is known.</summary>
    public double Total(int first, int last) => Total(first, last, out _);

    /// <summary>Sum of the known hours, and how many they are; NaN when none is known.</summary>
    public double Total(int first, int last, out int known)
    {
        known = Clip(ref first, ref last) ? _known.Of(first, last) : 0;
        return known > 0 ? (_sumBefore[last + 1] - _sumBefore[first]) * _unit : double.NaN;
    }

    /// <summary>Mean of the known hours; NaN when none is known.</summary>
    public double Mean(int first, int last) => Total(first, last, out int known) / known;

    /// <summary>Lowest of the known hours; NaN when none is known.</summary>
    public double Low(int first, int last)
    {
        if (!Clip(ref first, ref last))
            return double.NaN;
        double low = (_lows ??= new(_values, 1)).Least(first, last);
        return double.IsPositiveInfinity(low) ? double.NaN : low;
    }

    /// <summary>Highest of the known hours, which of rain is its hourly peak; NaN when none is known.</summary>
    public double High(int first, int last)
    {
        if (!Clip(ref first, ref last))
            return double.NaN;
        double high = (_highs ??= new(_values, -1)).Least(first, last);
        return double.IsPositiveInfinity(high) ? double.NaN : -high;
    }

    private bool Clip(ref int first, ref int last)
    {
        first = Math.Max(first, 0);
        last = Math.Min(last, _values.Length - 1);
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

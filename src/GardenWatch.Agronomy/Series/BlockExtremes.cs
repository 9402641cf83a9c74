using System.Numerics;

namespace GardenWatch.Agronomy.Series;

/// <summary>The least signed value of any stretch of a column; missing counts as plus infinity.</summary>
/// <remarks>
/// Blocks of sixteen hours. One byte an hour says where the least from the block's start to it, and from it to the block's
/// end, is; over whole blocks a doubling table, each row of it made when a stretch is first long enough to ask for it.
/// </remarks>
internal sealed class BlockExtremes
{
    private const int BlockBits = 4;
    private const int InBlock = (1 << BlockBits) - 1;

    private readonly double[] _values;
    private readonly double _sign;
    private readonly byte[] _leastAt;
    private readonly double[]?[] _overBlocks;

    /// <param name="sign">1 for the least, -1 for the greatest (handed back with its sign changed).</param>
    public BlockExtremes(double[] values, double sign)
    {
        _values = values;
        _sign = sign;
        _leastAt = GC.AllocateUninitializedArray<byte>(values.Length);
        int blocks = (values.Length + InBlock) >> BlockBits;
        double[] ofBlock = new double[blocks];
        for (int block = 0; block < blocks; block++)
            ofBlock[block] = Block(block << BlockBits);
        _overBlocks = new double[blocks == 0 ? 0 : 1 + int.Log2(blocks)][];
        if (blocks > 0)
            _overBlocks[0] = ofBlock;
    }

    /// <summary>Of a stretch that lies inside the column, both ends included.</summary>
    public double Least(int first, int last)
    {
        int firstBlock = first >> BlockBits, lastBlock = last >> BlockBits;
        if (firstBlock == lastBlock)
        {
            double least = double.PositiveInfinity;
            for (int i = first; i <= last; i++)
                least = double.MinNative(least, Signed(i));
            return least;
        }
        double ends = double.MinNative(
            Signed((firstBlock << BlockBits) + (_leastAt[first] >> BlockBits)),
            Signed((lastBlock << BlockBits) + (_leastAt[last] & InBlock)));
        int between = lastBlock - firstBlock - 1;
        if (between == 0)
            return ends;
        int level = BitOperations.Log2((uint)between);
        double[] row = _overBlocks[level] ?? MakeRow(level);
        return double.MinNative(ends, double.MinNative(row[firstBlock + 1], row[lastBlock - (1 << level)]));
    }

    private double Block(int start)
    {
        var values = _values.AsSpan(start, Math.Min(InBlock + 1, _values.Length - start));
        var leastAt = _leastAt.AsSpan(start, values.Length);
        // Where the least is changes at random, so it is chosen without a branch; a missing hour is never less.
        double least = double.PositiveInfinity;
        int at = 0;
        for (int i = 0; i < values.Length; i++)
        {
            double value = OrInfinity(values[i]);
            at = value < least ? i : at;
            least = double.MinNative(value, least);
            leastAt[i] = (byte)at;
        }
        double fromEnd = double.PositiveInfinity;
        at = values.Length - 1;
        for (int i = values.Length - 1; i >= 0; i--)
        {
            double value = OrInfinity(values[i]);
            at = value < fromEnd ? i : at;
            fromEnd = double.MinNative(value, fromEnd);
            leastAt[i] |= (byte)(at << BlockBits);
        }
        return least;
    }

    private double[] MakeRow(int level)
    {
        double[] below = _overBlocks[level - 1] ?? MakeRow(level - 1);
        int step = 1 << (level - 1);
        double[] row = GC.AllocateUninitializedArray<double>(below.Length - step);
        int b = 0;
        for (; b <= row.Length - Vector<double>.Count; b += Vector<double>.Count)
            Vector.Min(new Vector<double>(below, b), new Vector<double>(below, b + step)).CopyTo(row, b);
        for (; b < row.Length; b++)
            row[b] = double.MinNative(below[b], below[b + step]);
        _overBlocks[level] = row; // two threads may make the same row; either will do
        return row;
    }

    private double Signed(int hour) => OrInfinity(_values[hour]);

    private double OrInfinity(double value) => double.IsNaN(value) ? double.PositiveInfinity : _sign * value;
}

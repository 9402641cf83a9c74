using System.Numerics;

namespace GardenWatch.Agronomy.Series;

/// <summary>Which hours of a column are known: one bit each, counted up word by word, so that any stretch costs the same.</summary>
internal sealed class KnownHours
{
    private readonly ulong[]? _bits;
    private readonly int[]? _before;

    /// <param name="bits">A set bit for each known hour, or null when all are.</param>
    public KnownHours(ulong[]? bits)
    {
        _bits = bits;
        if (bits is null)
            return;
        _before = new int[bits.Length];
        for (int word = 1; word < bits.Length; word++)
            _before[word] = _before[word - 1] + BitOperations.PopCount(bits[word - 1]);
    }

    public bool All => _bits is null;

    public bool this[int hour] => _bits is null || (_bits[hour >> 6] >> hour & 1) != 0;

    /// <summary>How many of a stretch that lies inside the column, both ends included.</summary>
    public int Of(int first, int last) => _bits is null ? last - first + 1 : Until(last) - Until(first - 1);

    private int Until(int last) =>
        last < 0 ? 0 : _before![last >> 6] + BitOperations.PopCount(_bits![last >> 6] << (63 - (last & 63)));
}

namespace GardenWatch.Agronomy.Series;

/// <summary>Which hours of a column are known, counted up, so that any stretch costs the same.</summary>
internal sealed class KnownHours
{
    // Null when all are known, as in most columns; then nothing is kept.
    private readonly int[]? _before;

    /// <param name="bits">A set bit for each known hour, or null when all are.</param>
    public KnownHours(ulong[]? bits, int hours)
    {
        if (bits is null)
            return;
        _before = GC.AllocateUninitializedArray<int>(hours + 1);
        _before[0] = 0;
        int known = 0;
        for (int hour = 0; hour < hours; hour++)
        {
            known += (int)(bits[hour >> 6] >> hour) & 1;
            _before[hour + 1] = known;
        }
    }

    public bool All => _before is null;

    public bool this[int hour] => _before is null || _before[hour + 1] != _before[hour];

    /// <summary>How many of a stretch that lies inside the column, both ends included.</summary>
    public int Of(int first, int last) => _before is null ? last - first + 1 : _before[last + 1] - _before[first];
}

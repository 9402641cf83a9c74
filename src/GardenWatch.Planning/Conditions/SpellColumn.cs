using GardenWatch.Agronomy.Series;

namespace GardenWatch.Planning.Conditions;

/// <summary>The hours in which a column is above, or below, a level: how many there are in a stretch, and how many on end.</summary>
internal sealed class SpellColumn
{
    private readonly double[] _runSoFar;
    private WindowedColumn? _runs;

    public SpellColumn(WindowedColumn column, double level, bool above)
    {
        double[] met = new double[column.Hours];
        _runSoFar = new double[column.Hours];
        for (int i = 0; i < met.Length; i++)
        {
            double value = column[i];
            met[i] = double.IsNaN(value) ? double.NaN : (above ? value > level : value < level) ? 1 : 0;
            _runSoFar[i] = met[i] == 1 ? 1 + (i > 0 ? _runSoFar[i - 1] : 0) : 0;
        }
        Met = new(met);
    }

    /// <summary>1 where it is, 0 where not, NaN where unknown.</summary>
    public WindowedColumn Met { get; }

    /// <summary>Hours of the longest unbroken run inside a stretch; a missing hour breaks it.</summary>
    public double LongestRun(int first, int last)
    {
        first = Math.Max(first, 0);
        last = Math.Min(last, _runSoFar.Length - 1);
        // A run that was on before the stretch counts from its first hour.
        int inside = 0;
        while (first + inside <= last && _runSoFar[first + inside] > inside)
            inside++;
        double later = first + inside <= last ? (_runs ??= new(_runSoFar)).High(first + inside, last) : 0;
        return Math.Max(inside, double.IsNaN(later) ? 0 : later);
    }
}

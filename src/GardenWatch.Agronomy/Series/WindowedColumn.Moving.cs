namespace GardenWatch.Agronomy.Series;

/// <content>
/// A statistic for every hour of the column at once: of the stretch of so many hours that ends with it. At the column's
/// beginning the hours before it are missing. Written into the caller's span, so that nothing is allocated.
/// </content>
public sealed partial class WindowedColumn
{
    /// <summary>Sum of the known hours of the stretch that ends at each hour; NaN where none is known.</summary>
    /// <exception cref="ArgumentException">Fewer than one hour, or a span that is not as long as the column.</exception>
    public void MovingTotals(int hours, Span<double> into)
    {
        Check(hours, into);
        if (_before is not null)
        {
            OneByOne(hours, into, Total);
            return;
        }
        MovingSums(hours, into);
        if (!_known.All)
            Divide(hours, into, mean: false);
    }

    /// <summary>Mean of the known hours of the stretch that ends at each hour; NaN where none is known.</summary>
    /// <exception cref="ArgumentException">As of <see cref="MovingTotals"/>.</exception>
    public void MovingMeans(int hours, Span<double> into)
    {
        Check(hours, into);
        if (_before is not null)
        {
            OneByOne(hours, into, Mean);
            return;
        }
        MovingSums(hours, into);
        if (!_known.All)
        {
            Divide(hours, into, mean: true);
            return;
        }
        for (int i = 0; i < into.Length; i++)
            into[i] /= Math.Min(i + 1, hours);
    }

    /// <summary>Lowest of the known hours of the stretch that ends at each hour; NaN where none is known.</summary>
    /// <exception cref="ArgumentException">As of <see cref="MovingTotals"/>.</exception>
    public void MovingLows(int hours, Span<double> into) => MovingLeast(hours, into, 1);

    /// <summary>Highest of the known hours of the stretch that ends at each hour; NaN where none is known.</summary>
    /// <exception cref="ArgumentException">As of <see cref="MovingTotals"/>.</exception>
    public void MovingHighs(int hours, Span<double> into) => MovingLeast(hours, into, -1);

    private void Check(int hours, Span<double> into)
    {
        if (hours < 1)
            throw new ArgumentOutOfRangeException(nameof(hours), hours, "A stretch has one hour or more.");
        if (into.Length != Hours)
            throw new ArgumentException($"Room for {into.Length} values, of {Hours} hours.", nameof(into));
    }

    // A column that goes on from another is short, and asked one by one.
    private static void OneByOne(int hours, Span<double> into, Func<int, int, double> statistic)
    {
        for (int i = 0; i < into.Length; i++)
            into[i] = statistic(i - hours + 1, i);
    }

    private void MovingSums(int hours, Span<double> into)
    {
        int whole = Math.Min(hours, into.Length);
        for (int i = 0; i < whole; i++)
            into[i] = _sumBefore[i + 1] * _unit;
        var ends = _sumBefore.AsSpan(whole + 1 <= _sumBefore.Length ? whole + 1 : _sumBefore.Length);
        var starts = _sumBefore.AsSpan(1);
        var rest = into[whole..];
        for (int i = 0; i < rest.Length && i < ends.Length && i < starts.Length; i++)
            rest[i] = (ends[i] - starts[i]) * _unit;
    }

    private void Divide(int hours, Span<double> sums, bool mean)
    {
        int known = 0;
        for (int i = 0; i < sums.Length; i++)
        {
            known += _known[i] ? 1 : 0;
            known -= i >= hours && _known[i - hours] ? 1 : 0;
            sums[i] = known == 0 ? double.NaN : mean ? sums[i] / known : sums[i];
        }
    }

    // Van Herk 1992, Gil and Werman 1993: in steps of one window, the least back from the step's end and on from the
    // next one's start; every stretch is a tail of the one and a head of the other. Three comparisons an hour.
    private void MovingLeast(int hours, Span<double> into, double sign)
    {
        Check(hours, into);
        if (_before is not null)
        {
            OneByOne(hours, into, sign > 0 ? Low : High);
            return;
        }
        int window = Math.Min(hours, Math.Max(into.Length, 1));
        for (int start = 0; start < into.Length; start += window)
            Tails(start, window, into, sign);
        for (int start = 0; start < into.Length; start += window)
            Heads(start, window, into, sign, first: start == 0);
        for (int i = 0; i < into.Length; i++)
        {
            double least = into[i];
            into[i] = double.IsPositiveInfinity(least) ? double.NaN : sign * least;
        }
    }

    // The least from each hour to the end of its step, put where the stretch that begins with that hour ends.
    private void Tails(int start, int window, Span<double> into, double sign)
    {
        int end = Math.Min(start + window, into.Length - window + 1);
        if (end <= start)
            return;
        double least = double.PositiveInfinity;
        for (int i = Math.Min(start + window, into.Length) - 1; i >= end; i--)
            least = Lesser(sign * _values[i], least);
        for (int i = end - 1; i >= start; i--)
        {
            least = Lesser(sign * _values[i], least);
            into[i + window - 1] = least;
        }
    }

    private void Heads(int start, int window, Span<double> into, double sign, bool first)
    {
        double least = double.PositiveInfinity;
        int end = Math.Min(start + window, into.Length);
        for (int i = start; i < end; i++)
        {
            least = Lesser(sign * _values[i], least);
            bool wholeStep = i == start + window - 1; // its tail is the whole step already
            if (first && !wholeStep)
                into[i] = least;
            else if (!wholeStep)
                into[i] = double.MinNative(into[i], least);
        }
    }

    // A missing value is never less.
    private static double Lesser(double value, double least) => value < least ? value : least;
}

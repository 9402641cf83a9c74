namespace GardenWatch.Planning.Conditions;

/// <summary>
/// Days from a clock time to the same clock time, each with its low or high, added up beforehand: however many days a
/// window has, its sum is the difference of two. One table for each clock time at which it is asked.
/// </summary>
/// <param name="share">Of a day's hours that must be known.</param>
internal sealed class DayPieces(LocalDays days, long start, long end, TimeWindow window, double share, Func<long, long, Shown> over)
{
    private const int SecondsADay = 86400;
    private readonly Dictionary<int, Table> _tables = [];

    /// <summary>The days that begin at some days' distance from an instant; null far from the series.</summary>
    /// <param name="first">Of the first day's beginning, in days from the instant; negative before it.</param>
    public Sums? Between(long now, int first, int count)
    {
        int today = days.DayAt(now), clock = days.ClockAt(now);
        if (!_tables.TryGetValue(clock, out var table))
            _tables[clock] = table = TableFrom(now, today);
        int from = today + first - table.FirstDay;
        return from >= 0 && from + count < table.UpTo.Length ? table.UpTo[from + count].Less(table.UpTo[from]) : null;
    }

    public Sums Of(Shown piece)
    {
        bool known = piece.Asked > 0 && piece.Known >= share * piece.Asked;
        return new(piece.Known == 0 ? 0 : piece.Value, 1, known ? 0 : 1, piece.Known, piece.Asked);
    }

    private Table TableFrom(long now, int today)
    {
        int firstDay = days.DayAt(start) - 1 - window.Count;
        var upTo = new Sums[days.DayAt(end) + 2 + window.Count - firstDay + 1];
        // Where the clock has an edge twice or leaves it out, the reading counts that makes the window longer.
        bool past = window.Kind == WindowKind.PastDays;
        long edge = days.SameClockTime(now, firstDay - today, past);
        for (int i = 1; i < upTo.Length; i++)
        {
            long next = days.SameClockTime(now, firstDay + i - today, past);
            upTo[i] = upTo[i - 1].With(Of(over(edge, next)));
            edge = next;
        }
        return new(firstDay, upTo);
    }

    /// <param name="UpTo">Of all days before the one at an index.</param>
    private sealed record Table(int FirstDay, Sums[] UpTo);

    internal readonly record struct Sums(double Value, int Pieces, int Unknown, int Known, int Asked)
    {
        public Sums With(Sums other) => new(Value + other.Value, Pieces + other.Pieces, Unknown + other.Unknown, Known + other.Known, Asked + other.Asked);

        public Sums Less(Sums other) => new(Value - other.Value, Pieces - other.Pieces, Unknown - other.Unknown, Known - other.Known, Asked - other.Asked);

        public Shown Mean => new(Unknown > 0 || Known == 0 ? double.NaN : Value / Pieces, Known, Asked);
    }
}

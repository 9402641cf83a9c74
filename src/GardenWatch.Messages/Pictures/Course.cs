using System.Collections.Immutable;

namespace GardenWatch.Messages.Pictures;

/// <summary>Highs or lows from day to day, as lines that break where a day is not known.</summary>
internal sealed class Course
{
    /// <summary>A day alone is a short level stroke, and the week's ends run level to the frame.</summary>
    private const double AloneDays = 0.3;

    /// <param name="offset">When in its day the value is reached, in days.</param>
    /// <param name="end">Of the frame, in days.</param>
    public Course(IEnumerable<double?> days, double offset, double end)
    {
        var values = days.ToArray();
        var stretches = ImmutableArray.CreateBuilder<ImmutableArray<(double Day, double Celsius)>>();
        for (int first = 0; first < values.Length; first++)
        {
            if (values[first] is null)
                continue;
            int last = first;
            while (last + 1 < values.Length && values[last + 1] is not null)
                last++;
            var stretch = ImmutableArray.CreateBuilder<(double, double)>();
            bool alone = first == last;
            if (first == 0)
                stretch.Add((0, values[0]!.Value));
            else if (alone)
                stretch.Add((first + offset - AloneDays, values[first]!.Value));
            for (int day = first; day <= last; day++)
                stretch.Add((day + offset, values[day]!.Value));
            if (last == values.Length - 1)
                stretch.Add((end, values[last]!.Value));
            else if (alone)
                stretch.Add((last + offset + AloneDays, values[last]!.Value));
            stretches.Add(stretch.ToImmutable());
            first = last;
        }
        Stretches = stretches.ToImmutable();
    }

    public ImmutableArray<ImmutableArray<(double Day, double Celsius)>> Stretches { get; }

    /// <summary>Outlines of what lies between two courses, where both are known.</summary>
    public static IEnumerable<ImmutableArray<(double Day, double Celsius)>> Between(Course upper, Course lower)
    {
        foreach (var above in upper.Stretches)
        {
            foreach (var below in lower.Stretches)
            {
                double from = Math.Max(above[0].Day, below[0].Day), until = Math.Min(above[^1].Day, below[^1].Day);
                if (from < until)
                    yield return [.. Part(above, from, until), .. Part(below, from, until).Reverse()];
            }
        }
    }

    private static IEnumerable<(double Day, double Celsius)> Part(ImmutableArray<(double Day, double Celsius)> stretch, double from, double until) =>
        [(from, At(stretch, from)), .. stretch.Where(point => point.Day > from && point.Day < until), (until, At(stretch, until))];

    private static double At(ImmutableArray<(double Day, double Celsius)> stretch, double day)
    {
        for (int i = 1; i < stretch.Length; i++)
        {
            var ((x0, y0), (x1, y1)) = (stretch[i - 1], stretch[i]);
            if (day <= x1)
                return x1 > x0 ? y0 + (y1 - y0) * (day - x0) / (x1 - x0) : y0;
        }
        return stretch[^1].Celsius;
    }
}

using System.Collections.Immutable;

namespace GardenWatch.Planning.Plans;

public enum LineFate { Same, Taken, Added }

/// <summary>A line of one text or both.</summary>
/// <param name="Number">Counted from 1: in the new text, for a line taken out in the old one.</param>
public sealed record DiffLine(LineFate Fate, int Number, string Text);

/// <summary>What a change has done to a text, line by line.</summary>
public static class PlanDiff
{
    /// <summary>Beyond it the two are shown as two texts, rather than compared line with line.</summary>
    private const int MostCompared = 4_000_000;

    /// <summary>The lines that differ, with a few of their neighbours.</summary>
    public static ImmutableArray<DiffLine> Of(string before, string after, int neighbours = 1)
    {
        string[] one = Lines(before), other = Lines(after);
        int head = 0;
        while (head < one.Length && head < other.Length && one[head] == other[head])
            head++;
        int tail = 0;
        while (tail < one.Length - head && tail < other.Length - head && one[^(tail + 1)] == other[^(tail + 1)])
            tail++;
        var all = new List<DiffLine>();
        all.AddRange(Enumerable.Range(0, head).Select(i => new DiffLine(LineFate.Same, i + 1, other[i])));
        all.AddRange(Middle(one.AsSpan()[head..^tail], other.AsSpan()[head..^tail], head));
        all.AddRange(Enumerable.Range(other.Length - tail, tail).Select(i => new DiffLine(LineFate.Same, i + 1, other[i])));
        return [.. all.Where((line, i) => line.Fate != LineFate.Same || all.Skip(Math.Max(0, i - neighbours)).Take(Math.Min(i, neighbours) + neighbours + 1).Any(near => near.Fate != LineFate.Same))];
    }

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');

    private static List<DiffLine> Middle(ReadOnlySpan<string> one, ReadOnlySpan<string> other, int before)
    {
        var lines = new List<DiffLine>();
        int i = 0, j = 0;
        if ((long)one.Length * other.Length <= MostCompared)
        {
            // How many lines two rests have in common.
            int[,] common = new int[one.Length + 1, other.Length + 1];
            for (int a = one.Length - 1; a >= 0; a--)
                for (int b = other.Length - 1; b >= 0; b--)
                    common[a, b] = one[a] == other[b] ? common[a + 1, b + 1] + 1 : Math.Max(common[a + 1, b], common[a, b + 1]);
            while (i < one.Length && j < other.Length)
            {
                if (one[i] == other[j])
                {
                    lines.Add(new(LineFate.Same, before + j + 1, other[j++]));
                    i++;
                }
                else if (common[i + 1, j] >= common[i, j + 1])
                    lines.Add(new(LineFate.Taken, before + i + 1, one[i++]));
                else
                    lines.Add(new(LineFate.Added, before + j + 1, other[j++]));
            }
        }
        for (; i < one.Length; i++)
            lines.Add(new(LineFate.Taken, before + i + 1, one[i]));
        for (; j < other.Length; j++)
            lines.Add(new(LineFate.Added, before + j + 1, other[j]));
        return lines;
    }
}

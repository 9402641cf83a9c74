namespace GardenWatch.Setup;

/// <summary>The word that was probably meant.</summary>
internal static class Nearest
{
    /// <summary>Null when none is near: a third of the letters may differ.</summary>
    public static string? To(string written, IEnumerable<string> words)
    {
        string lower = written.ToLowerInvariant();
        var (word, distance) = words
            .Select(candidate => (Word: candidate, Distance: Distance(lower, candidate.ToLowerInvariant())))
            .DefaultIfEmpty((Word: "", Distance: int.MaxValue))
            .MinBy(candidate => candidate.Distance);
        return distance <= Math.Max(1, written.Length / 3) ? word : null;
    }

    /// <summary>Levenshtein: letters put in, left out or changed.</summary>
    private static int Distance(string a, string b)
    {
        int[] above = [.. Enumerable.Range(0, b.Length + 1)];
        for (int i = 1; i <= a.Length; i++)
        {
            int[] row = new int[b.Length + 1];
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
                row[j] = Math.Min(Math.Min(row[j - 1], above[j]) + 1, above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1));
            above = row;
        }
        return above[b.Length];
    }
}

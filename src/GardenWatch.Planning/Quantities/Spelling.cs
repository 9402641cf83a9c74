namespace GardenWatch.Planning.Quantities;

/// <summary>The word that was probably meant.</summary>
public static class Spelling
{
    private const int LongestCompared = 40;

    /// <summary>The nearest candidate by typing slips, or null when none is near: one slip in a short word, up to three in a long one.</summary>
    public static string? Nearest(string word, IEnumerable<string> candidates)
    {
        string written = word.Trim().ToLowerInvariant();
        if (written.Length is 0 or > LongestCompared)
            return null;
        int allowed = Math.Clamp((written.Length + 1) / 3, 1, 3);
        string? best = null;
        int least = allowed + 1;
        foreach (string candidate in candidates)
        {
            if (candidate.Length > LongestCompared)
                continue;
            int slips = Slips(written, candidate.ToLowerInvariant());
            // Nothing of a short word is left when each letter may differ.
            if (slips < least && slips < candidate.Length)
                (best, least) = (candidate, slips);
        }
        return best;
    }

    /// <summary>Letters put in, left out, changed or swapped with their neighbour (Damerau 1964, optimal string alignment).</summary>
    public static int Slips(string a, string b)
    {
        int[,] d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
            d[i, 0] = i;
        for (int j = 0; j <= b.Length; j++)
            d[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            for (int j = 1; j <= b.Length; j++)
            {
                int change = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }
        }
        return d[a.Length, b.Length];
    }
}

namespace GardenWatch.Messages.Replies;

/// <summary>Where the gardener's words end and a signature, a telephone's advertisement or a lawyer's notice begins.</summary>
internal static class Signatures
{
    private const int LongestAdvertisement = 90;
    private const int LongestSigned = 45;
    private const int MostSignedLines = 4;

    private static readonly WordTable Programs = WordTable.Shipped("quotes");
    private static readonly string[] Closings =
        [.. ReplyTongue.All.SelectMany(tongue => tongue.Table.WordsOf("closing")).Distinct(StringComparer.Ordinal)];

    /// <summary>The lines that are neither quoted nor the gardener's words.</summary>
    /// <param name="names">Words of the writer's name, in small letters.</param>
    public static bool[] In(string[] lines, bool[] quoted, IReadOnlyCollection<string> names)
    {
        bool[] dropped = new bool[lines.Length];
        int end = lines.Length;
        // A signature's mark ends the words only where nothing of the digest is below, which has such a mark of its own.
        int mark = Array.FindIndex(lines, line => line.TrimEnd() is "--" or "—" or "__" or "---");
        if (mark >= 0 && !Array.Exists(quoted[mark..], line => line))
            end = mark;
        for (int i = 0; i < end; i++)
        {
            if (!quoted[i] && Programs.WordsOf("notice").Any(start => lines[i].TrimStart('*', '-', ' ').StartsWith(start, StringComparison.OrdinalIgnoreCase)))
                end = i;
        }
        Array.Fill(dropped, true, end, lines.Length - end);
        for (int i = 0; i < end; i++)
        {
            if (quoted[i])
                continue;
            // Above a quote that follows.
            if (lines[i].TrimEnd() is "--")
                for (int below = i; below < end && !quoted[below]; below++)
                    dropped[below] = true;
            else if (IsAdvertisement(lines[i]) || IsRule(lines[i]))
                dropped[i] = true;
        }
        SignedBlocks(lines, quoted, dropped, end, names);
        return dropped;
    }

    /// <summary>"Sent from my phone".</summary>
    private static bool IsAdvertisement(string line)
    {
        string small = line.TrimStart('*', '_', ' ').ToLowerInvariant();
        return line.Length is > 0 and <= LongestAdvertisement && !small.Any(char.IsAsciiDigit)
            && Programs.WordsOf("sentfrom").Any(start => small.StartsWith(start + " ", StringComparison.Ordinal))
            && (Programs.WordsOf("sentto").Any(word => small.Contains(word, StringComparison.Ordinal)) || small.StartsWith("sent from", StringComparison.Ordinal));
    }

    private static bool IsRule(string line) => line.Length >= 5 && line.All(c => c is '_' or '-' or '=' or '*');

    /// <summary>"Best regards" with a name and perhaps a street below, at the end of what one wrote.</summary>
    private static void SignedBlocks(string[] lines, bool[] quoted, bool[] dropped, int end, IReadOnlyCollection<string> names)
    {
        int last = end - 1;
        while (last >= 0)
        {
            while (last >= 0 && (quoted[last] || dropped[last] || lines[last].Length == 0))
                last--;
            int first = last;
            while (first > 0 && !quoted[first - 1])
                first--;
            if (last >= 0)
                SignedBlock(lines, dropped, first, last, names);
            last = first - 1;
        }
    }

    private static void SignedBlock(string[] lines, bool[] dropped, int first, int last, IReadOnlyCollection<string> names)
    {
        int from = last + 1, seen = 0;
        for (int i = last; i >= first && seen <= MostSignedLines; i--)
        {
            if (lines[i].Length == 0 || dropped[i])
                continue;
            seen++;
            if (IsClosing(lines[i]))
                from = i;
            else if (seen == 1 && IsNamed(lines[i], names))
                from = i;
            else if (lines[i].Length > LongestSigned)
                break;
        }
        Array.Fill(dropped, true, from, last + 1 - from);
    }

    private static bool IsClosing(string line) => Closings.Contains(line.Trim(',', '!', '.', ' ', '-').ToLowerInvariant());

    /// <summary>"Pat", "- Pat", "Pat x".</summary>
    private static bool IsNamed(string line, IReadOnlyCollection<string> names)
    {
        string[] words = line.Trim().TrimStart('-', '~', '–', '—').ToLowerInvariant().Split([' ', ',', '.'], StringSplitOptions.RemoveEmptyEntries);
        return words.Length is > 0 and <= 4 && words.All(word => names.Contains(word) || word is "x" or "xx") && names.Contains(words[0]);
    }
}

using System.Collections.Frozen;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>The words of <see cref="ConditionLanguage"/> as the reader needs them: longest first, so that "dew point" is tried before "dew".</summary>
internal static class ConditionWords
{
    public static readonly (string Words, MeasureRow Row)[] Measures =
        LongestFirst(ConditionLanguage.Measures.SelectMany(row => row.Words.Select(words => (words, row))));

    public static readonly (string Words, Statistic Statistic)[] Statistics =
        LongestFirst(ConditionLanguage.Statistics.SelectMany(row => row.Words.Select(words => (words, row.Statistic))));

    public static readonly (string Words, Comparison Comparison)[] Comparisons =
        LongestFirst(ConditionLanguage.Comparisons.SelectMany(row => row.Words.Select(words => (words, row.Comparison))));

    public static readonly (string Words, Milestone Milestone)[] Milestones =
        LongestFirst(ConditionLanguage.Milestones.SelectMany(row => row.Words.Select(words => (words, row.Milestone))));

    public static readonly (string Words, WarmthMethodRow Method)[] WarmthMethods =
        LongestFirst(ConditionLanguage.WarmthMethods.Select(row => (row.Words, row)));

    public static readonly string[] WarmthMethodWords = [.. WarmthMethods.Select(m => m.Words)];

    public static readonly string[] WindowOpenings = ["past", "next", "today", "tonight", "tomorrow", "since", "until"];

    public static readonly string[] MeasureWords = [.. Measures.Select(m => m.Words).Distinct()];

    public static readonly string[] StatisticWords = [.. Statistics.Select(s => s.Words)];

    public static readonly string[] ComparisonWords = [.. Comparisons.Select(c => c.Words).Where(w => char.IsLetter(w[0]))];

    public static readonly string[] MilestoneWords = [.. Milestones.Select(m => m.Words)];

    /// <summary>What a window counts, and how many of it one is.</summary>
    public static readonly (string Words, WindowKind Past, WindowKind Next, int Each)[] Spans =
    [
        .. Spelled(["hours", "hour", "hrs", "hr", "h"], WindowKind.PastHours, WindowKind.NextHours, 1),
        .. Spelled(["days", "day", "d"], WindowKind.PastDays, WindowKind.NextDays, 1),
        .. Spelled(["nights", "night"], WindowKind.PastNights, WindowKind.NextNights, 1),
        .. Spelled(["weeks", "week"], WindowKind.PastDays, WindowKind.NextDays, 7),
    ];

    /// <summary>What people write for the language's own words; not read, but understood in an error.</summary>
    public static readonly FrozenDictionary<string, string> MeantBy = new Dictionary<string, string>
    {
        ["rainfall"] = "rain", ["precipitation"] = "rain", ["showers"] = "rain", ["temperature"] = "air", ["temp"] = "air",
        ["ground"] = "soil", ["earth"] = "soil", ["frost"] = "leaf", ["snowfall"] = "snow", ["sunshine"] = "sun", ["radiation"] = "sun",
        ["degree-days"] = "warmth", ["gdd"] = "warmth", ["evapotranspiration"] = "water use", ["daylength"] = "daylight",
        ["wetness"] = "leaf wetness", ["lightning"] = "thunder", ["thunderstorm"] = "thunder", ["thunderstorms"] = "thunder",
        ["chilling"] = "chill", ["blight"] = "late blight days", ["drought"] = "soil water deficit",
        ["lowest"] = "low", ["minimum"] = "low", ["min"] = "low", ["coldest"] = "low",
        ["highest"] = "high", ["maximum"] = "high", ["max"] = "high", ["warmest"] = "high", ["hottest"] = "high",
        ["average"] = "mean", ["avg"] = "mean", ["sum"] = "total",
        ["last"] = "past", ["previous"] = "past", ["coming"] = "next", ["following"] = "next", ["tonite"] = "tonight", ["after"] = "since", ["before"] = "until",
        ["exceeds"] = "above", ["minimally"] = "at least", ["from"] = "between",
    }.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);

    private static IEnumerable<(string, WindowKind, WindowKind, int)> Spelled(string[] words, WindowKind past, WindowKind next, int each) =>
        words.Select(word => (word, past, next, each));

    public static readonly string[] Months =
        ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];

    public static readonly FrozenDictionary<string, int> Numbers =
        new[] { "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve" }
            .Select((word, i) => (word, i + 1)).ToFrozenDictionary(p => p.word, p => p.Item2, StringComparer.OrdinalIgnoreCase);

    /// <summary>"low, high or mean".</summary>
    public static string List(IEnumerable<string> words)
    {
        string[] all = [.. words];
        return all.Length < 2 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} or {all[^1]}";
    }

    /// <summary>The candidate nearest to what stands at a place, and how much of the text it would replace.</summary>
    public static (string? Near, int Length) Nearest(string text, int start, IReadOnlyList<string> candidates)
    {
        (string? near, int length, int slips) best = (null, 0, int.MaxValue);
        var cursor = new PhraseCursor(text) { At = start };
        if (MeantBy.TryGetValue(cursor.Word.ToString(), out string? meant) && candidates.Contains(meant))
            return (meant, cursor.Word.Length);
        int end = start;
        for (int words = 1; words <= 3 && end < text.Length; words++)
        {
            cursor.At = end;
            int next = cursor.Next;
            end = next + cursor.LengthAt(next);
            string written = string.Join(' ', text[start..end].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
            int count = words;
            if (Spelling.Nearest(written, candidates.Where(c => c.Count(' ') == count - 1)) is not { } near)
                continue;
            int slips = Spelling.Slips(written.ToLowerInvariant(), near);
            if (slips < best.slips)
                best = (near, end - start, slips);
        }
        return (best.near, best.length);
    }

    private static (string, T)[] LongestFirst<T>(IEnumerable<(string Words, T Meaning)> table) =>
        [.. table.OrderByDescending(entry => entry.Words.Length)];

    private static int Count(this string text, char c) => text.AsSpan().Count(c);
}

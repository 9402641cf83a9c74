using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>What all five answers share: how a list is taken apart, and how many are meant.</summary>
internal static partial class Words
{
    public const int LongestAnswer = 2000;

    /// <summary>Blanks and quotation marks made plain; letters stay as they were typed.</summary>
    public static string Tidy(string text)
    {
        string cut = text.Length > LongestAnswer ? text[..LongestAnswer] : text;
        cut = cut.Replace('\u2019', '\'').Replace('\u2018', '\'').Replace('\u2032', '\'').Replace('\u201D', '"').Replace('\u201C', '"').Replace('\u2033', '"');
        return Blanks().Replace(string.Concat(cut.Select(c => char.IsControl(c) ? ' ' : c)), " ").Trim();
    }

    /// <summary>The items of a list; a comma between digits is a decimal's, and what stands in brackets stays together.</summary>
    public static IEnumerable<string> Items(string text)
    {
        string cut = text.Length > LongestAnswer ? text[..LongestAnswer] : text;
        return ItemEnd().Split(cut.Replace('\r', '\n')).Select(Tidy).Where(item => item.Any(char.IsLetterOrDigit));
    }

    /// <summary>How many, told at the beginning ("two", "3 x") or at the end ("x 6", "(2)"), and the rest; null where nothing is told.</summary>
    public static (int? Count, string Remaining) Count(string item)
    {
        if (CountBefore().Match(item) is { Success: true } before
            && WrittenNumber.Read(before.Groups["count"].Value.ToLowerInvariant() + " ") is WrittenNumber.Ok { Value: >= 0 and <= 9999 } number && number.Value % 1 == 0)
            return ((int)number.Value, item[before.Length..].Trim());
        if (CountAfter().Match(item) is { Success: true } after)
            return (int.Parse(after.Groups["count"].Value, CultureInfo.InvariantCulture), item[..after.Index].Trim());
        return (null, item);
    }

    [GeneratedRegex(@"\s+", RegexOptions.CultureInvariant)]
    private static partial Regex Blanks();

    [GeneratedRegex(@"(?:[;\n+&]|,(?![0-9])|(?<![0-9]),|\s(?:and|plus)\s)(?![^()]*\))", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex ItemEnd();

    [GeneratedRegex(@"^(?<count>[0-9]{1,4}|a couple of|a dozen|an?|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fourteen|fifteen|twenty)(?: ?[x×](?= |[0-9])|\b(?![.,][0-9])) ?", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex CountBefore();

    [GeneratedRegex(@" ?(?:\((?<count>[0-9]{1,4})\)|[x×] ?(?<count>[0-9]{1,4}))$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex CountAfter();
}

using System.Collections.Immutable;
using System.Text;

namespace GardenWatch.Messages.Replies;

/// <summary>A job as it stood in the message that is answered.</summary>
/// <param name="Name">As the message named it, the bed in brackets behind: "Sow radish, batch 3 (kitchen bed)".</param>
/// <param name="Today">It was asked for then; false for one that waits, null when that is not known.</param>
public sealed record AskedJob(int Number, string Name, bool? Today = true)
{
    private const int ShortestName = 3;

    /// <summary>The words by which it can be told, in small letters and without their plural.</summary>
    internal ImmutableHashSet<string> Words { get; } = [.. Split(Name.Split('(')[0]).Select(Stem)];

    internal ImmutableHashSet<string> BedWords { get; } =
        [.. Name.IndexOf('(', StringComparison.Ordinal) is >= 0 and var bed ? Split(Name[bed..]).Select(Stem) : []];

    /// <summary>"Radishes" and "radish", "berries" and "berry" are one word.</summary>
    internal static string Stem(string word) =>
        word.EndsWith("ies", StringComparison.Ordinal) && word.Length > 4 ? word[..^3] + "y"
        : word.EndsWith("oes", StringComparison.Ordinal) || word.EndsWith("shes", StringComparison.Ordinal) || word.EndsWith("ches", StringComparison.Ordinal) ? word[..^2]
        : word.EndsWith('s') && word.Length > ShortestName && !word.EndsWith("ss", StringComparison.Ordinal) ? word[..^1]
        : word;

    private static IEnumerable<string> Split(string name)
    {
        var word = new StringBuilder();
        foreach (char c in name.ToLowerInvariant() + " ")
        {
            if (char.IsLetterOrDigit(c) || c is '\'' or '-')
                word.Append(c);
            else if (word.Length > 0)
            {
                yield return word.ToString();
                word.Clear();
            }
        }
    }
}

using System.Collections.Immutable;
using System.Text;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tongues;

/// <summary>
/// All that messages say, as English templates. Those that stand in the program's calls are listed in phrases.txt, which a
/// test holds against the source; those of condition phrases and crops are taken from where they are kept.
/// </summary>
public sealed class Phrases
{
    private const string CountedMark = "#|";
    private readonly Dictionary<string, string> _words;
    private readonly Dictionary<string, string> _counted;

    private Phrases(IEnumerable<string> words, IEnumerable<string> counted)
    {
        Words = [.. words.Where(HasLetters).Distinct(StringComparer.Ordinal)];
        Counted = [.. counted.Distinct(StringComparer.Ordinal)];
        _words = ByPlain(Words);
        _counted = ByPlain(Counted);
    }

    /// <summary>Sentences, parts of sentences, names and units.</summary>
    public ImmutableArray<string> Words { get; }

    /// <summary>What has a form for one and for many, by the English plural.</summary>
    public ImmutableArray<string> Counted { get; }

    /// <param name="crops">The shelf whose crops and jobs may be translated as well.</param>
    public static Phrases Of(CropShelf crops)
    {
        ArgumentNullException.ThrowIfNull(crops);
        string[] listed = Listed();
        return new(
            [
                .. listed.Where(line => !line.StartsWith(CountedMark, StringComparison.Ordinal)).Select(Bare),
                .. ConditionSentence.Patterns,
                .. Enum.GetValues<JobKind>().Select(kind => kind.Word()),
                .. crops.Crops.SelectMany(OfCrop),
            ],
            [
                .. listed.Where(line => line.StartsWith(CountedMark, StringComparison.Ordinal)).Select(line => Bare(line[1..])),
                .. ConditionSentence.CountedPatterns,
            ]);
    }

    /// <summary>As it is said, for a text whose blanks may be plain; null when nothing is said so.</summary>
    public string? Holds(string plain) => _words.GetValueOrDefault(plain.Trim());

    /// <summary>The same of what counts.</summary>
    public string? Counts(string plain) => _counted.GetValueOrDefault(plain.Trim());

    /// <summary>A language file with nothing translated, or with what <paramref name="tongue"/> has.</summary>
    public string Skeleton(Tongue? tongue = null)
    {
        var text = new StringBuilder();
        text.Append("phrases:\n");
        foreach (string phrase in Words)
            text.Append("  ").Append(Quoted(phrase)).Append(": ").Append(Quoted(tongue?.Phrases?.GetValueOrDefault(phrase) ?? "")).Append('\n');
        text.Append("counts:\n");
        foreach (string phrase in Counted)
            text.Append("  ").Append(Quoted(phrase)).Append(": { one: \"\", other: \"\" }\n");
        return text.ToString();
    }

    /// <summary>The lines of phrases.txt: between bars, so that blanks at the ends are seen; with # what counts; ~ is a no-break space.</summary>
    internal static string[] Listed()
    {
        using var reader = new StreamReader(typeof(Phrases).Assembly.GetManifestResourceStream("tongues/phrases.txt")
            ?? throw new InvalidOperationException("The program lacks its list of phrases."), Encoding.UTF8);
        return [.. reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    private static string Bare(string line) => line[1..^1].Replace('~', '\u00A0');

    private static IEnumerable<string> OfCrop(CropProfile crop) =>
    [
        crop.Name, crop.Plants,
        .. crop.Jobs.SelectMany(job => new[] { job.Name, job.How, job.Otherwise }.OfType<string>().Concat(job.Cautions).Concat(job.Conditions.Occasions.Select(occasion => occasion.Say))),
        .. crop.Pests.Concat(crop.Diseases).Where(threat => threat.Weather is not null || threat.Appears is not null)
            .SelectMany(threat => new[] { threat.Name, threat.Sign, threat.Remedy }),
        .. new[] { crop.Picking?.Signs, crop.Jobs.Any(job => job.Kind == JobKind.SaveSeed) ? crop.Seed?.Saving : null }.OfType<string>(),
    ];

    private static Dictionary<string, string> ByPlain(IEnumerable<string> phrases)
    {
        var byPlain = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string phrase in phrases)
            byPlain.TryAdd(phrase.Replace('\u00A0', ' ').Trim(), phrase);
        return byPlain;
    }

    private static string Quoted(string text) =>
        "\"" + text.Replace('\u00A0', ' ').Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal).Trim() + "\"";

    private static bool HasLetters(string phrase) => phrase.Any(char.IsLetter);
}

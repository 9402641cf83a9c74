using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Explanations;

/// <summary>What a gardener's words for a job came to.</summary>
public abstract record JobMatch
{
    private JobMatch() { }

    public sealed record One(AskedJob Job) : JobMatch;

    public sealed record Several(ImmutableArray<AskedJob> Jobs) : JobMatch;

    /// <param name="Nearest">What most of the words fit; all there is, when no word fits anything.</param>
    public sealed record None(ImmutableArray<AskedJob> Nearest) : JobMatch;
}

/// <summary>Finds a job by its id, or by words of its name, kind, crop or bed. Every word must fit; a slip of typing may.</summary>
public static class JobSearch
{
    private const int MostNamed = 8;
    // "tom" is enough for tomato; shorter beginnings fit too much.
    private const int ShortestBeginning = 3;

    private static readonly ImmutableHashSet<string> Fillers = ["the", "a", "of", "in", "on", "at", "my", "and", "to", "for", "job"];

    public static JobMatch Find(IReadOnlyCollection<AskedJob> jobs, string asked)
    {
        string plain = asked.Trim().ToLowerInvariant();
        if (jobs.Where(job => IsId(job, plain)).ToList() is { Count: > 0 } byId)
            return Found(byId);
        if (jobs.Where(job => plain.Equals(job.Name, StringComparison.OrdinalIgnoreCase) || plain.Equals(job.FullName, StringComparison.OrdinalIgnoreCase)).ToList() is { Count: > 0 } byName)
            return Found(byName);

        var words = AskedJob.WordsOf(asked).Where(word => !Fillers.Contains(word)).ToList();
        // The strictest reading that fits anything: "garlic" is not also what merely begins like it.
        foreach (var fits in (ReadOnlySpan<Func<string, string, bool>>)[Same, Begins, Slips])
        {
            if (words.Count > 0 && jobs.Where(job => words.TrueForAll(word => job.Words.Any(known => fits(word, known)))).ToList() is { Count: > 0 } found)
                return Found(OfTheirKind(found, words, fits));
        }
        int Fitting(AskedJob job) => words.Count(word => job.Words.Any(known => Slips(word, known)));
        int most = jobs.Count == 0 ? 0 : jobs.Max(Fitting);
        return new JobMatch.None([.. jobs.Where(job => Fitting(job) == most).Take(MostNamed)]);
    }

    /// <summary>Those whose kind is asked for whole, if any: "cover the beans" is not "sow green cover after the beans".</summary>
    private static List<AskedJob> OfTheirKind(List<AskedJob> found, List<string> words, Func<string, string, bool> fits)
    {
        var ofKind = found.Where(job => AskedJob.WordsOf(job.Kind.Word()).Where(word => !Fillers.Contains(word)).All(of => words.Exists(word => fits(word, of)))).ToList();
        return ofKind.Count > 0 ? ofKind : found;
    }

    private static JobMatch Found(List<AskedJob> jobs) =>
        jobs.Count == 1 ? new JobMatch.One(jobs[0]) : new JobMatch.Several([.. jobs]);

    /// <summary>With or without the how-manieth time, or the garden before it.</summary>
    private static bool IsId(AskedJob job, string asked) =>
        JobId.TryParse(asked, out var id)
            ? (job.GardenId, job.SubjectId, job.Kind) == (id.Value.GardenId, id.Value.SubjectId, id.Value.Kind)
            : asked == job.Id || asked == job.Id[(job.GardenId.Length + 1)..];

    private static bool Same(string word, string known) =>
        word == known || word == known + "s" || word == known + "es" || known == word + "s" || known == word + "es";

    private static bool Begins(string word, string known) =>
        Same(word, known) || word.Length >= ShortestBeginning && known.StartsWith(word, StringComparison.Ordinal);

    private static bool Slips(string word, string known) =>
        Begins(word, known) || Spelling.Nearest(word, [known]) is not null;
}

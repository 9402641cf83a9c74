using System.Collections.Immutable;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Journals;

/// <summary>What a gardener's name for a bed, crop or chore means in the plan.</summary>
public abstract record NameInPlan
{
    private NameInPlan() { }

    /// <param name="Name">As the journal calls it: "low bed", "Tomato (low bed)".</param>
    /// <param name="BedId">The bed itself, or the one it stands in; null for a chore of the whole garden.</param>
    public sealed record Found(SubjectKind Kind, string SubjectId, string? BedId, string Name) : NameInPlan;

    /// <param name="Names">What it can mean, each so that it would be understood.</param>
    public sealed record Several(ImmutableArray<string> Names) : NameInPlan;

    /// <param name="Nearest">What was probably meant; null when nothing is near.</param>
    public sealed record Unknown(string? Nearest) : NameInPlan;

    private static readonly string[] BetweenCropAndBed = [" in the ", " in ", " on the ", " at the ", " at ", ", ", " ("];

    /// <summary>"low bed", "tomato", "tomatoes in the big pot", "squash" where there is one kind of it, a subject's id.</summary>
    public static NameInPlan Read(Plan plan, string text)
    {
        ArgumentNullException.ThrowIfNull(plan);
        string said = Plain(text);
        if (said.Length == 0)
            return new Unknown(null);
        var all = AllOf(plan).ToList();
        if (Among(all, said) is not Unknown and var known)
            return known;
        foreach (string between in BetweenCropAndBed)
        {
            int at = said.IndexOf(between, StringComparison.Ordinal);
            if (at > 0 && Read(plan, said[(at + between.Length)..].TrimEnd(')')) is Found { Kind: SubjectKind.Bed } bed)
                return Among([.. all.Where(each => each.Subject is { Kind: SubjectKind.Planting } planting && planting.BedId == bed.SubjectId)], said[..at]);
        }
        return Among(all, said);
    }

    /// <summary>What names it wholly comes before what only shares words with it.</summary>
    private static NameInPlan Among(List<Candidate> candidates, string said)
    {
        foreach (var fits in (Func<Candidate, bool>[])[
            each => each.Subject.SubjectId == said, each => Same(each.Subject.Name, said) || each.Names.Any(name => Same(name, said)), each => each.Names.Any(name => Contains(name, said))])
        {
            var found = candidates.Where(fits).ToList();
            if (found.Count == 1)
                return found[0].Subject;
            if (found.Count > 1)
                return new Several([.. found.Select(each => each.Subject.Name).Distinct()]);
        }
        return new Unknown(Spelling.Nearest(said, candidates.SelectMany(each => each.Names)));
    }

    /// <summary>As the journal calls what an id stands for; null when the plan has no such thing.</summary>
    public static Found? OfId(Plan plan, string subjectId) => AllOf(plan).Select(each => each.Subject).FirstOrDefault(subject => subject.SubjectId == subjectId);

    private sealed record Candidate(Found Subject, ImmutableArray<string> Names);

    private static IEnumerable<Candidate> AllOf(Plan plan)
    {
        foreach (var bed in plan.Beds)
            yield return new(new(SubjectKind.Bed, bed.Id, bed.Id, bed.Name), [bed.Name]);
        foreach (var planting in plan.Plantings)
        {
            string crop = planting.Crop.Name;
            string bed = plan.Beds.FirstOrDefault(each => each.Id == planting.BedId)?.Name ?? planting.BedId;
            string name = $"{char.ToUpperInvariant(crop[0])}{crop[1..]}{(planting.Variety is { } sort ? $", {sort}," : "")} ({bed})";
            yield return new(
                new(SubjectKind.Planting, planting.Id, planting.BedId, name),
                [crop, planting.Crop.Plants, .. planting.Crop.AlsoCalled, .. planting.Variety is { } variety ? (string[])[variety, $"{variety} {crop}", $"{crop} {variety}"] : []]);
        }
        foreach (var chore in plan.Chores)
            yield return new(new(SubjectKind.Chore, chore.Id, chore.BedId, chore.Name), [chore.Name]);
    }

    private static bool Same(string name, string said) => string.Equals(Plain(name), said, StringComparison.Ordinal) || WordsOf(name).SequenceEqual(WordsOf(said));

    private static bool Contains(string name, string said)
    {
        var words = WordsOf(name);
        return WordsOf(said).All(words.Contains);
    }

    /// <summary>Its words without case and number: "Tomatoes" is "tomato".</summary>
    private static string[] WordsOf(string name) =>
        [.. Plain(name).Split([' ', '-', '(', ')', ','], StringSplitOptions.RemoveEmptyEntries).Select(Singular)];

    private static string Singular(string word) => word switch
    {
        { Length: > 4 } when word.EndsWith("oes", StringComparison.Ordinal) || word.EndsWith("shes", StringComparison.Ordinal) || word.EndsWith("ches", StringComparison.Ordinal) => word[..^2],
        { Length: > 4 } when word.EndsWith("ies", StringComparison.Ordinal) => word[..^3] + "y",
        { Length: > 3 } when word.EndsWith('s') && !word.EndsWith("ss", StringComparison.Ordinal) && !word.EndsWith("us", StringComparison.Ordinal) => word[..^1],
        _ => word,
    };

    private static string Plain(string text)
    {
        string said = string.Join(' ', text.Split((char[])[' ', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries)).ToLowerInvariant().TrimEnd('.', '!');
        foreach (string article in (ReadOnlySpan<string>)["the ", "my ", "our "])
            if (said.StartsWith(article, StringComparison.Ordinal))
                said = said[article.Length..];
        return said;
    }
}

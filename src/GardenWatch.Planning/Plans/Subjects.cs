using System.Collections.Immutable;
using System.Text;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Plans;

public enum SubjectKind { Bed, Planting, Chore }

/// <summary>What a plan has once held, and the id its history goes by. Kept by the host from one reading to the next.</summary>
/// <param name="Descriptor">What it was when last seen: its particulars as <c>key=value</c>, parted by semicolons.</param>
/// <param name="FirstSeen">The date on which its words were first read; dates without a year are counted from it.</param>
public sealed record KnownSubject(string Id, SubjectKind Kind, string Descriptor, LocalDate FirstSeen);

/// <summary>A bed, planting or chore of the plan at hand, before it is known which one it is.</summary>
/// <param name="Slug">What a new id is made of.</param>
public sealed record PresentSubject(
    SubjectKind Kind, string? ExplicitId, string Slug, ImmutableArray<(string Key, string Value)> Particulars);

/// <summary>Tells which of the known ones each of the present ones is: identity is never a name or a place in a list.</summary>
public static class Subjects
{
    /// <summary>
    /// A planting that came into the plan longer ago is of another season: the same crop in another bed is then a new
    /// planting, not the old one moved.
    /// </summary>
    private const int SeasonDays = 270;
    private const int LongestId = 60;

    /// <summary>The present subjects of one kind with their ids, in the same order.</summary>
    public static ImmutableArray<KnownSubject> Recognise(
        ImmutableArray<PresentSubject> present, ImmutableArray<KnownSubject> known, LocalDate today)
    {
        var found = new KnownSubject?[present.Length];
        var free = known.Where(k => !present.Any(p => p.ExplicitId == k.Id)).ToList();
        string[] descriptors = Descriptors(present);

        for (int i = 0; i < present.Length; i++)
        {
            if (present[i].ExplicitId is { } id)
                found[i] = Seen(known.FirstOrDefault(k => k.Id == id && k.Kind == present[i].Kind), id, present[i].Kind, descriptors[i], today);
        }
        for (int i = 0; i < present.Length; i++)
        {
            if (found[i] is null && free.Find(k => k.Kind == present[i].Kind && k.Descriptor == descriptors[i]) is { } same)
            {
                found[i] = same;
                free.Remove(same);
            }
        }
        Changed(present, found, free, descriptors, today);

        var taken = known.Select(k => k.Id).Concat(present.Select(p => p.ExplicitId).OfType<string>()).ToHashSet(StringComparer.Ordinal);
        for (int i = 0; i < present.Length; i++)
            found[i] ??= new(NewId(present[i].Slug, taken), present[i].Kind, descriptors[i], today);
        return [.. found.Select(subject => subject!)];
    }

    /// <summary>Small letters, digits and hyphens: fit for a mail's reply, a link and a file name.</summary>
    public static string Slug(string text)
    {
        var slug = new StringBuilder();
        foreach (char c in text.ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(c))
                slug.Append(c);
            else if (slug.Length > 0 && slug[^1] != '-')
                slug.Append('-');
        }
        string trimmed = slug.ToString().Trim('-');
        return trimmed.Length > LongestId ? trimmed[..LongestId].Trim('-') : trimmed;
    }

    /// <summary>Those of which some particulars changed: they keep their id where one old and one new are each other's only best match.</summary>
    private static void Changed(
        ImmutableArray<PresentSubject> present, KnownSubject?[] found, List<KnownSubject> free, string[] descriptors, LocalDate today)
    {
        var open = Enumerable.Range(0, present.Length).Where(i => found[i] is null).ToList();
        var old = free.Select(k => (Known: k, Particulars: Particulars(k.Descriptor))).ToList();
        bool alone = open.Count == 1 && present.Length > 0 && free.Count(k => k.Kind == present[0].Kind) == 1;
        var matches = new List<(int Index, KnownSubject Known)>();
        foreach (int i in open)
        {
            if (Best(old.Select(o => (o.Known, Likeness(present[i], o.Known, o.Particulars, today, alone)))) is not { } best)
                continue;
            var particulars = Particulars(best.Descriptor);
            if (Best(open.Select(j => (j, Likeness(present[j], best, particulars, today, alone)))) == i)
                matches.Add((i, best));
        }
        foreach (var (i, match) in matches)
            found[i] = Seen(match, match.Id, match.Kind, descriptors[i], today);
    }

    /// <summary>The one with the highest likeness, unless another has as much.</summary>
    private static KnownSubject? Best(IEnumerable<(KnownSubject Item, int Likeness)> candidates)
    {
        var two = candidates.Where(c => c.Likeness > 0).OrderByDescending(c => c.Likeness).Take(2).ToList();
        return two.Count == 0 || two.Count == 2 && two[0].Likeness == two[1].Likeness ? null : two[0].Item;
    }

    private static int Best(IEnumerable<(int Item, int Likeness)> candidates)
    {
        var two = candidates.Where(c => c.Likeness > 0).OrderByDescending(c => c.Likeness).Take(2).ToList();
        return two.Count == 0 || two.Count == 2 && two[0].Likeness == two[1].Likeness ? -1 : two[0].Item;
    }

    /// <summary>How likely the two are one; 0 when they can't be.</summary>
    private static int Likeness(
        PresentSubject present, KnownSubject known, Dictionary<string, string> before, LocalDate today, bool alone)
    {
        if (present.Kind != known.Kind)
            return 0;
        int same = 0;
        bool Same(string key, out string value)
        {
            value = present.Particulars.FirstOrDefault(p => p.Key == key).Value ?? "";
            return before.GetValueOrDefault(key, "") == Clean(value);
        }
        foreach (var (key, _) in present.Particulars)
        {
            if (Same(key, out string value) && value.Length > 0)
                same += key is "at" or "when" or "begun" or "crop" or "bed" ? 2 : 1;
        }
        switch (present.Kind)
        {
            case SubjectKind.Planting:
                // Another crop is another planting, whatever else stayed.
                return Same("crop", out _) && Period.DaysBetween(known.FirstSeen, today) <= SeasonDays ? same : 0;
            case SubjectKind.Bed:
                bool nearName = Spelling.Nearest(NameOf(present), [before.GetValueOrDefault("name", "")]) is not null;
                // Another name at another place is another bed, however alike the two are built.
                if (!nearName && !Same("at", out string at) && at.Length > 0 && before.GetValueOrDefault("at", "").Length > 0)
                    return 0;
                return same + (nearName ? 2 : 0) is var bed && bed >= 2 || alone ? Math.Max(bed, 1) : 0;
            default:
                bool nearChore = Spelling.Nearest(NameOf(present), [before.GetValueOrDefault("name", "")]) is not null;
                return same + (nearChore ? 2 : 0) is var chore && chore >= 4 ? chore : 0;
        }
    }

    private static string NameOf(PresentSubject present) => present.Particulars.FirstOrDefault(p => p.Key == "name").Value ?? "";

    /// <summary>Words about its beginning that are new are counted from today; everything else may change under it.</summary>
    private static KnownSubject Seen(KnownSubject? before, string id, SubjectKind kind, string descriptor, LocalDate today)
    {
        if (before is null)
            return new(id, kind, descriptor, today);
        bool begunAnew = Particulars(before.Descriptor).GetValueOrDefault("begun", "") != Particulars(descriptor).GetValueOrDefault("begun", "");
        return before with { Descriptor = descriptor, FirstSeen = begunAnew ? today : before.FirstSeen };
    }

    /// <summary>Of several that read alike, the how-manieth tells them apart; being alike, they may change places.</summary>
    private static string[] Descriptors(ImmutableArray<PresentSubject> present)
    {
        var count = new Dictionary<string, int>(StringComparer.Ordinal);
        return [.. present.Select(p =>
        {
            string text = string.Join("; ", p.Particulars.Select(x => $"{x.Key}={Clean(x.Value)}"));
            count[text] = count.GetValueOrDefault(text) + 1;
            return count[text] == 1 ? text : $"{text}; nth={count[text]}";
        })];
    }

    private static Dictionary<string, string> Particulars(string descriptor)
    {
        var particulars = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string part in descriptor.Split("; "))
        {
            int equals = part.IndexOf('=', StringComparison.Ordinal);
            if (equals > 0)
                particulars[part[..equals]] = part[(equals + 1)..];
        }
        return particulars;
    }

    private static string Clean(string value) =>
        value.Replace(';', ',').Replace('=', ' ').Trim().ToLowerInvariant();

    private static string NewId(string text, HashSet<string> taken)
    {
        string slug = Slug(text) is { Length: > 0 } made ? made : "one";
        string id = slug;
        for (int n = 2; !taken.Add(id); n++)
            id = $"{slug}-{n}";
        return id;
    }
}

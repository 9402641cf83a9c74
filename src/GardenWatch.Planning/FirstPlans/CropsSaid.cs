using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>A crop as it was understood.</summary>
/// <param name="Key">What the plan is told of its beginning (<c>sown</c>, <c>set out</c>, <c>up</c>, <c>bought</c>, <c>growing</c>); null when it is still to be sown.</param>
/// <param name="When">The date as it was said, or "yes".</param>
/// <param name="Sowings">"every 10 days"; null for one.</param>
/// <param name="BedName">Null when it was not said where.</param>
public sealed record FirstCrop(CropProfile Crop, string? Variety, int? Plants, string? Key, string? When, string? Sowings, string? BedName)
{
    /// <summary>Raised from seed at a window.</summary>
    public bool OnSill { get; init; }

    /// <summary>The gardener did not say so: what stays for years is taken to stand there.</summary>
    public bool IsAssumed { get; init; }
}

/// <summary>What was said and not understood.</summary>
/// <param name="Item">The part of the answer, as it was said.</param>
/// <param name="Better">The same with the crop that was probably meant; null when none is near.</param>
public sealed record CropDoubt(string Item, string Problem, string? Better)
{
    public override string ToString() => Better is null ? Problem : $"{Problem}; did you mean `{Better}`?";
}

/// <summary>What reading the answer on crops gave: nothing of it is dropped.</summary>
public sealed record CropsReading(ImmutableArray<FirstCrop> Crops, ImmutableArray<CropDoubt> Doubts);

/// <summary>What grows, in a gardener's words: "tomatoes, garlic growing, carrots sown mid April, 6 peppers in the greenhouse, radishes every 10 days".</summary>
public static partial class CropsSaid
{
    private static readonly System.Buffers.SearchValues<char> Quotes = System.Buffers.SearchValues.Create("\"'");

    /// <param name="beds">Names of the beds, for "in the greenhouse".</param>
    public static CropsReading Read(string text, CropShelf crops, ImmutableArray<string> beds)
    {
        var found = ImmutableArray.CreateBuilder<FirstCrop>();
        var doubts = ImmutableArray.CreateBuilder<CropDoubt>();
        if (!Nothing().IsMatch(Words.Tidy(text)))
        {
            foreach (string item in Words.Items(text))
            {
                switch (Item(item, crops, beds))
                {
                    case ({ } crop, _):
                        found.Add(crop);
                        break;
                    case (_, { } doubt):
                        doubts.Add(doubt);
                        break;
                }
            }
        }
        return new(found.ToImmutable(), doubts.ToImmutable());
    }

    private static (FirstCrop? Crop, CropDoubt? Doubt) Item(string item, CropShelf crops, ImmutableArray<string> beds)
    {
        string rest = Words.Tidy(item.Replace('(', ' ').Replace(')', ' ').Replace(':', ' '));
        string? bed = TakeBed(ref rest, beds);
        string? sowings = null;
        if (Every().Match(rest) is { Success: true } every)
        {
            if (IntervalText.Read("every " + every.Groups["span"].Value) is IntervalReading.Fault(var problem, var instead))
                return (null, new(item, $"`{item}`: {problem}{(instead is null ? "" : $", {instead}")}", null));
            (sowings, rest) = (every.Value.Trim().ToLowerInvariant(), Words.Tidy(rest[..every.Index] + " " + rest[(every.Index + every.Length)..]));
        }
        var begun = Begun.Of(ref rest);
        if (begun.Date is { } date && DateText.Read(date) is DateReading.Fault(var wrong, var better))
            return (null, new(item, $"`{item}`: {wrong}{(better is null ? "" : $", {better}")}", null));
        (int? plants, rest) = Words.Count(Around().Replace(rest.Trim(' ', ','), ""));
        if (plants is null && NumberAtEnd().Match(rest) is { Success: true } number)
            (plants, rest) = (int.Parse(number.Groups["count"].Value, CultureInfo.InvariantCulture), rest[..number.Index]);
        string name = Words.Tidy(Around().Replace(rest, ""));
        // There is an "oyster plant".
        bool asPlants = crops.Find(name) is null && Nouns().IsMatch(name);
        if (asPlants)
            name = Words.Tidy(Nouns().Replace(name, ""));
        if (Find(name, crops) is not var (crop, variety))
            return (null, Unknown(item, name, crops));
        // A comma was forgotten; else the one would be taken for a variety of the other.
        if (variety is not null && !name.AsSpan().ContainsAny(Quotes) && crops.Find(variety) is { } other && name.Replace(variety, "", StringComparison.Ordinal).Trim() is var first)
        {
            bool comesFirst = name.StartsWith(variety, StringComparison.Ordinal);
            return (null, new(item, $"`{item}` names {other.Plants} and {crop.Plants}", item.Replace(name, comesFirst ? $"{variety}, {first}" : $"{first}, {variety}", StringComparison.Ordinal)));
        }
        return (Made(crop, variety, plants, begun, sowings, bed, asPlants), null);
    }

    private static FirstCrop Made(CropProfile crop, string? variety, int? plants, Begun begun, string? sowings, string? bed, bool asPlants)
    {
        bool sownInPlace = crop.Jobs.Any(job => job.Kind == JobKind.Sow);
        var made = new FirstCrop(crop, variety, plants is 0 ? null : plants, null, null, sowings, bed);
        // Cut or picked from year to year, and not only the plant that could live so long.
        bool stays = crop is { Habit.Life: PlantLife.Perennial, Picking.Once: false, Hardiness: Hardiness.Hardy or Hardiness.HalfHardy };
        string when = begun.Date ?? "yes";
        return begun.Stage switch
        {
            // "Planted" is said of garlic and of tomatoes: of what is sown in place it means sown.
            Stage.Planted => made with { Key = sownInPlace && !stays ? "sown" : "set out", When = when },
            Stage.Sown => made with { Key = "sown", When = when },
            Stage.SetOut => made with { Key = "set out", When = when },
            Stage.Up => made with { Key = "up", When = when },
            Stage.Bought => made with { Key = "bought", When = when },
            Stage.Growing => made with { Key = begun.Date is null ? "growing" : "up", When = when },
            Stage.OnSill => made with { OnSill = true },
            Stage.ToCome => made,
            _ when begun.Date is { } date => made with { Key = sownInPlace && !asPlants ? "sown" : "bought", When = date },
            _ when asPlants => made with { Key = "bought", When = "yes" },
            _ when stays && sowings is null => made with { Key = "growing", When = "yes", IsAssumed = true },
            _ => made,
        };
    }

    /// <summary>The crop by its whole name; else by the longest end or beginning of it, and what is left is the variety.</summary>
    private static (CropProfile Crop, string? Variety)? Find(string name, CropShelf crops)
    {
        if (name.Length == 0)
            return null;
        if (crops.Find(name) is { } whole)
            return (whole, null);
        string[] words = name.Split(' ');
        for (int left = 1; left < Math.Min(words.Length, 8); left++)
        {
            if (crops.Find(string.Join(' ', words[left..])) is { } byEnd)
                return (byEnd, VarietyOf(words[..left], byEnd));
            // With "cherry tomatos" no variety of cherries is meant.
            if (crops.Find(string.Join(' ', words[..^left])) is { } byBeginning && (crops.Nearest(name) is not { } near || near == byBeginning.Name))
                return (byBeginning, VarietyOf(words[^left..], byBeginning));
        }
        return null;
    }

    /// <summary>"Squash" behind "butternut" is no variety.</summary>
    private static string? VarietyOf(string[] words, CropProfile crop)
    {
        string variety = Words.Tidy(string.Join(' ', words).Replace("\"", "", StringComparison.Ordinal)).Trim('\'', ' ', '-');
        bool isPartOfName = $" {crop.Name} {crop.Plants} ".Contains($" {variety} ", StringComparison.OrdinalIgnoreCase);
        return variety.Length is 0 or > 60 || isPartOfName ? null : variety;
    }

    private static CropDoubt Unknown(string item, string name, CropShelf crops)
    {
        if (name.Length == 0)
            return new(item, $"`{item}` names no crop", null);
        string? near = crops.Nearest(name), meant = name;
        string[] words = name.Split(' ');
        for (int left = 1; near is null && left < words.Length; left++)
        {
            meant = string.Join(' ', words[left..]);
            near = crops.Nearest(meant);
        }
        if (near is not null)
            return new(item, $"`{item}`: no crop is called `{name}`", item.Replace(meant, near, StringComparison.Ordinal));
        var kin = crops.Crops.Where(crop => $" {crop.Name} {crop.Plants} ".Contains($" {words[^1]}", StringComparison.OrdinalIgnoreCase)).Select(crop => crop.Name).Distinct().Take(3).ToList();
        return kin.Count > 0
            ? new(item, $"`{item}`: no crop is called `{name}`; there are {string.Join(", ", kin)}", item.Replace(name, kin[0], StringComparison.Ordinal))
            : new(item, $"`{item}`: no crop is called `{name}`", null);
    }

    private static string? TakeBed(ref string rest, ImmutableArray<string> beds)
    {
        foreach (string bed in beds.OrderByDescending(bed => bed.Length))
        {
            foreach (string before in (string[])["in the ", "on the ", "at the ", "in ", "on ", "at "])
            {
                int at = rest.IndexOf(before + bed, StringComparison.OrdinalIgnoreCase);
                int end = at + before.Length + bed.Length;
                if (at <= 0 || rest[at - 1] != ' ' || end < rest.Length && char.IsLetterOrDigit(rest[end]))
                    continue;
                rest = Words.Tidy(rest[..at] + " " + rest[end..]);
                return bed;
            }
        }
        return null;
    }

    private enum Stage { NotSaid, ToCome, OnSill, Sown, Planted, SetOut, Up, Bought, Growing }

    /// <summary>What is said of a crop's beginning.</summary>
    private readonly record struct Begun(Stage Stage, string? Date)
    {
        private static readonly (Regex Pattern, Stage Stage)[] Patterns =
        [
            (NotYet(), Stage.ToCome), (Sill(), Stage.OnSill), (SetOutWord(), Stage.SetOut), (SownWord(), Stage.Sown), (PlantedWord(), Stage.Planted),
            (UpWord(), Stage.Up), (BoughtWord(), Stage.Bought), (GrowingWord(), Stage.Growing), (SinceWord(), Stage.Growing),
        ];

        /// <summary>Takes it from the text, with the date behind it or at the end.</summary>
        public static Begun Of(ref string rest)
        {
            foreach (var (pattern, stage) in Patterns)
            {
                if (pattern.Match(rest) is not { Success: true } match)
                    continue;
                string behind = Words.Tidy(Since().Replace(rest[(match.Index + match.Length)..], ""));
                string before = Words.Tidy(rest[..match.Index]);
                // "growing garlic" has its crop behind it.
                if (before.Length == 0)
                    (before, behind) = (behind, "");
                rest = before;
                string? date = behind.Length > 0 ? behind : DateAtEnd(ref rest);
                return new(stage, date);
            }
            return new(Stage.NotSaid, DateAtEnd(ref rest));
        }

        private static string? DateAtEnd(ref string rest)
        {
            string[] words = rest.Split(' ');
            for (int first = 1; first < words.Length; first++)
            {
                string tail = string.Join(' ', words[first..]);
                if (DateText.Read(tail) is not DateReading.Ok)
                    continue;
                rest = string.Join(' ', words[..first]);
                return tail;
            }
            return null;
        }
    }

    [GeneratedRegex(@"^(?:nothing|none|no|not? ?yet)(?: yet| so far)?$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Nothing();

    [GeneratedRegex(@"\bevery (?<span>(?:other |second )?(?:day|week|fortnight|month)s?|(?:[0-9]{1,3}|a|an|one|two|three|four|five|six|ten) (?:days?|weeks?|months?))\b(?: until (?:it is |it's )?too (?:warm|hot))?", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Every();

    [GeneratedRegex(@"\b(?:not yet(?: sown| planted| there)?|to (?:be )?(?:sown?|planted?|set out)|planned|later on|later|next year|soon|direct from seed|sown in place)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex NotYet();

    [GeneratedRegex(@"\b(?:(?:started|raised|sown|start|from seed|grown) (?:indoors|inside|at the window|on the (?:window ?)?sill)|indoors|from seed|on the (?:window ?)?sill)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Sill();

    [GeneratedRegex(@"\b(?:set out|planted out|put out|transplanted|moved out)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex SetOutWord();

    [GeneratedRegex(@"\b(?:sown|sowed|seeded)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex SownWord();

    [GeneratedRegex(@"\bplanted\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex PlantedWord();

    [GeneratedRegex(@"\b(?:came up|come up|sprouted|sprouting|germinated|up)\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex UpWord();

    [GeneratedRegex(@"\b(?:to (?:be )?(?:buy|bought)|bought(?: in)?|will buy|buying|as (?:young )?plants|from the (?:shop|market|nursery))\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex BoughtWord();

    [GeneratedRegex(@"\b(?:is |are )?(?:already |still )?(?:growing|grows|grow|standing|established|in the ground|overwintering|overwintered|bearing|there)(?: already)?\b|\balready\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex GrowingWord();

    [GeneratedRegex(@"\bsince\b", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex SinceWord();

    [GeneratedRegex(@"^\s*(?:since|on|in|about|around)\s", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Since();

    [GeneratedRegex(@"^(?:(?:a |the )?(?:few|some|lots? of|many|several|more|(?:rows?|beds?|patch(?:es)?|packets?|bags?) of|the|my|our|an?) )+", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Around();

    [GeneratedRegex(@",? (?<count>[0-9]{1,4})$", RegexOptions.CultureInvariant)]
    private static partial Regex NumberAtEnd();

    [GeneratedRegex(@"(?:^| )(?:young )?(?:plants?|seedlings?|starts|starters|plugs|transplants)$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Nouns();
}

using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    private sealed record WrittenChore(Chore Chore, string? Id, string WhenText, YamlEntries Entry);

    private ImmutableArray<Chore> ChoresOf(YamlEntries top, ImmutableArray<Bed> beds)
    {
        var written = top.TakeMaps("chores", "such as `- chore: Drain the hose`").SelectMany(entry => ChoresIn(entry, beds)).ToList();
        if (TooMany([.. written.Select(w => w.Entry)], top, "chores"))
            return [];
        var ids = Recognised([.. written.Select(w => (Present(w), w.Entry))]);
        return [.. written.Select((w, i) => w.Chore with { Id = ids[i].Id })];
    }

    private static PresentSubject Present(WrittenChore w) => new(
        SubjectKind.Chore, w.Id, w.Chore.BedId is { } bed ? $"{w.Chore.Name} {bed}" : w.Chore.Name,
        [
            ("name", w.Chore.Name), ("bed", w.Chore.BedId ?? ""), ("kind", w.Chore.Kind.Word()),
            ("every", w.Chore.EveryDays?.ToString(CultureInfo.InvariantCulture) ?? ""), ("when", w.WhenText),
        ]);

    /// <summary>One chore for each bed it names, so that each is done, skipped and remembered by itself.</summary>
    private IEnumerable<WrittenChore> ChoresIn(YamlEntries entry, ImmutableArray<Bed> beds)
    {
        string? name = entry.TakeString("chore", "such as `chore: Drain the hose`", 80);
        if (!entry.Has("chore"))
            entry.Fault(entry.Spot, "this chore has no name", "such as `chore: Drain the hose`");
        if (entry.Has("bed") && entry.Has("beds"))
            entry.Fault(entry.Spot, "both `bed` and `beds` are said", "keep one of the two");
        var named = entry.TakeTexts("bed").Concat(entry.TakeTexts("beds")).Select(text => BedNamed(entry, text, beds)).OfType<Bed>().Distinct().ToList();
        int? every = IntervalOf(entry, "every");
        string whenText = WhenText(entry.Take("when"));
        var when = entry.TakeConditions("when", _readCondition);
        var any = entry.TakeConditions("any", _readCondition);
        var none = entry.TakeConditions("none", _readCondition);
        if (!any.IsEmpty)
            when = when.Add(new Condition.AnyOf(any));
        if (!none.IsEmpty)
            when = when.Add(new Condition.NoneOf(none));
        var conditions = new ConditionSet(when, entry.TakeConditions("unless", _readCondition), entry.TakeConditions("by", _readCondition))
        {
            Wish = entry.TakeConditions("wish", _readCondition),
        };
        var otherwise = OtherwiseOf(entry);
        var then = ThenOf(entry);
        string? caution = entry.TakeString("caution", "such as `product label`", 300);
        int? minutes = entry.TakeMinutes("minutes");
        string? how = entry.TakeString("how", "a line", 400);
        var kind = KindOf(entry, name ?? "");
        string? id = ExplicitId(entry);
        var chore = new Chore
        {
            Id = "",
            Name = name ?? "",
            Kind = kind,
            EveryDays = every,
            Minutes = minutes,
            How = how,
            Conditions = conditions,
            NumberSources = NumberSourcesOf(entry, conditions),
            Otherwise = otherwise,
            Then = then,
            Caution = caution,
        };
        chore = chore with { Tuning = TuningOf(entry, chore) };
        entry.Close("named numbers go into braces: `at least {enough: 6 mm}`");
        if (name is null)
            yield break;
        if (named.Count == 0)
            yield return new(chore, id, whenText, entry);
        foreach (var bed in named)
            yield return new(chore with { BedId = bed.Id }, id is null || named.Count == 1 ? id : $"{id}-{bed.Id}", whenText, entry);
    }

    private static ImmutableDictionary<string, NumberSource> NumberSourcesOf(YamlEntries entry, ConditionSet conditions) =>
        JobNumbers.Of(conditions).ToImmutableDictionary(number => number.Name, number =>
            ((string[])["when", "any", "none", "unless", "by", "wish"]).Select(key => NumberSpots.Of(entry.Take(key), number.Name)).FirstOrDefault(spot => spot is not null) is { } spot
                ? new NumberSource(NumberOrigin.ChorePhrase, spot.File, spot.Line)
                : new(NumberOrigin.ChorePhrase));

    private static int? IntervalOf(YamlEntries entry, string key)
    {
        if (entry.TakeText(key, "such as `6 weeks`") is not { } text)
            return null;
        switch (IntervalText.Read(text.Value))
        {
            case IntervalReading.Ok(var days):
                return days;
            case IntervalReading.Fault(var problem, var instead):
                entry.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    /// <summary>The kind that is said; else that of the name's first word; else other.</summary>
    private static JobKind KindOf(YamlEntries entry, string name)
    {
        if (entry.TakeText("kind", "such as `spread`") is { } text)
        {
            if (JobKindWords.Of(text.Value) is { } said)
                return said;
            entry.Fault(text.Spot, $"`{Cut(text.Value)}` is no kind of job",
                Spelling.Nearest(text.Value, Enum.GetValues<JobKind>().Select(k => k.Word())) is { } near ? $"did you mean `{near}`?" : null);
            return JobKind.Other;
        }
        string plain = PlainName(name);
        // A chore called "Cover the woodpile" must not pass for one that saves a crop.
        return Enum.GetValues<JobKind>().Where(k => k is not (JobKind.Cover or JobKind.Uncover or JobKind.Protect or JobKind.Tie or JobKind.Shelter))
            .Where(k => plain == k.Word() || plain.StartsWith(k.Word() + " ", StringComparison.Ordinal))
            .DefaultIfEmpty(JobKind.Other).First();
    }

    private static Otherwise? OtherwiseOf(YamlEntries entry)
    {
        if (entry.TakeText("otherwise", "such as `after 4 days, water in with 6 mm by hand`") is not { } text)
            return null;
        var match = AfterThat().Match(text.Value.ReplaceLineEndings(" ").Trim());
        if (!match.Success)
        {
            entry.Fault(text.Spot, "`otherwise` begins with how long to wait", "such as `after 4 days, water in with 6 mm by hand`");
            return null;
        }
        switch (IntervalText.Read(match.Groups["span"].Value))
        {
            case IntervalReading.Ok(var days):
                string deed = match.Groups["deed"].Value;
                double? water = WithWater().Match(deed) is { Success: true } depth
                    && QuantityText.Read(depth.Groups["depth"].Value, Dimension.WaterDepth) is QuantityReading.Ok(var quantity) ? quantity.Value : null;
                return new(days, deed, water);
            case IntervalReading.Fault(var problem, var instead):
                entry.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    private static LookAfterwards? ThenOf(YamlEntries entry)
    {
        if (entry.TakeMap("then", "such as `then: { look for: leaf colour, after: 10 days }`") is not { } then)
            return null;
        string? look = then.TakeString("look for", "such as `leaf colour`");
        int? after = IntervalOf(then, "after");
        int? every = IntervalOf(then, "every");
        if (!then.Has("look for") || !then.Has("after"))
            then.Fault(then.Spot, "`then` wants `look for` and `after`", "such as `{ look for: leaf colour, after: 10 days }`");
        then.Close();
        return look is not null && after is { } days ? new(look, days, every) : null;
    }

    /// <summary>The phrases as one text, by which a renamed chore is known again.</summary>
    private static string WhenText(YamlNode? node)
    {
        string text = node switch
        {
            YamlNode.Text t => t.Value,
            YamlNode.List list => string.Join(" and ", list.Items.OfType<YamlNode.Text>().Select(t => t.Value)),
            _ => "",
        };
        return text.Length > 200 ? text[..200] : text;
    }

    [GeneratedRegex(@"^after (?<span>(?:[0-9]+|an?|[a-z]+) ?[a-z]+),? (?<deed>.+)$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex AfterThat();

    [GeneratedRegex(@"\bwith (?<depth>[^,;]+?)(?: by hand| of water|[,;.]|$)", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex WithWater();
}

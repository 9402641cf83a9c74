using System.Collections.Immutable;
using System.Text.RegularExpressions;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Crops;

/// <summary>One crop's file, its changes already laid over it, as a profile.</summary>
internal static partial class CropFile
{
    /// <summary>What is written where a file names no source: so that every number says where it is from.</summary>
    private const string NoSource = "common practice";

    private static readonly Dictionary<string, bool> YesOrNo = new(StringComparer.Ordinal) { ["yes"] = true, ["no"] = false };

    private static readonly Dictionary<string, bool> UnderCover = new(StringComparer.Ordinal) { ["under cover"] = true, ["anywhere"] = false };

    private static readonly Dictionary<string, JobKind> Kinds = Words([.. Enum.GetValues<JobKind>().Select(kind => (kind.Word(), kind))]);

    private static readonly Dictionary<string, Hardiness> Hardinesses = Words(
        ("very tender", Hardiness.VeryTender), ("tender", Hardiness.Tender), ("half-hardy", Hardiness.HalfHardy), ("half hardy", Hardiness.HalfHardy),
        ("hardy", Hardiness.Hardy));

    private static readonly Dictionary<string, CountedFrom> Beginnings = Words(("sowing", CountedFrom.Sowing), ("setting out", CountedFrom.SettingOut));

    public static CropProfile? Read(
        YamlNode.Map map, List<YamlNode.Map> usualJobs, List<YamlNode.Map> usualLooks, Func<string, ConditionReading> readCondition, List<FileFault> faults)
    {
        int before = faults.Count;
        var crop = new YamlEntries(map, faults);
        var sources = ImmutableDictionary.CreateBuilder<string, string>();
        string name = crop.TakeString("crop", "such as `tomato`")?.ToLowerInvariant() ?? "";
        string plants = crop.TakeString("plants", "such as `tomatoes`") ?? name;
        var also = crop.TakeTexts("also called");
        string botanical = crop.TakeString("botanical", "such as `Solanum lycopersicum`") ?? "";
        string family = crop.TakeString("family", "such as `Solanaceae`") ?? "";
        if (!crop.Has("hardiness"))
            crop.Fault(crop.Spot, $"the hardiness of {name} is not said", $"`hardiness: ` and one of: {string.Join(", ", Hardinesses.Keys)}");
        var hardiness = crop.TakeWord("hardiness", Hardinesses) ?? Hardiness.Tender;
        var leafLimit = Group(crop, "frost", sources)?.TakeQuantityAndClose("leaf limit", Dimension.Temperature) ?? UsualLeafLimit(hardiness);
        if (!sources.ContainsKey("frost"))
            sources["frost"] = NoSource;

        var profile = new CropProfile
        {
            Name = name,
            Plants = plants,
            AlsoCalled = [.. also.Select(text => text.Value)],
            Botanical = botanical,
            Family = family,
            Hardiness = hardiness,
            LeafLimit = leafLimit,
            Warmth = WarmthOf(Group(crop, "warmth", sources)),
            Days = DaysOf(Group(crop, "first picking", sources)),
            Germination = GerminationOf(Group(crop, "germination", sources)),
        };
        profile = WithDetail(profile, crop, sources);
        profile = profile with { Pests = WithWeather(profile.Pests, name, usualLooks, readCondition, faults), Diseases = WithWeather(profile.Diseases, name, usualLooks, readCondition, faults) };
        profile = profile with { Crust = usualLooks.LastOrDefault(look => Names(look["for"], CrustOverSeed)) is { } crust ? WeatherOf(crust, readCondition, faults) : null };
        if (Group(crop, "sowing", sources) is { } sowing)
        {
            profile = profile with
            {
                Start = sowing.TakeWord("start", Starts),
                SowingDepthMetres = sowing.TakeQuantity("depth", Dimension.Length)?.Value,
                SpacingMetres = sowing.TakeQuantity("spacing", Dimension.Length)?.Value,
                RowSpacingMetres = sowing.TakeQuantity("rows", Dimension.Length)?.Value,
            };
            sowing.Close();
        }
        if (Group(crop, "indoors", sources) is { } indoors)
        {
            if (Between(indoors, "for", Dimension.Days) is var (from, to))
                profile = profile with { WeeksIndoors = ((int)Math.Round(from / 7), (int)Math.Round(to / 7)) };
            profile = profile with { HardenOffDays = DaysBetween(indoors, "harden off") };
            indoors.Close();
        }
        var frost = map["frost"] as YamlNode.Map;
        var leafSpot = frost?["leaf limit"]?.Spot ?? map["hardiness"]?.Spot ?? map.Spot;
        var leaf = new SourcedNumber(
            new(leafLimit.Celsius, Dimension.Temperature), NumberSpots.SourceOf(leafSpot, PublishedFor(leafSpot, frost?["source"])));
        profile = profile with { Jobs = Jobs(crop, usualJobs, profile, leaf, readCondition, faults), Sources = sources.ToImmutable() };
        crop.Close();
        return faults.Count == before ? profile : null;
    }

    /// <summary>
    /// Leaf temperature at which to act when a file gives none: damage of tender leaves is published from 2 °C down, of
    /// half-hardy ones from -2, of hardy ones from -4 (Sci Rep 2023, PMC10202904 table 2; Dawling 2012). Very tender
    /// plants get one degree more: they are chilled and slow to mend well above freezing, and none of them grows back.
    /// </summary>
    internal static Temperature UsualLeafLimit(Hardiness hardiness) => new(hardiness switch
    {
        Hardiness.VeryTender => 3,
        Hardiness.Tender => 2,
        Hardiness.HalfHardy => -2,
        _ => -4,
    });

    private static YamlEntries? Group(YamlEntries crop, string name, ImmutableDictionary<string, string>.Builder sources)
    {
        if (crop.TakeMap(name, $"such as `{name}: {{ …, source: common practice }}`") is not { } group)
            return null;
        sources[name] = SourceOf(group);
        return group;
    }

    /// <summary>A source speaks for the numbers of its own file; that another file has part in the group is said with it.</summary>
    private static string SourceOf(YamlEntries group)
    {
        string source = group.TakeString("source", "where the numbers are from") ?? NoSource;
        if (group.Take("source") is not { } written || group.Files.Where(file => file != written.Spot.File).ToList() is not { Count: > 0 } others)
            return source;
        return CropShelf.IsShipped(written.Spot.File) ? $"{source}; changed in {string.Join(", ", others)}" : $"{source}; the rest as it was";
    }

    private static Temperature? TakeQuantityAndClose(this YamlEntries group, string key, Dimension dimension)
    {
        var value = group.TakeQuantity(key, dimension);
        group.Close();
        return value is { } quantity ? new Temperature(quantity.Value) : null;
    }

    private static WarmthNeed? WarmthOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var least = group.TakeQuantity("base", Dimension.Temperature);
        var most = group.TakeQuantity("ceiling", Dimension.Temperature);
        var emergence = Between(group, "emergence", Dimension.Warmth);
        var flowering = Between(group, "flowering", Dimension.Warmth);
        var eachYear = Between(group, "each year", Dimension.Warmth);
        var harvest = Between(group, "harvest", Dimension.Warmth);
        if (least is null)
            group.Fault(group.Spot, "`warmth` wants a `base` temperature", "such as `base: 7 °C`");
        else if (most?.Value <= least.Value.Value)
            group.Fault(group.Spot, "the ceiling is not above the base", null);
        group.Close();
        return least is { } b ? new(new(b.Value), most is { } c ? new Temperature(c.Value) : null, emergence, harvest) { FloweringCd = flowering, EachYearCd = eachYear } : null;
    }

    private static DaysToMaturity? DaysOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var after = Between(group, "after", Dimension.Days);
        var counted = group.TakeWord("counted from", Beginnings) ?? CountedFrom.Sowing;
        group.Close();
        return after is var (from, to) ? new((int)from, (int)to, counted) : null;
    }

    private static GerminationRange? GerminationOf(YamlEntries? group)
    {
        if (group is null)
            return null;
        var least = group.TakeQuantity("least", Dimension.Temperature);
        var best = Between(group, "best", Dimension.Temperature);
        var most = group.TakeQuantity("most", Dimension.Temperature);
        var upAfterDays = DaysBetween(group, "up after");
        var upAfter = UpAfterOf(group);
        group.Close();
        if (least is not { } l || best is not var (from, to) || most is not { } m)
        {
            group.Fault(group.Spot, "`germination` wants `least`, `best` and `most`", "such as `{ least: 10 °C, best: 15 to 29 °C, most: 35 °C }`");
            return null;
        }
        if (!(l.Value <= from && to <= m.Value))
            group.Fault(group.Spot, "least, best and most are not in rising order", null);
        return new(new(l.Value), new(from), new(to), new(m.Value)) { UpAfterDays = upAfterDays, UpAfter = upAfter };
    }

    /// <summary>"70 to 90 days"; one number is a range of one.</summary>
    private static (double From, double To)? Between(YamlEntries group, string key, Dimension dimension)
    {
        if (group.TakeText(key, "such as `70 to 90 days`") is not { } text)
            return null;
        string[] ends = text.Value.Split(" to ", 2, StringSplitOptions.TrimEntries);
        if (group.Quantity(text with { Value = ends[^1] }, dimension) is not { } to)
            return null;
        if (ends.Length == 1)
            return (to.Value, to.Value);
        string first = WrittenNumber.Read(ends[0]) is WrittenNumber.Ok { Rest: "" } && WrittenNumber.Read(ends[1]) is WrittenNumber.Ok second
            ? ends[0] + " " + second.Rest
            : ends[0];
        if (group.Quantity(text with { Value = first }, dimension) is not { } from)
            return null;
        if (from.Value <= to.Value)
            return (from.Value, to.Value);
        group.Fault(text.Spot, $"`{text.Value}` runs backwards", "the smaller number first");
        return null;
    }

    /// <summary>A usual job is for a hardiness, a form, a family or a crop by its name.</summary>
    private static bool IsOfClass(CropProfile profile, string word) =>
        Hardinesses.TryGetValue(word, out var hardiness) ? hardiness == profile.Hardiness
        : Forms.TryGetValue(word, out var form) ? profile.Habit?.Form == form
        : Lives.TryGetValue(word, out var life) ? profile.Habit?.Life == life
        : profile.Family.Equals(word, StringComparison.OrdinalIgnoreCase) || profile.Name.Equals(word, StringComparison.OrdinalIgnoreCase);

    private static readonly Dictionary<string, Stage> Stages = Words(
        new[] { Stage.Planned, Stage.Sown, Stage.Up, Stage.Hardening, Stage.SetOut, Stage.Bearing, Stage.Finished, Stage.KeptForSeed }
            .Select(stage => (stage.Word(), stage)).ToArray());

    private static int? DaysOf(YamlEntries job, string key)
    {
        if (job.TakeText(key, "such as `4 days`") is not { } text)
            return null;
        switch (IntervalText.Read(text.Value))
        {
            case IntervalReading.Ok(var days):
                return days;
            case IntervalReading.Fault(var problem, var instead):
                job.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    private static ImmutableArray<JobTemplate> Jobs(
        YamlEntries crop, List<YamlNode.Map> usualJobs, CropProfile profile, SourcedNumber leaf, Func<string, ConditionReading> readCondition,
        List<FileFault> faults)
    {
        var without = crop.TakeTexts("without").Select(text => text.Value).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var jobs = new Dictionary<string, YamlNode.Map>(StringComparer.OrdinalIgnoreCase);
        foreach (var usual in usualJobs)
        {
            bool fits = usual["for"] is YamlNode.List classes && classes.Items.OfType<YamlNode.Text>().Any(text => IsOfClass(profile, text.Value));
            bool isLeftOut = usual["not for"] is YamlNode.List others && others.Items.OfType<YamlNode.Text>().Any(text => IsOfClass(profile, text.Value));
            if (fits && !isLeftOut && usual["kind"] is YamlNode.Text kind && !without.Contains(kind.Value))
                jobs[kind.Value] = new(usual.Spot, [.. usual.Entries.Where(entry => entry.Key.Value is not ("for" or "not for" or "kind"))]);
        }
        if (crop.Take("jobs") is YamlNode.Map own)
        {
            foreach (var (kind, value) in own.Entries)
            {
                if (JobKindWords.Of(kind.Value) is null)
                {
                    string? near = Spelling.Nearest(kind.Value, Enum.GetValues<JobKind>().Select(k => k.Word()));
                    crop.Fault(kind.Spot, $"`{kind.Value}` is no kind of job", near is null ? null : $"did you mean `{near}`?");
                }
                else if (value is not YamlNode.Map job)
                    crop.Fault(value.Spot, $"the job `{kind.Value}` wants entries of its own", null);
                else
                    jobs[kind.Value] = jobs.TryGetValue(kind.Value, out var under) ? CropShelf.Over(under, job) : job;
            }
        }
        return [.. jobs.Select(job => JobOf(JobKindWords.Of(job.Key), job.Value, profile, leaf, readCondition, faults)).OfType<JobTemplate>()];
    }

    private static JobTemplate? JobOf(
        JobKind? kind, YamlNode.Map map, CropProfile profile, SourcedNumber leaf, Func<string, ConditionReading> readCondition, List<FileFault> faults)
    {
        if (kind is not { } known)
            return null;
        var job = new YamlEntries(map, faults);
        // A bare {leaf} takes the crop's own limit.
        string limit = new Speech(UnitSystem.Metric, NodaTime.DateTimeZone.Utc).Quantity(leaf.Value);
        string WithLeaf(string phrase) => NamedNumber().Replace(phrase, match =>
            match.Groups["name"].Value == "leaf" && !match.Groups["value"].Success ? $"{{leaf: {limit}}}" : match.Value);
        var changed = Changed(job, JobNumbers.Of(Conditions(new(map, []), phrase => readCondition(WithLeaf(phrase)))).ToDictionary(
            number => number.Name, number => number.Value.Dimension, StringComparer.OrdinalIgnoreCase));
        var conditions = Conditions(job, phrase => readCondition(NamedNumber().Replace(WithLeaf(phrase), match =>
            changed.TryGetValue(match.Groups["name"].Value.Trim(), out var number) && match.Groups["name"].Value != DecisionRule.NumberName
                ? $"{{{match.Groups["name"].Value}: {number.Text.Value}}}"
                : match.Value)));

        NumberSource SourceAt(Spot spot) => NumberSpots.SourceOf(spot, PublishedFor(spot, map["source"]));
        var layers = JobNumbers.Of(conditions).ToImmutableDictionary(
            number => number.Name,
            number => ImmutableArray.Create(
                changed.TryGetValue(number.Name, out var own) ? new(number.Value, SourceAt(own.Text.Spot))
                : number.Name == "leaf" && number.Value == leaf.Value ? leaf
                : new SourcedNumber(number.Value, SourceAt(SpotOf(map, number.Name) ?? map.Spot))),
            StringComparer.OrdinalIgnoreCase);
        if (changed.TryGetValue(DecisionRule.NumberName, out var chance))
            layers = layers.SetItem(DecisionRule.NumberName, [new(chance.Value, SourceAt(chance.Text.Spot))]);

        var template = new JobTemplate
        {
            Kind = known,
            Name = job.TakeString("name", "such as `Set out the {plants}`") ?? char.ToUpperInvariant(known.Word()[0]) + known.Word()[1..] + " {plants}",
            How = job.TakeString("how", "a line", 400),
            Minutes = job.TakeMinutes("minutes"),
            From = job.TakeWord("from", Stages),
            EveryDays = DaysOf(job, "every"),
            BeforeDays = DaysOf(job, "before"),
            After = job.TakeWord("after", Kinds),
            UnderCoverOnly = job.TakeWord("where", UnderCover) ?? false,
            OnOccasion = job.TakeWord("on occasion", YesOrNo) ?? false,
            Conditions = conditions,
            Numbers = layers.ToImmutableDictionary(number => number.Key, number => number.Value[^1].Value, StringComparer.OrdinalIgnoreCase),
            Layers = layers,
            Otherwise = job.TakeString("otherwise", "a line", 400),
            Stays = job.TakeWord("stays", YesOrNo) ?? false,
            Cautions = [.. job.TakeTexts("cautions").Select(text => text.Value)],
            Source = job.TakeString("source", "where the deciding numbers are from") ?? NoSource,
        };
        job.Close();
        return template;
    }

    private static ConditionSet Conditions(YamlEntries job, Func<string, ConditionReading> read) =>
        new(job.TakeConditions("when", read), job.TakeConditions("unless", read), job.TakeConditions("by", read))
        {
            Wish = job.TakeConditions("wish", read),
            Occasions = [.. job.TakeMaps("occasions", "such as `- { when: [rain total next 24 hours at least 20 mm], say: pick first }`").Select(occasion => OccasionOf(occasion, read)).OfType<Occasion>()],
        };

    private static Occasion? OccasionOf(YamlEntries entry, Func<string, ConditionReading> read)
    {
        var when = entry.TakeConditions("when", read);
        string? say = entry.TakeString("say", "a sentence", 300);
        var occasion = new Occasion(when, say ?? "", DaysOf(entry, "again"), entry.TakeWord("before rain", YesOrNo) ?? false);
        if (say is null || when.IsEmpty)
            entry.Fault(entry.Spot, "an occasion wants its weather and what it means", "such as `{ when: [rain total next 24 hours at least 20 mm], say: pick first }`");
        entry.Close();
        return say is null ? null : occasion;
    }

    /// <summary>What a file says of a number's source holds for that file's numbers only, not for those laid over them.</summary>
    private static string? PublishedFor(Spot number, YamlNode? source) =>
        source is YamlNode.Text text && text.Spot.File == number.File ? text.Value : null;

    private static Spot? SpotOf(YamlNode.Map job, string number) =>
        NumberSpots.Of(job["when"], number) ?? NumberSpots.Of(job["unless"], number) ?? NumberSpots.Of(job["by"], number) ?? NumberSpots.Of(job["wish"], number)
        ?? NumberSpots.Of(job["occasions"], number);

    /// <summary>What stands under <c>numbers:</c>, by lower-case name; what no phrase has, or of the wrong kind, is told.</summary>
    private static Dictionary<string, (YamlNode.Text Text, Quantity Value)> Changed(YamlEntries job, Dictionary<string, Dimension> known)
    {
        var changed = new Dictionary<string, (YamlNode.Text, Quantity)>(StringComparer.OrdinalIgnoreCase);
        known[DecisionRule.NumberName] = Dimension.Share;
        if (job.TakeMap("numbers", "such as `numbers: { soil: 16 °C }`") is not { } own)
            return changed;
        foreach (var (name, value) in own.TakeRest())
        {
            if (!known.TryGetValue(name.Value, out var dimension))
                own.Fault(name.Spot, $"no phrase of this job has a number `{name.Value}`", Spelling.Nearest(name.Value, known.Keys) is { } near ? $"did you mean `{near}`?" : null);
            else if (value is not YamlNode.Text text)
                own.Fault(value.Spot, $"`{name.Value}` wants a quantity", null);
            else if (own.Quantity(text, dimension) is { } quantity)
            {
                if (JobNumbers.WrongChance(name.Value.ToLowerInvariant(), quantity, text.Value) is var (problem, instead))
                    own.Fault(text.Spot, problem, instead);
                changed[name.Value] = (text, quantity);
            }
        }
        return changed;
    }

    [GeneratedRegex(@"\{(?<name>[^{}:]+)(?:: *(?<value>[^{}]+))?\}", RegexOptions.CultureInvariant)]
    private static partial Regex NamedNumber();
}

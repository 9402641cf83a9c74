using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    private const string TuneExample = "such as `tune: { tomato: { set out: { soil: 62 °F } }, cover: { leaf: 1 °C } }`";

    /// <summary>What can be tuned of a kind of job: each number's name, and what it may be.</summary>
    /// <param name="Whose">As a fault names it.</param>
    private sealed record Tunable(JobKind Kind, string Whose, ImmutableDictionary<string, ImmutableArray<Dimension>> Numbers)
    {
        public static Tunable Of(JobKind kind, string whose, IEnumerable<(string Name, Quantity Value)> numbers) => new(
            kind, whose,
            numbers.Append((Name: DecisionRule.NumberName, Value: new(0, Dimension.Share))).GroupBy(number => number.Name, StringComparer.OrdinalIgnoreCase)
                .ToImmutableDictionary(
                    number => number.Key, number => number.Select(n => n.Value.Dimension).Distinct().ToImmutableArray(), StringComparer.OrdinalIgnoreCase));

        public static Tunable Of(JobTemplate job) =>
            Of(job.Kind, $"`{job.Kind.Word()}`", job.Numbers.Select(number => (number.Key, number.Value)));

        public static Tunable OfLooks(CropProfile crop) => Of(JobKind.Look, "`look`", JobNumbers.OfLooks(crop));

        public bool Takes(string name, Quantity value) =>
            Numbers.TryGetValue(name, out var fits) && fits.Contains(value.Dimension);
    }

    /// <summary>The garden's word on a number, of the jobs of one kind, or of one crop's.</summary>
    private sealed record GardenWord(JobKind Kind, string Number, SourcedNumber Own, CropProfile? Crop, Spot Spot);

    private delegate void Tuned(JobKind kind, string number, SourcedNumber own, Spot spot);

    /// <summary>The planting's own numbers for the crop's jobs: <c>set out: { soil: 62 °F }</c>.</summary>
    private static Tuning TuningOf(YamlEntries entry, CropProfile? crop)
    {
        var tuning = Tuning.None;
        if (entry.TakeMap("tune", "such as `tune: { set out: { soil: 62 °F } }`") is { } jobs && crop is not null)
            TuneCrop(jobs, crop, NumberOrigin.Planting, (kind, number, own, _) => tuning = tuning.With(kind, number, own));
        return tuning;
    }

    /// <summary>The chore's own numbers: <c>enough: 8 mm</c>.</summary>
    private static Tuning TuningOf(YamlEntries entry, Chore chore)
    {
        var tuning = Tuning.None;
        if (entry.TakeMap("tune", "such as `tune: { enough: 8 mm }`") is not { } numbers)
            return tuning;
        var job = Tunable.Of(chore.Kind, "this chore", JobNumbers.Of(chore.AllConditions));
        foreach (var (name, value) in numbers.TakeRest())
        {
            if (value is YamlNode.Map && JobKindWords.Of(name.Value) is not null)
                numbers.Fault(name.Spot, "a chore is one job, so its numbers stand in `tune:` at once", "such as `tune: { enough: 8 mm }`");
            else
                Tune(numbers, job, name, value, NumberOrigin.Chore, (kind, number, own, _) => tuning = tuning.With(kind, number, own));
        }
        return tuning;
    }

    /// <summary>The garden's <c>tune:</c>: by kind of job for all, or by crop and then by kind of job.</summary>
    private List<GardenWord> GardenWords(YamlEntries top, ImmutableArray<Chore> chores)
    {
        var words = new List<GardenWord>();
        if (top.TakeMap("tune", TuneExample) is not { } tune)
            return words;
        foreach (var (name, value) in tune.TakeRest())
        {
            var kind = JobKindWords.Of(name.Value);
            var crop = kind is null ? _crops.Find(name.Value) : null;
            if (kind is null && crop is null)
            {
                string? near = Spelling.Nearest(name.Value, Enum.GetValues<JobKind>().Select(k => k.Word())) ?? _crops.Nearest(name.Value);
                tune.Fault(name.Spot, $"`{Cut(name.Value)}` is no crop and no kind of job", near is null ? TuneExample : $"did you mean `{near}`?");
            }
            else if (value is not YamlNode.Map map)
                tune.Fault(value.Spot, kind is null ? $"`{name.Value}` wants its jobs" : $"`{name.Value}` wants named numbers", TuneExample);
            else if (crop is not null)
                TuneCrop(tune.Inside(map), crop, NumberOrigin.GardenCrop, (of, number, own, spot) => words.Add(new(of, number, own, crop, spot)));
            else
            {
                var job = Tunable.Of(kind!.Value, $"`{kind.Value.Word()}`", NumbersOfKind(kind.Value, chores));
                foreach (var (number, quantity) in map.Entries)
                    Tune(tune, job, number, quantity, NumberOrigin.GardenKind, (of, n, own, spot) => words.Add(new(of, n, own, null, spot)));
            }
        }
        return words;
    }

    private IEnumerable<(string Name, Quantity Value)> NumbersOfKind(JobKind kind, ImmutableArray<Chore> chores) =>
        _crops.Crops.SelectMany(crop => crop.Jobs).Where(job => job.Kind == kind).SelectMany(job => job.Numbers.Select(n => (n.Key, n.Value)))
            .Concat(chores.Where(chore => chore.Kind == kind).SelectMany(chore => JobNumbers.Of(chore.AllConditions)))
            .Concat(YearJobs.NumbersOf(kind))
            .Concat(kind == JobKind.Look ? _crops.Crops.SelectMany(JobNumbers.OfLooks) : []);

    /// <summary>The garden's words laid under what plantings and chores say for themselves.</summary>
    private (ImmutableArray<Planting> Plantings, ImmutableArray<Chore> Chores, Tuning Garden) WithGardenWords(
        List<GardenWord> words, ImmutableArray<Planting> plantings, ImmutableArray<Chore> chores)
    {
        var idle = words.ToHashSet();
        Tuning Under(Tuning own, IEnumerable<(Tunable Job, CropProfile? Crop)> jobs)
        {
            var tuning = Tuning.None;
            foreach (var (job, crop) in jobs)
            {
                foreach (var word in words.Where(w => w.Kind == job.Kind && (w.Crop is null || w.Crop == crop) && job.Takes(w.Number, w.Own.Value))
                    .OrderBy(w => w.Own.Source.Origin))
                {
                    idle.Remove(word);
                    tuning = tuning.With(word.Kind, word.Number, word.Own);
                }
            }
            foreach (var ((kind, number), layers) in own.Layers)
            {
                foreach (var layer in layers)
                    tuning = tuning.With(kind, number, layer);
            }
            return tuning;
        }

        plantings = [.. plantings.Select(planting => planting with
        {
            Tuning = Under(planting.Tuning, planting.Crop.Jobs.Select(Tunable.Of).Append(Tunable.OfLooks(planting.Crop)).Select(job => (job, (CropProfile?)planting.Crop))),
        })];
        chores = [.. chores.Select(chore => chore with
        {
            Tuning = Under(chore.Tuning, [(Tunable.Of(chore.Kind, "", JobNumbers.Of(chore.AllConditions)), null)]),
        })];
        var garden = Under(Tuning.None, YearJobs.Kinds.Append(JobKind.Water).Distinct().Select(kind => (Tunable.Of(kind, "", YearJobs.NumbersOf(kind)), (CropProfile?)null)));
        foreach (var word in words.Where(idle.Contains))
        {
            string whose = word.Crop is { } crop ? $"no {crop.Name} grows here" : $"nothing here has `{word.Number}` of `{word.Kind.Word()}`";
            Remark(word.Spot, $"{whose}, so this number changes nothing", null);
        }
        return (plantings, chores, garden);
    }

    private static void TuneCrop(YamlEntries jobs, CropProfile crop, NumberOrigin origin, Tuned tuned)
    {
        foreach (var (kindText, value) in jobs.TakeRest())
        {
            var tunables = crop.Jobs.Select(Tunable.Of).Append(Tunable.OfLooks(crop)).ToList();
            var tunable = tunables.FirstOrDefault(j => j.Kind.Word().Equals(kindText.Value, StringComparison.OrdinalIgnoreCase));
            if (tunable is null)
            {
                jobs.Fault(kindText.Spot, $"{crop.Name} has no job `{Cut(kindText.Value)}`",
                    Spelling.Nearest(kindText.Value, tunables.Select(j => j.Kind.Word())) is { } near ? $"did you mean `{near}`?" : $"it has: {string.Join(", ", tunables.Select(j => j.Kind.Word()))}");
            }
            else if (value is not YamlNode.Map map)
                jobs.Fault(value.Spot, $"`{kindText.Value}` wants named numbers", $"such as `{{ {tunable.Numbers.Keys.Order(StringComparer.Ordinal).FirstOrDefault(name => name != DecisionRule.NumberName, "soil")}: … }}`");
            else
            {
                foreach (var (name, number) in map.Entries)
                    Tune(jobs, tunable, name, number, origin, tuned);
            }
        }
    }

    private static void Tune(YamlEntries entries, Tunable job, YamlNode.Text name, YamlNode number, NumberOrigin origin, Tuned tuned)
    {
        string? known = job.Numbers.Keys.FirstOrDefault(k => k.Equals(name.Value, StringComparison.OrdinalIgnoreCase));
        if (known is null)
        {
            entries.Fault(name.Spot, $"{job.Whose} has no number `{Cut(name.Value)}`",
                Spelling.Nearest(name.Value, job.Numbers.Keys) is { } near ? $"did you mean `{near}`?" : $"it has: {string.Join(", ", job.Numbers.Keys.Order(StringComparer.Ordinal))}");
        }
        else if (number is not YamlNode.Text text)
            entries.Fault(number.Spot, $"`{known}` wants one quantity", null);
        else if (entries.Quantity(text, job.Numbers[known].AsSpan()) is { } quantity)
        {
            known = known.ToLowerInvariant();
            if (JobNumbers.WrongChance(known, quantity, text.Value) is var (problem, instead))
                entries.Fault(text.Spot, problem, instead);
            else
                tuned(job.Kind, known, new(quantity, new(origin, text.Spot.File, text.Spot.Line)), name.Spot);
        }
    }
}

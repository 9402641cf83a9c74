using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>
/// The named numbers of a job with all that is said of each. The nearest word counts: planting, then the garden's for the
/// crop, then the garden's for the kind of job, then the crop's file, then what is shipped.
/// </summary>
public static class JobNumbers
{
    /// <summary>A chance of less asks every morning, one of more asks never.</summary>
    public const double LeastChance = 0.05, MostChance = 0.95;

    /// <summary>Those of a crop's job. The chance is among them only where somebody set it.</summary>
    public static ImmutableArray<NumberLayers> Of(Planting planting, JobTemplate job) =>
        Layered(job.Kind, job.Layers, planting.Tuning);

    /// <summary>Those of a chore's own phrases, and of the phrases that come with its kind.</summary>
    public static ImmutableArray<NumberLayers> Of(Chore chore) => Layered(chore.Kind, Written(chore), chore.Tuning);

    /// <summary>Those of a job of the year: of its time, and of the weather it waits for.</summary>
    internal static ImmutableArray<NumberLayers> Of(Plan plan, YearJob job) => Layered(job.Kind, Shipped(Of(job.Whole), "common practice"), plan.Tuning);

    /// <summary>A watering follows the balance; only its chance can be set.</summary>
    public static ImmutableArray<NumberLayers> OfWatering(Plan plan) => Layered(JobKind.Water, Shipped([], null), plan.Tuning);

    /// <summary>Those by which one looks for a planting's pests and diseases.</summary>
    public static ImmutableArray<NumberLayers> OfLooks(Planting planting) =>
        Layered(JobKind.Look, Shipped(OfLooks(planting.Crop), null), planting.Tuning);

    /// <summary>What can be tuned of the looks of a crop: the weather of what threatens it, and for how long a flight is looked for.</summary>
    public static IEnumerable<(string Name, Quantity Value)> OfLooks(CropProfile crop)
    {
        var threats = crop.Pests.Concat(crop.Diseases).ToList();
        var numbers = threats.Select(threat => threat.Weather).OfType<ThreatWeather>().SelectMany(weather => Of(weather.Conditions));
        return threats.Any(threat => threat.Appears is not null) ? numbers.Append(LookJobs.Flight) : numbers;
    }

    public static ImmutableDictionary<string, Quantity> InForce(IEnumerable<NumberLayers> numbers) =>
        numbers.ToImmutableDictionary(number => number.Name, number => number.InForce);

    /// <summary>The numbers of a set of phrases, in their order, each once; only those that a phrase gives a value.</summary>
    public static IEnumerable<(string Name, Quantity Value)> Of(ConditionSet conditions) =>
        conditions.When.Concat(conditions.Unless).Concat(conditions.By).Concat(conditions.Wish)
            .SelectMany(condition => Evaluate.Numbers(condition, ImmutableDictionary<string, Quantity>.Empty))
            .Where(number => number.Default is not null)
            .DistinctBy(number => number.Name)
            .Select(number => (number.Name, number.Default!.Value));

    /// <summary>A number written for one of these names: to try it out, without a file.</summary>
    public static QuantityReading Read(IReadOnlyCollection<NumberLayers> numbers, string name, string written)
    {
        if (numbers.FirstOrDefault(number => number.Name.Equals(name.Trim(), StringComparison.OrdinalIgnoreCase)) is not { } known)
        {
            return new QuantityReading.Fault($"the job has no number `{name.Trim()}`",
                Spelling.Nearest(name, numbers.Select(n => n.Name)) is { } near ? $"did you mean `{near}`?" : $"it has: {string.Join(", ", numbers.Select(n => n.Name))}");
        }
        var reading = QuantityText.Read(written, known.InForce.Dimension);
        return reading is QuantityReading.Ok(var quantity) && WrongChance(known.Name, quantity, written) is var (problem, instead)
            ? new QuantityReading.Fault(problem, instead)
            : reading;
    }

    /// <summary>What is wrong with a chance as a number to tune; null when it will do.</summary>
    internal static (string Problem, string Instead)? WrongChance(string name, Quantity quantity, string written) =>
        name != DecisionRule.NumberName || Math.Round(quantity.Value, 9) is >= LeastChance and <= MostChance
            ? null
            : ($"a chance of `{written}` would ask {(quantity.Value < LeastChance ? "every day" : "never")}",
                $"from `5 %` to `95 %`: `{(quantity.Value < LeastChance ? "5 %" : "95 %")}`");

    private static ImmutableDictionary<string, ImmutableArray<SourcedNumber>> Written(Chore chore) =>
        Of(chore.AllConditions).ToImmutableDictionary(number => number.Name, number => ImmutableArray.Create(
            new SourcedNumber(number.Value, chore.NumberSources.GetValueOrDefault(number.Name, new(NumberOrigin.Shipped)))));

    private static ImmutableDictionary<string, ImmutableArray<SourcedNumber>> Shipped(IEnumerable<(string Name, Quantity Value)> numbers, string? published) =>
        numbers.DistinctBy(number => number.Name).ToImmutableDictionary(number => number.Name, number => ImmutableArray.Create(
            new SourcedNumber(number.Value, new(NumberOrigin.Shipped, Published: published))));

    private static ImmutableArray<NumberLayers> Layered(
        JobKind kind, ImmutableDictionary<string, ImmutableArray<SourcedNumber>> written, Tuning tuning)
    {
        var own = tuning.Layers.Where(number => number.Key.Kind == kind).ToDictionary(number => number.Key.Number, number => number.Value);
        return [.. written.Keys.Union(own.Keys).Order(StringComparer.Ordinal).Select(name => new NumberLayers(
            name, [.. written.GetValueOrDefault(name, []), .. own.GetValueOrDefault(name, [])]))];
    }
}

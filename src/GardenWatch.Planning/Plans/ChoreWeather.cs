using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Plans;

/// <summary>The weather that a kind of chore wants whatever its gardener wrote. Its numbers are those of Agronomy's rain rules.</summary>
internal static class ChoreWeather
{
    public static ConditionSet Of(Chore chore)
    {
        var own = chore.Conditions;
        return chore.Kind switch
        {
            JobKind.Feed => own with { Unless = [.. own.Unless, Soaked, .. WashesOff.Where(limit => !Limits(own, limit))] },
            JobKind.Spread => own with { Unless = [.. own.Unless, Soaked, .. WashesOff.Append(Drifts).Where(limit => !Limits(own, limit))] },
            JobKind.Spray => own with { When = [.. own.When, .. Calm], Unless = [.. own.Unless, .. Burns(chore)] },
            JobKind.Prepare when chore.BedId is not null => own with { Unless = [.. own.Unless, .. NotToBeWorked] },
            _ => own,
        };
    }

    /// <summary>
    /// What is left of a downpour may look like gentle rain to come: granules wait until the ground has taken the rest in. Common
    /// practice.
    /// </summary>
    private static Condition Soaked { get; } = ConditionText.Own("rain total past 6 hours above {soaked: 5 mm}");

    /// <summary>More rain to come than counts in full (R049), or a heavy hour of it (R014).</summary>
    private static ImmutableArray<Condition> WashesOff { get; } =
    [
        ConditionText.Own("rain total next 24 hours above {runs off: 25 mm}"),
        ConditionText.Own("rain peak next 24 hours at least {washes off: 7.6 mm/h}"),
    ];

    /// <summary>Wind that carries granules and powders where they are not meant (R026).</summary>
    private static Condition Drifts { get; } = ConditionText.Own("wind high next 1 hour above {spread wind: 4.5 m/s}");

    /// <summary>
    /// Mist that drifts, or that rain takes off again, helps nobody: wind neither still nor strong (R024), two dry hours (R016). The
    /// hours around night are left out elsewhere.
    /// </summary>
    private static ImmutableArray<Condition> Calm { get; } =
    [
        ConditionText.Own("wind low next 1 hour at least {spray calm: 1.3 m/s}"),
        ConditionText.Own("wind high next 1 hour at most {spray wind: 3.6 m/s}"),
        ConditionText.Own("rain total next 2 hours at most {spray rain: 0.2 mm}"),
    ];

    /// <summary>Oil, soap and sulfur burn leaves in heat (R028, R031, R032), oil in the cold (R029); known by the chore's own words.</summary>
    private static IEnumerable<Condition> Burns(Chore chore)
    {
        bool oil = Says(chore, "oil");
        if (oil || Says(chore, "soap") || Says(chore, "sulfur") || Says(chore, "sulphur"))
            yield return TooHot;
        if (oil)
            yield return TooCold;
    }

    private static Condition TooHot { get; } = ConditionText.Own("air high next 6 hours at least {spray heat: 32 °C}");
    private static Condition TooCold { get; } = ConditionText.Own("air low next 6 hours below {spray cold: 4.4 °C}");

    /// <summary>
    /// Soil that is worked wet loses its crumb for the season: not before it has lost what leaves a wet surface freely (R071, the
    /// least of a sand), and not while it is frozen.
    /// </summary>
    private static ImmutableArray<Condition> NotToBeWorked { get; } =
    [
        ConditionText.Own("soil water deficit mean today below {wet ground: 5 mm}"),
        ConditionText.Own("soil at 10 cm low today below {frozen ground: 0 °C}"),
    ];

    /// <summary>The gardener has set a limit of the same kind, and it counts.</summary>
    private static bool Limits(ConditionSet own, Condition limit)
    {
        var ours = Evaluate.Phrases(limit).Single();
        return own.When.Concat(own.Unless).SelectMany(Evaluate.Phrases).Any(phrase =>
            phrase.Of.Measure == ours.Of.Measure && phrase.Statistic == ours.Statistic && phrase.Window.Kind == ours.Window.Kind
            && (phrase.Comparison is Comparison.AtMost or Comparison.Below or Comparison.Between || own.Unless.SelectMany(Evaluate.Phrases).Contains(phrase)));
    }

    private static bool Says(Chore chore, string word) => Has(chore.Name, word) || chore.How is { } how && Has(how, word);

    private static bool Has(string text, string word) =>
        text.Split([' ', ',', '.', ';', ':', '(', ')', '-', '/'], StringSplitOptions.RemoveEmptyEntries).Contains(word, StringComparer.OrdinalIgnoreCase);
}

using System.Collections.Immutable;
using System.Runtime.InteropServices;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>A named number of a condition: what it is by the phrase, and what it is after tuning.</summary>
/// <param name="Default">As the phrase has it; null for a name that a profile must bind.</param>
/// <param name="InForce">What counts; null when nothing gives it a number.</param>
public sealed record NamedNumber(string Name, Dimension Dimension, Quantity? Default, Quantity? InForce, bool Tuned);

/// <summary>What conditions say of the weather at an instant and over many hours.</summary>
public static class Evaluate
{
    /// <summary>Days ahead in which a change of a count of days is looked for; it needs no weather.</summary>
    private const int DaysAhead = 400;

    /// <summary>Everything about one instant.</summary>
    /// <param name="lookAhead">Whether the next change is looked for, which costs more than all else.</param>
    public static Verdict At(Condition condition, Instant instant, Scene scene, bool lookAhead = true)
    {
        var prepared = Prepared.For(condition, scene);
        long second = LocalDays.Seconds(instant);
        var holds = prepared.At(second);
        var (value, margin) = ValueAndMargin(prepared, second);
        return new(holds, value, margin, lookAhead ? NextChange(prepared, second, holds, scene) : null, ConditionSentence.Of(prepared, second, scene.Speech));
    }

    /// <summary>What is measured, as a sentence without what is needed: for what nobody wants, such as a blight's weather.</summary>
    public static string Finding(Condition condition, Instant instant, Scene scene) =>
        ConditionSentence.Of(Prepared.For(condition, scene), LocalDays.Seconds(instant), scene.Speech, bare: true);

    /// <summary>Whether it holds, and nothing else.</summary>
    public static Truth Holds(Condition condition, Instant instant, Scene scene) =>
        Prepared.For(condition, scene).At(LocalDays.Seconds(instant));

    /// <summary>The truth at an instant and at each of the hours that follow it.</summary>
    public static ImmutableArray<Truth> Course(Condition condition, Instant from, int hours, Scene scene)
    {
        var course = new Truth[hours];
        Course(condition, from, scene, course);
        return ImmutableCollectionsMarshal.AsImmutableArray(course);
    }

    /// <summary>The same into memory that is there already; allocates nothing for the hours.</summary>
    public static void Course(Condition condition, Instant from, Scene scene, Span<Truth> into) =>
        Prepared.For(condition, scene).Fill(LocalDays.Seconds(from), into);

    /// <summary>Share of the members in which the whole condition holds; null when it can be known in none of them.</summary>
    public static double? ShareOf(Condition condition, Instant instant, IReadOnlyList<Scene> members)
    {
        var truths = new Truth[members.Count];
        // Members share nothing but what does not change, so they are asked side by side.
        Parallel.For(0, truths.Length, i => truths[i] = Holds(condition, instant, members[i]));
        int known = truths.Count(truth => truth != Truth.Unknown), met = truths.Count(truth => truth == Truth.Yes);
        return known == 0 ? null : (double)met / known;
    }

    /// <summary>The named numbers of a condition, in the order in which they are written, each once.</summary>
    public static ImmutableArray<NamedNumber> Numbers(Condition condition, IReadOnlyDictionary<string, Quantity> tuned)
    {
        var numbers = ImmutableArray.CreateBuilder<NamedNumber>();
        foreach (var phrase in Phrases(condition))
        {
            var dimension = ConditionLanguage.DimensionOf(phrase.Of.Measure, phrase.Statistic);
            Add(phrase.Level, ConditionLanguage.Row(phrase.Of.Measure).Dimension);
            Add(phrase.Limit, dimension);
            Add(phrase.UpTo, dimension);
        }
        return numbers.ToImmutable();

        void Add(Operand? operand, Dimension dimension)
        {
            if (operand?.Name is not { } name || numbers.Any(n => n.Name == name))
                return;
            bool isTuned = tuned.TryGetValue(name, out var own) && own.Dimension == dimension;
            numbers.Add(new(name, dimension, operand.Default, isTuned ? own : operand.Default, isTuned));
        }
    }

    /// <summary>All phrases of a condition, in the order in which they are written.</summary>
    public static IEnumerable<Condition.Phrase> Phrases(Condition condition) => condition switch
    {
        Condition.Phrase phrase => [phrase],
        Condition.InTurn(var first, var then) => [first, then],
        Condition.AllOf(var parts) => parts.SelectMany(Phrases),
        Condition.AnyOf(var parts) => parts.SelectMany(Phrases),
        Condition.NoneOf(var parts) => parts.SelectMany(Phrases),
        _ => [],
    };

    private static (double? Value, double? Margin) ValueAndMargin(Prepared prepared, long second)
    {
        switch (prepared)
        {
            case PreparedParts { Parts: [var only], Join: not Join.None }:
                return ValueAndMargin(only, second);
            case PreparedChance chance:
                return ValueAndMargin(chance.Shown, second);
            case PreparedPhrase phrase:
                var shown = phrase.Gauge.At(second);
                if (phrase.Judge(shown) == Truth.Unknown || !double.IsFinite(shown.Value))
                    return (null, null);
                double margin = phrase.Phrase.Comparison switch
                {
                    Comparison.AtLeast or Comparison.Above => shown.Value - phrase.Limit,
                    Comparison.AtMost or Comparison.Below => phrase.Limit - shown.Value,
                    _ => Math.Min(shown.Value - phrase.Limit, phrase.UpTo - shown.Value),
                };
                return (shown.Value, margin);
            default:
                return (null, null);
        }
    }

    /// <summary>
    /// Hour by hour to the end of the series. That the answer becomes unknown is no change: it means only that the
    /// forecast ends.
    /// </summary>
    private static Instant? NextChange(Prepared prepared, long second, Truth now, Scene scene)
    {
        var days = scene.Weather.Days;
        if (prepared is PreparedPhrase { Gauge: DaysGauge or DaylightGauge })
        {
            int today = days.DayAt(second);
            for (int day = today + 1; day <= today + DaysAhead; day++)
            {
                if (Changes(prepared.At(days.StartOf(day))))
                    return Instant.FromUnixTimeSeconds(days.StartOf(day));
            }
            return null;
        }
        long end = LocalDays.Seconds(scene.Weather.Series.LastStamp);
        long start = LocalDays.Seconds(scene.Weather.Series.Start);
        long hour = second - Math.DivRem(second - start, LocalDays.SecondsAnHour).Remainder;
        for (hour += hour > second ? 0 : LocalDays.SecondsAnHour; hour <= end; hour += LocalDays.SecondsAnHour)
        {
            if (Changes(prepared.At(hour)))
                return Instant.FromUnixTimeSeconds(hour);
        }
        return null;

        bool Changes(Truth then) => then != now && then != Truth.Unknown;
    }
}

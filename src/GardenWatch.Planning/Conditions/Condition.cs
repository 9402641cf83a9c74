using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>Unknown never counts as met.</summary>
public enum Truth { No, Yes, Unknown }

/// <summary>A weather phrase, or several of them put together.</summary>
public abstract record Condition
{
    private protected Condition() { }

    /// <summary>
    /// <c>&lt;measure&gt; [at &lt;depth&gt;] [&lt;statistic&gt;] &lt;window&gt; &lt;comparison&gt; &lt;quantity&gt;
    /// [with chance at least &lt;percent&gt;]</c>; <see cref="ConditionLanguage"/> says what each part means.
    /// </summary>
    /// <param name="Level">What hours or runs are counted above or below; null for other statistics.</param>
    /// <param name="UpTo">The upper end of <see cref="Comparison.Between"/>; null for the others.</param>
    /// <param name="Chance">Share of forecast runs in which it must hold; null when not asked.</param>
    public sealed record Phrase(
        Measured Of, Statistic Statistic, Operand? Level, TimeWindow Window,
        Comparison Comparison, Operand Limit, Operand? UpTo, double? Chance) : Condition;

    /// <summary>The first holds, and the second holds as asked at the end of the first one's window ("dry next 2 hours, then ...").</summary>
    public sealed record InTurn(Phrase First, Phrase Then) : Condition;

    /// <summary>All of them hold. None holds vacuously.</summary>
    public sealed record AllOf(ImmutableArray<Condition> Parts) : Condition
    {
        public bool Equals(AllOf? other) => other is not null && Parts.SequenceEqual(other.Parts);

        public override int GetHashCode() => HashOf(Parts);
    }

    /// <summary>One of them at least holds.</summary>
    public sealed record AnyOf(ImmutableArray<Condition> Parts) : Condition
    {
        public bool Equals(AnyOf? other) => other is not null && Parts.SequenceEqual(other.Parts);

        public override int GetHashCode() => HashOf(Parts);
    }

    /// <summary>None of them holds.</summary>
    public sealed record NoneOf(ImmutableArray<Condition> Parts) : Condition
    {
        public bool Equals(NoneOf? other) => other is not null && Parts.SequenceEqual(other.Parts);

        public override int GetHashCode() => HashOf(Parts);
    }

    private static int HashOf(ImmutableArray<Condition> parts)
    {
        var hash = new HashCode();
        foreach (var part in parts)
            hash.Add(part);
        return hash.ToHashCode();
    }
}

/// <summary>What a job asks of the weather: all of <see cref="When"/>, none of <see cref="Unless"/>; any of <see cref="By"/> ends the season for it.</summary>
public sealed record ConditionSet(
    ImmutableArray<Condition> When, ImmutableArray<Condition> Unless, ImmutableArray<Condition> By)
{
    public static ConditionSet Always { get; } = new([], [], []);

    /// <summary>Never needed: of several windows the one is advised in which more of these hold.</summary>
    public ImmutableArray<Condition> Wish { get; init; } = [];

    /// <summary>Weather that is a further reason for it, and may ask for it again.</summary>
    public ImmutableArray<Occasion> Occasions { get; init; } = [];

    public bool AsksNothing => When.IsEmpty && Unless.IsEmpty;

    /// <summary>Everything asked at one instant: all of when, none of unless.</summary>
    public Condition Whole => Unless.IsEmpty
        ? new Condition.AllOf(When)
        : new Condition.AllOf([.. When, new Condition.NoneOf(Unless)]);
}

/// <summary>Weather that makes a job timely, beside what it needs: a downpour over ripe fruit, the first frosts on kale.</summary>
/// <param name="When">All of them.</param>
/// <param name="Say">What it means for the job, as a sentence.</param>
/// <param name="AgainAfterDays">So long after its last answer it asks for the job again; null where it only adds its reason.</param>
/// <param name="BeforeRain">The job is no use any more once the rain begins.</param>
public sealed record Occasion(ImmutableArray<Condition> When, string Say, int? AgainAfterDays, bool BeforeRain);

/// <summary>What one evaluation tells.</summary>
/// <param name="Holds">Yes, no, or not to be known.</param>
/// <param name="Value">What was measured or is forecast, in the unit of the phrase's dimension; null when unknown.</param>
/// <param name="Margin">By how much it holds (positive) or misses (negative), same unit; null when unknown.</param>
/// <param name="NextChange">The next instant at which the answer is expected to differ; null when not within the series.</param>
/// <param name="Sentence">One sentence, in the garden's units, that says what is and what is needed.</param>
public sealed record Verdict(Truth Holds, double? Value, double? Margin, Instant? NextChange, string Sentence);

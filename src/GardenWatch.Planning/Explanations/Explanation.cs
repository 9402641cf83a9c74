using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Explanations;

/// <summary>What a condition does for its job.</summary>
public enum ConditionRole
{
    /// <summary>All of these must hold.</summary>
    When,
    /// <summary>Any of these forbids it.</summary>
    Unless,
    /// <summary>Any of these ends the season for it.</summary>
    By,
}

/// <summary>How a day was for one condition, or for the whole job, in the hours that count.</summary>
public enum DayMark
{
    /// <summary>Met, or not in the way, in one of the hours at least.</summary>
    Held,
    Missed,
    Unknown,
    /// <summary>No hour of the day counts: nobody is there.</summary>
    NobodyThere,
}

/// <summary>One condition of a job and what it says at the instant of <see cref="Explanation.JudgedAt"/>.</summary>
/// <param name="Label">The measure in a word, to know it again in a table.</param>
/// <param name="Phrase">As the plan or the crop has it, in the garden's units.</param>
/// <param name="Allows">Whether it lets the job be: met for a when, not met for an unless or a by; null when unknown.</param>
/// <param name="Dimension">Of value and margin; null where several phrases make one condition.</param>
/// <param name="Margin">By how much it allows the job (positive) or not; null when unknown or several.</param>
public sealed record ExplainedCondition(
    ConditionRole Role, string Label, string Phrase, bool? Allows, Dimension? Dimension, double? Value, double? Margin,
    Instant? NextChange, string Sentence);

/// <summary>One condition on one day, at the hour at which it stood best.</summary>
/// <param name="Margin">By how much it allows the job (positive) or not.</param>
public sealed record ConditionDay(DayMark Mark, double? Value, double? Margin, Instant? BestHour);

/// <summary>One local day of a job.</summary>
/// <param name="IsPast">Judged by the weather as it came, which nobody could know then.</param>
/// <param name="Whole">Whether all conditions together left the gardener time for it.</param>
/// <param name="Windows">The hours for it; none for a job of the night, which is judged at nightfall.</param>
/// <param name="Conditions">In the order of <see cref="Explanation.Conditions"/>.</param>
public sealed record ExplainedDay(
    LocalDate Date, bool IsPast, DayMark Whole, ImmutableArray<Window> Windows, ImmutableArray<ConditionDay> Conditions);

/// <summary>What numbers that are tried out make different.</summary>
/// <param name="Days">The same days with the numbers of the files.</param>
public sealed record Trial(ImmutableDictionary<string, Quantity> Changed, ImmutableArray<ExplainedDay> Days);

/// <summary>Why a job is asked for or not: its conditions, its numbers and their sources, and how the days were and will be.</summary>
public sealed partial record Explanation
{
    public required AskedJob Job { get; init; }
    public required string GardenName { get; init; }
    public required Speech Speech { get; init; }
    public required Instant AsOf { get; init; }
    public required LocalDate Today { get; init; }
    public required WeatherNews Weather { get; init; }
    /// <summary>The job as the agenda has it; null when it is not open, or nothing is to be said of it.</summary>
    public Job? Open { get; init; }
    /// <summary>Why the agenda does not ask whatever the weather; null when the weather alone decides.</summary>
    public string? HeldBack { get; init; }
    /// <summary>The instant at which the agenda judges: now, or once the night is over, or nightfall for a job of the night.</summary>
    public required Instant JudgedAt { get; init; }
    /// <summary>It is judged at nightfall for the night that begins, whoever is there.</summary>
    public required bool IsOfTheNight { get; init; }
    /// <summary>It is called for by what the weather would take at any hour of the day, whoever is there.</summary>
    public required bool IsOfTheDay { get; init; }
    /// <summary>Danger calls for it; other jobs are left time for by the weather.</summary>
    public bool IsCalledFor => IsOfTheNight || IsOfTheDay;
    /// <summary>What decides where no conditions do, sentence by sentence: a water balance, the signs of pests; empty where conditions decide.</summary>
    public ImmutableArray<string> Grounds { get; init; } = [];
    public required ImmutableArray<ExplainedCondition> Conditions { get; init; }
    /// <summary>Those of the phrases, then the chance.</summary>
    public required ImmutableArray<NumberLayers> Numbers { get; init; }
    /// <summary>From what chance on it is advised, and why.</summary>
    public required DecisionRule Rule { get; init; }
    /// <summary>The last two weeks, then today and the rest of two; none where no weather is known, or <see cref="Grounds"/> decide.</summary>
    public required ImmutableArray<ExplainedDay> Days { get; init; }
    /// <summary>Null when no numbers are tried out.</summary>
    public Trial? Trial { get; init; }
}

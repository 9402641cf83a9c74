namespace GardenWatch.Planning.Conditions;

/// <summary>What reading a phrase gave.</summary>
public abstract record ConditionReading
{
    private ConditionReading() { }

    public sealed record Ok(Condition Condition) : ConditionReading;

    /// <param name="Column">Where it goes wrong, counted from 1.</param>
    /// <param name="Problem">What is wrong, as a clause without a full stop.</param>
    /// <param name="Instead">What to write; null when it can't be guessed.</param>
    public sealed record Fault(int Column, string Problem, string? Instead) : ConditionReading;
}

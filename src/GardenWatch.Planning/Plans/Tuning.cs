using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>Numbers that replace those of a shipped phrase: for one kind of job, the named number and its new value.</summary>
public sealed record Tuning(ImmutableDictionary<(JobKind Kind, string Number), Quantity> Numbers)
{
    public static Tuning None { get; } = new(ImmutableDictionary<(JobKind, string), Quantity>.Empty);

    public bool IsEmpty => Numbers.IsEmpty;
}

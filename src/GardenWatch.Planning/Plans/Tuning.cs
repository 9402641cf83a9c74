using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>
/// Numbers that replace those of a phrase: for one kind of job, the named number, and all that the plan says of it,
/// the nearest word last.
/// </summary>
public sealed record Tuning(ImmutableDictionary<(JobKind Kind, string Number), ImmutableArray<SourcedNumber>> Layers)
{
    public static Tuning None { get; } = new(ImmutableDictionary<(JobKind, string), ImmutableArray<SourcedNumber>>.Empty);

    /// <summary>What is in force of it, by kind of job and lower-case name.</summary>
    public ImmutableDictionary<(JobKind Kind, string Number), Quantity> Numbers { get; } =
        Layers.ToImmutableDictionary(number => number.Key, number => number.Value[^1].Value);

    public bool IsEmpty => Layers.IsEmpty;

    /// <summary>The same with one more word on a number, nearer than all before.</summary>
    public Tuning With(JobKind kind, string number, SourcedNumber own) =>
        new(Layers.SetItem((kind, number), Layers.GetValueOrDefault((kind, number), []).Add(own)));
}

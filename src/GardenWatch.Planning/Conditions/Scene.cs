using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>What a condition is asked against: one bed's weather, one subject's moments, the tuned numbers, how to say it.</summary>
/// <param name="Numbers">Named numbers that replace a phrase's own, by lower-case name.</param>
public sealed record Scene(
    BedWeather Weather, Moments Moments, IReadOnlyDictionary<string, Quantity> Numbers, Speech Speech)
{
    /// <summary>
    /// The bed in every run of the ensemble, asked by phrases that want a chance; none where there is no ensemble, and then
    /// the one forecast stands for them all.
    /// </summary>
    public ImmutableArray<BedWeather> Members { get; init; } = [];

    /// <summary>Limits give way by <see cref="Flutter"/>: for a job that was already advised, so that it does not come and go.</summary>
    public bool Lenient { get; init; }
}

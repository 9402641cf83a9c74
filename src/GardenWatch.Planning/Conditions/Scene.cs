using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>What a condition is asked against: one bed's weather, one subject's moments, the tuned numbers, how to say it.</summary>
/// <param name="Numbers">Named numbers that replace a phrase's own, by lower-case name.</param>
public sealed record Scene(
    BedWeather Weather, Moments Moments, IReadOnlyDictionary<string, Quantity> Numbers, Speech Speech);

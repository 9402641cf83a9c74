using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>Who is told, in which units, when, and of which beds.</summary>
/// <param name="Address">A mail address, or one of <see cref="ChannelWords"/>.</param>
public sealed record Addressee(string Address, UnitSystem Units)
{
    /// <summary>The hour of the digest, where it is not the garden's.</summary>
    public LocalTime? At { get; init; }

    /// <summary>The beds whose jobs are this one's; empty for all.</summary>
    public ImmutableArray<string> BedIds { get; init; } = [];
}

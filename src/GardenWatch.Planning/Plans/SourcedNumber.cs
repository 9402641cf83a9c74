using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>Whose word a number is. Of several, the one that comes later here counts.</summary>
public enum NumberOrigin
{
    /// <summary>The program's own: a shipped crop, or a rule of the kind of job.</summary>
    Shipped,
    /// <summary>A file of the gardener's under <c>crops/</c>.</summary>
    CropFile,
    /// <summary>Written in the chore's own phrase.</summary>
    ChorePhrase,
    /// <summary>The garden's <c>tune:</c>, for all jobs of a kind.</summary>
    GardenKind,
    /// <summary>The garden's <c>tune:</c>, for a crop.</summary>
    GardenCrop,
    /// <summary>The planting's <c>tune:</c>.</summary>
    Planting,
    /// <summary>The chore's <c>tune:</c>.</summary>
    Chore,
    /// <summary>Not in any file: tried out, to see what it would change.</summary>
    Trial,
}

/// <summary>Where a number stands.</summary>
/// <param name="File">Null for what is in no file.</param>
/// <param name="Published">What it rests on, where that is said.</param>
public sealed record NumberSource(NumberOrigin Origin, string? File = null, int? Line = null, string? Published = null);

public sealed record SourcedNumber(Quantity Value, NumberSource Source);

/// <summary>All that is said of one named number, from the most general to the nearest.</summary>
/// <param name="Layers">Never empty: the first is what it would be unchanged, the last is in force.</param>
public sealed record NumberLayers(string Name, ImmutableArray<SourcedNumber> Layers)
{
    public Quantity InForce => Layers[^1].Value;

    public Quantity Unchanged => Layers[0].Value;

    public NumberSource Source => Layers[^1].Source;
}

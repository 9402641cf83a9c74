using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Digests;

/// <summary>Who reads it, and in which units.</summary>
public sealed record Addressee(string Address, UnitSystem Units);
